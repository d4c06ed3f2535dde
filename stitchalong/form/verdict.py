"""What a grown disc does, read off its beads: whether it lies flat, cups, warps or ruffles."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stitchalong.form.shape import Form
from stitchalong.measure.flat import FLAT_FROM, Verdict

_WAVY = 0.08
"""waves of the rim, root mean square, as a share of its radius, from which on it does not lie flat"""
_STEEPEST = math.degrees(math.asin(FLAT_FROM / 360))
"""half the angle of the cone that still lies flat in practice"""
_WAVES = 9
_HOLE = 2
"""rounds at the ring, where its hole is, that are left out"""
LEAST_ROUNDS = _HOLE + 4
"""of a disc that can be read"""


@dataclass(frozen=True, slots=True)
class Seen:
    """A disc's form in numbers."""

    half_angle: float
    """degrees between the axis and the work: 90 is flat, less a cone; of the mean over all directions"""
    waves: int
    """ups and downs round the rim that are strongest: 2 is a saddle"""
    height: float
    """of the waves, root mean square, as a share of the rim's radius"""

    @property
    def verdict(self) -> Verdict:
        if self.height > _WAVY:
            return Verdict.SADDLE if self.waves == 2 else Verdict.RUFFLE
        return Verdict.FLAT if self.half_angle >= _STEEPEST else Verdict.CUP


def seen(form: Form, upto: int | None = None) -> Seen:
    """Read a disc of `LEAST_ROUNDS` rounds or more; `upto`: so many rounds of it alone."""
    points = form.points
    rounds = [points[a:b] for a, b in zip((0, *form.stops), form.stops[:upto], strict=False)][_HOLE:]
    axis = _axis(rounds[-1])
    foot = rounds[0].mean(axis=0)
    radii = np.array([_off(part, foot, axis).mean() for part in rounds])
    heights = np.array([((part - foot) @ axis).mean() for part in rounds])
    rise = float(np.polyfit(radii, heights, 1)[0])
    half_angle = math.degrees(math.atan2(1.0, abs(rise)))
    waves, height = _rim(rounds[-1], foot, axis, rise)
    return Seen(half_angle, waves, height)


def _axis(rim: NDArray[np.float64]) -> NDArray[np.float64]:
    """The direction across the rim: the normal of the surface that its beads, in the order worked, go round."""
    own = rim - rim.mean(axis=0)
    area = np.cross(own, np.roll(own, -1, axis=0)).sum(axis=0)
    unit: NDArray[np.float64] = area / np.sqrt(area @ area)
    return unit


def _off(points: NDArray[np.float64], foot: NDArray[np.float64], axis: NDArray[np.float64]) -> NDArray[np.float64]:
    way = points - foot
    way = way - np.outer(way @ axis, axis)
    off: NDArray[np.float64] = np.sqrt((way * way).sum(axis=1))
    return off


def _rim(
    rim: NDArray[np.float64], foot: NDArray[np.float64], axis: NDArray[np.float64], rise: float
) -> tuple[int, float]:
    """The strongest wave round the rim, and the height of all, without the slope of the cone."""
    off = _off(rim, foot, axis)
    up = (rim - foot) @ axis - rise * off
    up = up - up.mean()
    turn = 2 * math.pi * np.arange(len(rim)) / len(rim)
    strength = [abs(complex((up * np.exp(1j * wave * turn)).mean())) for wave in range(2, _WAVES)]
    return int(np.argmax(strength)) + 2, float(np.sqrt((up * up).mean()) / off.mean())
