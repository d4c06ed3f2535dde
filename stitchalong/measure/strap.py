"""A strip, by its rows or units: how many make a length."""

from __future__ import annotations

from dataclasses import dataclass

from stitchalong.errors import UsageError
from stitchalong.measure.book import Book
from stitchalong.measure.figure import Figure
from stitchalong.measure.fit import MOST
from stitchalong.measure.gauge import PEYOTE, RAW
from stitchalong.measure.of_start import STRUNG_ROW, WEAVE_ROW, asks_for
from stitchalong.plan.model import Foundation, Plan


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
    if not isinstance(start, Foundation) or start.start not in (STRUNG_ROW, WEAVE_ROW) or asks is None:
        raise UsageError(
            "this plan makes no strip that could be a bracelet with a clasp",
            fix="a closed one goes over the hand: --hand",
        )
    word = {PEYOTE: "rows", RAW: "units"}[asks.stitch]
    gauge = book.gauge(asks.bead, asks.stitch, asks.per)
    if gauge is None:
        raise UsageError("how large its beads are is not known", fix="give their length and width in the plan")
    near = round(target / gauge.each.value)
    if near > MOST:
        raise UsageError(f"more than {MOST:,} {word} would be needed for {target:.0f} mm", fix="is the size right?")
    counts = range(max(2, near - around), max(2, near) + around + 1)
    found = tuple(Strap(count, gauge.length(count), gauge.length(count).value - target) for count in counts)
    return word, found, min(found, key=lambda one: (abs(one.off), -one.count))
