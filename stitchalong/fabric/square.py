"""Square stitch: beads in straight columns, each held to the bead right below it.

The rule. Row 1 of n beads is strung. After that each bead is picked up one by one; the thread goes through the bead
below it, against the direction of the row, and through the new bead once more. Rows go to and fro; R rows have n * R
beads. A row that is to lie straight is passed through once more: back through the whole row below and on through the
new row.

The stitch is printed in beadwork.about.com, Square-Stitch-Beading-Diagram-Tutorial, rows to and fro in
kimberlychapman.com/crafts/beadsquareleft.html.
"""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.fabric.moves import Move, Phrase, Phrases
from stitchalong.fabric.stitch import Kind, Make
from stitchalong.values import value

LEAST = 2
"""beads of a row"""


@value
class Line:
    """The row just worked."""

    beads: tuple[int, ...]
    """numbers, as the next row meets them"""


def strung(codes: Sequence[str], first: int) -> tuple[list[Move], Line]:
    """Row 1."""
    beads = tuple(range(first, first + len(codes)))
    return [Move(Kind.STRING, (code,), (), (0,)) for code in codes], Line(beads[::-1])


def row(line: Line, makes: Sequence[Make], first: int, *, align: bool) -> tuple[list[Move], Line]:
    """The next row; `align`: it is passed through once more. Raises ValueError for another number of beads."""
    if len(makes) != len(line.beads):
        raise ValueError(f"{len(makes)} beads on {len(line.beads)}")
    new = tuple(range(first, first + len(makes)))
    moves = [
        Move(make.kind, make.beads, (below, bead), (0,))
        for make, below, bead in zip(makes, line.beads, new, strict=True)
    ]
    if align:
        moves.append(Move(Kind.REINFORCE, through=line.beads[::-1] + new, detail="align"))
    return moves, Line(new[::-1])


SAY: Phrases = {
    "": Phrase("pass through the bead right below, {first}, from the far side, and through the new bead, {last}"),
    "align": Phrase(
        "straighten the rows: pass back through the whole row below and on through the new row, {number} in all",
        "a pass to straighten the rows",
    ),
}
