"""Plans and pieces to measure with, all invented."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from time import time

from stitchalong.plan.read import read_text
from stitchalong.session import Session
from stitchalong.store import Event, Kept, Store, journal

_HEAD = """
title = "{title}"
[beads.C]
name = "charcoal"
colour = "#3a3d40"
size = "11/0"
shape = "cylinder"
[beads.S]
name = "sea glass"
colour = "#7fb8ad"
size = "11/0"
shape = "cylinder"
[beads.M]
name = "gorse"
colour = "#e0b020"
marker = true
"""

_RING = """
[[work]]
start = "MRAW band"
units = {units}
frame = "C"
spacers = "*{between}S, M* 4 times"
[[work]]
stitch = "peyote"
edge = "top"
rounds = [{rounds}]
increase = {{ over = "M", with = "MM", from_round = 2 }}
"""

_TUBE = """
[[work]]
start = "tube"
beads = "{start}"
[[work]]
stitch = "peyote"
height = {height}
rounds = ["C", "S", "S", "C"]
"""


def ring(units: int, rounds: int, title: str = "Gorse ring") -> str:
    """A ring with four ribs."""
    laid = ", ".join(f'"{"CSSC"[nth % 4]}"' for nth in range(rounds))
    return _HEAD.format(title=title) + _RING.format(units=units, between=units // 4 - 1, rounds=laid)


def tube(around: int, height: int, title: str = "Long tube") -> str:
    """A ruled tube: `around` beads a round."""
    return _HEAD.format(title=title) + _TUBE.format(start=f"{2 * around}C", height=height)


def coloured(across: int, lines: int) -> str:
    """A tube from a chart in which every bead has another colour than its neighbours."""
    rows = ("".join("CSM"[(nth + row) % 3] for nth in range(across)) for row in range(lines))
    drawn = ",\n".join(f'"{row}"' for row in rows)
    return (
        _HEAD.format(title="Each its own").replace("marker = true\n", "")
        + '\n[[work]]\nstart = "tube"\nchart = "all"\n'
        + '[[work]]\nstitch = "peyote"\nchart = "all"\n[charts.all]\nbegins = "bottom left"\n'
        + f"lines = [\n{drawn}]\n"
    )


def begin(home: Path, text: str, position: int = 40) -> int:
    """A piece of this plan in this home, at this position; its number. The guard against held keys is off."""
    home.mkdir(parents=True, exist_ok=True)
    (home / "settings.toml").write_text("[keys]\nguard = false\n")
    store = Store.open(home / "data", clock=time)
    try:
        loaded = read_text(text)
        session = Session.begin(store, plan=loaded.plan, plan_text=text, plan_data=loaded.data, plan_name="bench.toml")
        session.go_to(position)
        return session.piece.id
    finally:
        store.close()


def press_often(home: Path, piece_id: int, presses: int) -> None:
    """Make its record as long as if it had been pressed so often, forward and back, in one go."""
    store = Store.open(home / "data", clock=time)
    try:
        with store._database.transaction() as connection:
            state = journal.summary(connection, store.path, piece_id)
            here = state.position
            kept = (
                Kept(state.seq + nth, state.touched, Event("press" if nth % 2 else "undo", 1, here + nth % 2, here + 1))
                for nth in range(1, presses + 1)
            )
            journal.write_events(connection, piece_id, kept)
            done = replace(state, seq=state.seq + presses, redo_to=here + 1, position=here + presses % 2)
            journal.write(connection, done)
    finally:
        store.close()
