"""Right-angle weave: units of four beads that share their sides, each turning the other way round than the one before.

The rule. The beads of a unit lie round it like floor, walls and ceiling of a room. The thread comes out of a bead that
the new unit will share, picks up the beads that the unit has not got yet, passes through those that it has, back
through the bead where it came in, and on round the unit to the bead that the next unit will share. It never crosses the
middle of a unit.

Row 1 of n units: 4 beads, then 3 for each further unit, 3n + 1 in all. Further rows, worked back: 3 for the first unit
(its floor is there), 2 for each further one (floor and one wall), 2n + 1. In m rows 2nm + n + m beads, which is the
number of edges of a grid of n by m squares (for n = m the sequence A046092).

Round and round: n - 1 units as above, then one that closes the ring: a ceiling, through the first unit's wall, a
floor, through the wall where the thread came out: 3n beads. Further rounds: 3, then 2 for each, and 1, a ceiling, to
close: 2n. In m rounds n(2m + 1).

That a new room needs floor, wall and ceiling on the same storey and two of them upstairs is printed in a magazine's
column (interweave.com, whos-afraid-of-the-big-bad-raw); picking up 4, then 3, in roamingpixies.blogspot.com/2012/10.
The ring: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.fabric.moves import Move, Phrase, Phrases
from stitchalong.fabric.rooms import Corner, Weaver, side
from stitchalong.fabric.stitch import Make
from stitchalong.values import value

LEAST_AROUND = 3
"""units of a ring"""


@value
class Storey:
    """The ceilings of the row just worked."""

    ceilings: tuple[int, ...]
    """bead numbers, in the direction of the first row"""
    unit: int
    """0-based: the thread comes out of the ceiling of this unit (where another row was to follow)"""
    forward: bool
    """whether it heads in the direction of the first row"""
    closed: bool

    @property
    def units(self) -> int:
        return len(self.ceilings)

    @property
    def leaves(self) -> list[int]:
        """The ceilings as the thread would meet them: flat, as the next row does."""
        onward = self.forward if self.closed else self.unit == 0
        order = [(self.unit + (nth if onward else -nth)) % self.units for nth in range(self.units)]
        return [self.ceilings[at] for at in order]


def first_sizes(units: int, *, closed: bool) -> list[int]:
    """Beads of each unit of row 1."""
    sizes = [4] + [3] * (units - 1)
    return [*sizes[:-1], 2] if closed else sizes


def next_sizes(units: int, *, closed: bool) -> list[int]:
    """Beads of each unit of a further row."""
    sizes = [3] + [2] * (units - 1)
    return [*sizes[:-1], 1] if closed else sizes


def first_row(makes: Sequence[Make], first: int, *, closed: bool, hangs: bool) -> tuple[list[Move], Storey]:
    """Row 1; the first bead is the outer wall of the first unit. `hangs`: another row follows.

    Raises ValueError for a ring of fewer than three units.
    """
    return _worked(Weaver({}, None, (0, 0), first), makes, 0, 1, closed=closed, hangs=hangs)


def next_row(storey: Storey, makes: Sequence[Make], first: int, *, hangs: bool) -> tuple[list[Move], Storey]:
    """A further row. Raises ValueError for another number of units."""
    units = storey.units
    if len(makes) != units:
        raise ValueError(f"{len(makes)} units on {units}")
    around = units if storey.closed else units + 1
    floors = {side((at, 0), ((at + 1) % around, 0)): bead for at, bead in enumerate(storey.ceilings)}
    ends: list[Corner] = [(storey.unit, 0), ((storey.unit + 1) % around, 0)]
    if not storey.forward:
        ends.reverse()
    onward = 1 if storey.closed or storey.unit == 0 else -1
    weaver = Weaver(floors, ends[0], ends[1], first)
    return _worked(weaver, makes, storey.unit, onward, closed=storey.closed, hangs=hangs)


def _worked(
    weaver: Weaver, makes: Sequence[Make], begin: int, onward: int, *, closed: bool, hangs: bool
) -> tuple[list[Move], Storey]:
    units = len(makes)
    if closed and units < LEAST_AROUND:
        raise ValueError(f"a ring of {units}")
    around = units if closed else units + 1
    for nth, make in enumerate(makes):
        at = (begin + nth * onward) % around
        near, far = at, (at + 1) % around
        room: list[Corner] = [(near, 0), (near, 1), (far, 1), (far, 0)]
        out = far if onward > 0 else near
        last = nth == units - 1
        leave = side((near, 1), (far, 1)) if last else side((out, 0), (out, 1))
        detail = "" if not last else "up" if hangs else "last"
        if last and closed:
            detail = f"close {detail}"
        passed = weaver.passed_by(1) if nth else 0
        begun = weaver.unit(room, make.beads, None if last and not hangs else leave, ("ceiling", detail))
        if nth and passed < weaver.passed_by(begun + 1):
            weaver.rename(-begun - 1, "floor")
    ceilings = tuple(weaver.sides[side((at, 1), ((at + 1) % around, 1))] for at in range(units))
    end = (begin + (units - 1) * onward) % around
    forward = weaver.head == ((end + 1) % around, 1)
    return weaver.moves(), Storey(ceilings, end, forward, closed)


SAY: Phrases = {
    "": Phrase(
        "close the unit: on round it through the bead where the thread came out, and out of the side that the next "
        "unit shares: {number}, {way}"
    ),
    "floor": Phrase(
        "close the unit: on round it through the bead where the thread came out, and through the floor of the next "
        "unit: {number}, {way}"
    ),
    "up": Phrase(
        "close the unit, the last of this row: on round it through the bead where the thread came out, and out of its "
        "ceiling: {number}, {way}"
    ),
    "last": Phrase("close the unit, the last: on round it to the bead where the thread came out: {number}, {way}"),
    "4": Phrase("join them into a circle: on round it, away from the tail: {number}, {way}"),
    "ceiling": Phrase("it is a ceiling; pass through the first unit's wall, {way}", "the unit that closes the ring"),
    "close up": Phrase(
        "the ring closes: on round the unit through the wall where the thread came out, and out of its ceiling: "
        "{number}, {way}"
    ),
    "close last": Phrase("the ring closes: on round the unit to the wall where the thread came out: {number}, {way}"),
}
