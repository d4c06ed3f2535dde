"""What a finger, a hand or a wrist asks of a piece: wide bands, bangles, bracelets, and a caution.

The published rules stand with their addresses in the tests.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from stitchalong.errors import UsageError
from stitchalong.measure.figure import Figure, positive
from stitchalong.measure.sizes import US_STEP
from stitchalong.measure.units import INCH, read_length

WIDE_BAND = 5.0
"""millimetres of width from which a band needs more room, as a published rule of a jeweller has it"""

TOO_TIGHT = (
    "A ring too tight can stop the blood and be hard to take off. Try the closed band on before going on; "
    "between two sizes take the larger, and take a ring off at once if the finger swells."
)
"""Between sizes the larger: a published guide to ring sizes; the rest is common practice, no source."""

MEASURE_WELL = (
    "Measure with a strip of paper no wider than 6 mm, snug but sliding over the knuckle, late in the day "
    "with warm hands, three or four times: over one day a finger may vary by a whole US size."
)
"""en.wikipedia.org/wiki/Ring_size, and published advice on measuring a finger"""


@dataclass(frozen=True, slots=True)
class WideBand:
    """How much larger a wide band should be than the finger's size."""

    us: float
    """US sizes"""
    diameter: float
    """millimetres"""
    circumference: float
    """millimetres"""
    text: str


def wide_band(width: float) -> WideBand | None:
    """Advice for a band `width` millimetres wide: about half a US size more from 5 mm on; None below.

    Half a US size is 0.41 mm of diameter; the Japanese rule says one to two sizes, 0.33 to 0.67 mm: the same.
    """
    positive(width, "the width of the band")
    if width < WIDE_BAND:
        return None
    diameter = US_STEP / 2
    text = f"A band {width:.1f} mm wide sits tighter: about half a US size more ({diameter:.2f} mm of diameter)."
    return WideBand(0.5, diameter, math.pi * diameter, text)


LARGEST_RING = 90.0
"""mm of inner circumference; what is larger goes over a hand"""

BANGLE_ROOM = 20.0
"""millimetres of circumference more than the closed hand"""


HANDS, WRISTS = (100.0, 300.0), (100.0, 250.0)
"""mm round a closed hand and round a wrist, from small children to large men; common practice, no source"""


def read_hand(text: str) -> float:
    """Millimetres round a closed hand, from `20cm`. Raises UsageError for what is none."""
    return _within(text, HANDS, "hand, closed as if to slip through a bangle")


def read_wrist(text: str) -> float:
    """Millimetres round a wrist, from `16cm`. Raises UsageError for what is none."""
    return _within(text, WRISTS, "wrist")


def _within(text: str, span: tuple[float, float], what: str) -> float:
    found = read_length(text)
    low, high = span
    if not low <= found <= high:
        between = f"{low / 10:.0f} to {high / 10:.0f} cm ({low / INCH:.0f} to {high / INCH:.0f} in)"
        raise UsageError(
            f"“{text.strip()[:40]}” is no way round a {what}", fix=f"it is {between} round; is the unit right?"
        )
    return found


def bangle(hand: float) -> Figure:
    """Inner circumference, in mm, that a closed bangle needs at least; `hand` is the closed hand at its
    widest, in mm.

    At least 2 cm more than the hand; ¼ in of diameter more, as it is also published, is the same rule: 19.95 mm.
    """
    positive(hand, "the hand")
    return Figure(
        hand + BANGLE_ROOM, hand + math.pi * INCH / 4, hand + BANGLE_ROOM,
        "the closed hand at its widest and 2 cm more, at least",
    )  # fmt: skip


class Ease(StrEnum):
    """How a clasped bracelet is worn."""

    SNUG = "snug"
    COMFORTABLE = "comfortable"
    LOOSE = "loose"


_EASE = {Ease.SNUG: (0.25, 0.5), Ease.COMFORTABLE: (0.75, 1.0), Ease.LOOSE: (1.25, 1.25)}
"""inches"""


def bracelet(wrist: float, ease: Ease = Ease.COMFORTABLE) -> Figure:
    """Length, in mm, of a clasped bracelet, clasp and all; `wrist` is measured snugly, in mm.

    ¼ to ½ in more is snug, ¾ to 1 in comfortable, 1¼ in loose: published alike in four places.
    """
    positive(wrist, "the wrist")
    least, most = (inches * INCH for inches in _EASE[ease])
    return Figure(wrist + (least + most) / 2, wrist + least, wrist + most, f"wrist and ease for a {ease} fit")
