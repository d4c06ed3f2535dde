"""Which way the holes run, found afterwards by least squares; for drawing only."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from stitchalong.form.bonds import Neighbour

_FAINT = 0.2
"""mm: neighbours that pull no further than that say nothing"""


def holes(points: NDArray[np.float64], neighbours: Sequence[Neighbour]) -> NDArray[np.float64]:
    """A unit vector along each bead's hole, shape (beads, 3), from the points of the same shape.

    Of a bead at x with neighbours at y on its ends s = ±1, the vector h that makes Σ |y - x - s h|² least is the mean
    of s (y - x). Neighbours that are not there yet do not count. Where nothing is known it runs along the x axis.
    """
    number = len(points)
    kept = [one for one in neighbours if one.bead < number and one.other < number]
    bead = np.array([one.bead for one in kept], np.int64)
    other = np.array([one.other for one in kept], np.int64)
    end = np.array([one.end for one in kept])
    way = (points[other] - points[bead]) * end[:, None]
    out = np.stack([np.bincount(bead, weights=way[:, axis], minlength=number) for axis in range(3)], axis=1)
    long = np.sqrt((out * out).sum(axis=1))
    faint = long < _FAINT
    out[faint] = (1.0, 0.0, 0.0)
    long[faint] = 1.0
    unit: NDArray[np.float64] = out / long[:, None]
    return unit
