"""Ladders, bricks, herringbone and square stitch: which beads touch, and how large the work comes out."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest

from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.form.shape import Form
from stitchalong.plan.model import Plan
from tests.form.samples import D, L, bonds, formed, plan_of, rounds_of
from tests.techniques.common import thread_of
from tests.techniques.courses_of_bricks import Bricks, chimney, wall
from tests.techniques.stacks import Stacks, upright


def bricks(first: int, *rows: tuple[str, int]) -> Plan:
    """A ladder and rows, so many of each width."""
    return plan_of(
        f'start = "ladder" ;; beads = "{first}A"',
        *(f'stitch = "brick stitch" ;; width = "{width}" ;; rows = "A" ;; height = {rows}' for width, rows in rows),
    )


def tower(around: int, rounds: int) -> Plan:
    return plan_of(
        f'start = "ladder" ;; joined = true ;; beads = "{around}A"',
        f'stitch = "tubular brick stitch" ;; rounds = "A" ;; height = {rounds - 1}',
    )


def rope(around: int, rounds: int, *more: str) -> Plan:
    return plan_of(
        f'start = "ladder" ;; joined = true ;; beads = "{around}A"',
        f'stitch = "tubular herringbone" ;; rounds = "A" ;; height = {rounds - 1}',
        *more,
    )


def tab(across: int, rows: int, *more: str) -> Plan:
    return plan_of(
        f'start = "ladder" ;; beads = "{across}A"',
        " ;; ".join(['stitch = "herringbone" ;; rows = "A"', f"height = {rows - 1}", *more]),
    )


def square(across: int, rows: int) -> Plan:
    return plan_of(
        f'start = "strand" ;; beads = "{across}A"',
        f'stitch = "square stitch" ;; rows = "A" ;; height = {rows - 1} ;; straighten = true',
    )


def _tied(course: Course, least: float) -> set[frozenset[int]]:
    return {frozenset((one.one + 1, one.other + 1)) for one in bonds(course).springs if one.stiffness > least}


def _touching(naive: Bricks | Stacks) -> set[frozenset[int]]:
    beads = range(1, naive.laid + 1)
    return {frozenset((one, other)) for one in beads for other in beads if one < other and naive.touch(one, other)}


@pytest.mark.parametrize(
    ("plan", "naive"),
    [
        (bricks(5, ("same", 4)), wall([5] * 5)),
        (bricks(2, ("one more", 4), ("same", 2), ("one fewer", 4)), wall([2, 3, 4, 5, 6, 6, 6, 5, 4, 3, 2])),
        (bricks(6, ("one fewer", 3)), wall([6, 5, 4, 3])),
        (tower(8, 4), chimney(8, 4)),
        (tower(7, 3), chimney(7, 3)),
        (tower(3, 3), chimney(3, 3)),
    ],
    ids=["as wide", "a leaf", "a point", "round", "odd round", "three"],
)
def test_bricks_touch_as_in_a_wall(plan: Plan, naive: Bricks) -> None:
    course = compile_plan(plan)
    assert course.beads == naive.laid
    assert _tied(course, 0.5) == _touching(naive)


@pytest.mark.parametrize(
    ("plan", "naive"),
    [
        (rope(8, 5), upright(8, 5, closed=True)),
        (rope(4, 4), upright(4, 4, closed=True)),
        (tab(8, 5), upright(8, 5, closed=False)),
        (tab(6, 4), upright(6, 4, closed=False)),
    ],
)
def test_beads_of_herringbone_are_tied_in_their_stacks_and_beside_each_other(plan: Plan, naive: Stacks) -> None:
    course = compile_plan(plan)
    assert course.beads == naive.laid
    touching = _touching(naive)
    tied = _tied(course, 0.5)
    assert tied <= touching
    # neighbours of two stitches are hardly held
    assert touching <= _tied(course, 0.0)
    for one, other in touching - tied:
        assert naive.place[one][0] == naive.place[other][0] > 1


@pytest.mark.parametrize(("across", "rows"), [(5, 4), (2, 6)])
def test_squares_touch_in_rows_and_columns(across: int, rows: int) -> None:
    course = compile_plan(square(across, rows))
    places = [(row, at if row % 2 == 0 else across - 1 - at) for row in range(rows) for at in range(across)]
    touching = {
        frozenset((one + 1, other + 1))
        for one, (row, column) in enumerate(places)
        for other, (other_row, other_column) in enumerate(places)
        if abs(row - other_row) + abs(column - other_column) == 1
    }
    assert _tied(course, 0.5) == touching


@pytest.mark.parametrize(
    "plan", [bricks(4, ("same", 3)), tower(6, 4), rope(6, 4), tab(6, 4), tab(6, 4, 'turning_bead = "B"'), square(4, 4)]
)
def test_the_thread_goes_only_between_beads_that_touch(plan: Plan) -> None:
    course = compile_plan(plan)
    tied = _tied(course, 0.0)
    for one, other in pairwise(thread_of(course)):
        assert one == other or frozenset((one, other)) in tied


# ---- how large it comes out ---------------------------------------------------------------------


def _off(form: Form) -> np.ndarray:
    out: np.ndarray = np.hypot(*(form.points - form.points.mean(axis=0))[:, :2].T)
    return out


@pytest.mark.parametrize("around", [6, 14])
def test_a_brick_tube_is_as_wide_as_its_beads_are_thick(around: int) -> None:
    """Beads side by side are the sides of a polygon, each D long; each round is L higher (geometry)."""
    form = formed(tower(around, 6))
    assert _off(form).mean() == pytest.approx(D / (2 * math.sin(math.pi / around)), rel=0.02)
    assert np.ptp(form.points[:, 2]) == pytest.approx(5 * L, rel=0.02)
    assert np.abs(form.holes[:, 2]).min() > 0.97
    assert form.strain < 0.0025


def test_flat_bricks_are_a_wall() -> None:
    """16 beads of 1.6 mm side by side in an inch, and a row every 1.3 mm (geometry)."""
    form = formed(bricks(8, ("same", 7)))
    extents = np.ptp(form.points, axis=0)
    # to and fro: each second row stands half a bead out
    assert extents[0] == pytest.approx(7.5 * D, rel=0.01)
    assert extents[2] == pytest.approx(7 * L, rel=0.01)
    assert extents[1] < 0.1
    assert np.abs(form.holes[:, 2]).min() > 0.99


def test_bricks_that_widen_make_a_bell() -> None:
    """Three beads more in the second round: from nine round to twelve, D each."""
    form = formed(
        plan_of(
            'start = "ladder" ;; joined = true ;; beads = "9A"',
            'stitch = "tubular brick stitch" ;; rounds = "*2A, AA* 3 times (12 beads)"',
            'stitch = "tubular brick stitch" ;; rounds = "A" ;; height = 5',
        )
    )
    last = rounds_of(form)[-1]
    off = np.hypot(*(last - last.mean(axis=0))[:, :2].T)
    assert off.mean() == pytest.approx(D / (2 * math.sin(math.pi / 12)), rel=0.03)


@pytest.mark.parametrize("around", [8, 12])
def test_a_herringbone_tube_has_straight_columns(around: int) -> None:
    """As wide as its beads are thick, L higher each round, and each stack right above its bead of the ladder: steps of
    herringbone do not drift (rojagatodesigns.blogspot.com/2008/12, cited after the trade's pages)."""
    form = formed(rope(around, 7))
    assert _off(form).mean() == pytest.approx(D / (2 * math.sin(math.pi / around)), rel=0.02)
    assert np.ptp(form.points[:, 2]) == pytest.approx(6 * L, rel=0.02)
    for column in range(around):
        stack = form.points[column::around]
        assert np.ptp(stack[:, :2], axis=0).max() < 0.15 * D


def test_the_beads_of_a_stitch_lean_together() -> None:
    form = formed(tab(6, 4))
    for one in range(form.beads - 6, form.beads, 2):
        way = form.points[one + 1] - form.points[one]
        # both holes run upward; at the top they are nearer
        up = np.array([0.0, 0.0, 1.0])
        here, there = (form.holes[bead] * np.sign(form.holes[bead] @ up) for bead in (one, one + 1))
        assert here @ way > 0.1 > -0.1 > there @ way


def test_herringbone_that_widens_has_twice_the_stacks() -> None:
    """Four stitches become eight: sixteen beads round where there were eight."""
    form = formed(
        rope(
            8,
            4,
            'stitch = "tubular herringbone" ;; between = "A" ;; rounds = "A" ;; height = 2',
            'stitch = "tubular herringbone" ;; rounds = "A" ;; height = 4',
        )
    )
    narrow, wide = rounds_of(form)[0], rounds_of(form)[-1]
    radii = [np.hypot(*(part - part.mean(axis=0))[:, :2].T).mean() for part in (narrow, wide)]
    assert radii[0] == pytest.approx(D / (2 * math.sin(math.pi / 8)), rel=0.03)
    assert radii[1] == pytest.approx(D / (2 * math.sin(math.pi / 16)), rel=0.05)
    assert form.strain < 0.0025


def test_square_stitch_is_as_wide_as_its_beads_are_long() -> None:
    """19.5 beads in an inch of a row at 1.3 mm, 16 rows at 1.6 mm (geometry)."""
    form = formed(square(8, 10))
    extents = np.ptp(form.points, axis=0)
    assert extents[0] == pytest.approx(7 * L, rel=0.01)
    assert extents[2] == pytest.approx(9 * D, rel=0.01)
    assert np.abs(form.holes[:, 0]).min() > 0.99


def test_a_ladder_alone_stands_upright() -> None:
    form = formed(plan_of('start = "ladder" ;; beads = "6A"'))
    assert np.abs(form.holes[:, 2]) == pytest.approx(np.ones(6), abs=1e-3)
    assert np.ptp(form.points[:, 0]) == pytest.approx(5 * D, rel=0.01)
