"""A stitcher's own pace, from the times of her presses, and how long the rest will take."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from statistics import quantiles

from stitchalong.measure.figure import Figure

PAUSE = 120.0
"""seconds; a longer gap between two beads is a rest and not stitching"""
LEAST = 20
"""gaps from which a pace can be told"""


@dataclass(frozen=True, slots=True)
class Pace:
    each: Figure
    """seconds a bead: the mean, between the means of slow and quick spells"""
    beads: int
    """beads it was found from"""

    def time_for(self, beads: int) -> Figure:
        """Seconds of stitching for so many beads, rests left out."""
        return self.each.times(beads)


USUAL = Pace(Figure(20.0, 10.0, 35.0, "an estimate, no source"), 0)
"""Of somebody who does not know her own pace. Part of a first ring takes a class three hours (a class report); a ring
has some 400 beads."""


def pace_of(gaps: Iterable[float], pause: float = PAUSE) -> Pace | None:
    """The pace from the seconds between one bead and the next, in order; None before there are 20.

    Gaps longer than `pause` are rests; gaps of nothing or less (undone, corrected) are left out. The range is
    that of ten spells of equal length, the middle eight of them.
    """
    kept = [gap for gap in gaps if 0 < gap <= pause]
    if len(kept) < LEAST:
        return None
    mean = math.fsum(kept) / len(kept)
    size = len(kept) / 10
    spells = [kept[round(at * size) : round((at + 1) * size)] for at in range(10)]
    means = [math.fsum(spell) / len(spell) for spell in spells]
    low, *_, high = quantiles(means, n=10, method="inclusive")
    each = Figure(mean, min(low, mean), max(high, mean), f"your own last {len(kept)} beads")
    return Pace(each, len(kept))


def rough(seconds: Figure) -> Figure:
    """No finer than it can be foretold: whole five minutes, from two hours on half hours."""

    def step(some: float) -> float:
        unit = 300.0 if some < 7200 else 1800.0
        return max(unit, round(some / unit) * unit) if some else 0.0

    return replace(seconds, value=step(seconds.value), low=step(seconds.low), high=step(seconds.high))


def estimate(beads: int) -> str:
    """How long so many beads take somebody whose pace is not known, the same wherever it is told."""
    return duration_range(rough(USUAL.time_for(beads)))


def duration(seconds: float) -> str:
    """`40 s`, `12 min`, `3 h 20 min`, `41 h`: in hours from 20 on."""
    if seconds < 60:
        return f"{seconds:.0f} s"
    minutes = round(seconds / 60)
    hours, rest = divmod(minutes, 60)
    if minutes < 60:
        return f"{minutes} min"
    if hours >= 20:
        return f"{round(minutes / 60)} h"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def duration_range(figure: Figure) -> str:
    """`3 h 20 min (2 h 50 min to 4 h)`; seconds in."""
    value, low, high = (duration(part) for part in (figure.value, figure.low, figure.high))
    return value if low == high else f"{value} ({low} to {high})"
