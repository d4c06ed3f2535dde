"""The energy of a piece, as far as it is stitched: springs, bending, and beads that push each other away."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from stitchalong.form.bonds import FIRM, Bonds, Measure
from stitchalong.form.near import Indexes, close_pairs
from stitchalong.form.solve import Array, Points

_TOUCH = 0.983
"""Contact begins at this share of the distance between neighbours in a row: 1.5 mm for beads of 1.6 × 1.3 mm."""
_SKIN = 0.25
"""how much further, in bead thicknesses, one looks for beads that may come to touch"""


def reach(measure: Measure) -> float:
    """Millimetres from one bead's middle to another's where they begin to push."""
    return _TOUCH * min(math.hypot(measure.along, measure.across / 2), measure.across)


@dataclass(frozen=True, slots=True)
class _Bending:
    """A sparse matrix; its values row after row."""

    rows: Indexes
    """those that are not empty"""
    begins: Indexes
    """where each of them begins among the values"""
    columns: Indexes
    values: Array


@dataclass(frozen=True, slots=True)
class _Held:
    """Pairs of beads that pull or push: the springs, and behind them those that may come to touch."""

    one: Indexes
    other: Indexes
    rest: Array
    stiffness: Array
    ends: Indexes
    """where the first of each pair, and then the other of each, stand in all coordinates, one axis behind the other"""


class Net:
    """The bonds of a whole piece as arrays, ordered so that those of its first n beads come first."""

    def __init__(self, bonds: Bonds) -> None:
        self.beads = len(bonds.measures)
        springs = sorted(bonds.springs, key=lambda spring: max(spring.one, spring.other))
        self.one = np.array([spring.one for spring in springs], np.int64)
        self.other = np.array([spring.other for spring in springs], np.int64)
        self.rest = np.array([spring.rest for spring in springs])
        self.stiffness = np.array([spring.stiffness for spring in springs])
        self._last = np.maximum(self.one, self.other)
        self._bending(bonds)
        self.reach = np.array([reach(measure) for measure in bonds.measures])
        self.thick = max(measure.across for measure in bonds.measures)
        self.tied = np.unique(np.minimum(self.one, self.other) * self.beads + self._last)

    def _bending(self, bonds: Bonds) -> None:
        stencils = sorted(bonds.stencils, key=lambda stencil: max(bead for bead, _ in stencil.weights))
        widths = np.array([len(stencil.weights) for stencil in stencils], np.int64)
        self._stencil_last = np.array([max(bead for bead, _ in stencil.weights) for stencil in stencils], np.int64)
        self._stencil_ends = np.concatenate(([0], np.cumsum(widths * widths)))
        rows, columns, values = [], [], []
        for stencil in stencils:
            for bead, weight in stencil.weights:
                for other, other_weight in stencil.weights:
                    rows.append(bead)
                    columns.append(other)
                    values.append(stencil.stiffness * weight * other_weight)
        self._rows = np.array(rows, np.int64)
        self._columns = np.array(columns, np.int64)
        self._values = np.array(values)

    def springs_of(self, beads: int) -> int:
        """How many springs hold the first so many beads."""
        return int(np.searchsorted(self._last, beads))

    def bending_of(self, beads: int) -> _Bending:
        """The matrix of the bending energy of the first so many beads."""
        stop = self._stencil_ends[int(np.searchsorted(self._stencil_last, beads))]
        keys, inverse = np.unique(self._rows[:stop] * self.beads + self._columns[:stop], return_inverse=True)
        values = np.bincount(inverse, weights=self._values[:stop], minlength=len(keys))
        rows, columns = np.divmod(keys, self.beads)
        begins = np.flatnonzero(np.diff(rows, prepend=-1)).astype(np.int64)
        return _Bending(rows[begins], begins, columns, values.astype(np.float64))


class Energy:
    """Energy and gradient of the first `beads` beads of a piece."""

    def __init__(self, net: Net, beads: int, bending: float) -> None:
        self.beads = beads
        self.bending = bending
        self._net = net
        springs = net.springs_of(beads)
        self._one, self._other = net.one[:springs], net.other[:springs]
        self._rest, self._stiffness = net.rest[:springs], net.stiffness[:springs]
        self._bent = net.bending_of(beads)
        self._looked: Points | None = None
        self._held: _Held

    def __call__(self, points: Points) -> tuple[float, Points]:
        self._look(points)
        held = self._held
        way = points.take(held.other, axis=1) - points.take(held.one, axis=1)
        length = np.sqrt(np.einsum("ij,ij->j", way, way))
        stretch = length - held.rest
        # beads that are not tied only push
        loose = stretch[len(self._rest) :]
        np.minimum(loose, 0.0, out=loose)
        pull = held.stiffness * stretch
        energy = 0.5 * float(pull @ stretch)
        way *= pull / np.maximum(length, 1e-9)
        pulls = np.concatenate((-way, way), axis=1)
        sums = np.bincount(held.ends, weights=pulls.ravel(), minlength=points.size).astype(np.float64, copy=False)
        slope = sums.reshape(points.shape)
        if self._bent.rows.size:
            bent = self._bent.values * points.take(self._bent.columns, axis=1)
            bent = self.bending * np.add.reduceat(bent, self._bent.begins, axis=1)
            energy += 0.5 * float((bent * points[:, self._bent.rows]).sum())
            slope[:, self._bent.rows] += bent
        return energy, slope

    def strain(self, points: Points) -> Array:
        """How far each firm spring is from its length, as a share."""
        firm = self._stiffness >= FIRM
        way = points[:, self._other[firm]] - points[:, self._one[firm]]
        share: Array = np.sqrt((way * way).sum(axis=0)) / self._rest[firm] - 1
        return share

    def _look(self, points: Points) -> None:
        """Renew the list of beads that may touch, where any has moved far enough."""
        skin = _SKIN * self._net.thick
        if self._looked is not None:
            moved = points - self._looked
            if float(np.einsum("ij,ij->j", moved, moved).max()) < (skin / 2) ** 2:
                return
        self._looked = points.copy()
        far = self._net.reach[: self.beads]
        one, other = close_pairs(points, float(far.max()) + skin)
        keys = one * self._net.beads + other
        tied = self._net.tied
        at = np.minimum(np.searchsorted(tied, keys), len(tied) - 1)
        free = tied[at] != keys if len(tied) else np.ones(len(keys), bool)
        one, other = one[free], other[free]
        starts, stops = np.concatenate((self._one, one)), np.concatenate((self._other, other))
        self._held = _Held(
            starts,
            stops,
            np.concatenate((self._rest, (far[one] + far[other]) / 2)),
            np.concatenate((self._stiffness, np.ones(len(one)))),
            np.concatenate([axis * self.beads + some for axis in range(3) for some in (starts, stops)]),
        )
