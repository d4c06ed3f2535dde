"""Work in rows: each row a line of beads, its beads where the trade's charts put them.

Flat peyote stands in columns, every other bead in every other row; the rows of other techniques are drawn one above the
other with their beads side by side, which is no picture of the fabric but shows each bead in its row.
"""

from __future__ import annotations

from stitchalong.chart.laid import beads, cells
from stitchalong.chart.model import Bead
from stitchalong.course.course import Course, Round

_PEYOTE = frozenset(("strung row", "flat peyote"))


class Lines:
    """The rows of one part, the first at the bottom, as the work grows upward."""

    def __init__(self, course: Course) -> None:
        self.course = course
        self.beads: list[Bead] = []
        self.height = 0.0
        """of the last row drawn, upward"""
        self._across = 0
        self._width = 1

    def add(self, index: int) -> None:
        """Draw a row above those that are there."""
        item = self.course.rounds[index]
        if item.technique in _PEYOTE:
            self._peyote(index, item)
            return
        if item.technique == "fringe":
            self._fringe(index)
            return
        self.height += 1
        row = list(beads(self.course, index))
        back = item.flat and item.number % 2 == 0
        for at, (number, code) in enumerate(row):
            x = len(row) - 1 - at if back else at
            self.beads.append(Bead(number, code, float(x), -self.height))

    def _fringe(self, index: int) -> None:
        """Each strand a line of its own, upward like all that follows."""
        longest = 0
        for at, strand in enumerate(cells(self.course, index)):
            for nth, (number, code) in enumerate(zip(strand.beads, strand.codes, strict=True), start=1):
                self.beads.append(Bead(number, code, 2.0 * at, -self.height - nth))
            longest = max(longest, len(strand.beads))
        self.height += longest

    def _peyote(self, index: int, item: Round) -> None:
        """Columns are counted in groups from the end at which the first bead was strung. What a turn lays beside the
        last group of a row stays outside the edge."""
        groups = list(cells(self.course, index))
        first = len(item.numbers) > 1
        if first:
            self._across = len(groups)
            self._width = min((len(group.beads) for group in groups), default=1)
        width = self._width
        for at, group in enumerate(groups):
            back = not first and item.number % 2
            if first:
                # the last bead strung lies in row 1, and so does every other one from it
                column, low = at, (self._across - 1 - at) % 2 == 0
                y = self.height - 0.5 * low
            else:
                column = self._across - 1 - 2 * at if back else self._across % 2 + 2 * at
                y = self.height + 0.5
            for nth, (number, code) in enumerate(zip(group.beads, group.codes, strict=True)):
                inner = width - 1 - nth if back else nth
                self.beads.append(Bead(number, code, column * width + inner, -y))
        if not first:
            self.height += 0.5
