"""From a finger size to the counts that come near it, with their sides and the size each gives."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from stitchalong.errors import UsageError
from stitchalong.measure.figure import Figure
from stitchalong.measure.rings import Way
from stitchalong.measure.sizes import RingSize, Scale, exact_size, ring_size
from stitchalong.measure.wear import LARGEST_RING, TOO_TIGHT, wide_band
from stitchalong.plan.sizes import even_sides

MOST = 5_000
"""counts are looked for up to here"""
_SIDES = range(3, 9)
"""other numbers of sides that are offered"""


@dataclass(frozen=True, slots=True)
class Choice:
    """One count and what it gives."""

    count: int
    sides: tuple[int, ...]
    """units of each side, its marker among them"""
    inside: Figure
    """inner circumference, mm"""
    size: RingSize
    """its inside on the scale asked for"""
    fits: RingSize
    """the finger that it is right for: smaller than the inside, where a wide band asks for more room"""
    off: float
    """mm by which it is larger than what was asked for; below 0: smaller"""

    @property
    def equal(self) -> bool:
        return len(set(self.sides)) == 1


class Other(StrEnum):
    """What is different about an alternative."""

    UNEQUAL = "unequal sides"
    SIDES = "another number of sides"
    BEAD = "another bead"


@dataclass(frozen=True, slots=True)
class Alternative:
    """Another way to come nearer."""

    kind: Other
    label: str
    """`unequal sides`, `5 sides`, or the other bead as it was named"""
    choice: Choice


@dataclass(frozen=True, slots=True)
class Fit:
    """What a finger can be given."""

    finger: RingSize
    target: float
    """inner circumference in mm that was looked for: the finger's, and what a wide band needs more"""
    word: str
    """what is counted: `units`, `stitches a round`, `rows`"""
    choices: tuple[Choice, ...]
    """counts one step apart round the nearest, ascending"""
    nearest: Choice
    smaller: Choice | None
    """the largest that is smaller than the target"""
    larger: Choice
    """the smallest that is not"""
    equal_smaller: Choice | None
    """the same two, with equal sides"""
    equal_larger: Choice
    step: float
    """mm, the finest step there is: one unit"""
    step_us: float
    """the same in US sizes"""
    equal_step: float
    """mm: one unit on each side"""
    equal_step_us: float
    alternatives: tuple[Alternative, ...]
    """nearest first"""
    advice: tuple[str, ...]
    caution: str
    """said of every ring; empty for a bangle"""

    @property
    def room(self) -> float:
        """mm of the target that a wide band needs more than the finger; 0 for a narrow one."""
        return self.target - self.finger.circumference


def fit(
    finger: RingSize,
    way: Way,
    sides: int = 1,
    *,
    width: float | None = None,
    others: Mapping[str, Way] | None = None,
    around: int = 3,
) -> Fit:
    """The counts that come near a finger.

    `sides` is the number of sides (1: the round is not divided), `width` the width of the band in mm,
    `others` the same work in other beads by name, `around` how many counts to give below and above the
    nearest. Raises UsageError.
    """
    if sides < 1:
        raise UsageError(f"{sides} sides cannot be made", fix="one side or more")
    advice = wide_band(width) if width is not None else None
    target = finger.circumference + (advice.circumference if advice else 0.0)
    search = _Search(way, target, finger.scale, target - finger.circumference)
    smaller, larger = search.beside(sides, 1)
    equal_smaller, equal_larger = search.beside(sides, sides)
    nearest = _nearer(smaller, larger)
    low = search.floor(sides, 1)
    counts = [nearest.count + way.step * by for by in range(-around, around + 1)]
    choices = tuple(search.choice(count, sides) for count in counts if low <= count <= MOST)
    step = search.inside(nearest.count + way.step) - nearest.inside.value
    equal_step = search.inside(nearest.count + search.stride(sides)) - nearest.inside.value
    per_us = _us_sizes(1.0)
    return Fit(
        finger,
        target,
        way.word,
        choices,
        nearest,
        smaller,
        larger,
        equal_smaller,
        equal_larger,
        step,
        step * per_us,
        equal_step,
        equal_step * per_us,
        _alternatives(search, sides, nearest, others or {}),
        (advice.text,) if advice else (),
        TOO_TIGHT if target <= LARGEST_RING else "",
    )


def at_count(found: Fit, way: Way, count: int, sides: int) -> Choice:
    """What so many give for the finger that was looked for."""
    return _Search(way, found.target, found.finger.scale, found.room).choice(count, sides)


def _us_sizes(millimetres: float) -> float:
    """US sizes in so many millimetres of circumference."""
    return exact_size(Scale.US, 50.0 + millimetres) - exact_size(Scale.US, 50.0)


def _nearer(smaller: Choice | None, larger: Choice) -> Choice:
    """The nearer of two; halfway, the larger."""
    return smaller if smaller is not None and -smaller.off < larger.off else larger


def _alternatives(search: _Search, sides: int, nearest: Choice, others: Mapping[str, Way]) -> tuple[Alternative, ...]:
    found = []
    if not nearest.equal:
        found.append(Alternative(Other.UNEQUAL, str(Other.UNEQUAL), nearest))
    if sides > 1:
        for number in _SIDES:
            if number != sides:
                choice = _nearer(*search.beside(number, number))
                found.append(Alternative(Other.SIDES, f"{number} sides", choice))
    for label, way in others.items():
        choice = _nearer(*_Search(way, search.target, search.scale, search.room).beside(sides, sides))
        found.append(Alternative(Other.BEAD, label, choice))
    return tuple(sorted(found, key=lambda one: abs(one.choice.off)))


class _Search:
    """Looks for counts of one way round one target."""

    def __init__(self, way: Way, target: float, scale: Scale, room: float) -> None:
        """`room`: mm of the target that a wide band needs more than the finger."""
        self.way, self.target, self.scale, self.room = way, target, scale, room

    def inside(self, count: int) -> float:
        return self.way.inside(count).value

    def stride(self, per_side: int) -> int:
        """The least change of the count that keeps `per_side` sides equal."""
        step = self.way.step
        while step % per_side:
            step += self.way.step
        return step

    def floor(self, sides: int, equal: int) -> int:
        """The least count that can be begun, has a unit for each side and comes in `equal` equal sides."""
        least = max(self.way.least, sides)
        stride = self.stride(equal)
        return self.way.rest - (self.way.rest - least) // stride * stride

    def choice(self, count: int, sides: int) -> Choice:
        inside = self.way.inside(count)
        size, fits = (ring_size(max(inside.value - by, 0.1), self.scale) for by in (0.0, self.room))
        return Choice(count, even_sides(count, sides), inside, size, fits, inside.value - self.target)

    def beside(self, sides: int, equal: int) -> tuple[Choice | None, Choice]:
        """The largest count smaller than the target (None where there is none), and the smallest that is
        not."""
        stride, floor = self.stride(equal), self.floor(sides, equal)
        low, high = floor, floor + (MOST // stride + 1) * stride
        if self.inside(high) < self.target:
            raise UsageError(
                f"more than {MOST:,} {self.way.word} would be needed for {self.target:.0f} mm",
                fix="is the size right?",
            )
        while low < high:
            middle = low + (high - low) // stride // 2 * stride
            if self.inside(middle) < self.target:
                low = middle + stride
            else:
                high = middle
        smaller = self.choice(low - stride, sides) if low > floor else None
        return smaller, self.choice(low, sides)
