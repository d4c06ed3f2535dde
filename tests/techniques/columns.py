"""A naive piece of peyote: columns of beads, side by side, flat or closed into a tube. Shares nothing with the program.

A bead is laid on the top of its column. There it touches the bead below it and whatever is on top of the two columns
beside it. Beads strung touch their neighbours on the strand.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable


class Columns:
    """So many columns; beads are numbered from 1 as they are laid."""

    def __init__(self, across: int, *, closed: bool) -> None:
        self.stacks: list[list[int]] = [[] for _ in range(across)]
        self.closed = closed
        self.laid = 0
        self.pairs: set[frozenset[int]] = set()
        self.column_of: dict[int, int] = {}

    def string(self, columns: Iterable[int]) -> None:
        """The strand, one bead for each column, in this order."""
        before = 0
        for column in columns:
            bead = self._put(column)
            if before:
                self.pairs.add(frozenset((before, bead)))
            before = bead
        if self.closed:
            self.pairs.add(frozenset((1, before)))

    def lay(self, column: int) -> int:
        """One bead on top of a column."""
        column %= len(self.stacks) if self.closed else len(self.stacks) + 1
        touched = [stack[-1] for stack in (self.stacks[column], *self._beside(column)) if stack]
        bead = self._put(column)
        self.pairs.update(frozenset((bead, other)) for other in touched)
        return bead

    def lay_all(self, columns: Iterable[int]) -> None:
        for column in columns:
            self.lay(column)

    def _beside(self, column: int) -> list[list[int]]:
        sides = (column - 1, column + 1)
        if self.closed:
            return [self.stacks[side % len(self.stacks)] for side in sides]
        return [self.stacks[side] for side in sides if 0 <= side < len(self.stacks)]

    def _put(self, column: int) -> int:
        self.laid += 1
        self.stacks[column].append(self.laid)
        self.column_of[self.laid] = column
        return self.laid

    def touch(self, one: int, other: int) -> bool:
        return frozenset((one, other)) in self.pairs


def flat(across: int, rows: int, drop: int = 1, outside: Callable[[int], bool] = lambda row: False) -> Columns:
    """A flat strip of `across` groups. Column 0 is where the strand ends; rows 1, 3, … are worked from there.

    `outside`: of which rows the last group is picked up outside the edge, its beads the other way round.
    """
    piece = Columns(across * drop, closed=False)
    piece.string(reversed(range(across * drop)))
    for row in range(3, rows + 1):
        groups = list(range((row + 1) % 2, across, 2))
        if row % 2 == 0:
            groups.reverse()
        for nth, group in enumerate(groups):
            beads = list(range(group * drop, (group + 1) * drop))
            if row % 2 == 0 or (outside(row) and nth == len(groups) - 1):
                beads.reverse()
            piece.lay_all(beads)
    return piece


def even_tube(around: int, rounds: int, drop: int = 1) -> Columns:
    """A tube of `around` groups strung, an even number."""
    piece = Columns(around * drop, closed=True)
    piece.string(range(around * drop))
    for nth in range(rounds - 2):
        # the first stitch of round 3 lies over the second group; each step-up moves on by one
        for stitch in range(around // 2):
            group = (nth + 1 + 2 * stitch) % around
            piece.lay_all(range(group * drop, (group + 1) * drop))
    return piece


def odd_tube(around: int, stitches: int) -> Columns:
    """A spiral on a ring of an odd number: every second column, on and on."""
    piece = Columns(around, closed=True)
    piece.string(range(around))
    for stitch in range(stitches):
        piece.lay(1 + 2 * stitch)
    return piece
