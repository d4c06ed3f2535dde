"""Ring sizes on four scales, in both directions, from formulas and never from a printed chart.

Every formula ties a size to the inner circumference C in millimetres (diameter d = C / π):

- ISO: size = C, rounded to whole millimetres, halves up; 41 to 76. ISO 8653, as its translation JIS S
  4700:1998 gives it (kikakurui.com/s/S4700-1998-01.html); BS EN ISO 8653:2014 (extract at
  ulstandardspdf.com).
- US: d = 25.4 · (0.458 + 0.032 · size). De facto, no standards body: size 0 is 0.458 in across, a size 0.032
  in more (liquisearch.com/ring_size/systems, en.wikipedia.org/wiki/Ring_size).
- UK: C = 36.25 + 1.25 · n, A = 1 … Z = 26, then Z+1 … Z+6. BS 6820:1987
  (measurement.enacademic.com/2380/ring_size, wheatsheafonline.co.uk).
- JP: d = (size + 38) / 3. The customary 号 scale, not JIS S 4700, which is ISO 8653
  (owl.hatenadiary.org/entry/20030927/p2, tomigin.com/ring_size.htm).
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from enum import StrEnum

from stitchalong.errors import UsageError
from stitchalong.measure.figure import half_up, positive
from stitchalong.measure.units import INCH

US_STEP = 0.032 * INCH
"""millimetres of diameter a whole US size: 0.8128"""
ISO_LEAST, ISO_MOST = 41, 76
"""what the ring stick of ISO 8653 is marked with"""


class Scale(StrEnum):
    ISO = "ISO"
    US = "US"
    UK = "UK"
    JP = "JP"
    MM = "mm"
    """inner circumference in millimetres, as it is"""


_SPAN = {
    Scale.ISO: (ISO_LEAST, ISO_MOST),
    Scale.US: (0.0, 16.0),
    Scale.UK: (1.0, 32.0),
    Scale.JP: (1.0, 35.0),
    Scale.MM: (30.0, 90.0),
}
"""Smallest and largest size that is read or said; millimetres are said without an end. US and JP: from
memory, charts end near these."""

_PART = {Scale.ISO: 1, Scale.US: 4, Scale.UK: 2, Scale.JP: 1, Scale.MM: 10}
"""sizes come in whole ones, quarters, halves, …"""

SOURCES = {
    Scale.ISO: "ISO 8653: the inner circumference in whole millimetres",
    Scale.US: "US scale, by custom and no standard: 0.458 in at size 0, 0.032 in a size",
    Scale.UK: "UK scale, BS 6820: C is 40 mm, 1.25 mm a letter",
    Scale.JP: "Japanese customary scale: a third of a millimetre of diameter a size, 13 mm at 1",
    Scale.MM: "inner circumference",
}


@dataclass(frozen=True, slots=True)
class RingSize:
    """A size on one scale, for an inner circumference in millimetres."""

    scale: Scale
    circumference: float
    """as given, not that of the rounded size"""
    exact: float
    """the size unrounded"""
    nominal: float
    """the size as it is sold: rounded to what the scale has"""
    beyond: bool
    """smaller than the smallest or larger than the largest of the scale"""

    @property
    def diameter(self) -> float:
        return self.circumference / math.pi

    @property
    def text(self) -> str:
        """`US 6½`, `UK N½`, `ISO 54`, `JP 14`, `54.4 mm`."""
        low, high = _SPAN[self.scale]
        if self.beyond:
            word = f"below {_write(self.scale, low)}" if self.exact < low else f"above {_write(self.scale, high)}"
        else:
            word = _write(self.scale, self.nominal)
        return f"{word} mm" if self.scale is Scale.MM else f"{self.scale} {word}"

    def __str__(self) -> str:
        return self.text


def circumference_of(scale: Scale, size: float) -> float:
    """Inner circumference in millimetres of a size. UK sizes count A as 1, half letters as halves."""
    match scale:
        case Scale.US:
            return math.pi * INCH * (0.458 + 0.032 * size)
        case Scale.UK:
            return 36.25 + 1.25 * size
        case Scale.JP:
            return math.pi * (size + 38) / 3
        case _:
            return float(size)


def exact_size(scale: Scale, circumference: float) -> float:
    """The size of an inner circumference in millimetres, unrounded."""
    match scale:
        case Scale.US:
            return (circumference / math.pi / INCH - 0.458) / 0.032
        case Scale.UK:
            return (circumference - 36.25) / 1.25
        case Scale.JP:
            return 3 * circumference / math.pi - 38
        case _:
            return circumference


def ring_size(circumference: float, scale: Scale) -> RingSize:
    """The size nearest to an inner circumference in millimetres; halfway between two, the larger.

    Raises UsageError for a circumference that is no length.
    """
    positive(circumference, "the inner circumference")
    exact = exact_size(scale, circumference)
    part = _PART[scale]
    nominal = half_up(exact * part) / part
    low, high = _SPAN[scale]
    beyond = scale is not Scale.MM and not low <= nominal <= high
    return RingSize(scale, circumference, exact, nominal, beyond)


def every_size(circumference: float) -> tuple[RingSize, ...]:
    """The size on each scale, ISO, US, UK, JP."""
    return tuple(ring_size(circumference, scale) for scale in (Scale.ISO, Scale.US, Scale.UK, Scale.JP))


def iso_designation(circumference: float) -> str:
    """`Ring-size ISO 8653-43` for 42.5 mm. Raises UsageError outside 41 to 76."""
    size = ring_size(circumference, Scale.ISO)
    if size.beyond:
        raise UsageError(
            f"a ring of {circumference:g} mm has no ISO 8653 size: they run from {ISO_LEAST} to {ISO_MOST}",
            fix="give the inner circumference in millimetres",
        )
    return f"Ring-size ISO 8653-{size.nominal:.0f}"


def chart_notes(size: RingSize) -> tuple[str, ...]:
    """What to know where printed charts and the formula of this scale disagree.

    Sources: the encyclopedia-derived international chart and a Japanese jewellery-tool table
    (cho-kin.com/tool_size-ring.html), which differ by these amounts from the formulas above.
    """
    match size.scale:
        case Scale.US:
            return ("No standards body keeps the US scale; charts with other constants differ by up to 0.4 mm.",)
        case Scale.UK:
            return ("Printed charts differ by up to half a letter, because some fit the letters to US sizes.",)
        case Scale.JP if size.circumference > circumference_of(Scale.US, 8.75):
            return ("Charts differ here: one international chart prints up to 1½ sizes less than the rule.",)
        case _:
            return ()


# ---- reading -----------------------------------------------------------------------------------------

_FRACTIONS = {"¼": ".25", "½": ".5", "¾": ".75"}
_WORDS = {
    "iso": Scale.ISO, "us": Scale.US, "usa": Scale.US, "uk": Scale.UK, "jp": Scale.JP, "japan": Scale.JP,
    "号": Scale.JP, "mm": Scale.MM,
}  # fmt: skip
_TOKEN = re.compile(r"[a-z]\+\d+(?:\.\d+)?|[a-z]\.5|\d+(?:\.\d+)?|\.\d+|[a-z]+|号")


def read_ring_size(text: str, scale: Scale | None = None) -> RingSize:
    """Read `US 6½`, `7 1/4 us`, `UK N½`, `Z+1`, `ISO 54`, `JP 14`, `14号`, `54.4 mm`, `17.3 mm across`.

    A letter alone is a UK size; a number alone needs `scale`, unless the text says one. Raises UsageError.
    """
    plain = text.strip().lower().replace(",", ".")
    for sign, decimal in _FRACTIONS.items():
        plain = plain.replace(sign, decimal).replace(f" {decimal}", decimal)
    for sign, decimal in (("1/4", ".25"), ("1/2", ".5"), ("3/4", ".75")):
        plain = re.sub(rf"\s*(?<!\d){sign}(?!\d)", decimal, plain)
    tokens = _TOKEN.findall(plain) if len(plain) <= 40 else []
    if "".join(tokens) != re.sub(r"[\s\-:]", "", plain):
        tokens = []
    across = False
    lettered = False
    size: float | None = None
    for token in tokens:
        if token in _WORDS:
            scale = _WORDS[token]
        elif token in ("across", "diameter"):
            across = True
        elif token in ("inner", "inside", "circumference", "size", "around", "round"):
            continue
        elif size is None and (number := _number(token)) is not None:
            size, lettered = number, token[0].isalpha()
        else:
            size = None
            break
    if lettered and scale is None:
        scale = Scale.UK
    if size is None or (across and scale is not Scale.MM) or (scale and lettered != (scale is Scale.UK)):
        raise UsageError(
            f"cannot read {text.strip()[:40]!r} as a ring size",
            fix="write US 6½, UK N½, ISO 54, JP 14, 54.4 mm or 17.3 mm across",
        )
    if scale is None:
        raise UsageError(f"{text.strip()!r} may be a size of several scales", fix="say which: US, UK, ISO or JP")
    if across:
        size *= math.pi
    low, high = _SPAN[scale]
    if not low <= size <= high:
        fix = f"sizes run from {_write(scale, low)} to {_write(scale, high)}"
        if scale is Scale.MM and low <= size * math.pi <= high:
            fix = f"if that is the diameter, write {size:g} mm across"
        raise UsageError(f"{text.strip()!r} is no ring size", fix=fix)
    return ring_size(circumference_of(scale, size), scale)


def _number(token: str) -> float | None:
    if token[0].isdigit() or token[0] == ".":
        return float(token)
    if token.startswith("z+"):
        return 26 + float(token[2:])
    letter, half = token[0], token[1:]
    if half not in ("", ".5"):
        return None
    return ord(letter) - ord("a") + 1 + (0.5 if half else 0)


def _write(scale: Scale, size: float) -> str:
    if scale is Scale.MM:
        return f"{size:.1f}"
    whole = math.floor(size)
    fraction = {0.0: "", 0.25: "¼", 0.5: "½", 0.75: "¾"}[size - whole]
    if scale is Scale.UK:
        letter = chr(ord("A") + whole - 1) if whole <= 26 else f"Z+{whole - 26}"
        return letter + fraction
    return f"{whole}{fraction}" if whole or not fraction else fraction
