"""A long piece stitched by a driven session: presses, bursts, steps back, jumps, choices, restarts; memory flat.

    python -m tests.long.soak BEADS [SEED]

Where it stands is reckoned beside it with plain numbers (`Plain`), and how many beads are laid with one list of all
steps. Prints a line of JSON with the figures.
"""

from __future__ import annotations

import ctypes
import gc
import json
import random
import sys
import time
from array import array
from collections import Counter
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import TemporaryDirectory

from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.course.walker import Unit
from stitchalong.plan.read import read_text
from stitchalong.session import Session
from stitchalong.store import Store
from tests.writing import band, peyote, plan_text

RESTART_EVERY = 4_000
"""acts"""
OPEN = 12
"""rounds that may be left out"""
LOOK_EVERY = 1_000
"""acts, between two looks at the memory"""


@dataclass(slots=True)
class Figures:
    """What came of it."""

    beads: int = 0
    steps: int = 0
    acts: Counter[str] = field(default_factory=Counter)
    restarts: int = 0
    choices: int = 0
    seconds: float = 0.0
    memory_early: float = 0.0
    """MB, the most seen in the second tenth of the way"""
    memory_late: float = 0.0
    """MB, the most seen in the ninth tenth, before choices make the course anew"""
    database: float = 0.0
    """MB"""


class Plain:
    """The place, reckoned with plain numbers."""

    def __init__(self) -> None:
        self.position = self.redo_to = 0

    def forward(self, steps: int, limit: int) -> None:
        if min(limit, self.position + steps) != self.position:
            self.position = self.redo_to = min(limit, self.position + steps)

    def back(self, target: int) -> None:
        self.position = target

    def again(self, steps: int) -> None:
        self.position = min(self.redo_to, self.position + steps)

    def to(self, position: int) -> None:
        self.position = self.redo_to = position


def plan_for(beads: int) -> str:
    """A band with ribs, then as many rounds as give at most so many beads, the last of them left open."""
    rising = 'increase = { over = "M", from_round = 2, rounds = 18 }'

    def text(*height: str) -> str:
        return plan_text(band("*24S, M* 4 times"), peyote('["A", "S"]', *height, rising))

    two = [compile_plan(read_text(text(f"height = {rounds}")).plan).beads for rounds in (30, 31)]
    most = 30 + (beads - two[0]) // (two[1] - two[0])
    return text(f'height = "{most - OPEN} to {most}"', f"usual = {most - OPEN // 2}")


def beads_before(course: Course) -> array[int]:
    """For each position how many beads are laid, step by step."""
    laid = array("I", [0])
    for index in range(len(course.rounds)):
        for stitch, count in course.runs_of(index):
            for _ in range(count):
                for _ in range(stitch.steps):
                    laid.append(laid[-1] + bool(stitch.beads))
    return laid


def memory() -> float:
    """MB that this process holds now; what the C library keeps free for later is given back first, where it can be."""
    gc.collect()
    if sys.platform == "linux":
        with suppress(AttributeError, OSError):  # another C library
            ctypes.CDLL(None).malloc_trim(0)
    for line in Path("/proc/self/status").read_text().splitlines():
        if line.startswith("VmRSS:"):
            return int(line.split()[1]) / 1024
    raise OSError("this system does not tell")


def soak(folder: Path, beads: int, seed: int, restart_every: int = RESTART_EVERY, more: float = 1.0) -> Figures:
    """Stitch such a piece to its last bead. Raises AssertionError where the session and plain reckoning part.

    `more`: how often the question for another round is answered yes.
    """
    figures, chance, plain = Figures(), random.Random(seed), Plain()
    ticks = iter(range(1_700_000_000, 1 << 40))
    text = plan_for(beads)
    loaded = read_text(text)
    store = Store.open(folder, clock=lambda: float(next(ticks)))
    session = Session.begin(store, plan=loaded.plan, plan_text=text, plan_data=loaded.data, plan_name="soak")
    piece = session.piece.id
    laid = beads_before(session.course)
    begun = time.perf_counter()
    acted = 0
    while not session.outlook.done:
        acted += 1
        act = _act(session, plain, chance, more)
        figures.acts[act] += 1
        if act == "choice":
            figures.choices += 1
            laid = beads_before(session.course)
        assert (session.position, session.redo_to) == (plain.position, plain.redo_to), (acted, act)
        assert session.outlook.beads_done == laid[plain.position], (acted, act)
        if acted % restart_every == 0:
            before = session.outlook
            store.close()
            store = Store.open(folder, clock=lambda: float(next(ticks)))
            session = Session.resume(store, piece)
            assert session.outlook == before
            figures.restarts += 1
        if acted % LOOK_EVERY == 0:
            tenth = 10 * session.position // session.course.steps
            if tenth == 1:
                figures.memory_early = max(figures.memory_early, memory())
            elif tenth == 8:
                figures.memory_late = max(figures.memory_late, memory())
    figures.seconds = time.perf_counter() - begun
    figures.beads, figures.steps = session.course.beads, session.course.steps
    row = store.piece(piece)
    assert (row.state, row.position, row.seq) == ("finished", session.course.steps, acted)
    store.close()
    figures.database = sum(path.stat().st_size for path in folder.glob("pieces.db*")) / 2**20
    return figures


def _act(session: Session, plain: Plain, chance: random.Random, more: float) -> str:
    """One thing that a stitcher does, in the session and in plain numbers."""
    course, here = session.course, session.position
    limit = next((asked.step for asked in course.decisions if asked.step >= here), course.steps)
    if limit == here:
        session.choose(more=chance.random() < more)
        plain.to(here)
        return "choice"
    if session.redo_to > here and chance.random() < 0.3:
        session.redo_all()
        plain.again(plain.redo_to)
        return "redo"
    kind = chance.random()
    if kind < 0.80:
        session.press()
        plain.forward(1, limit)
        return "press"
    if kind < 0.93:
        steps = chance.randint(2, 25)
        session.press(steps)
        plain.forward(steps, limit)
        return "burst"
    if kind < 0.95:
        ahead = min(limit, here + chance.randint(1, 40))
        session.go_to(ahead)
        plain.to(ahead)
        return "goto"
    floor = max((made.at for made in session._made), default=0) + 1
    unit = chance.choice((Unit.BEAD, Unit.BEAD, Unit.BEAD, Unit.STITCH, Unit.SIDE))
    target = session.undo_target(unit)
    if target < floor or target == here:
        session.press()
        plain.forward(1, limit)
        return "press"
    session.undo(unit)
    plain.back(target)
    return "undo"


def main(beads: int, seed: int) -> None:
    with TemporaryDirectory(prefix="stitchalong-soak-") as folder:
        figures = soak(Path(folder), beads, seed)
    print(json.dumps({name: getattr(figures, name) for name in Figures.__dataclass_fields__}))


if __name__ == "__main__":
    main(int(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 1)
