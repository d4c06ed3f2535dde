"""The bonds of peyote whose thread is told bead by bead: flat rows, spirals, and groups of beads laid as one (drops).

A stitch lies between the bead that the needle comes out of and the one it goes into, over what lies between those two.
At the edge of flat work it lies over the bead that the needle comes out of.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from stitchalong.course.course import Round
from stitchalong.fabric.stitch import Kind
from stitchalong.form.bonds import WEAK, Birth, Bonds
from stitchalong.form.thread import Group, Strand

_TURNING = 90.0
"""degrees between a turning bead and the edge bead beside it"""


class Told:
    """Works rounds (and rows) in order. Beads count from 0."""

    def __init__(self, bonds: Bonds, strand: Strand) -> None:
        self.bonds = bonds
        self._strand = strand
        self._needle = 0
        self._group: dict[int, Group] = {}
        self._row: dict[int, int] = {}
        self._beside: dict[int, list[int]] = {}
        """neighbours half a row up or down, the oldest first"""
        self._covered: set[Group] = set()
        self._below: dict[int, int] = {}

    def strung(self, index: int, item: Round) -> None:
        """Beads strung for two rows, closed into a ring or not."""
        entries = list(self._strand.entries(index))
        groups = [entry.beads for entry in entries if entry.kind is Kind.STRING]
        closed = not item.flat
        for at, group in enumerate(groups):
            # the last group strung belongs to row 1
            self._keep(group, 1 + (len(groups) - 1 - at) % 2, 1.0)
        for one, other in zip(groups, groups[1:] + groups[:1] if closed else groups[1:], strict=False):
            self._side(one[-1], other[0], 1.0)
        self._seed(groups, closed)
        for entry in entries:
            self._go_on(entry.beads, entry.through)

    def upon(self, lower: Sequence[int], upper: Sequence[int]) -> None:
        """The edge that other work leaves: the beads of rows -1 and 0, by turns, from where the needle comes out."""
        for row, beads in ((-1, lower), (0, upper)):
            for bead in beads:
                self._take((bead,), row)
        order = [bead for pair in zip(lower, upper, strict=False) for bead in pair] + list(lower[len(upper) :])
        for one, other in pairwise(order):
            self._meet(one, other)
        self._needle = lower[0]

    def work(self, index: int, item: Round) -> None:
        """A row, round or lap. Raises ValueError where a stitch lies otherwise than peyote does."""
        sense = 1.0 if not item.flat or item.number % 2 == 0 else -1.0
        for entry in self._strand.entries(index):
            if entry.beads and entry.kind not in (Kind.TURN, Kind.JOIN):
                body = self._turning_bead(entry.beads, entry.through, item, sense)
                self._lay(body, entry.through, item, sense)
            self._go_on(entry.beads, entry.through)

    def _go_on(self, beads: Group, through: Group) -> None:
        """The needle comes out of the last bead."""
        self._needle = (through or beads or (self._needle,))[-1]

    # ---- one stitch -----------------------------------------------------------------------------

    def _lay(self, body: Group, through: Group, item: Round, sense: float) -> None:
        out, into = self._needle, through[0] if through else None
        if into is not None and into in body:
            into = None
        over_edge = (
            into in self._beside[self._facing(out)[-1]] if into is not None else self._row[out] == item.number - 2
        )
        # picked up outside the edge and held by the turn alone: in the direction back
        self._keep(body, item.number, -sense if over_edge and into is None else sense)
        if over_edge:
            self._over_edge(body, out, into, sense)
        elif into is not None:
            self._between_two(body, out, into, self._between(out, into), sense)
        else:
            self._beside_last(body, out, item, sense)

    def _between_two(self, body: Group, out: int, into: int, under: Group, sense: float) -> None:
        bonds = self.bonds
        self._side(out, body[0], sense)
        self._side(body[-1], into, sense)
        self._over(body, under)
        bonds.cell(out, body[0], under[0])
        bonds.cell(body[-1], into, under[-1])
        for nth, bead in enumerate(body):
            bonds.births[bead] = Birth((out, into), (nth + 1) / (len(body) + 1), under, 0.5)

    def _over_edge(self, body: Group, out: int, into: int | None, sense: float) -> None:
        """At the edge: over the group that the needle comes out of."""
        under = self._facing(out)
        beside = into if into is not None else self._beside[under[-1]][-1]
        self._side(body[-1], beside, sense if into is not None else -sense)
        self._on_edge(body, under)
        self.bonds.cell(body[-1], beside, under[-1])

    def _beside_last(self, body: Group, out: int, item: Round, sense: float) -> None:
        """At the edge: beside the up bead that the needle comes out of, over the last group below."""
        free = [
            bead
            for bead in self._beside[out]
            if self._row[bead] == item.number - 2 and self._group[bead] not in self._covered
        ]
        if not free:
            raise ValueError(f"bead {body[0] + 1} lies over nothing")
        under = self._facing(free[-1])
        self._side(out, body[0], sense)
        self._on_edge(body, under)
        self.bonds.cell(out, body[0], under[0])

    def _on_edge(self, body: Group, under: Group) -> None:
        self._over(body, under)
        for nth, bead in enumerate(body):
            foot = under[min(nth, len(under) - 1)]
            below = self._below.get(foot)
            away = (below,) if below is not None else ()
            self.bonds.births[bead] = Birth((foot, foot), 0.0, away, 1.0, upright=True)

    def _between(self, out: int, into: int) -> Group:
        """The group that lies between these two up beads, from the first to the second; not yet covered."""
        for bead in reversed(self._beside[out]):
            under = self._facing(bead)
            if self._group[bead] not in self._covered and into in self._beside[under[-1]]:
                return under
        raise ValueError(f"nothing lies between beads {out + 1} and {into + 1}")

    def _over(self, body: Group, under: Group) -> None:
        bonds = self.bonds
        self._covered.add(self._group[under[0]])
        for one, other in zip(body, under, strict=False):
            bonds.sit(one, other)
            bonds.stiffen(other, one)
            self._below[one] = other
        corners = list(zip(body, under, strict=False))
        for (one, low), (other, low_other) in pairwise(corners):
            for here, there in ((one, low_other), (other, low)):
                bonds.tie(here, there, math.hypot(bonds.end(one, other), bonds.over(one, low)), WEAK)
            bonds.cell(one, other, low_other, low)

    # ---- beads ----------------------------------------------------------------------------------

    def _take(self, group: Group, row: int) -> None:
        for bead in group:
            self._group[bead] = group
            self._row[bead] = row
            self._beside[bead] = []

    def _keep(self, group: Group, row: int, sense: float) -> None:
        self._take(group, row)
        for one, other in pairwise(group):
            self.bonds.tie(one, other, self.bonds.end(one, other))
            self.bonds.thread(one, other, sense)

    def _facing(self, bead: int) -> Group:
        """The group of a bead at an end of it, from that end on."""
        group = self._group[bead]
        return group if group[0] == bead else group[::-1]

    def _side(self, one: int, other: int, sense: float) -> None:
        self.bonds.tie(one, other, self.bonds.side(one, other))
        self.bonds.thread(one, other, sense)
        self._meet(one, other)

    def _meet(self, one: int, other: int) -> None:
        self._beside[one].append(other)
        self._beside[other].append(one)

    def _turning_bead(self, beads: Group, through: Group, item: Round, sense: float) -> Group:
        """The group without a small bead that only turns the thread, which is hung on it."""
        if not item.flat or through or len(beads) != len(self._group[self._needle]) + 1:
            return beads
        body, turning = beads[:-1], beads[-1]
        self.bonds.tie(body[-1], turning, self.bonds.rim(body[-1], turning, _TURNING))
        self.bonds.thread(body[-1], turning, sense)
        self.bonds.births[turning] = Birth((body[-1], body[-1]), 0.0, (self._needle,), 0.8)
        return body

    def _seed(self, groups: list[Group], closed: bool) -> None:
        measures = self.bonds.measures
        whole = sum(measures[bead].along for group in groups for bead in group)
        at = 0.0
        for nth, group in enumerate(groups):
            for bead in group:
                at += measures[bead].along / 2
                rise = measures[bead].across / 4 * (1 if (len(groups) - nth) % 2 == 0 else -1)
                turn = 2 * math.pi * at / whole
                round_ = whole / (2 * math.pi)
                place = (round_ * math.cos(turn), round_ * math.sin(turn)) if closed else (at - whole / 2, 0.0)
                self.bonds.seed[bead] = (*place, rise)
                at += measures[bead].along / 2
