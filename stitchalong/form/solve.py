"""Coming to rest: L-BFGS on numpy alone.

Nocedal and Wright, Numerical Optimization (2nd edition), algorithms 7.4 and 7.5 (two-loop recursion), from memory;
backtracking until the energy falls enough (Armijo), which with a curvature check keeps the steps downhill.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Points = Array
"""positions in mm, shape (3, beads)"""
Value = Callable[[Points], tuple[float, Points]]
"""gives energy and its gradient"""

_MEMORY = 10
_PULSE = 20
"""steps"""
_ENOUGH = 1e-4
_LONGEST = 0.5
"""mm that a bead may move in one step"""


@dataclass(frozen=True, slots=True)
class Rest:
    """Where it came to rest."""

    points: Points
    energy: float
    steps: int


def settle(
    value: Value, start: Points, most_steps: int, tolerance: float, pulse: Callable[[], None] | None = None
) -> Rest:
    """Go downhill from `start` until the root mean square of the gradient is below `tolerance`.

    `pulse` is called now and then; what it raises ends it.
    """
    here = start.copy()
    energy, slope = value(here)
    moves = np.zeros((_MEMORY, here.size))
    turns = np.zeros((_MEMORY, here.size))
    scale = np.zeros(_MEMORY)
    order: list[int] = []
    """rows of the memory, the oldest first"""
    enough = tolerance * math.sqrt(here.size)
    for step in range(most_steps):
        if pulse is not None and step % _PULSE == 0:
            pulse()
        flat = slope.ravel()
        if math.sqrt(float(flat @ flat)) < enough:
            return Rest(here, energy, step)
        way = _downhill(flat, moves, turns, scale, order)
        falls = float(flat @ way)
        if not falls < 0:
            order.clear()
            way = -flat
            falls = -float(flat @ flat)
        way3 = way.reshape(here.shape)
        longest = math.sqrt(float((way3 * way3).sum(axis=0).max()))
        length = min(1.0, _LONGEST / longest) if order else min(1.0, 0.1 / longest)
        there = here + length * way3
        new_energy, new_slope = value(there)
        while not new_energy <= energy + _ENOUGH * length * falls:
            length /= 2
            if length < 1e-9:
                return Rest(here, energy, step)
            there = here + length * way3
            new_energy, new_slope = value(there)
        row = len(order) if len(order) < _MEMORY else order.pop(0)
        move, turn = moves[row], turns[row]
        np.subtract(there.ravel(), here.ravel(), out=move)
        np.subtract(new_slope.ravel(), flat, out=turn)
        curve = float(move @ turn)
        if curve > 1e-12 * math.sqrt(float(move @ move) * float(turn @ turn)):
            scale[row] = 1 / curve
            order.append(row)
        elif len(order) == _MEMORY - 1:
            order.clear()
        here, energy, slope = there, new_energy, new_slope
    return Rest(here, energy, most_steps)


def _downhill(slope: Array, moves: Array, turns: Array, scale: Array, order: list[int]) -> Array:
    """The two-loop recursion: minus the inverse curvature, as far as it is known, times the gradient."""
    way = -slope
    shares: list[float] = []
    for row in reversed(order):
        share = float(scale[row] * (moves[row] @ way))
        way -= share * turns[row]
        shares.append(share)
    if order:
        last = turns[order[-1]]
        way /= float(scale[order[-1]] * (last @ last))
    for row, share in zip(order, reversed(shares), strict=True):
        way += (share - float(scale[row] * (turns[row] @ way))) * moves[row]
    return way
