"""The bonds of beads that stand upright side by side, and of those that sit on each other in straight columns.

- A *ladder*: neighbours D apart, their holes upright.
- *Brick stitch*: beads stand on the bridges of the row below, as bricks do. Turned by a right angle it is the net of
  peyote: neighbours in a row D apart, a brick and each of the two it stands on √(L² + (D/2)²).
- *Herringbone*: each bead stands on one of the row below, L above it, the two of a stitch leaning together at the top.
- *Square stitch*: beads of a row end to end, each on the one below it, D apart.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from stitchalong.fabric.stitch import Kind
from stitchalong.form.bonds import WEAK, Birth, Bonds
from stitchalong.form.thread import Strand

_LEAN = 0.5
"""of what its partner in the stitch would turn a bead of herringbone by"""


class Stacked:
    """Works rows in order, each on the edge of the one before."""

    def __init__(self, bonds: Bonds, strand: Strand) -> None:
        self.bonds = bonds
        self._strand = strand
        self._below: list[int] = []
        self._feet: dict[int, tuple[int, ...]] = {}
        """what each bead stands on"""
        self._level: dict[int, int] = {}
        """how many beads stand below it in its stack"""

    def ladder(self, index: int, *, closed: bool) -> None:
        """A ladder, open or joined."""
        bonds, beads = self.bonds, self._strand.edge(index)
        size = len(beads)
        wide = bonds.over(beads[0], beads[1])
        radius = wide / (2 * math.sin(math.pi / size)) if size > 1 else 0.0
        for at, bead in enumerate(beads):
            angle = 2 * math.pi * at / size
            here = (radius * math.cos(angle), radius * math.sin(angle)) if closed else ((at - size / 2) * wide, 0.0)
            bonds.seed[bead] = (*here, 0.0)
            bonds.upright.append(bead)
        for one, other in _neighbours(beads, closed):
            self._side_by_side(one, other)
        self._below = beads

    def strand(self, index: int) -> None:
        """A strung row, on which straight columns are to stand."""
        bonds, beads = self.bonds, self._strand.edge(index)
        for at, bead in enumerate(beads):
            bonds.seed[bead] = ((at - len(beads) / 2) * bonds.measures[bead].along, 0.0, 0.0)
        self._in_row(beads)
        self._below = beads

    # ---- brick stitch ---------------------------------------------------------------------------

    def bricks(self, index: int, *, closed: bool) -> None:
        """A row or round of brick stitch."""
        standing: list[tuple[int, int]] = []
        """(bead, place): on the bridge between the beads at this place and the next; flat, also beyond the ends"""
        for entry in self._strand.entries(index):
            if not entry.beads:
                continue
            if len(entry.beads) == 2:
                first = 0 if entry.detail == "second bridge" else -1
                standing += [(entry.beads[0], first), (entry.beads[1], first + 1)]
            elif entry.detail == "point":
                standing.append((entry.beads[0], 0))
            else:
                # the second bead on the last bridge of a row that widens leans out over the end
                same = entry.detail == "again" and closed
                standing.append((entry.beads[0], standing[-1][1] + (0 if same else 1)))
        self._stand(standing, closed)
        self._below = self._strand.edge(index)

    def _stand(self, standing: Sequence[tuple[int, int]], closed: bool) -> None:
        below, size = self._below, len(self._below)
        bridges: dict[int, list[int]] = {}
        for bead, place in standing:
            bridges.setdefault(place, []).append(bead)
        for place, own in bridges.items():
            feet = [below[at % size] for at in (place, place + 1) if closed or 0 <= at < size]
            for nth, bead in enumerate(own):
                self._feet[bead] = tuple(feet)
                self._brick(bead, place, (nth + 1) / (len(own) + 1), closed)
            # of several on one bridge only the outer ones touch what is beside it
            for bead, foot in zip((own[0], own[-1]) if len(feet) == 2 else own, feet, strict=True):
                self.bonds.tie(foot, bead, self.bonds.side(foot, bead))
                self.bonds.lies(bead, foot, -1.0)
                self.bonds.lies(foot, bead, 1.0)
        for one, other in _neighbours([bead for bead, _ in standing], closed):
            self._side_by_side(one, other)
            common = [foot for foot in self._feet[one] if foot in self._feet[other]]
            if len(common) == 1:
                self.bonds.cell(one, other, common[0])
        for own in bridges.values():
            feet_of = self._feet[own[0]]
            if len(feet_of) == 2:
                self.bonds.cell(feet_of[0], *own, feet_of[1])

    def _brick(self, bead: int, place: int, share: float, closed: bool) -> None:
        """Where it lies first: over its bridge, or half a bead beyond the end of a row."""
        below, size = self._below, len(self._below)
        begin = place if closed else max(0, min(size - 2, place))
        away = tuple(dict.fromkeys(low for foot in self._feet[bead] for low in self._feet.get(foot, ())))
        measure = self.bonds.measures[bead]
        beside = (below[begin % size], below[(begin + 1) % size])
        reach = measure.along / measure.across
        self.bonds.births[bead] = Birth(beside, share + place - begin, away, reach, upright=True)

    # ---- herringbone ----------------------------------------------------------------------------

    def herringbone(self, index: int, *, closed: bool) -> None:
        """A row or round of herringbone, also one that widens."""
        bonds, below = self.bonds, self._below
        stacks: list[int] = []
        """the beads of stitches, in order"""
        widens = False
        for entry in self._strand.entries(index):
            if not entry.beads:
                continue
            if entry.kind is Kind.TURN:
                self._turning(entry.beads[0], below[-1])
            elif "between" in entry.detail:
                widens = True
                self._between(entry.beads, below[len(stacks) - 1], below[len(stacks) % len(below)])
            else:
                self._leaning(entry.beads, below[len(stacks) : len(stacks) + 2])
                stacks += entry.beads
        pairs = _neighbours(stacks, closed)
        for nth, (one, other) in enumerate(pairs):
            if nth % 2 == 0:
                bonds.tie(one, other, bonds.over(one, other))
                bonds.stiffen(one, other)
                self._square(one, other)
            elif not widens:
                self._apart(one, other)
        self._below = self._strand.edge(index)

    def _leaning(self, beads: Sequence[int], feet: Sequence[int]) -> None:
        """The two beads of a stitch, each on its own stack."""
        bonds = self.bonds
        for bead, foot in zip(beads, feet, strict=True):
            self._on(bead, foot, bonds.end(bead, foot))
            bonds.lies(bead, foot, -1.0)
            bonds.lies(foot, bead, 1.0)
        one, other = beads
        bonds.lies(one, other, _LEAN)
        bonds.lies(other, one, _LEAN)

    def _apart(self, one: int, other: int) -> None:
        """Neighbours of two stitches: hardly held to each other, as high as each other."""
        while self._level.get(one, 0) > self._level.get(other, 0):
            one = self._feet[one][0]
        while self._level.get(other, 0) > self._level.get(one, 0):
            other = self._feet[other][0]
        self.bonds.tie(one, other, self.bonds.over(one, other), WEAK)
        self.bonds.stiffen(one, other)
        self._square(one, other)

    def _between(self, beads: Sequence[int], left: int, right: int) -> None:
        """Between two stacks: one bead that lies at the foot of the beads beside it, or two that stand beside them."""
        bonds = self.bonds
        if len(beads) == 1:
            lying = beads[0]
            for other, end in ((left, -1.0), (right, 1.0)):
                bonds.tie(lying, other, bonds.corner(lying, other))
                bonds.lies(lying, other, end)
            bonds.births[lying] = Birth((left, right), 0.5, (), 0.5)
            return
        for one, other in pairwise((left, *beads, right)):
            bonds.tie(one, other, bonds.over(one, other))
            bonds.stiffen(one, other)
        for nth, bead in enumerate(beads):
            bonds.births[bead] = Birth((left, right), (nth + 1) / (len(beads) + 1), (), 0.5)
            bonds.upright.append(bead)
            self._level[bead] = self._level.get(left, 0)

    def _turning(self, bead: int, below: int) -> None:
        """A small bead that only turns the thread, at the edge."""
        bonds = self.bonds
        for other in (below, *self._feet.get(below, ())):
            bonds.tie(bead, other, math.hypot(bonds.over(bead, other), bonds.measures[other].along / 2))
        bonds.births[bead] = Birth((below, below), 0.0, (self._below[-2],), 1.0)
        bonds.upright.append(bead)

    # ---- square stitch --------------------------------------------------------------------------

    def squares(self, index: int) -> None:
        """A row of square stitch."""
        bonds = self.bonds
        row: list[int] = []
        for entry in self._strand.entries(index):
            if entry.beads:
                bead, foot = entry.beads[0], entry.through[0]
                self._on(bead, foot, bonds.over(bead, foot))
                bonds.columns.append((foot, bead))
                bonds.stiffen(foot, bead)
                row.append(bead)
        self._in_row(row)
        for one, other in pairwise(row):
            self._square(one, other)
        self._below = self._strand.edge(index)

    # ---- beads ----------------------------------------------------------------------------------

    def _on(self, bead: int, foot: int, high: float) -> None:
        """A bead right above another."""
        bonds = self.bonds
        bonds.tie(bead, foot, high)
        reach = high / bonds.measures[bead].across
        bonds.births[bead] = Birth((foot, foot), 0.0, self._feet.get(foot, ()), reach, upright=True)
        self._feet[bead] = (foot,)
        self._level[bead] = self._level.get(foot, 0) + 1

    def _in_row(self, beads: Sequence[int]) -> None:
        for one, other in pairwise(beads):
            self.bonds.tie(one, other, self.bonds.end(one, other))
            self.bonds.thread(one, other)

    def _side_by_side(self, one: int, other: int) -> None:
        self.bonds.tie(one, other, self.bonds.over(one, other))
        self.bonds.columns.append((one, other))
        self.bonds.stiffen(one, other)

    def _square(self, one: int, other: int) -> None:
        """Two neighbours on two neighbours: their columns stay square to the rows."""
        bonds = self.bonds
        low, low_other = self._feet.get(one, ()), self._feet.get(other, ())
        if len(low) != 1 or len(low_other) != 1 or low == low_other:
            return
        wide, high = bonds.apart(one, other), bonds.apart(one, low[0])
        for here, there in ((one, low_other[0]), (other, low[0])):
            bonds.tie(here, there, math.hypot(wide, high), WEAK)
        bonds.cell(one, other, low_other[0], low[0])


def _neighbours(beads: Sequence[int], closed: bool) -> list[tuple[int, int]]:
    pairs = list(pairwise(beads))
    return [*pairs, (beads[-1], beads[0])] if closed and len(beads) > 2 else pairs
