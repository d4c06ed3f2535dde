"""A strip, by its rows or units: how many make a length."""

from __future__ import annotations

from dataclasses import dataclass

from stitchalong.errors import UsageError
from stitchalong.measure.book import Book
from stitchalong.measure.extents import ROWS, laid_flat
from stitchalong.measure.figure import Figure
from stitchalong.measure.fit import MOST
from stitchalong.measure.gauge import Gauge, Per
from stitchalong.measure.of_start import BAND_STRIP, LADDER, STRAND, STRUNG_ROW, WEAVE_ROW, Asks, asks_for
from stitchalong.plan.model import Foundation, Plan, Rows

_BEGINS = {STRUNG_ROW: 2, STRAND: 1, LADDER: 1}
"""rows that a start lays"""


@dataclass(frozen=True, slots=True)
class Strap:
    """One count and the length it gives."""

    count: int
    length: Figure
    """mm"""
    off: float
    """mm by which it is longer than what was asked for; below 0: shorter"""


def straps(plan: Plan, book: Book, target: float, around: int = 2) -> tuple[str, tuple[Strap, ...], Strap]:
    """(`rows` or `units`, counts beside each other, the nearest of them) for a length in mm.

    Raises UsageError for a plan that makes no strip, or a length that it cannot have.
    """
    start = plan.work[0]
    asks = asks_for(plan)
    if not isinstance(start, Foundation) or start.option("joined", False) or asks is None:
        raise _no_strip()
    if start.start in _BEGINS:
        word, per = "rows", Per.ROW
    elif start.start in (WEAVE_ROW, BAND_STRIP):
        word, per = "units", Per.UNIT
    else:
        raise _no_strip()
    gauge = book.gauge(asks.bead, asks.stitch, per)
    if gauge is None:
        raise UsageError("how large its beads are is not known", fix="give their length and width in the plan")
    near = round(target / _length(gauge, asks, start, 1).value)
    if near > MOST:
        raise UsageError(f"more than {MOST:,} {word} would be needed for {target:.0f} mm", fix="is the size right?")
    found = []
    for count in range(max(2, near - around), max(2, near) + around + 1):
        long = _length(gauge, asks, start, count)
        found.append(Strap(count, long, long.value - target))
    return word, tuple(found), min(found, key=lambda one: (abs(one.off), -one.count))


def _no_strip() -> UsageError:
    return UsageError(
        "this plan makes no strip that could be a bracelet with a clasp", fix="a closed one goes over the hand: --hand"
    )


def _length(gauge: Gauge, asks: Asks, start: Foundation, count: int) -> Figure:
    return laid_flat(gauge, count) if start.start == BAND_STRIP else gauge.length(count)


def to_write(plan: Plan, word: str, count: int) -> str:
    """What to change in the plan, so that it has so many rows or units."""
    start = plan.work[0]
    begins = _BEGINS.get(start.start, 0) if isinstance(start, Foundation) else 0
    if word != "rows" or not begins:
        return f"change the start of the plan to {count} {word}"
    worked = [work for work in plan.work if isinstance(work, Rows) and work.stitch in ROWS]
    own = "the strung row is rows 1 and 2" if begins == 2 else "the start is row 1"
    if len(worked) == 1:
        return f"write height = {count - begins} into the plan; {own}"
    return f"let the plan have {count} rows in all; {own}"
