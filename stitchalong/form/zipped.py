"""Seams: edges of which the up beads stand in each other's gaps, drawn together.

Each part is grown by itself first. A strip is then rolled up; of two parts the second is laid face to face with the
first, seam on seam. Then all comes to rest together.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from stitchalong.course.course import Course
from stitchalong.fabric.stitch import Kind
from stitchalong.form.bonds import FIRM, Bonds, Measure, Neighbour, Stencil
from stitchalong.form.thread import Strand

Points = NDArray[np.float64]
"""shape (beads, 3)"""


@dataclass(frozen=True, slots=True)
class Seam:
    """Beads of the whole piece, from 0, that a seam brings side by side."""

    pairs: tuple[tuple[int, int], ...]
    """in the order of the thread"""


def seams(course: Course, beads: int) -> list[Seam]:
    """The seams that are closed when so many beads are stitched; at the very end the last one is, too."""
    found: list[Seam] = []
    for index, item in enumerate(course.rounds):
        before = item.first_bead - 1
        if item.technique != "zip" or not (before < beads or before == beads == course.beads):
            continue
        entries = [entry for entry in Strand(course, 0).entries(index) if entry.kind is Kind.JOIN]
        way = [bead for entry in entries for bead in entry.through]
        if entries[0].detail == "gap":
            way.insert(0, way[-1])
        # beads with numbers in a row are of one group
        found.append(Seam(tuple((one, other) for one, other in pairwise(way) if abs(one - other) != 1)))
    return found


def rolled(points: Points, pairs: Sequence[tuple[int, int]]) -> Points:
    """A flat strip rolled up, its first row towards its last."""
    rows = sorted({bead for pair in pairs for bead in pair})
    low = np.array([bead for bead in rows if bead < len(points) / 2])
    high = np.array([bead for bead in rows if bead >= len(points) / 2])
    first = points[low] - points[low].mean(axis=0)
    along = np.linalg.svd(first)[2][0]
    up = points[high].mean(axis=0) - points[low].mean(axis=0)
    up -= along * float(up @ along)
    tall = math.sqrt(float(up @ up))
    own = points - points[low].mean(axis=0)
    # all rows are as far from each other as the last is from the first, behind it
    around = tall * len(points) / (len(points) - len(low))
    angle = 2 * math.pi * (own @ up) / tall / around
    radius = around / (2 * math.pi)
    return np.stack((radius * np.cos(angle), radius * np.sin(angle), own @ along), axis=1)


def faced(one: Points, other: Points, pairs: Sequence[tuple[int, int]], thick: float) -> Points:
    """Where the second part lies, seam on seam with the first. `pairs`: (bead of the first, bead of the second).

    The turn that brings points nearest to others is Kabsch's (Acta Crystallographica A32, 1976, 922; from memory).
    """
    partners: dict[int, list[int]] = {}
    for mine, theirs in pairs:
        partners.setdefault(theirs, []).append(mine)
    seam = np.array(list(partners))
    aim = np.array([one[mine].mean(axis=0) for mine in partners.values()])
    middle, target = other[seam].mean(axis=0), aim.mean(axis=0)
    left, _, right = np.linalg.svd((other[seam] - middle).T @ (aim - target))
    flip = np.diag([1.0, 1.0, np.sign(np.linalg.det(left @ right))])
    turned = (other - middle) @ (left @ flip @ right) + target
    across = np.linalg.svd(aim - target)[2][2]
    belly = float((one.mean(axis=0) - target) @ across)
    out: Points = turned - across * math.copysign(thick, belly)
    return out


def together(parts: Sequence[tuple[Bonds, int]], pairs: Sequence[tuple[int, int]]) -> Bonds:
    """The bonds of parts laid one behind the other, each of so many beads, and of the seam between them."""
    measures: list[Measure] = []
    out = Bonds(measures)
    for bonds, beads in parts:
        base = len(measures)
        measures += bonds.measures[:beads]
        for spring in bonds.springs:
            if max(spring.one, spring.other) < beads:
                out.tie(spring.one + base, spring.other + base, spring.rest, spring.stiffness)
        out.stencils += [
            Stencil(tuple((bead + base, weight) for bead, weight in one.weights), one.stiffness)
            for one in bonds.stencils
            if max(bead for bead, _ in one.weights) < beads
        ]
        out.neighbours += [
            Neighbour(one.bead + base, one.other + base, one.end)
            for one in bonds.neighbours
            if max(one.bead, one.other) < beads
        ]
        out.columns += [(low + base, top + base) for low, top in bonds.columns if max(low, top) < beads]
        out.upright += [bead + base for bead in bonds.upright if bead < beads]
        out.full = out.full or bonds.full
    known = {frozenset((one.one, one.other)) for one in out.springs}
    for one, other in pairs:
        if frozenset((one, other)) not in known:
            out.tie(one, other, out.side(one, other))
    if len(parts) == 1:
        _sheet(out, pairs)
    return out


def _sheet(bonds: Bonds, pairs: Sequence[tuple[int, int]]) -> None:
    """Across the seam of a strip the work goes on as within it: each bead sits on one of the other row but one."""
    beside: dict[int, set[int]] = {}
    for spring in bonds.springs:
        if spring.stiffness == FIRM:
            beside.setdefault(spring.one, set()).add(spring.other)
            beside.setdefault(spring.other, set()).add(spring.one)
    for (before, bead), (same, after) in pairwise(pairs):
        if same != bead:
            continue
        across = (beside[before] & beside[after]) - {bead}
        if len(across) == 1:
            low = across.pop()
            bonds.sit(bead, low)
            bonds.stiffen(low, bead)
            bonds.cell(before, bead, low)
            bonds.cell(bead, after, low)
    bonds.finish()
