"""A figure that says how far it may be off and where it comes from."""

from __future__ import annotations

import math
from collections.abc import Iterable

from stitchalong.errors import UsageError
from stitchalong.values import value


@value
class Figure:
    """`value` lies between `low` and `high`; the unit is said by whoever gives the figure.

    Raises ValueError where the three are not finite or not in order.
    """

    value: float
    low: float
    high: float
    basis: str = ""
    """where it comes from, for people"""

    def __post_init__(self) -> None:
        if not all(map(math.isfinite, (self.low, self.value, self.high))):
            raise ValueError("a figure must be finite")
        if not self.low <= self.value <= self.high:
            raise ValueError(f"{self.value} does not lie between {self.low} and {self.high}")

    @classmethod
    def exact(cls, value: float, basis: str = "") -> Figure:
        return cls(value, value, value, basis)

    @classmethod
    def around(cls, value: float, share: float, basis: str = "") -> Figure:
        """`value` ± `share` of it (0.04 is ± 4 %). `value` >= 0."""
        return cls(value, value * (1 - share), value * (1 + share), basis)

    @property
    def share(self) -> float:
        """Half the spread, as a share of the value; 0 for the value 0."""
        return (self.high - self.low) / (2 * self.value) if self.value else 0.0

    def times(self, factor: float) -> Figure:
        """All three by a factor >= 0."""
        return Figure(self.value * factor, self.low * factor, self.high * factor, self.basis)

    def plus(self, other: Figure | float) -> Figure:
        """Both ends are added too: the parts are taken to be off in the same direction."""
        if not isinstance(other, Figure):
            other = Figure.exact(other)
        return Figure(self.value + other.value, self.low + other.low, self.high + other.high, self.basis)

    def reaching(self, *values: float) -> Figure:
        """The same value, its ends moved out so that these lie within."""
        return Figure(self.value, min((self.low, *values)), max((self.high, *values)), self.basis)

    def since(self, basis: str) -> Figure:
        """The same figure with another basis."""
        return Figure(self.value, self.low, self.high, basis)


def total(figures: Iterable[Figure], basis: str = "") -> Figure:
    """The sum of figures, ends and all."""
    out = Figure.exact(0.0)
    for figure in figures:
        out = out.plus(figure)
    return out.since(basis)


def positive(value: float, what: str) -> float:
    """The value, if it is a finite number above 0. Raises UsageError, naming `what`."""
    if not (math.isfinite(value) and value > 0):
        raise UsageError(f"{what} must be more than 0, not {value:g}", fix="give a length as measured")
    return value


def half_up(value: float) -> int:
    """Rounded to the nearest whole number, halves up (not to the even one)."""
    return math.floor(value + 0.5)
