"""The bonds of netting: loops of beads hung from the tips of the loops below.

A loop's beads lie end to end in two arms; where an arm meets a tip three beads come together, as in a honeycomb (120°).
A net has no width of its own: it can be pulled wide or long. It is laid out as wide as its meshes are when all their
angles are alike, its first ring as wide as its beads are long, and held there faintly.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from stitchalong.fabric.stitch import Kind
from stitchalong.form.bonds import Birth, Bonds
from stitchalong.form.edges import Edge, Gap
from stitchalong.form.thread import Group, Strand

_MEETING = 120.0
"""degrees between two beads where three come together"""
_FAINT = 0.02
"""stiffness of what keeps meshes open"""
_STEEPEST = 0.7
"""how far out an arm leans where a net grows wider or narrower, as a share of its length"""


@dataclass(frozen=True, slots=True)
class _Mesh:
    """Lengths in mm, from corner to corner, where three beads meet."""

    corner: float
    """from a bead's end to the corner"""
    tip: float
    arm: float
    wide: float
    """from tip to tip, all angles being alike"""


class Netted:
    """Works rounds in order, each on the tips of the one before."""

    def __init__(self, bonds: Bonds, strand: Strand) -> None:
        self.bonds = bonds
        self._strand = strand
        self._tips: list[int] = []
        self._under: list[Group] = []
        """for each tip the beads below the space behind it, from this tip to the next"""
        self._radii: list[float] = []
        """of the rounds that are to come"""
        self._turn = self._radius = self._z = 0.0
        """where the first tip lies"""

    def ring(self, index: int) -> None:
        """The base ring, anchors and loops strung."""
        bonds = self.bonds
        beads = [bead for entry in self._strand.entries(index) for bead in entry.beads]
        size = len(beads)
        self._tips = self._strand.edge(index)
        loop = size // len(self._tips)
        self._radius = sum(bonds.measures[bead].along for bead in beads) / (2 * math.pi)
        for at, bead in enumerate(beads):
            bonds.seed[bead] = _placed(2 * math.pi * at / size, self._radius, 0.0)
            after = beads[(at + 1) % size]
            bonds.tie(bead, after, bonds.side(bead, after) if loop == 2 else bonds.end(bead, after))
            bonds.thread(bead, after)
        self._under = [tuple(beads[at + 1 : at + loop]) for at in range(0, size, loop)]
        self._radii = self._foreseen(index)

    def loops(self, index: int) -> None:
        """A round of loops."""
        tips, size = self._tips, len(self._tips)
        laid: list[Group] = [entry.beads for entry in self._strand.entries(index) if entry.kind is Kind.GROUP]
        for at, beads in enumerate(laid):
            self._loop(tips[at], beads, tips[(at + 1) % size], self._under[at])
        self._lay_out(laid)
        half = len(laid[0]) // 2
        new = [beads[half] for beads in laid]
        for at in range(size if half else 0):
            low = self._under[at][len(self._under[at]) // 2]
            self._keep_open(new[at], low)
            self._keep_open(new[at - 1], new[at])
        self._under = [
            (*beads[half + 1 :], tips[(at + 1) % size], *laid[(at + 1) % size][:half]) for at, beads in enumerate(laid)
        ]
        self._tips = new

    def edge(self) -> Edge:
        """The tips, and below each space the mesh that is open there."""
        return Edge(tuple((tip,) for tip in self._tips), tuple(Gap(under, net=len(under) > 1) for under in self._under))

    def _loop(self, left: int, beads: Group, right: int, under: Group) -> None:
        bonds, tip = self.bonds, len(beads) // 2
        for at, (one, other) in enumerate(pairwise((left, *beads, right))):
            if len(beads) == 1:
                rest = bonds.side(one, other)
            elif at in (0, tip, tip + 1, len(beads)):
                rest = bonds.rim(one, other, _MEETING)
            else:
                rest = bonds.end(one, other)
            bonds.tie(one, other, rest)
            bonds.thread(one, other)
        if len(beads) == len(under) == 1:
            self._as_peyote(left, beads[0], right, under[0])
        for at, bead in enumerate(beads):
            reach = 0.5 + 0.5 * min(at, len(beads) - 1 - at)
            bonds.births[bead] = Birth((left, right), (at + 1) / (len(beads) + 1), under, reach)

    def _as_peyote(self, left: int, bead: int, right: int, under: int) -> None:
        bonds = self.bonds
        bonds.sit(bead, under)
        bonds.stiffen(under, bead)
        bonds.cell(left, bead, under)
        bonds.cell(bead, right, under)

    def _lay_out(self, laid: list[Group]) -> None:
        """Where the beads of a round lie first."""
        mesh, arm = self._mesh(len(laid[0])), len(laid[0]) // 2
        step = 2 * math.pi / len(laid)
        radius = self._radii.pop(0)
        aside = (self._radius + radius) / 2 * step / 2 - mesh.tip
        rise = math.sqrt(max(0.1, mesh.arm**2 - aside**2 - (radius - self._radius) ** 2)) if arm else mesh.arm
        for at, own in enumerate(laid):
            foot = self._turn + at * step
            here = foot + step / 2
            self.bonds.seed[own[arm]] = _placed(here, radius, self._z + rise)
            begin, end = foot + mesh.tip / 2 / self._radius, here - mesh.tip / 2 / radius
            for nth in range(arm):
                share = (mesh.corner + (mesh.arm - 2 * mesh.corner) * (nth + 0.5) / arm) / mesh.arm
                way = (
                    begin + share * (end - begin),
                    self._radius + share * (radius - self._radius),
                    self._z + share * rise,
                )
                self.bonds.seed[own[nth]] = _placed(*way)
                self.bonds.seed[own[-1 - nth]] = _placed(2 * here - way[0], *way[1:])
        self._turn, self._radius, self._z = self._turn + step / 2, radius, self._z + rise

    def _mesh(self, loop: int) -> _Mesh:
        """The mesh of a loop of so many beads, all as large as the first tip."""
        measure, half = self.bonds.measures[self._tips[0]], loop // 2
        if not half:
            return _Mesh(0.0, measure.along, measure.across / 2, 2 * measure.along)
        corner = measure.across / (2 * math.tan(math.radians(_MEETING / 2)))
        tip, arm = measure.along + 2 * corner, half * measure.along + 2 * corner
        return _Mesh(corner, tip, arm, 2 * tip + arm)

    def _foreseen(self, index: int) -> list[float]:
        """The radii of the rounds of loops on a ring: as wide as their meshes, drawn in to a round of peyote at the
        end, and neither wider nor narrower than the arms of the loops reach."""
        course, steps = self._strand.course, len(self._tips) / (2 * math.pi)
        radii, reaches = [self._radius], [0.0]
        at = index + 1
        while at < len(course.rounds) and course.rounds[at].technique == "netting":
            item = course.rounds[at]
            mesh = self._mesh(item.beads // item.spaces)
            reaches.append(_STEEPEST * mesh.arm)
            radii.append(min(max(mesh.wide * steps, radii[-1] - reaches[-1]), radii[-1] + reaches[-1]))
            at += 1
        if len(radii) > 1 and at < len(course.rounds) and course.rounds[at].part == course.rounds[index].part:
            tip = self._tips[0]
            radii[-1] = min(radii[-1], 2 * self.bonds.side(tip, tip) * steps)
            for nth in range(len(radii) - 1, 1, -1):
                radii[nth - 1] = min(radii[nth - 1], radii[nth] + reaches[nth])
        return radii[1:]

    def _keep_open(self, one: int, other: int) -> None:
        """Two beads across a mesh."""
        bonds = self.bonds
        bonds.tie(one, other, math.dist(bonds.seed[one], bonds.seed[other]), _FAINT)


def _placed(angle: float, radius: float, z: float) -> tuple[float, float, float]:
    return radius * math.cos(angle), radius * math.sin(angle), z
