"""Right-angle weave as its cells, nets as their loops, brick stitch as bricks: each bead where it lies in the fabric.

Lengths are in beads, heights go up. Closed work is cut open at one place.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stitchalong.chart.laid import Told, told
from stitchalong.chart.model import Bead
from stitchalong.course.course import Course

WEAVES = frozenset(
    ("right-angle weave row", "right-angle weave ring", "right-angle weave", "tubular right-angle weave")
)
NETS = frozenset(("net ring", "netting"))
BRICKS = frozenset(("brick stitch", "tubular brick stitch"))

_ACROSS, _UP = 0.8, 0.95
"""from bead to bead of a loop"""


class Unclear(Exception):
    """The rows are not such as this drawing knows."""


class Weave:
    """Right-angle weave: four beads about a cell, two from cell to cell; a cell shares beads with its neighbours."""

    def __init__(self, course: Course) -> None:
        self.course = course
        self.width = 0.0
        """across all cells; 0 before the first row"""
        self._tops: dict[int, int] = {}
        """the top bead of each cell of the row before: its column"""
        self._closed = False

    def row(self, index: int, height: float) -> tuple[list[Bead], float]:
        """The beads of a row over `height`, and the height of their tops. Raises Unclear."""
        units = _units(self.course, index)
        edge = set(self.course.passes.edges.get(index, ()))
        self._closed = not self.course.rounds[index].flat
        if not self.width:
            return self._first(units, edge, height)
        middle = height + 1
        columns = [self._column(unit) for unit in units]
        found: list[Bead] = []
        tops: dict[int, int] = {}
        for nth, (unit, column) in enumerate(zip(units, columns, strict=True)):
            x = 2.0 * column
            new = dict(unit.beads)
            top = self._only(number for number in new if number in edge)
            found.append(Bead(top, new.pop(top), x, -(middle + 1)))
            tops[top] = column
            if not nth:
                ahead = units[1].through if len(units) > 1 else ()
                step = self._step(column, columns[1]) if len(units) > 1 else 1
                inner = [number for number in new if number in ahead] or list(new)[:1]
                for number, code in new.items():
                    aside = step if number == inner[0] else -step
                    found.append(Bead(number, code, self._side(x + aside), -middle))
                continue
            step = self._step(columns[nth - 1], column)
            if len(new) > 1:
                raise Unclear
            found += [Bead(number, code, self._side(x + step), -middle) for number, code in new.items()]
        self._tops = tops
        return found, middle + 1

    def _first(self, units: Sequence[Told], edge: set[int], height: float) -> tuple[list[Bead], float]:
        found: list[Bead] = []
        middle = height + 2
        self.width = 2.0 * len(units)
        for column, unit in enumerate(units):
            x = 2.0 * column
            new = dict(unit.beads)
            top = self._only(number for number in new if number in edge)
            found.append(Bead(top, new.pop(top), x, -(middle + 1)))
            self._tops[top] = column
            rest = list(new)
            # the thread goes round the cell: beads across from each other are two apart
            numbers = [number for number, _ in unit.beads]
            across = [number for number in rest if abs(numbers.index(number) - numbers.index(top)) == 2]
            bottom = across[0] if across else rest[-1] if len(rest) == 1 else None
            if bottom is None:
                raise Unclear
            found.append(Bead(bottom, new.pop(bottom), x, -(middle - 1)))
            sides = list(new)
            if not column and len(sides) == 2:
                far = unit.through[-1] if unit.through and unit.through[-1] in sides else sides[-1]
                places = {number: x + (1 if number == far else -1) for number in sides}
            elif len(sides) <= 1:
                places = dict.fromkeys(sides, x + 1)
            else:
                raise Unclear
            found += [Bead(number, new[number], at, -middle) for number, at in places.items()]
        return found, middle + 1

    def _column(self, unit: Told) -> int:
        """Of the cell below: the unit is worked on that cell's top bead."""
        for number in unit.through:
            if number in self._tops:
                return self._tops[number]
        raise Unclear

    def _step(self, here: int, there: int) -> int:
        """To which side the next cell lies: 1 to the right, -1 to the left."""
        count = round(self.width / 2)
        return (there - here + 1) % count - 1 if self._closed else 1 if there > here else -1

    def _side(self, x: float) -> float:
        """Of a ring, what lies between the last cell and the first is drawn before the first."""
        return x - self.width if self._closed and x > self.width - 2 else x

    @staticmethod
    def _only(numbers: Iterator[int]) -> int:
        found = list(numbers)
        if len(found) != 1:
            raise Unclear
        return found[0]


def _units(course: Course, index: int) -> list[Told]:
    """The units of a row; the bead that joins a ring belongs to its last unit."""
    units: list[Told] = []
    joined: Told | None = None
    for one in told(course, index):
        if not one.beads:
            continue
        if joined is not None:
            one = Told((*joined.beads, *one.beads), (*joined.through, *one.through), one.fills)
            joined = None
        if not one.fills:
            joined = one
            continue
        units.append(one)
    if joined is not None or not units:
        raise Unclear
    return units


class Net:
    """A closed net: each loop an arc from the bead that it leaves to the one that it is hung on."""

    def __init__(self, course: Course, indexes: Sequence[int]) -> None:
        """`indexes`: the rounds of the part, of which the first is the ring."""
        self.course = course
        ring = course.rounds[indexes[0]].beads
        widest = float(ring)
        for index in indexes[1:]:
            if course.rounds[index].technique in NETS:
                loops = [one for one in told(course, index) if one.fills]
                longest = max((len(one.beads) for one in loops), default=0)
                widest = max(widest, len(loops) * (longest + 1) * _ACROSS)
        self.width = widest
        self._step = widest / ring
        self._places: dict[int, tuple[float, float]] = {}
        self._at = 0
        """the bead that the thread comes out of"""

    def row(self, index: int, height: float) -> tuple[list[Bead], float]:
        """The beads of the ring or of a round of loops, and how high they reach. Raises Unclear."""
        found: list[Bead] = []
        if not self._places:
            for nth, one in enumerate(bead for entry in told(self.course, index) for bead in entry.beads):
                self._places[one[0]] = (nth * self._step, height + 1)
                found.append(Bead(*one, nth * self._step, -(height + 1)))
            self._at = next(iter(self._places))
            return found, height + 1
        reach = height
        for entry in told(self.course, index):
            if entry.beads:
                if not entry.through or self._at not in self._places or entry.through[0] not in self._places:
                    raise Unclear
                (left, low), (right, high) = self._places[self._at], self._places[entry.through[0]]
                right += self.width * (right <= left)
                count = len(entry.beads)
                for nth, (number, code) in enumerate(entry.beads):
                    share = (nth + 1) / (count + 1)
                    x = (left + (right - left) * share) % self.width
                    up = low + (high - low) * share + _UP * min(nth + 1, count - nth)
                    self._places[number] = (x, up)
                    found.append(Bead(number, code, x, -up))
                    reach = max(reach, up)
            self._at = entry.through[-1] if entry.through else self._at
        return found, reach


class Bricks:
    """Brick stitch: each bead over the thread between two beads of the row below."""

    def __init__(self) -> None:
        self._left = 0.0
        self._size = 0
        self._odd = False

    def begin(self, size: int) -> None:
        """The row that bricks are hung on, its beads from 0."""
        self._left, self._size, self._odd = 0.0, size, False

    def left_of(self, size: int, *, flat: bool, back: bool) -> float:
        """Where the next row begins at the left. `back`: it is worked from right to left."""
        more = size - self._size
        if not flat:
            # a tube is cut open: each other row half a bead aside
            self._odd = not self._odd
            self._left += -more / 2 + (0.5 if self._odd else -0.5) if more % 2 == 0 else -more / 2
        elif more:
            self._left -= more / 2
        else:
            # the first bead stands out over the edge, the last one stays within
            self._left += 0.5 if back else -0.5
        self._size = size
        return self._left
