"""Which beads touch and how: springs, bending, the way of the holes. Plain values; knows no course and no numpy.

Beads count from 0 in the order picked up; lengths are millimetres, of beads D across and L along the hole:

- neighbours along a row, half a row apart: √(L² + (D/2)²); a bead and the one it sits on: D. These
  triangulate the work, so that no spring along the row is needed;
- two beads in one space over a bead: D; inside a pair: as far as two cylinders that touch at the rim where rows meet at
  60°, as in a triangle, with weak diagonals that keep the two rows of a rib square.

Work is a net of cells (mostly triangles) with edges of known length. Where two cells share an edge, a *stencil*, a
weighted sum of positions, vanishes as long as both lie in one plane: its square is the bending. It is three times as
stiff where the edge runs up through the rows as elsewhere: beads threaded end to end hardly bend against each other,
while rows hinge like slats. This decides the kind of form: with equal stiffness a piece with four full corners gets
the wrong saddle. From geometry and trial, no source; what comes out is held against the total angle of
`stitchalong.measure.flat`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

FIRM, WEAK, NONE = 1.0, 0.1, 0.0
"""stiffness of springs"""
ALONG, ACROSS = 3.0, 1.0
"""stiffness of bending along the holes and across them, against each other"""

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Measure:
    """A bead's measures in millimetres."""

    across: float
    along: float
    rounded: bool = False
    """its ends are"""


@dataclass(frozen=True, slots=True)
class Spring:
    one: int
    other: int
    rest: float
    """mm"""
    stiffness: float


@dataclass(frozen=True, slots=True)
class Stencil:
    """A sum of positions that vanishes where the work is flat."""

    weights: tuple[tuple[int, float], ...]
    """(bead, weight); the weights add up to 0"""
    stiffness: float


@dataclass(frozen=True, slots=True)
class Birth:
    """Where a bead lies before it is moved."""

    beside: tuple[int, int]
    """the two up beads of its space"""
    share: float
    """how far along from the first to the second, 0 to 1"""
    away: tuple[int, ...]
    """the beads across from it, below; empty: it is put outward from the middle of the piece"""
    reach: float
    """how far, in its own thickness"""
    upright: bool = False
    """where nothing lies below it is put straight up instead of outward"""


@dataclass(frozen=True, slots=True)
class Neighbour:
    """A bead at one end of another's hole."""

    bead: int
    other: int
    end: float
    """1 or -1"""


@dataclass(slots=True)
class _Wing:
    """One side of an edge: the point across, as a mean of beads, and where it lies from the edge's first bead."""

    beads: tuple[int, ...]
    along: float
    """in lengths of the edge"""
    off: float
    """mm"""


@dataclass(slots=True)
class Bonds:
    """Everything that holds a piece together."""

    measures: Sequence[Measure]
    springs: list[Spring] = field(default_factory=list)
    stencils: list[Stencil] = field(default_factory=list)
    neighbours: list[Neighbour] = field(default_factory=list)
    columns: list[tuple[int, int]] = field(default_factory=list)
    """(bead, the bead that sits on it)"""
    upright: list[int] = field(default_factory=list)
    """beads whose holes run along the piece's own axis, where nothing else tells"""
    births: dict[int, Birth] = field(default_factory=dict)
    seed: dict[int, tuple[float, float, float]] = field(default_factory=dict)
    """where the beads of a start lie before they are moved"""
    stops: list[int] = field(default_factory=list)
    """how many beads there are after each round"""
    flat: bool = False
    """worked to and fro: it begins standing upright"""
    disc: bool = False
    """grown from a small ring, so that it may lie flat, cup or warp"""
    full: bool = False
    """so full that it warps or ruffles"""
    doubts: list[str] = field(default_factory=list)
    _rest: dict[tuple[int, int], float] = field(default_factory=dict)
    _wings: dict[tuple[int, int], list[_Wing]] = field(default_factory=dict)
    _stiff: dict[tuple[int, int], float] = field(default_factory=dict)

    # ---- distances ------------------------------------------------------------------------------

    def side(self, one: int, other: int) -> float:
        """Neighbours along a row, half a row apart."""
        a, b = self.measures[one], self.measures[other]
        return math.hypot((a.along + b.along) / 2, (a.across + b.across) / 4)

    def over(self, one: int, other: int) -> float:
        """A bead and the one that it sits on."""
        return (self.measures[one].across + self.measures[other].across) / 2

    def end(self, one: int, other: int) -> float:
        """Two beads end to end."""
        return (self.measures[one].along + self.measures[other].along) / 2

    def rim(self, one: int, other: int, angle: float) -> float:
        """Two cylinders that touch at the rim, with this angle between them in degrees (180: end to end)."""
        half = math.radians(angle) / 2
        return self.end(one, other) * math.sin(half) + self.over(one, other) * math.cos(half)

    def corner(self, one: int, other: int) -> float:
        """Two beads at a right angle to each other that meet at a corner of right-angle weave.

        A side of its rooms is this by √2: a bead's length and thickness; of beads with rounded ends the middle between
        this and √2 · thickness, spheres that touch.
        """
        a, b = self.measures[one], self.measures[other]
        square = self.rim(one, other, 90.0)
        return (square + self.over(one, other)) / 2 if a.rounded and b.rounded else square

    def apart(self, one: int, other: int) -> float:
        """The distance asked for between two beads that were tied. Raises KeyError for others."""
        return self._rest[_pair(one, other)]

    # ---- making ---------------------------------------------------------------------------------

    def tie(self, one: int, other: int, rest: float, stiffness: float = FIRM) -> None:
        """Two beads so far apart; without stiffness the distance only shapes the cells."""
        self._rest[_pair(one, other)] = rest
        if stiffness:
            self.springs.append(Spring(one, other, rest, stiffness))

    def sit(self, bead: int, under: int) -> None:
        """A bead sits on another, their holes side by side."""
        self.tie(under, bead, self.over(under, bead))
        self.columns.append((under, bead))

    def thread(self, one: int, other: int, sense: float = 1.0) -> None:
        """The thread runs from one bead into the other. `sense` is -1 in rows that run against the first."""
        self.lies(one, other, sense)
        self.lies(other, one, -sense)

    def lies(self, bead: int, other: int, end: float) -> None:
        """The other bead lies at this end (1 or -1) of the bead's hole."""
        self.neighbours.append(Neighbour(bead, other, end))

    def stiffen(self, one: int, other: int) -> None:
        """The edge between these two runs up through the rows: bending over it is bending along the holes."""
        self._stiff[_pair(one, other)] = ALONG

    def level(self, weights: Mapping[int, float], stiffness: float = ACROSS) -> None:
        """A stencil of its own."""
        self.stencils.append(Stencil(tuple(weights.items()), stiffness))

    def cell(self, *beads: int, points: Sequence[Point] = ()) -> None:
        """A cell of the net, its beads in order round it.

        `points` is its shape laid flat; without them the edges' lengths decide, the corners lying on a circle.
        """
        shape = points or _known(tuple(self.apart(a, b) for a, b in _round(beads)))
        number = len(beads)
        for nth, (one, other) in enumerate(_round(beads)):
            across = [(nth + 2) % number] if number == 3 else range(number)
            x = sum(shape[at][0] for at in across) / len(across)
            y = sum(shape[at][1] for at in across) / len(across)
            (x0, y0), (x1, y1) = shape[nth], shape[(nth + 1) % number]
            long = math.hypot(x1 - x0, y1 - y0)
            ux, uy = (x1 - x0) / long, (y1 - y0) / long
            along = ((x - x0) * ux + (y - y0) * uy) / long
            off = abs((x - x0) * uy - (y - y0) * ux)
            wing = _Wing(tuple(beads[at] for at in across), along if one < other else 1 - along, off)
            self._wings.setdefault(_pair(one, other), []).append(wing)

    def finish(self) -> None:
        """Make the stencils of all edges that two cells share. Once, after the last cell."""
        for (one, other), wings in self._wings.items():
            if len(wings) != 2 or min(wing.off for wing in wings) < 1e-6:
                continue
            whole = wings[0].off + wings[1].off
            weights: dict[int, float] = {}
            along = 0.0
            for wing, opposite in zip(wings, reversed(wings), strict=True):
                share = 2 * opposite.off / whole
                along += share * wing.along / 2
                for bead in wing.beads:
                    weights[bead] = weights.get(bead, 0.0) + share / len(wing.beads)
            weights[one] = weights.get(one, 0.0) - 2 * (1 - along)
            weights[other] = weights.get(other, 0.0) - 2 * along
            self.level(weights, self._stiff.get((one, other), ACROSS))
        self._wings.clear()


def _pair(one: int, other: int) -> tuple[int, int]:
    return (one, other) if one < other else (other, one)


def _round(beads: Sequence[int]) -> list[tuple[int, int]]:
    return [(bead, beads[(nth + 1) % len(beads)]) for nth, bead in enumerate(beads)]


@lru_cache(maxsize=4096)
def _known(lengths: tuple[float, ...]) -> list[Point]:
    """`inscribed`; most cells of a piece are alike."""
    return inscribed(lengths)


def inscribed(lengths: Sequence[float]) -> list[Point]:
    """The corners of the convex polygon on a circle that has edges of these lengths, anticlockwise.

    An edge longer than the others together is shortened.
    """
    longest = max(lengths)
    rest = sum(lengths) - longest
    edges = [min(length, 0.999 * rest) for length in lengths]
    longest = max(edges)
    at = edges.index(longest)
    others = [length for nth, length in enumerate(edges) if nth != at]

    def turn(radius: float) -> float:
        """The angle that the shorter edges take, less what the longest leaves for them (centre inside)."""
        return sum(2 * math.asin(length / (2 * radius)) for length in others)

    least = longest / 2
    inside = turn(least) >= math.pi
    low, high = least, least
    while _open(turn(high), longest, high, inside):
        high *= 2
    for _ in range(60):
        radius = (low + high) / 2
        if _open(turn(radius), longest, radius, inside):
            low = radius
        else:
            high = radius
    angle = 0.0
    corners: list[Point] = []
    for nth, length in enumerate(edges):
        corners.append((high * math.cos(angle), high * math.sin(angle)))
        step = 2 * math.asin(min(1.0, length / (2 * high)))
        angle += step if nth != at or inside else -step
    return corners


def _open(turned: float, longest: float, radius: float, inside: bool) -> bool:
    """Whether the circle is still too small."""
    own = 2 * math.asin(min(1.0, longest / (2 * radius)))
    return turned + own > 2 * math.pi if inside else turned < own
