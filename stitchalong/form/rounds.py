"""The bonds of a round of peyote on a closed edge, and the edge that it leaves."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise

from stitchalong.fabric.stitch import Kind, Stitch
from stitchalong.form.bonds import NONE, WEAK, Birth, Bonds
from stitchalong.form.edges import Body, Edge, Gap
from stitchalong.form.starts import kite

_RIB = 60.0
"""degrees between the rows of a rib where two beads lie inside a pair"""
_LOOP = 120.0
"""degrees between neighbours of a picot"""

GIVE = 0.005
"""stiffness in ribs with corners of three. Laid flat, four such corners leave the two beads of a pair up to 1.2 mm less
than two cylinders at a right angle take (geometry); published squares of this kind do lie flat: there the thread gives,
and the beads turn."""

Laid = tuple[Stitch, tuple[int, ...]]
"""a stitch and the beads that it picked up"""


def stitches(runs: Iterable[tuple[Stitch, int]], first: int) -> Iterator[Laid]:
    """The stitches of a round that visit spaces, with their beads, the first being bead `first`."""
    bead = first
    for stitch, count in runs:
        for _ in range(count):
            beads = tuple(range(bead, bead + len(stitch.beads)))
            bead += len(beads)
            if stitch.visits_space:
                yield stitch, beads


class Rounds:
    """Works rounds on edges. `ribs` are the single beads that stand in ribs."""

    def __init__(self, bonds: Bonds) -> None:
        self.bonds = bonds
        self._ribs: set[int] = set()
        self._gives = False
        """whether there are corners of three"""
        self._hung: dict[int, tuple[int, int]] = {}
        """bead -> the two up beads of its space"""

    def work(self, edge: Edge, begin: int, laid: Iterable[Laid], *, fill: bool = False) -> Edge:
        """Work one round, from space `begin` on. `fill`: into the spaces between a band's bottom beads."""
        ups: list[Body] = []
        gaps: list[Gap] = []
        under: tuple[int, ...] = ()
        """beads passed since the last up bead of this round"""
        head: tuple[int, ...] = ()
        for nth, (stitch, beads) in enumerate(laid):
            left, right, gap = edge.space(begin + nth)
            under = under or edge.body(begin + nth)
            if not beads:
                self._pass(left, right, gap)
                under = (*under, *edge.body(begin + nth + 1))
                continue
            self._lay(stitch, left, beads, right, gap, fill)
            if ups:
                gaps.append(self._gap(under))
            else:
                head = under
            ups.extend([beads] if stitch.kind is Kind.GROUP else [(beads[at],) for at in stitch.ups])
            gaps.extend(self._within(stitch, beads))
            under = ()
        gaps.append(self._gap((*under, *head[len(edge.body(begin)) :]) if under else head))
        return Edge(tuple(ups), tuple(gaps))

    def _gap(self, under: tuple[int, ...]) -> Gap:
        return Gap(under, len(under) > 1 or under[0] in self._ribs)

    def _within(self, stitch: Stitch, beads: tuple[int, ...]) -> Iterator[Gap]:
        """The spaces between the up beads of one stitch."""
        for one, other in pairwise(stitch.ups):
            yield Gap(beads[one + 1 : other], True)

    def _pass(self, left: int, right: int, gap: Gap) -> None:
        """A space left empty: its up beads are drawn together."""
        self.bonds.tie(left, right, self.bonds.end(left, right))
        self.bonds.thread(left, right)
        if gap.under:
            self.bonds.cell(left, right, *reversed(gap.under))

    def _lay(self, stitch: Stitch, left: int, beads: tuple[int, ...], right: int, gap: Gap, fill: bool) -> None:
        first = len(self.bonds.springs)
        self._tie(stitch, left, beads, right, gap, fill)
        self._gives = self._gives or stitch.kind is Kind.CORNER
        if self._gives and (len(beads) > 1 or gap.rib):
            self._loosen(first, set(beads))
        elif self._gives:
            self._loosen(first, self._ribs)

    def _loosen(self, first: int, beads: set[int]) -> None:
        """Let springs give, from this one on, that hold one of these beads."""
        springs = self.bonds.springs
        for at in range(first, len(springs)):
            if springs[at].one in beads or springs[at].other in beads:
                springs[at] = replace(springs[at], stiffness=min(GIVE, springs[at].stiffness))

    def _tie(self, stitch: Stitch, left: int, beads: tuple[int, ...], right: int, gap: Gap, fill: bool) -> None:
        bonds = self.bonds
        bonds.tie(left, beads[0], bonds.side(left, beads[0]))
        bonds.tie(beads[-1], right, bonds.side(beads[-1], right))
        for one, other in zip((left, *beads), (*beads, right), strict=True):
            bonds.thread(one, other)
        self._give_birth(left, beads, right, gap)
        under = gap.under[0] if len(gap.under) == 1 else None
        if gap.net:
            self._chain(beads, _LOOP)
            bonds.cell(left, *beads, right, *reversed(gap.under))
        elif len(gap.under) > 1:
            self._over_several(stitch, left, beads, right, gap)
        elif fill and under is not None and len(beads) == 1:
            kite(bonds, left, beads[0], right, under)
        elif len(beads) == 1:
            self._single(left, beads[0], right, gap, under)
        elif stitch.kind is Kind.PAIR:
            self._together(left, beads, right, under)
        elif stitch.kind is Kind.GROUP:
            self._as_one(left, beads, right, under)
        else:
            self._loop(stitch, left, beads, right, under)

    def _give_birth(self, left: int, beads: tuple[int, ...], right: int, gap: Gap) -> None:
        away = gap.under or tuple({bead: None for up in (left, right) for bead in self._hung.get(up, ())})
        number = len(beads)
        for nth, bead in enumerate(beads):
            reach = 0.5 if number == 1 else 0.8 if number == 2 else 0.4 + 0.5 * min(nth + 1, number - nth)
            self.bonds.births[bead] = Birth((left, right), (nth + 1) / (number + 1), away, reach)
            self._hung[bead] = (left, right)

    def _single(self, left: int, bead: int, right: int, gap: Gap, under: int | None) -> None:
        bonds = self.bonds
        if gap.rib:
            self._ribs.add(bead)
        if under is None:
            bonds.cell(left, bead, right)
            return
        bonds.sit(bead, under)
        if not gap.rib:
            bonds.stiffen(under, bead)
        bonds.cell(left, bead, under)
        bonds.cell(bead, right, under)

    def _over_several(self, stitch: Stitch, left: int, beads: tuple[int, ...], right: int, gap: Gap) -> None:
        """Over beads that were drawn together, or passed as one."""
        bonds = self.bonds
        self._chain(beads, 180 if stitch.kind is Kind.GROUP else _LOOP)
        if len(beads) == 1:
            self._ribs.add(beads[0])
            for under in gap.under:
                high, wide = bonds.over(under, beads[0]), bonds.measures[under].along / 2
                bonds.tie(under, beads[0], math.hypot(high, wide), WEAK)
        bonds.cell(left, *beads, right, *reversed(gap.under))

    def _chain(self, beads: tuple[int, ...], angle: float) -> None:
        for one, other in pairwise(beads):
            self.bonds.tie(one, other, self.bonds.rim(one, other, angle))

    def _together(self, left: int, beads: tuple[int, ...], right: int, under: int | None) -> None:
        """Two (or more) beads in one space, each an up bead."""
        bonds = self.bonds
        if under is None:
            self._inside(left, beads, right)
            return
        for one, other in pairwise(beads):
            bonds.tie(one, other, bonds.over(one, other))
        for bead in beads:
            bonds.tie(under, bead, math.hypot(bonds.over(under, bead), bonds.measures[bead].across / 2), NONE)
        for one, other in zip((left, *beads), (*beads, right), strict=True):
            bonds.cell(one, other, under)

    def _inside(self, left: int, beads: tuple[int, ...], right: int) -> None:
        bonds = self.bonds
        self._chain(beads, _RIB)
        if len(beads) != 2:
            bonds.cell(left, *beads, right)
            return
        one, other = beads
        low, high = bonds.apart(left, right), bonds.apart(one, other)
        rise = (bonds.side(left, one) + bonds.side(other, right)) / 2
        for bead, across in ((one, right), (other, left)):
            bonds.tie(bead, across, math.hypot(rise, (low + high) / 2), WEAK)
        bonds.cell(left, one, other, right, points=((-low / 2, 0), (-high / 2, rise), (high / 2, rise), (low / 2, 0)))
        bonds.level({left: 1.0, one: -1.0, other: 1.0, right: -1.0})

    def _as_one(self, left: int, beads: tuple[int, ...], right: int, under: int | None) -> None:
        """Beads laid end to end that are passed through together."""
        bonds = self.bonds
        self._chain(beads, 180)
        if under is not None:
            for bead in beads:
                bonds.tie(under, bead, math.hypot(bonds.over(under, bead), bonds.measures[bead].along / 2), WEAK)
        bonds.cell(left, *beads, right, *(() if under is None else (under,)))

    def _loop(self, stitch: Stitch, left: int, beads: tuple[int, ...], right: int, under: int | None) -> None:
        """A picot, or a corner of three."""
        bonds = self.bonds
        if stitch.kind is Kind.CORNER and under is not None and len(beads) == 3:
            self._corner(left, beads, right, under)
            return
        self._chain(beads, _LOOP)
        bonds.cell(left, *beads, right, *(() if under is None else (under,)))
        if len(beads) % 2 and len(beads) > 2:
            self._stand(left, beads, right)

    def _corner(self, left: int, beads: tuple[int, ...], right: int, under: int) -> None:
        """The middle of three sits on the bead below; the outer two stand half a row higher."""
        bonds = self.bonds
        middle = beads[1]
        bonds.sit(middle, under)
        for outer in (beads[0], beads[2]):
            bonds.tie(outer, middle, bonds.side(outer, middle))
            bonds.tie(under, outer, math.hypot(bonds.over(under, middle), bonds.side(outer, middle)), NONE)
        for one, other in zip((left, *beads), (*beads, right), strict=True):
            bonds.cell(one, other, under)

    def _stand(self, left: int, beads: tuple[int, ...], right: int) -> None:
        """A loop goes on in the plane of the work."""
        bonds = self.bonds
        middle = len(beads) // 2
        wide, narrow = 2 * bonds.end(left, beads[0]), bonds.measures[beads[middle]].across
        foot = math.sqrt(max(0.1, bonds.side(left, beads[0]) ** 2 - ((wide - narrow) / 2) ** 2))
        tip = bonds.apart(beads[middle - 1], beads[middle]) / 2
        mean = (foot + tip) / 2
        weights = {beads[middle]: mean / tip}
        for bead in (beads[middle - 1], beads[middle + 1]):
            weights[bead] = weights.get(bead, 0.0) - (mean / tip + mean / foot) / 2
        for bead in (left, right):
            weights[bead] = weights.get(bead, 0.0) + mean / foot / 2
        bonds.level(weights)
