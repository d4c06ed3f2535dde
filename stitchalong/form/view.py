"""From where a form is looked at, and how much of it is shown: pure values, no numpy."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace

STEP = 15.0
"""degrees that a key turns"""
NEARER = 1.25
"""how much larger a key makes it"""
_LEAST, _MOST = 0.25, 16.0


@dataclass(frozen=True, slots=True)
class View:
    """A place to look from. The piece's own axis points up."""

    turn: float = -30.0
    """degrees that the piece is turned about its own axis, anticlockwise from above"""
    tilt: float = 35.0
    """degrees above the horizon: 90 looks down on it, 0 from the side"""
    zoom: float = 1.0
    shown: int | None = None
    """so many beads are drawn; None: all"""

    def turned(self, degrees: float) -> View:
        return replace(self, turn=(self.turn + degrees + 180) % 360 - 180)

    def tilted(self, degrees: float) -> View:
        return replace(self, tilt=max(-90.0, min(90.0, self.tilt + degrees)))

    def zoomed(self, times: float) -> View:
        return replace(self, zoom=max(_LEAST, min(_MOST, self.zoom * times)))

    def stepped(self, stops: Sequence[int], rounds: int) -> View:
        """So many rounds more (or fewer) shown; `stops` is how many beads there are after each."""
        whole = stops[-1]
        here = whole if self.shown is None else self.shown
        at = bisect_left(stops, here) if rounds <= 0 else bisect_right(stops, here) - 1
        shown = stops[max(0, min(len(stops) - 1, at + rounds))]
        return replace(self, shown=None if shown == whole else shown)

    def axes(self) -> tuple[tuple[float, float, float], tuple[float, float, float], tuple[float, float, float]]:
        """What lies to the right, up, and towards the eye, as unit vectors of the piece's space."""
        turn, tilt = math.radians(self.turn), math.radians(self.tilt)
        cos, sin = math.cos(turn), math.sin(turn)
        low, high = math.cos(tilt), math.sin(tilt)
        return (cos, -sin, 0.0), (sin * high, cos * high, low), (-sin * low, -cos * low, high)


@dataclass(frozen=True, slots=True)
class Marks:
    """Beads that are pointed out. Beads count from 0."""

    laid: frozenset[int] = frozenset()
    """just laid: drawn with a white belt"""
    coming: int | None = None
    """the next one: drawn as a grid that one sees through"""
    faint: int | None = None
    """beads from this one on are drawn faintly, near the ground's colour"""
