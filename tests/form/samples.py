"""Pieces to take the form of, and what is read off a form."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.form.bonds import Bonds, Measure
from stitchalong.form.derive import bonds_of
from stitchalong.form.shape import Form
from stitchalong.form.whole import form_of
from stitchalong.plan.model import Plan
from stitchalong.plan.read import read_text

D, L = 1.6, 1.3
"""mm: a cylinder of size 11/0, beadmechanics.com/2019/11/17/flat-peyote-octagon"""

_HEAD = 'title = "A piece"\n' + "".join(
    f'[beads.{code}]\nname = "bead {code}"\ncolour = "{colour}"\nsize = "11/0"\nshape = "{shape}"\n'
    for code, colour, shape in (
        ("A", "#804020", "cylinder"),
        ("B", "#208040", "cylinder"),
        ("M", "#e0b020", "cylinder"),
        ("R", "#a0a0c0", "round"),
    )
)


def plan_of(*work: str) -> Plan:
    """A plan of these [[work]] tables, `;;` between lines."""
    tables = "".join("[[work]]\n" + "\n".join(line.strip() for line in one.split(";;")) + "\n" for one in work)
    return read_text(_HEAD + tables, "test.toml").plan


def disc(ribs: int, codes: Sequence[int], rounds: int) -> Plan:
    """A disc from a ring of `ribs` beads, its corners by a cycle of codes.

    2 and 3 lay so many in the corner, 1 lays one, and then the corner is a bead: 0. The ring counts as a 1, so that the
    cycle begins with its 0, where it has one.
    """
    cycle = list(codes)
    if 0 in cycle:
        cycle = cycle[cycle.index(0) :] + cycle[: cycle.index(0)]
    written: list[str] = []
    sides = 0
    for nth in range(rounds - 1):
        code = cycle[nth % len(cycle)]
        corner = {2: "AA", 3: "corner AAA"}.get(code)
        side = f"{sides}A, " if sides else ""
        written.append(f'"*{side}{corner}; repeat from * around"' if corner else '"A"')
        sides += code > 1
    return plan_of(f'start = "ring" ;; beads = "{ribs}A"', f'stitch = "peyote" ;; rounds = [{", ".join(written)}]')


def tube(beads: int, rounds: int, code: str = "A") -> Plan:
    """So many beads strung, and so many rounds on them."""
    return plan_of(
        f'start = "tube" ;; beads = "{beads}{code}"', f'stitch = "peyote" ;; rounds = ["{code}"] ;; height = {rounds}'
    )


def fins(side: int, ribs: int, rounds: int, *more: str) -> Plan:
    """A band with ribs over its markers from round 2 on."""
    return plan_of(
        f'start = "MRAW band" ;; frame = "A" ;; spacers = "*{side}A, M* {ribs} times"',
        f'stitch = "peyote" ;; edge = "top" ;; rounds = ["A"] ;; height = {rounds} ;; '
        'increase = { over = "M", from_round = 2 }',
        *more,
    )


@lru_cache(maxsize=64)
def formed(plan: Plan, seed: int = 0) -> Form:
    """Made once, whoever asks: nobody changes it."""
    return form_of(compile_plan(plan), plan, seed=seed)


def bonds(course: Course) -> Bonds:
    """As if all were cylinders of size 11/0."""
    return bonds_of(course, [Measure(D, L)] * course.beads)


def spread(points: NDArray[np.float64]) -> NDArray[np.float64]:
    """Root mean squares of the distance from the middle along the three main axes, largest first, in mm: a form's
    extents, however it lies."""
    own = points - points.mean(axis=0)
    out: NDArray[np.float64] = np.linalg.svd(own, compute_uv=False) / math.sqrt(len(points))
    return out


def rounds_of(form: Form) -> list[NDArray[np.float64]]:
    """The points of each round."""
    return [form.points[a:b] for a, b in zip((0, *form.stops), form.stops, strict=False)]
