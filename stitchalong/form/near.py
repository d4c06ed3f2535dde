"""Which points are near each other, by sorted cells."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Indexes = NDArray[np.int64]


def close_pairs(points: NDArray[np.float64], reach: float) -> tuple[Indexes, Indexes]:
    """All pairs of points (shape (3, n)) nearer than `reach`, each once, the lower index first."""
    number = points.shape[1]
    cells = np.floor((points - points.min(axis=1, keepdims=True)) / reach).astype(np.int64) + 1
    wide, high = int(cells[1].max()) + 2, int(cells[2].max()) + 2
    keys = (cells[0] * wide + cells[1]) * high + cells[2]
    order = np.argsort(keys, kind="stable")
    keys = keys[order]
    firsts: list[Indexes] = []
    seconds: list[Indexes] = []
    # a cell with itself and the cells behind it; three in a row along the last axis are neighbours in the order
    for behind in _rows(wide, high):
        begin = np.searchsorted(keys, keys + behind[0], "left")
        stop = np.searchsorted(keys, keys + behind[1], "right")
        if behind[0] == 0:
            begin = np.arange(1, number + 1)
        count = np.maximum(stop - begin, 0)
        total = int(count.sum())
        if total:
            first = np.repeat(np.arange(number), count)
            offset = np.repeat(begin - (np.cumsum(count) - count), count)
            firsts.append(order[first])
            seconds.append(order[offset + np.arange(total)])
    if not firsts:
        none = np.zeros(0, np.int64)
        return none, none
    one, other = np.concatenate(firsts), np.concatenate(seconds)
    away = points[:, one] - points[:, other]
    near = (away * away).sum(axis=0) < reach * reach
    one, other = one[near], other[near]
    return np.minimum(one, other), np.maximum(one, other)


def _rows(wide: int, high: int) -> list[tuple[int, int]]:
    """Runs of keys, told from a cell's own: itself to the next, and the four rows of three behind it."""
    rows = [(0, 1)]
    for step in (high, wide * high - high, wide * high, wide * high + high):
        rows.append((step - 1, step + 1))
    return rows
