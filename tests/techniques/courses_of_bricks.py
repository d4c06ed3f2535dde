"""Naive courses of bricks: each bead has a place along its row, in halves of a bead. Nothing of the program is used."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise


class Bricks:
    """Beads by (row, place); a brick stands on the two whose places are half a bead away."""

    def __init__(self, around: int | None = None) -> None:
        self.place: dict[int, tuple[int, int]] = {}
        self.around = around

    @property
    def laid(self) -> int:
        return len(self.place)

    def put(self, row: int, place: int) -> None:
        self.place[len(self.place) + 1] = (row, place)

    def touch(self, one: int, other: int) -> bool:
        (row, place), (other_row, other_place) = self.place[one], self.place[other]
        apart = abs(place - other_place)
        if self.around is not None:
            apart = min(apart, 2 * self.around - apart)
        return (row == other_row and apart == 2) or (abs(row - other_row) == 1 and apart == 1)


def wall(widths: Sequence[int]) -> Bricks:
    """Rows to and fro of so many beads, the first a ladder. Each row begins where the one before ended: half a bead
    beyond it, or half a bead within where it is to be narrower."""
    piece = Bricks()
    left, right = 0, 2 * (widths[0] - 1)
    for place in range(left, right + 1, 2):
        piece.put(1, place)
    for row, (below, width) in enumerate(pairwise(widths), start=2):
        grow = 1 if width >= below else -1
        if row % 2 == 0:
            right += grow
            left = right - 2 * (width - 1)
            places = range(right, left - 1, -2)
        else:
            left -= grow
            right = left + 2 * (width - 1)
            places = range(left, right + 1, 2)
        for place in places:
            piece.put(row, place)
    return piece


def chimney(around: int, rounds: int) -> Bricks:
    """Rounds of so many beads. The thread comes out of the last bead of a round, and the first brick of the next stands
    half a bead behind it."""
    piece = Bricks(around)
    for place in range(0, 2 * around, 2):
        piece.put(1, place)
    last = 2 * (around - 1) if around % 2 else 0
    for row in range(2, rounds + 1):
        for nth in range(around):
            last = (last + (2 if nth else -1)) % (2 * around)
            piece.put(row, last)
    return piece
