"""Cubic right-angle weave: storeys of walls on a ring, each ceiling being the next floor.

The rule. A base of b beads (four for cubes) is closed into a ring. Then wall after wall is woven on the base, all in
the same direction: the first wall takes 3 beads, the next ones 2 each (floor and one upright are there), the last 1,
its ceiling. The thread comes up through an upright and passes round the whole ceiling, adding nothing; the ceiling is
the base of the next storey. A storey has 2b beads, so k storeys on a base b + 2bk: for cubes 4 + 8k, 12, 20, 28, 36 …
(the sequence A017113).

Walls of 3, 2, 2 and 1 beads are printed in ellikki.fi/korut/?p=1879; other bases: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.fabric.moves import Move, Phrase, Phrases
from stitchalong.fabric.rooms import Corner, Side, Weaver, side
from stitchalong.fabric.stitch import Kind, Make
from stitchalong.values import value

LEAST = 3
"""beads of a base"""


@value
class Floor:
    """The base of the next storey."""

    beads: tuple[int, ...]
    """numbers, round and round; the thread comes out of the first, heading for the second"""


def sizes(base: int) -> list[int]:
    """Beads of each wall of a storey."""
    return [3] + [2] * (base - 2) + [1]


def ring(codes: Sequence[str], first: int) -> tuple[list[Move], Floor]:
    """The base."""
    moves = [Move(Kind.STRING, (code,), (), (0,)) for code in codes]
    moves.append(Move(Kind.JOIN, through=(first,), detail="ring"))
    return moves, Floor(tuple(range(first, first + len(codes))))


def storey(floor: Floor, walls: Sequence[Make], first: int, *, hangs: bool) -> tuple[list[Move], Floor]:
    """The walls and the way round the ceiling; `hangs`: another storey follows. Raises ValueError for other walls."""
    base = len(floor.beads)
    if len(walls) != base:
        raise ValueError(f"{len(walls)} walls on {base}")
    low: list[Corner] = [(at, 0) for at in range(base)]
    high: list[Corner] = [(at, 1) for at in range(base)]
    floors: dict[Side, int] = {side(low[at], low[(at + 1) % base]): bead for at, bead in enumerate(floor.beads)}
    weaver = Weaver(floors, low[0], low[1], first)
    for at, wall in enumerate(walls):
        on = (at + 1) % base
        if at:
            weaver.through(low[at], low[on])
        weaver.unit([low[at], low[on], high[on], high[at]], wall.beads, None, ("", "ceiling" if on == 0 else ""))
    weaver.open(Kind.REINFORCE, "round the ceiling")
    weaver.through(low[0], high[0])
    ways = [(high[at], high[(at + 1) % base]) for at in range(base)]
    for way in [*ways, *ways[: 1 if hangs else 0]]:
        weaver.through(*way)
    return weaver.moves(), Floor(tuple(weaver.sides[side(*way)] for way in ways))


SAY: Phrases = {
    "": Phrase("close the wall: on round it and along the floor: {number}, {way}"),
    "ceiling": Phrase("it is the ceiling of the last wall: pass down the upright and along the floor, {way}"),
    "ring": Phrase("pass through the first bead strung: the base is closed"),
    "round the ceiling": Phrase(
        "pass up through the upright, {first}, and round the whole ceiling, adding nothing, out of {last}",
        "the pass round the ceiling",
    ),
}
