"""Plan files made up for the tests."""

from __future__ import annotations

BEADS = """\
[beads.C]
name = "charcoal"
colour = "#3a3d40"

[beads.S]
name = "sea glass"
colour = "teal"

[beads.M]
name = "gorse"
colour = "#e02"
marker = true
"""

BAND = """\
[[work]]
start = "MRAW band"
units = 28
frame = "C"
spacers = "*6S, M* 4 times"
"""

RING = """\
[[work]]
start = "ring"
beads = "6C"
"""

PEYOTE = """\
[[work]]
stitch = "peyote"
rounds = ["C", "S", "M"]
"""

SMALL = f'title = "Gorse ring"\n\n{BEADS}\n{BAND}\n{PEYOTE}'

FULL = """\
"$schema" = "./plan.schema.json"
title = "Two fins"
about = "First line.\\nSecond line."

[thread]
name = "braided"
colour = "smoke"
note = "doubled"

[beads]
C = { name = "charcoal", colour = "#3a3d40", size = "11/0", shape = "cylinder", note = "tray 3", length = 1.3,
      width = 1.6, hole = 0.8, price = 0.25 }
S = { name = "sea glass", colour = "#7fb8ad" }
M = { name = "gorse", colour = "#e0b020", marker = true }

[[work]]
start = "MRAW band"
frame = { top = "C", side = "S", bottom = "C" }
side = "S"
marker = "M"
sides = [6, 7, 6, 5]
reinforce = false

[[work]]
stitch = "peyote"
edge = "top"
rounds = ["C", "C; ribs MM; beside ribs S", "*A to rib, MM; repeat from * around"]
height = "4 to 7"
usual = 6
reinforce = true

[work.increase]
over = "M"
with = ["MM", "SS"]
from_round = 2
rounds = 3

[[work]]
walk = 5

[[work]]
reinforce = "top"

[[work]]
stitch = "peyote"
edge = "bottom"
fill = "S"
rounds = "C"
height = "as high as you like"
decrease = { sides = 4, from_round = 2, rounds = 1 }

[[remarks]]
say = "Line the beads up."

[[remarks]]
say = "Here it turns."
edge = "bottom"
round = 1
stitch = 3
""".replace("A to rib", "S to rib")
