"""A naive sheet of flat peyote: columns of beads, every second one half a bead lower. Shares nothing with the program.

Column 0 is where the strand ends. Row 1 stands in columns 0, 2, 4, …, row 2 in columns 1, 3, 5, …, row 3 over row 1;
rows 1, 3, 5 are worked from column 0 on, the others back. Heights are counted in halves of a bead.
"""

from __future__ import annotations


class Grid:
    """So many columns, so many rows, one bead at each place, laid one by one."""

    def __init__(self, across: int, rows: int) -> None:
        self.at: dict[int, tuple[int, int]] = {}
        """bead number -> (column, height)"""
        for column in reversed(range(across)):  # the strand: its last bead is that of column 0
            self._lay(column, column % 2)
        for row in range(3, rows + 1):
            columns = [column for column in range(across) if column % 2 == (row - 1) % 2]
            for column in columns if row % 2 else reversed(columns):
                self._lay(column, row - 1)

    def _lay(self, column: int, height: int) -> None:
        self.at[len(self.at) + 1] = (column, height)

    @property
    def columns_in_order(self) -> list[int]:
        """The numbers of all beads."""
        return list(self.at)

    def touch(self, one: int, other: int) -> bool:
        """Neighbours in one column, or in neighbouring columns half a bead apart."""
        (column, height), (column2, height2) = self.at[one], self.at[other]
        aside, above = abs(column - column2), abs(height - height2)
        return (aside, above) in ((0, 2), (1, 1))
