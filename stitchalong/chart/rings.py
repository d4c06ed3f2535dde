"""Discs and triangles: each round a ring about the middle.

The up beads of a round stand evenly on their ring, turned so that they lie over the spaces that they fill as well as
they can. A ring is as large as its beads need, and at least one bead wider than the one within.
"""

from __future__ import annotations

import cmath
import math

from stitchalong.chart.laid import Cell, cells
from stitchalong.chart.model import SMALL, Bead
from stitchalong.course.course import Course

_STEP = 1.02
"""how far a ring lies outside the one within, at least"""
_ROOM = 1.04
"""round a ring, for each bead"""
_BESIDE = 0.7
"""from bead to bead where several share the room of one up bead"""
_SUNK = 0.5
"""the middle bead of a corner sits on the bead below"""


class Rings:
    """The rounds of one part that begins with a ring."""

    def __init__(self, course: Course) -> None:
        self.course = course
        self.beads: list[Bead] = []
        self._angles: dict[int, list[float]] = {}
        """round -> angles of the up beads that it leaves, in the order laid"""
        self._radius = 0.0

    def add(self, index: int) -> None:
        """Place a round of this part."""
        item = self.course.rounds[index]
        laid = list(cells(self.course, index))
        ups = sum(len(cell.ups) for cell in laid)
        below = self._angles.get(item.below)
        if below is None or not ups:
            turn = 0.0
        else:
            turn = _best_turn(_over(laid, below, item.begin, item.spaces), ups)
        angles = [turn + math.tau * nth / ups for nth in range(ups)] if ups else list(below or [])
        widest = sum(len(cell.ups) if len(cell.ups) != 1 else max(1.0, _BESIDE * len(cell.beads)) for cell in laid)
        sunk = any(1 < len(cell.ups) < len(cell.beads) for cell in laid)
        self._radius = max(self._radius + _STEP + sunk * _SUNK, widest * _ROOM / math.tau)
        up = 0
        for cell in laid:
            mine = angles[up : up + len(cell.ups)]
            up += len(mine)
            self._cell(cell, mine)
        self._angles[index] = angles

    def _cell(self, cell: Cell, angles: list[float]) -> None:
        if not cell.beads:
            return
        middle = sum(angles) / len(angles) if angles else 0.0
        small = len(cell.beads) > len(cell.ups)
        up = dict(zip(cell.ups, angles, strict=True)) if len(angles) > 1 else {}
        for nth, (number, code) in enumerate(zip(cell.beads, cell.codes, strict=True)):
            angle = up.get(nth, middle + (nth - (len(cell.beads) - 1) / 2) * _BESIDE / self._radius)
            radius = self._radius - _SUNK if up and nth not in up else self._radius
            x, y = radius * math.sin(angle), -radius * math.cos(angle)
            self.beads.append(Bead(number, code, x, y, SMALL if small else 1.0, 1.0, math.degrees(angle)))


def _over(laid: list[Cell], below: list[float], begin: int, spaces: int) -> list[float]:
    """The angle over which each up bead wants to stand: the middle of its space; of several, spread in it."""
    wanted: list[float] = []
    for space, cell in enumerate(laid):
        first, second = below[(begin + space) % spaces], below[(begin + space + 1) % spaces]
        gap = (second - first) % math.tau or math.tau
        count = len(cell.ups)
        wanted += [first + gap * (nth + 1) / (count + 1) for nth in range(count)]
    return wanted


def _best_turn(wanted: list[float], ups: int) -> float:
    """The angle of up bead 0 by which evenly spaced beads lie nearest to where they want to stand."""
    total = sum(cmath.exp(1j * (angle - math.tau * nth / ups)) for nth, angle in enumerate(wanted))
    return cmath.phase(total) if total else 0.0
