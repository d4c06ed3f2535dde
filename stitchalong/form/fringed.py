"""The bonds of what ends an edge: picots and other stitches between its up beads, and strands of fringe.

A strand's beads lie end to end; where it turns at its tip the last ones lie across. It goes on in the plane of the
work, straight: how it falls is not reckoned.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from stitchalong.fabric.stitch import Kind
from stitchalong.form.bonds import WEAK, Birth, Bonds
from stitchalong.form.thread import Entry, Group, Strand

_TIP = 120.0
"""degrees between the beads of a tip, or of a picot"""


class Fringed:
    """Works the last round of an edge."""

    def __init__(self, bonds: Bonds, strand: Strand) -> None:
        self.bonds = bonds
        self._strand = strand
        self._beside: dict[int, list[int]] = {}
        """what each bead is tied to, in the work that this hangs from"""

    def work(self, index: int, *, fringe: bool) -> None:
        """A round of edging or of fringe."""
        for spring in self.bonds.springs:
            self._beside.setdefault(spring.one, []).append(spring.other)
            self._beside.setdefault(spring.other, []).append(spring.one)
        entries = list(self._strand.entries(index))
        item = self._strand.course.rounds[index]
        needle = entries[-1].through[-1] if not item.flat else self._last_of(item.below)
        for entry in entries:
            if entry.beads:
                behind = [bead for bead in entry.through if bead not in entry.beads]
                if fringe:
                    self._hang(entry, needle, behind[0])
                else:
                    self._stand(entry, needle, behind[0])
            needle = entry.through[-1]

    def _last_of(self, index: int) -> int:
        """Where the needle comes out behind a round."""
        way = [bead for entry in self._strand.entries(index) for bead in (*entry.beads, *entry.through)]
        return way[-1]

    def _inner(self, left: int, right: int) -> Group:
        """What lies behind these two, on the side of the work."""
        return tuple({bead: None for up in (left, right) for bead in self._beside[up] if bead not in (left, right)})

    def _hang(self, entry: Entry, left: int, right: int) -> None:
        bonds, beads = self.bonds, entry.beads
        back = sum(bead in beads for bead in entry.through)
        for up in (left, right):
            bonds.tie(up, beads[0], bonds.corner(up, beads[0]))
        for nth, (one, other) in enumerate(pairwise(beads), start=1):
            bonds.tie(one, other, bonds.end(one, other) if nth < back else bonds.rim(one, other, _TIP))
            bonds.thread(one, other)
        if len(beads) - back > 1:
            # the tip closes on the last bead that the thread goes back through
            bonds.tie(beads[back - 1], beads[-1], bonds.rim(beads[back - 1], beads[-1], _TIP))
        for one, middle, other in zip(beads, beads[1:back], beads[2:back], strict=False):
            bonds.tie(one, other, bonds.end(one, middle) + bonds.end(middle, other), WEAK)
        self._down(beads[0], left, right, bonds.corner(left, beads[0]))
        bonds.lies(beads[0], left, -0.5)
        bonds.lies(beads[0], right, -0.5)
        away: Group = (left, right)
        for before, bead in pairwise(beads):
            reach = bonds.apart(before, bead) / bonds.measures[bead].across
            bonds.births[bead] = Birth((before, before), 0.0, away, reach)
            away = (before,)

    def _stand(self, entry: Entry, left: int, right: int) -> None:
        """One stitch of an edging."""
        bonds, beads = self.bonds, entry.beads
        bonds.tie(left, beads[0], bonds.side(left, beads[0]))
        bonds.tie(beads[-1], right, bonds.side(beads[-1], right))
        angle = 180.0 if entry.kind is Kind.GROUP else _TIP
        for one, other in pairwise(beads):
            bonds.tie(one, other, bonds.rim(one, other, angle))
        for one, other in pairwise((left, *beads, right)):
            bonds.thread(one, other)
        inner = self._inner(left, right)
        for nth, bead in enumerate(beads):
            reach = 0.5 + 0.5 * min(nth, len(beads) - 1 - nth)
            bonds.births[bead] = Birth((left, right), (nth + 1) / (len(beads) + 1), inner, reach)
        if len(beads) % 2:
            self._plane(beads[len(beads) // 2], left, right, inner, len(beads) / 2 * bonds.measures[beads[0]].across)

    def _down(self, bead: int, left: int, right: int, far: float) -> None:
        """The first bead of a strand."""
        inner = self._inner(left, right)
        reach = far / math.sqrt(2) / self.bonds.measures[bead].across
        self.bonds.births[bead] = Birth((left, right), 0.5, inner, reach)
        self._plane(bead, left, right, inner, far / math.sqrt(2))

    def _plane(self, bead: int, left: int, right: int, inner: Sequence[int], far: float) -> None:
        """The bead goes on in the plane in which the work comes up to these two."""
        share = far / self.bonds.measures[left].across
        weights = {bead: 1.0}
        for up in (left, right):
            weights[up] = weights.get(up, 0.0) - (1 + share) / 2
        for low in inner:
            weights[low] = weights.get(low, 0.0) + share / len(inner)
        self.bonds.level(weights)
