"""A thread on its way round the units of a weave, whose beads lie between corners.

A unit is a ring of corners; between two neighbouring corners lies one bead, which units may share. The thread always
goes from corner to corner along the beads: so it never crosses the middle of a unit.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from stitchalong.fabric.moves import Move
from stitchalong.fabric.stitch import Kind

Corner = tuple[int, int]
Side = frozenset[Corner]
"""the place of a bead"""


def side(one: Corner, other: Corner) -> Side:
    return frozenset((one, other))


@dataclass(slots=True)
class _Open:
    """A move that is still growing."""

    kind: Kind
    detail: str
    beads: list[str] = field(default_factory=list)
    through: list[int] = field(default_factory=list)


class Weaver:
    """The thread. It comes out of the bead between `tail` and `head`, at `head`; at first of none (`tail` None)."""

    def __init__(self, sides: dict[Side, int], tail: Corner | None, head: Corner, first: int) -> None:
        """`sides`: the beads that are there, by number; `first`: the number of the next bead picked up."""
        self.sides = dict(sides)
        self.tail = tail
        self.head = head
        self.next = first
        self._moves: list[_Open] = []

    def passed_by(self, last: int) -> int:
        """Beads that a move passes through so far: 1 is the last move, 2 the one before it."""
        return len(self._moves[-last].through)

    def rename(self, move: int, detail: str) -> None:
        """Give a move another detail; -1 is the last."""
        self._moves[move].detail = detail

    def moves(self) -> list[Move]:
        return [Move(one.kind, tuple(one.beads), tuple(one.through), detail=one.detail) for one in self._moves]

    def unit(
        self, corners: Sequence[Corner], codes: Sequence[str], leave: Side | None, details: Sequence[str] = ("", "")
    ) -> int:
        """Once round a unit, picking up a bead for each side that has none, and on to `leave` (None: no further).

        Sides that the thread passes before it picks up a bead belong to the move before. Gives the moves begun here.
        Where the new beads are in two runs, the first is a move that fills no space. `details` are of a first and of
        the last run. Raises ValueError for another number of codes.
        """
        size = len(corners)
        at = corners.index(self.head)
        fresh = self.tail is None
        step = 1 if fresh or corners[at - 1] == self.tail else -1
        ring = [corners[(at + step * nth) % size] for nth in range(size)]
        path = list(zip(ring, [*ring[1:], ring[0]], strict=True))
        if sum(side(*way) not in self.sides for way in path) != len(codes):
            raise ValueError(f"{len(codes)} beads for a unit")
        left = iter(codes)
        begun: list[_Open] = []
        picking = False
        for way in path:
            if side(*way) in self.sides:
                self.through(*way)
                picking = False
                continue
            if not picking:
                begun.append(_Open(Kind.UNIT, str(size) if fresh else details[-1]))
                self._moves.append(begun[-1])
            begun[-1].beads.append(next(left))
            self.sides[side(*way)] = self.next
            self.next += 1
            picking = True
        for move in begun[:-1]:
            move.kind, move.detail = Kind.JOIN, details[0]
        if fresh:
            self.through(*path[0])
        if leave is None:
            return len(begun)
        assert self.tail is not None
        onward = path[1:] + path[:1] if fresh else path
        for way in onward:
            if side(self.tail, self.head) == leave:
                break
            self.through(*way)
        return len(begun)

    def through(self, one: Corner, other: Corner) -> None:
        """On through the bead between these corners."""
        self._moves[-1].through.append(self.sides[side(one, other)])
        self.tail, self.head = one, other

    def open(self, kind: Kind, detail: str) -> None:
        """Begin a move without a bead."""
        self._moves.append(_Open(kind, detail))
