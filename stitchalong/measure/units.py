"""Lengths and weights as people write and read them, in the units that a setting names. Everything else computes in
mm and g."""

from __future__ import annotations

import re
from enum import StrEnum

from stitchalong.errors import UsageError
from stitchalong.measure.figure import Figure

INCH = 25.4
"""mm; the inch, yard and pound are exact since the agreement of 1959 (from memory)"""
YARD = 914.4
"""mm"""
OUNCE = 28.349523125
"""g, avoirdupois"""


class Units(StrEnum):
    """The values of the setting."""

    METRIC = "metric"
    INCH = "inch"


def length(millimetres: float, units: Units = Units.METRIC) -> str:
    """`54.4 mm`, `2.14 in`."""
    return f"{millimetres / INCH:.2f} in" if units is Units.INCH else f"{millimetres:.1f} mm"


def thread(millimetres: float, units: Units = Units.METRIC) -> str:
    """`3.2 m`, `3.5 yd`."""
    return f"{millimetres / YARD:.1f} yd" if units is Units.INCH else f"{millimetres / 1000:.1f} m"


def hand_length(millimetres: float, units: Units = Units.METRIC) -> str:
    """A length as one says it with the thread in the hand: `40 cm`, `1.2 m`; `16 in`, `1.3 yd`."""
    if units is Units.INCH:
        return f"{millimetres / YARD:.1f} yd" if millimetres >= YARD else f"{millimetres / INCH:.0f} in"
    return f"{millimetres / 1000:.1f} m" if millimetres >= 1000 else f"{5 * round(millimetres / 50):.0f} cm"


def weight(grams: float, units: Units = Units.METRIC) -> str:
    """`12.4 g`, `0.44 oz`; a digit more of the least."""
    return weight_range(Figure.exact(grams), units)


def length_range(figure: Figure, units: Units = Units.METRIC) -> str:
    """`53.8 mm (51.6 to 55.9)`."""
    if units is Units.INCH:
        return _ranged(figure.times(1 / INCH), 2, "in")
    return _ranged(figure, 1, "mm")


def thread_range(figure: Figure, units: Units = Units.METRIC) -> str:
    """`3.2 m (2.2 to 4.2)`, below a metre `38 cm (27 to 49)`; yards and inches. Millimetres in."""
    if units is Units.INCH:
        return (
            _ranged(figure.times(1 / YARD), 1, "yd")
            if figure.value >= YARD
            else _ranged(figure.times(1 / INCH), 0, "in")
        )
    return _ranged(figure.times(1 / 1000), 1, "m") if figure.value >= 1000 else _ranged(figure.times(0.1), 0, "cm")


def weight_range(figure: Figure, units: Units = Units.METRIC) -> str:
    """`2.5 g (2.1 to 2.8)`; a digit more of the least."""
    if units is Units.INCH:
        ounces = figure.times(1 / OUNCE)
        return _ranged(ounces, 2 if ounces.value >= 0.1 else 3, "oz")
    return _ranged(figure, 1 if figure.value >= 1 else 2, "g")


def _ranged(figure: Figure, digits: int, unit: str) -> str:
    value, low, high = (f"{part:.{digits}f}" for part in (figure.value, figure.low, figure.high))
    return f"{value} {unit}" if low == high else f"{value} {unit} ({low} to {high})"


# ---- reading ------------------------------------------------------------------------------------

_UNITS = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": INCH, "inch": INCH, "inches": INCH, '"': INCH, "yd": YARD}
_FRACTIONS = {"¼": 0.25, "½": 0.5, "¾": 0.75}
_LENGTH = re.compile(r"(\d{1,6}(?:\.\d{1,6})?)?\s*(?:([¼½¾])|(\d{1,2})/(\d{1,2}))?\s*([a-z\"]+)", re.ASCII)


def read_length(text: str) -> float:
    """Millimetres in `54.2 mm`, `20cm`, `1,5 m`, `7 1/2 in`, `6½"`, `2 yd`. Raises UsageError."""
    plain = text.strip().lower().replace(",", ".").replace("”", '"')
    found = _LENGTH.fullmatch(plain) if len(plain) <= 40 else None
    # `71/2 in` is read as 7 and 1/2 by the pattern: there must be a blank between them
    if found is None or found[5] not in _UNITS or (found[1] and found[3] and " " not in plain[: found.start(3)]):
        raise UsageError(f"“{text.strip()[:40]}” is no length", fix="a number with its unit: mm, cm, m, in or yd")
    value = float(found[1] or 0) + _FRACTIONS.get(found[2] or "", 0.0)
    if found[3]:
        if int(found[4]) == 0:
            raise UsageError(f"“{text.strip()[:40]}” is no length", fix="such as 7 1/2 in")
        value += int(found[3]) / int(found[4])
    if not value:
        raise UsageError("a length must be more than 0", fix="give it as measured")
    return value * _UNITS[found[5]]
