"""Which way the holes run, found afterwards by least squares; for drawing only."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from stitchalong.form.bonds import Neighbour

_FAINT = 0.2
"""mm: neighbours that pull no further than that say nothing"""


def holes(
    points: NDArray[np.float64],
    neighbours: Sequence[Neighbour],
    columns: Sequence[tuple[int, int]] = (),
    upright: Sequence[int] = (),
) -> NDArray[np.float64]:
    """A unit vector along each bead's hole, shape (beads, 3), from the points of the same shape.

    Of a bead at x with neighbours at y on its ends s = ±1, the vector h that makes Σ |y - x - s h|² least is the mean
    of s (y - x). It is square to the column in which the bead stands: `columns` are beads and those that sit on them.
    Neighbours that are not there yet do not count. Where nothing is known it runs along the x axis, or, of the beads
    `upright`, along the z axis.
    """
    number = len(points)
    kept = [one for one in neighbours if one.bead < number and one.other < number]
    bead = np.array([one.bead for one in kept], np.int64)
    other = np.array([one.other for one in kept], np.int64)
    end = np.array([one.end for one in kept])
    way = (points[other] - points[bead]) * end[:, None]
    out = _sums(bead, way, number)
    alone = np.array([one for one in upright if one < number], np.int64)
    alone = alone[(out[alone] ** 2).sum(axis=1) < _FAINT**2]
    out[alone] = (0.0, 0.0, 1.0)
    low = np.array([one for one, top in columns if max(one, top) < number], np.int64)
    top = np.array([top for one, top in columns if max(one, top) < number], np.int64)
    up = _sums(np.concatenate((low, top)), np.tile(points[top] - points[low], (2, 1)), number)
    square = np.maximum((up * up).sum(axis=1), 1e-12)
    out -= up * ((out * up).sum(axis=1) / square)[:, None]
    long = np.sqrt((out * out).sum(axis=1))
    faint = long < _FAINT
    out[faint] = (1.0, 0.0, 0.0)
    long[faint] = 1.0
    unit: NDArray[np.float64] = out / long[:, None]
    return unit


def _sums(bead: NDArray[np.int64], way: NDArray[np.float64], number: int) -> NDArray[np.float64]:
    """The sum of the vectors of each bead."""
    sums = [np.bincount(bead, weights=way[:, axis], minlength=number) for axis in range(3)]
    return np.stack(sums, axis=1).astype(np.float64)
