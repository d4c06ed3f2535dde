"""A plan brought to a finger or a hand: the counts that come near, and how each is begun."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.course.sides import sides_of
from stitchalong.errors import PlanError, UsageError
from stitchalong.measure.beads import table
from stitchalong.measure.book import Book
from stitchalong.measure.extents import width
from stitchalong.measure.figure import Figure
from stitchalong.measure.fit import Choice, Fit, Other, at_count, fit
from stitchalong.measure.gauge import MRAW, Per
from stitchalong.measure.of_start import Asks, asks_for, ring_count, size_note, strung_for, way_of
from stitchalong.measure.rings import Way, band
from stitchalong.measure.sizes import RingSize
from stitchalong.measure.strap import straps
from stitchalong.measure.wear import MEASURE_WELL
from stitchalong.plan.model import Band, Plan, TubeStart
from stitchalong.plan.sizes import resized

_AROUND = 8
"""steps to each side of the nearest count that are tried where it cannot be begun"""
_SIDES = UsageError("only a band has sides that can be named", fix="leave --sides out")


@dataclass(frozen=True, slots=True)
class Begun:
    """How a count is begun."""

    units: int | None
    """what `start --units` takes; None: the size stands in the plan itself"""
    sides: int | None = None
    """how many, where that is not as the plan has it"""
    cannot: str = ""
    """why it cannot be begun so; empty where it can"""


@dataclass(frozen=True, slots=True)
class Fitted:
    """What was found, with its notes."""

    found: Fit
    basis: str
    """the bead, and where the figures come from"""
    notes: tuple[str, ...]
    """doubts of the plan's own, and the wide band's word"""
    measuring: str
    """how a finger is measured; empty for a hand"""

    @property
    def for_hand(self) -> bool:
        return not self.measuring

    @property
    def every(self) -> tuple[str, ...]:
        """All that is to be said beside the figures."""
        more = (self.measuring, self.found.caution)
        return (*self.notes, *(note for note in more if note))


@dataclass(slots=True)
class Fitting:
    """A plan that is to fit. `wanted`: how many sides; None: as many as the plan has."""

    plan: Plan
    course: Course
    book: Book
    wanted: int | None = None
    _begun: dict[tuple[int, int], Begun] = field(default_factory=dict)
    _across: list[Figure | None] = field(default_factory=list)

    @property
    def sides(self) -> int:
        """How many there are to be. Raises UsageError where some are asked for and there cannot be any."""
        start = self.plan.work[0]
        if self.wanted is not None and not isinstance(start, Band):
            raise _SIDES
        own = len(sides_of(self.course.runs_of(0)).lengths) if isinstance(start, Band) else 1
        return own if self.wanted is None else self.wanted

    def find(self, size: RingSize, *, finger: bool) -> Fitted:
        """The counts near an inside. `finger`: it is a finger's, so that a wide band is given more room.

        Raises UsageError where the plan makes no ring whose size can be chosen.
        """
        way, asks = self._way()
        across = self._width() if finger else None
        found = fit(size, way, self.sides, width=across.value if across else None, others=self._others())
        notes = (*(note for note in (size_note(self.plan),) if note), *found.advice)
        basis = f"reckoned for {asks.bead.size} {asks.bead.shape}: {found.nearest.inside.basis}"
        return Fitted(found, basis, notes, MEASURE_WELL if finger else "")

    def _way(self) -> tuple[Way, Asks]:
        asks = asks_for(self.plan)
        way = way_of(self.plan, self.book.gauge(asks.bead, asks.stitch, asks.per) if asks else None)
        if way is None or asks is None:
            if self._is_strap():
                raise UsageError("this plan makes a strip that is worn with a clasp", fix="give the wrist: --wrist")
            raise UsageError(
                "this plan begins with no ring whose size can be chosen, or its beads' measures are not known",
                fix="`stitchalong size` tells what is known of it",
            )
        return (replace(way, least=3) if isinstance(self.plan.work[0], TubeStart) else way), asks

    def _is_strap(self) -> bool:
        try:
            straps(self.plan, self.book, 160.0)
        except UsageError:
            return False
        return True

    def possible(self, found: Fit) -> Choice | None:
        """The count nearest to what was looked for that can be begun, the plan's own if none is near; None: not even
        that one."""
        way, _ = self._way()
        nearest, sides = found.nearest.count, len(found.nearest.sides)
        least = max(way.least, sides)
        counts = [nearest + way.step * by for by in range(-_AROUND, _AROUND + 1)]
        near = [at_count(found, way, count, sides) for count in counts if count >= least]
        near.sort(key=lambda choice: abs(choice.off))
        own = at_count(found, way, ring_count(self.course, self.plan), self.sides)
        return next((choice for choice in (*near, own) if not self.begin(choice).cannot), None)

    def _width(self) -> Figure | None:
        """Of the work as the plan has it; looked at once."""
        if not self._across:
            self._across.append(width(self.course, self.plan, self.book))
        return self._across[0]

    def begin(self, choice: Choice) -> Begun:
        """How this count is begun: tried, and kept."""
        key = (choice.count, len(choice.sides))
        if key not in self._begun:
            self._begun[key] = self._tried(*key)
        return self._begun[key]

    def begin_other(self, kind: Other | None, choice: Choice) -> Begun:
        """The same of another way; None: of the plan's own. Another bead cannot be asked for: it stands in the plan."""
        return Begun(None) if kind is Other.BEAD else self.begin(choice)

    def _tried(self, count: int, number: int) -> Begun:
        units = strung_for(self.plan, count)
        if units is None:
            return Begun(None)
        own = self.wanted is None and number == self.sides
        sides = None if own or number == 1 else number
        try:
            compile_plan(resized(self.plan, units, sides))
        except PlanError as error:
            problem = error.problems[0]
            return Begun(units, sides, f"{problem.what} ({problem.fix})" if problem.fix else problem.what)
        return Begun(units, sides)

    def _others(self) -> dict[str, Way]:
        """The same band in other beads of the same shape."""
        asks = asks_for(self.plan)
        if asks is None or asks.stitch != MRAW:
            return {}
        found = {}
        for bead in table().values():
            gauge = self.book.gauge(bead, MRAW, Per.UNIT) if bead.shape == asks.bead.shape else None
            if gauge is not None and bead.size != asks.bead.size:
                found[f"{bead.size} {bead.shape}"] = band(gauge)
        return found
