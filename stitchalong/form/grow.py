"""Growing a form: round by round under stiff bending, which is then lowered to what it is.

Work that warps has many folds that it could be caught in. Grown stiffly it takes the smoothest, and keeps it as
it softens.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from stitchalong.form.bonds import Bonds
from stitchalong.form.energy import Energy, Net
from stitchalong.form.solve import Array, Points, settle

BENDING = 1e-3
"""bending against stretching, as a share"""
_STIFFER = 300.0
_SOFTENING = 5
_ROUND_STEPS, _SOFTENING_STEPS, _LAST_STEPS = 40, 400, 4000
_ALIKE, _AT_ONCE = 1.3, 1.15
_ROUGH, _NEARLY, _FINE = 1e-4, 1e-5, 2e-6
"""mm: tolerances of the gradient, while it grows, for one round more, and at the end"""
_NOISE, _CUP, _SADDLE = 0.01, 0.06, 0.06
"""in bead thicknesses: chance, and what a disc is led by: new beads are put a little above the edge, and a little
more so at two ends than in between"""


Told = Callable[[float], None]


@dataclass(frozen=True, slots=True)
class Grown:
    """A form at rest."""

    points: Points
    energy: float
    strain: Array
    """of each firm spring, as a share"""
    still: bool
    """False: it was not waited for until it lay still"""


def grow(bonds: Bonds, beads: int, seed: int, told: Told | None = None) -> Grown:
    """Grow the first `beads` beads. The same `seed` gives the same form. `told` hears how far it has come, 0 to 1, now
    and then; what it raises ends it."""
    chance = np.random.default_rng(seed)
    noise = _NOISE * bonds.measures[0].across
    net = Net(bonds)
    points = np.zeros((3, 0))
    for stop in _stages(bonds, beads):
        first = points.shape[1]
        if stop == first:
            continue
        points = _lay(bonds, points, stop)
        points[:, first:] += chance.normal(0.0, noise, (3, stop - first))
        if bonds.disc and first:
            _lead(bonds, points, first)
        energy = Energy(net, stop, BENDING * _STIFFER)
        points = settle(energy, points, _ROUND_STEPS, _ROUGH, _pulse(told, 0.5 * stop / beads)).points
    for nth in range(1, _SOFTENING):
        energy = Energy(net, beads, BENDING * _STIFFER ** (1 - nth / _SOFTENING))
        points = settle(energy, points, _SOFTENING_STEPS, _ROUGH, _pulse(told, 0.5 + 0.1 * (nth - 1))).points
    return _finished(net, beads, points, _pulse(told, 0.9))


def _stages(bonds: Bonds, beads: int) -> list[int]:
    """How many beads are laid before it is let come to rest again: a round's, but where all rounds are about alike, so
    that nothing folds, as many more as are a share of what stands."""
    stops = [*(stop for stop in bonds.stops if stop < beads), beads]
    sizes = [after - before for before, after in pairwise(stops[:-1])]
    if bonds.disc or not sizes or max(sizes) > _ALIKE * min(sizes):
        return stops
    stages = stops[:1]
    for stop, after in pairwise([*stops[1:], beads + 1]):
        if after > _AT_ONCE * stages[-1] or stop == beads:
            stages.append(stop)
    return stages


def grow_on(bonds: Bonds, standing: Points, beads: int, told: Told | None = None) -> Grown:
    """Go on from a form that stands to one of `beads` beads (more, or fewer), at once with the bending it has."""
    points = _lay(bonds, standing[:, :beads], beads)
    return _finished(Net(bonds), beads, points, _pulse(told, 0.5), _NEARLY)


def rest(bonds: Bonds, points: Points, told: Told | None = None) -> Grown:
    """What comes of beads that are all laid, at these places."""
    return _finished(Net(bonds), points.shape[1], points, _pulse(told, 0.9))


def _pulse(told: Told | None, share: float) -> Callable[[], None] | None:
    return None if told is None else lambda: told(share)


def _finished(
    net: Net, beads: int, points: Points, pulse: Callable[[], None] | None, tolerance: float = _FINE
) -> Grown:
    energy = Energy(net, beads, BENDING)
    found = settle(energy, points, _LAST_STEPS, tolerance, pulse)
    return Grown(found.points, found.energy, energy.strain(found.points), found.steps < _LAST_STEPS)


def _lay(bonds: Bonds, points: Points, stop: int) -> Points:
    """The points with those of the beads up to `stop`, where they are put first."""
    first = points.shape[1]
    out = np.zeros((3, max(stop, first)))
    out[:, :first] = points
    if first:
        middle = points.mean(axis=1)
    for bead in range(first, stop):
        if bead in bonds.seed:
            out[:, bead] = bonds.seed[bead]
            continue
        birth = bonds.births[bead]
        one, other = out[:, birth.beside[0]], out[:, birth.beside[1]]
        half = (one + other) / 2
        if birth.away:
            out_way = half - out[:, list(birth.away)].mean(axis=1)
        elif birth.upright:
            out_way = np.array([0.0, 0.0, 1.0])
        else:
            out_way = half - middle
            out_way[2] += 0.3 * math.sqrt(float(out_way @ out_way))
        long = math.sqrt(float(out_way @ out_way))
        out[:, bead] = one + birth.share * (other - one)
        if long > 1e-9:
            out[:, bead] += out_way * (birth.reach * bonds.measures[bead].across / long)
    return out


def _lead(bonds: Bonds, points: Points, first: int) -> None:
    """Put the new beads of a disc a little up, so that it need not find its way out of a plane by chance. Where it is
    too full to lie flat, the corner that is met first goes up most, and those at right angles to it down."""
    across = bonds.measures[first].across
    points[2, first:] += _CUP * across
    corner = [bead for bead in range(first, points.shape[1]) if bonds.births[bead].share != 0.5]
    if bonds.full and corner:
        away = points - points.mean(axis=1, keepdims=True)
        angle = np.arctan2(away[1], away[0])
        own = [bead for bead in corner if bonds.births[bead].beside == bonds.births[corner[0]].beside]
        top = math.atan2(float(away[1, own].sum()), float(away[0, own].sum()))
        points[2, first:] += _SADDLE * across * np.cos(2 * (angle[first:] - top))
