"""Work in rows: each row a line of beads, its beads where the trade's charts put them.

Flat peyote stands in columns, every other bead in every other row; weaves, nets and bricks as `woven` has them. The
rows of other techniques are drawn one above the other with their beads side by side: for square stitch and ladders that
is how they lie; of herringbone, cubes and edgings it is no picture, but shows each bead in its row.
"""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.chart.laid import beads, cells
from stitchalong.chart.model import Bead
from stitchalong.chart.woven import BRICKS, NETS, WEAVES, Bricks, Net, Unclear, Weave
from stitchalong.course.course import Course, Round

_PEYOTE = frozenset(("strung row", "flat peyote"))


class Lines:
    """The rows of one part, the first at the bottom, as the work grows upward."""

    def __init__(self, course: Course, indexes: Sequence[int]) -> None:
        """`indexes`: the rounds of the part, in order."""
        self.course = course
        self.beads: list[Bead] = []
        self.height = 0.0
        """of the last row drawn, upward"""
        self._across = 0
        self._width = 1
        self._indexes = list(indexes)
        self._weave = Weave(course)
        self._net: Net | None = None
        self._bricks = Bricks()
        self._first = 0
        """beads of the first closed row: wider and narrower ones lie over its middle"""
        self._room = 0.0
        """how wide closed or woven work is, for what is hung from it; 0: as wide as its beads"""

    def add(self, index: int) -> None:
        """Draw a row above those that are there."""
        item = self.course.rounds[index]
        if item.technique in _PEYOTE:
            self._peyote(index, item)
            return
        if item.technique == "fringe":
            self._fringe(index)
            return
        if item.technique == "MRAW strip":
            self._strip(index)
            return
        if self._woven(index, item):
            return
        self.height += 1
        row = list(beads(self.course, index))
        back = item.flat and item.number % 2 == 0
        left, pitch = 0.0, 1.0
        if item.technique in BRICKS:
            left = self._bricks.left_of(len(row), flat=item.flat, back=back)
        else:
            self._bricks.begin(len(row))
            pitch = max(1.0, self._room / len(row)) if row else 1.0
            if self._room and item.technique == "peyote":
                left = pitch / 2 * (item.number % 2)
            elif not self._room and not item.flat:
                self._first = self._first or len(row)
                left = (self._first - len(row)) / 2
        for at, (number, code) in enumerate(row):
            x = len(row) - 1 - at if back else at
            self.beads.append(Bead(number, code, left + pitch * x, -self.height))

    def _woven(self, index: int, item: Round) -> bool:
        """Draw a row of weave or of a net; False where it is neither, or not such as can be drawn so."""
        try:
            if item.technique in WEAVES:
                made, reach = self._weave.row(index, self.height)
                self._room = self._weave.width
            elif item.technique in NETS and not item.flat:
                if self._net is None:
                    self._net = Net(self.course, self._indexes)
                made, reach = self._net.row(index, self.height)
                self._room = self._net.width
            else:
                return False
        except Unclear:
            return False
        self.beads += made
        self.height = reach
        return True

    def _strip(self, index: int) -> None:
        """A frame of units: bottoms and tops in every other column, sides and the spacers on top between them. The
        spacers are the row that peyote hangs from."""
        units = list(cells(self.course, index))
        self._across = 2 * len(units) - 1
        low = self.height + 1
        for nth, unit in enumerate(units):
            numbers, codes = unit.beads, unit.codes
            column = 2 * nth
            # the first unit: top, side, bottom, side; each further one: its spacer, then top, side, bottom
            places = [(column - 1, 2.5), (column, 2.0), (column + 1, 1.0), (column, 0.0)]
            if not nth:
                places = [*places[1:], (column - 1, 1.0)]
            for number, code, (x, up) in zip(numbers, codes, places, strict=True):
                self.beads.append(Bead(number, code, float(x), -(low + up)))
        self.height = low + 2.5

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
