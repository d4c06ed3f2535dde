"""Naive rows of beads that stand upright, side by side: a bead has a row and a place in it. Shares nothing with the
program."""

from __future__ import annotations


class Stacks:
    """Beads by (row, column), numbered from 1 as they are laid."""

    def __init__(self, across: int, *, closed: bool) -> None:
        self.across = across
        self.closed = closed
        self.place: dict[int, tuple[int, int]] = {}
        self.extra: set[frozenset[int]] = set()

    @property
    def laid(self) -> int:
        return len(self.place)

    def put(self, row: int, column: int) -> int:
        number = len(self.place) + 1
        self.place[number] = (row, column)
        return number

    def touch(self, one: int, other: int) -> bool:
        """Neighbours in their row, or one on top of the other in their column."""
        if frozenset((one, other)) in self.extra:
            return True
        (row, column), (other_row, other_column) = self.place[one], self.place[other]
        if row == other_row:
            apart = abs(column - other_column)
            return apart == 1 or (self.closed and apart == self.across - 1)
        return abs(row - other_row) == 1 and column == other_column


def upright(across: int, rows: int, *, closed: bool, turning: bool = False) -> Stacks:
    """Rows on a ladder: to and fro, or all in one direction. A turning bead hangs on the bead that the row ends in."""
    piece = Stacks(across, closed=closed)
    for row in range(1, rows + 1):
        columns = list(range(across))
        if row % 2 == 0 and not closed:
            columns.reverse()
        for column in columns:
            last = piece.put(row, column)
        if turning and 1 < row < rows:
            below = next(bead for bead, place in piece.place.items() if place == (row - 1, piece.place[last][1]))
            # far from all others
            piece.extra.add(frozenset((piece.put(-10 * row, 0), below)))
    return piece
