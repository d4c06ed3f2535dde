"""Flat rows, spirals and drops: which beads touch, against plain columns of beads; how large they come out."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest

from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.form.bonds import FIRM
from stitchalong.form.holes import holes
from stitchalong.plan.model import Plan
from tests.form.samples import D, L, bonds, formed, plan_of, tube
from tests.techniques import columns
from tests.techniques.common import thread_of


def strip(across: int, rows: int, *more: str, drop: int = 1) -> Plan:
    """So many groups across and rows, the two strung ones among them."""
    return plan_of(
        f'start = "strung row" ;; beads = "{across * drop}A" ;; drop = {drop}',
        " ;; ".join(['stitch = "flat peyote" ;; rows = "A"', f"height = {rows - 2}", *more]),
    )


def spiral(around: int, stitches: int) -> Plan:
    laps = 2 * stitches // around
    return plan_of(
        f'start = "odd tube" ;; beads = "{around}A"', f'stitch = "spiral peyote" ;; pattern = "A" ;; height = {laps}'
    )


def dropped(around: int, rounds: int, drop: int) -> Plan:
    """A tube of so many groups strung."""
    return plan_of(
        f'start = "drop tube" ;; beads = "{around * drop}A" ;; drop = {drop}',
        f'stitch = "drop peyote" ;; rounds = "A" ;; height = {rounds - 2}',
    )


def _tied(course: Course) -> set[frozenset[int]]:
    """Beads that are held together, by number."""
    return {frozenset((one.one + 1, one.other + 1)) for one in bonds(course).springs if one.stiffness == FIRM}


@pytest.mark.parametrize(
    ("plan", "naive"),
    [
        (strip(6, 8), columns.flat(6, 8)),
        (strip(2, 5), columns.flat(2, 5)),
        (strip(7, 9, 'turn = "under thread"'), columns.flat(7, 9)),
        (strip(7, 9, 'turn = "figure eight"'), columns.flat(7, 9)),
        (strip(5, 8, 'turn = "through the edge"'), columns.flat(5, 8)),
        (spiral(9, 45), columns.odd_tube(9, 45)),
        (spiral(7, 21), columns.odd_tube(7, 21)),
        (tube(12, 5), columns.even_tube(12, 7)),
    ],
    ids=["even", "two across", "under thread", "figure eight", "through the edge", "spiral", "small spiral", "tube"],
)
def test_the_same_beads_touch_as_in_columns(plan: Plan, naive: columns.Columns) -> None:
    course = compile_plan(plan)
    assert course.beads == naive.laid
    assert _tied(course) == naive.pairs


@pytest.mark.parametrize("drop", [2, 3])
def test_of_groups_each_bead_sits_on_its_own_column(drop: int) -> None:
    """Beads of one column sit on each other, and all others that are held together lie in neighbouring columns."""
    for plan, naive in (
        (strip(4, 7, drop=drop), columns.flat(4, 7, drop)),
        (strip(5, 7, drop=drop), columns.flat(5, 7, drop, outside=lambda row: row % 2 == 1)),
        (dropped(6, 5, drop), columns.even_tube(6, 5, drop)),
    ):
        course = compile_plan(plan)
        assert course.beads == naive.laid
        found = bonds(course)
        stacked = {frozenset((low + 1, top + 1)) for low, top in found.columns}
        assert stacked == {frozenset(pair) for stack in naive.stacks for pair in pairwise(stack)}
        assert _tied(course) <= naive.pairs


TURNS = [
    strip(7, 9, f'turn = "{turn}"', *more)
    for turn, more in (
        ("figure eight", ()),
        ("under thread", ()),
        ("through the edge", ()),
        ("turning bead", ('turning_bead = "B"',)),
    )
]


@pytest.mark.parametrize("plan", [*TURNS, strip(6, 6), strip(4, 6, drop=2), spiral(9, 30), dropped(6, 5, 2)])
def test_the_thread_goes_only_between_beads_that_touch(plan: Plan) -> None:
    course = compile_plan(plan)
    tied = {frozenset((one.one + 1, one.other + 1)) for one in bonds(course).springs}
    for one, other in pairwise(thread_of(course)):
        assert one == other or frozenset((one, other)) in tied


def test_a_turning_bead_hangs_at_the_edge() -> None:
    plan = TURNS[3]
    course = compile_plan(plan)
    form = formed(plan)
    small = [bead for bead in range(course.beads) if form.materials[int(form.material[bead])].code == "B"]
    assert len(small) == 4  # rows 3, 5, 7, 9
    others = np.delete(form.points, small, axis=0)
    edge = others[:, 0].max() if form.points[small, 0].mean() > others[:, 0].mean() else -others[:, 0].min()
    assert np.all(np.abs(form.points[small, 0]) > abs(edge) - 0.2)


def test_a_strip_is_as_wide_as_its_columns_and_as_long_as_its_rows() -> None:
    """19.5 columns and 31.75 rows in an inch at 1.6 × 1.3 mm (geometry; usually quoted: 18 to 20, and 30 to 34)."""
    for across, rows, drop in ((10, 20, 1), (9, 21, 1), (5, 11, 2)):
        form = formed(strip(across, rows, drop=drop))
        # along the holes, through the work, and square to both
        across_way = form.holes[0]
        through = np.linalg.svd(form.points - form.points.mean(axis=0))[2][2]
        wide, thin, long = (np.ptp(form.points @ way) for way in (across_way, through, np.cross(across_way, through)))
        assert 25.4 * (across * drop - 1) / wide == pytest.approx(19.5, rel=0.01)
        assert 25.4 * (rows - 1) / long == pytest.approx(31.75, rel=0.01)
        assert thin < 0.2 * D
        assert np.abs(form.holes @ across_way).min() > 0.99
        # and lying otherwise, too: each is known, none is a guess
        found = bonds(compile_plan(strip(across, rows, drop=drop)))
        turned = np.roll(form.points, 1, axis=1)
        assert np.abs(holes(turned, found.neighbours, found.columns) @ np.roll(across_way, 1)).min() > 0.99


def test_a_spiral_is_as_wide_as_its_beads_are_long() -> None:
    """Round it goes one bead's length for each bead of the ring, and each bead covers L · D of it (310 beads in a
    square inch of 1.6 × 1.3 mm: geometry)."""
    form = formed(spiral(9, 108))
    inner = form.points[18:-18]
    off = np.hypot(*(inner - form.points.mean(axis=0))[:, :2].T)
    assert 2 * off.mean() == pytest.approx(9 * L / math.pi, rel=0.03)
    tall = np.ptp(form.points[:, 2])
    assert form.beads * L * D == pytest.approx(9 * L * tall, rel=0.05)


@pytest.mark.parametrize("drop", [2, 3])
def test_groups_are_as_long_as_their_beads_together(drop: int) -> None:
    form = formed(dropped(8, 6, drop))
    off = np.hypot(*(form.points - form.points.mean(axis=0))[:, :2].T)
    assert 2 * off.mean() == pytest.approx(8 * drop * L / math.pi, rel=0.02)
    assert np.ptp(form.points[:, 2]) == pytest.approx(5 * D / 2, rel=0.02)
