"""Colours as eyes see them that tell fewer apart, and how far two colours lie from one another.

Simulation: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A Physiologically-based Model for Simulation of Color
Vision Deficiency", IEEE Transactions on Visualization and Computer Graphics 15 (2009), matrices for severity 1.0 (from
memory), on linear light. sRGB: IEC 61966-2-1. Distance: that of CIELAB, 1976 (ISO/CIE 11664-4), white D65.
"""

from __future__ import annotations

from collections.abc import Sequence

Triple = tuple[float, float, float]
_Matrix = tuple[Triple, Triple, Triple]

SIMULATED: dict[str, _Matrix] = {
    "to eyes that miss red": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "to eyes that miss green": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "to eyes that miss blue": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}
"""who sees it so -> what light becomes; rows give red, green and blue"""

_TO_XYZ: _Matrix = ((0.4124, 0.3576, 0.1805), (0.2126, 0.7152, 0.0722), (0.0193, 0.1192, 0.9505))
_WHITE = (0.9505, 1.0, 1.089)
ALIKE = 12.0
"""Two beads nearer than this are hard to tell apart in a pile by lamp light. The program's own pick, no source; 2.3 is
just noticeable side by side."""


def light_of(colour: str) -> Triple:
    """Linear light of `#rrggbb`, each from 0 to 1."""
    red, green, blue = (_linear(int(colour[at : at + 2], 16) / 255) for at in (1, 3, 5))
    return red, green, blue


def _linear(part: float) -> float:
    return part / 12.92 if part <= 0.04045 else float(((part + 0.055) / 1.055) ** 2.4)


def seen(light: Triple, matrix: _Matrix) -> Triple:
    """What light becomes for these eyes, kept between 0 and 1."""
    red, green, blue = (min(1.0, max(0.0, part)) for part in _times(matrix, light))
    return red, green, blue


def _times(matrix: _Matrix, values: Sequence[float]) -> list[float]:
    return [sum(factor * value for factor, value in zip(row, values, strict=True)) for row in matrix]


def lab(light: Triple) -> Triple:
    """CIELAB of linear light."""
    x, y, z = (_cubed(part / white) for part, white in zip(_times(_TO_XYZ, light), _WHITE, strict=True))
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def _cubed(part: float) -> float:
    return float(part ** (1 / 3)) if part > (6 / 29) ** 3 else part / (3 * (6 / 29) ** 2) + 4 / 29


def distance(one: Triple, other: Triple) -> float:
    """CIELAB distance of two lights."""
    return float(sum((a - b) ** 2 for a, b in zip(lab(one), lab(other), strict=True)) ** 0.5)


def alike(one: str, other: str) -> tuple[str, ...]:
    """To whom two colours look alike; `to everybody` alone where they do to all."""
    first, second = light_of(one), light_of(other)
    if distance(first, second) < ALIKE:
        return ("to everybody",)
    return tuple(
        who for who, matrix in SIMULATED.items() if distance(seen(first, matrix), seen(second, matrix)) < ALIKE
    )
