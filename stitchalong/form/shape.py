"""A form: where each bead of a piece lies, which way its hole runs, and what it is made of."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

_ROUNDER = 1.35
"""where the curve of a bead with rounded ends would close, in its own half lengths: so much is cut off flat"""


@dataclass(frozen=True, slots=True)
class Barrel:
    """A bead's body: r² + bulge · a² = thick², with r off its axis and a along it, cut flat at both ends; mm."""

    thick: float
    """half its thickness"""
    half: float
    """half its length"""
    bulge: float
    """0: a cylinder"""
    hole: float
    """across"""

    @property
    def rim(self) -> float:
        """Half the thickness of its ends."""
        return math.sqrt(self.thick**2 - self.bulge * self.half**2)


@dataclass(frozen=True, slots=True)
class Material:
    """What one bead of the palette looks like; lengths in mm."""

    code: str
    name: str
    colour: tuple[int, int, int]
    across: float
    along: float
    hole: float
    rounded: bool

    @property
    def barrel(self) -> Barrel:
        thick, half = self.across / 2, self.along / 2
        bulge = (thick / (half * _ROUNDER)) ** 2 if self.rounded else 0.0
        body = Barrel(thick, half, bulge, self.hole)
        return replace(body, hole=min(self.hole, 1.8 * body.rim))


@dataclass(frozen=True, slots=True, eq=False)
class Form:
    """One likely form of a piece, finished or as far as it is stitched. Beads count from 0 in the order picked up."""

    title: str
    points: NDArray[np.float64]
    """the middles of the beads in mm, shape (beads, 3); the third axis is the piece's own, upward"""
    holes: NDArray[np.float64]
    """unit vectors along the holes, shape (beads, 3)"""
    materials: tuple[Material, ...]
    material: NDArray[np.int64]
    """index into `materials` of each bead"""
    stops: tuple[int, ...]
    """how many beads there are after each round, as far as it is stitched; the last is all"""
    energy: float
    strain: float
    """mean of what firm bonds miss their lengths by, as a share"""
    scale: float
    """what the stitcher's gauge makes of a length: for files that are measured. No ring size is taken from a form."""
    doubts: tuple[str, ...]
    """what speaks against it, one line each"""
    against: str = ""
    """that of the doubts which tells where it does not do what the total angle foretells"""

    @property
    def beads(self) -> int:
        return len(self.points)

    @property
    def middle(self) -> NDArray[np.float64]:
        """The middle of the box around it."""
        low, high = self.points.min(axis=0), self.points.max(axis=0)
        centre: NDArray[np.float64] = (low + high) / 2
        return centre

    @property
    def radius(self) -> float:
        """mm from the middle to its furthest end."""
        away = self.points - self.middle
        most = max(max(one.across, one.along) for one in self.materials)
        return float(np.sqrt((away * away).sum(axis=1).max())) + most
