"""Seams: strips rolled up, parts laid face to face."""

from __future__ import annotations

import math

import numpy as np
import pytest

from stitchalong.course.compile import compile_plan
from stitchalong.form.bonds import Measure
from stitchalong.form.energy import reach
from stitchalong.form.shape import Form
from stitchalong.form.whole import form_of
from stitchalong.form.zipped import faced, seams
from stitchalong.plan.model import Plan
from tests.form.samples import D, L, formed, plan_of, spread

SIDE = math.hypot(L, D / 2)
"""mm between neighbours half a row apart (geometry)"""


def strip(across: int, rows: int, *, drop: int = 1) -> Plan:
    return plan_of(
        f'start = "strung row" ;; beads = "{across * drop}A" ;; drop = {drop}',
        f'stitch = "flat peyote" ;; rows = "A" ;; height = {rows - 2}',
        'zip = "main"',
    )


def purse(ribs: int, rounds: int, more: int = 1) -> Plan:
    """Two discs of equal edges, the second one plain round larger, zipped all around."""
    return plan_of(
        f'start = "ring" ;; part = "front" ;; beads = "{ribs}A"',
        f'stitch = "peyote" ;; rounds = ["A"] ;; increase = {{ at = "every space" }} ;; height = {rounds}',
        f'start = "ring" ;; part = "back" ;; beads = "{ribs}B"',
        f'stitch = "peyote" ;; rounds = ["B"] ;; increase = {{ at = "every space" }} ;; height = {rounds}',
        *['stitch = "peyote" ;; rounds = "B"'] * more,
        'zip = ["back", "front"]',
    )


def _gaps(plan: Plan, form: Form) -> np.ndarray:
    (seam,) = seams(compile_plan(plan), form.beads)
    one, other = (np.array(some) for some in zip(*seam.pairs, strict=True))
    out: np.ndarray = np.linalg.norm(form.points[one] - form.points[other], axis=1)
    return out


@pytest.mark.parametrize(("across", "rows", "drop"), [(8, 24, 1), (10, 12, 1), (4, 20, 2)])
def test_a_strip_rolled_up_is_as_wide_as_its_rows_are_many(across: int, rows: int, drop: int) -> None:
    """Mid-surface length = rows · D / 2 of a strip whose rows run round (the trade's gauge of a peyote band: geometry);
    its holes run along it, thesprucecrafts.com on tubes of flat and of tubular peyote."""
    plan = strip(across, rows, drop=drop)
    form = formed(plan)
    off = np.hypot(*(form.points - form.points.mean(axis=0))[:, :2].T)
    assert off.mean() == pytest.approx(rows * D / 2 / (2 * math.pi), rel=0.06)
    assert off.min() > 0.7 * off.mean()
    assert np.ptp(form.points[:, 2]) == pytest.approx((across * drop - 1) * L, rel=0.03)
    assert np.abs(form.holes[:, 2]).min() > 0.9
    assert _gaps(plan, form) == pytest.approx(np.full(len(_gaps(plan, form)), SIDE), rel=0.05)
    assert form.doubts == ()


@pytest.mark.parametrize(("ribs", "rounds"), [(3, 4), (3, 6)])
def test_two_parts_lie_face_to_face_and_interlock(ribs: int, rounds: int) -> None:
    plan = purse(ribs, rounds)
    form = formed(plan)
    gaps = _gaps(plan, form)
    course = compile_plan(plan)
    # every up bead of either edge has one of the other on both sides
    assert len(gaps) == 2 * course.rounds[-2].spaces
    assert np.median(gaps) == pytest.approx(SIDE, rel=0.03)
    assert gaps.max() < 1.15 * SIDE
    away = np.linalg.norm(form.points[:, None] - form.points[None], axis=2) + 9 * np.eye(form.beads)
    assert away.min() > 0.9 * reach(Measure(D, L))
    assert form.strain < 0.0025
    assert "side by side" not in " ".join(form.doubts)


def test_before_the_seam_parts_lie_apart() -> None:
    plan = purse(3, 4)
    course = compile_plan(plan)
    assert seams(course, course.beads - 1) == []
    form = form_of(course, plan, beads=course.beads - 1)
    assert "its parts are shown side by side, each by itself" in form.doubts


def test_it_can_be_gone_on_with() -> None:
    plan = purse(3, 4)
    course = compile_plan(plan)
    whole = formed(plan)
    before = form_of(course, plan, beads=course.beads - 5)
    after = form_of(course, plan, standing=before)
    assert spread(after.points) == pytest.approx(spread(whole.points), rel=0.02)


def test_a_part_is_turned_so_that_its_seam_meets_the_other() -> None:
    """A ring of points against the same ring turned and moved: every point lies as far from its partner as it was put
    aside."""
    angle = 2 * np.pi * np.arange(12) / 12
    ring = np.stack((np.cos(angle) * 5, np.sin(angle) * 5, 0.2 * np.cos(3 * angle)), axis=1)
    hinge = np.array([0.36, 0.48, 0.8])
    cross = np.cross(np.eye(3), hinge)
    turn = np.eye(3) + np.sin(2.0) * cross + (1 - np.cos(2.0)) * cross @ cross
    other = ring @ turn + np.array([7.0, -3.0, 2.0])
    found = faced(ring, other, [(nth, nth) for nth in range(12)], 1.5)
    assert np.linalg.norm(found - ring, axis=1) == pytest.approx(np.full(12, 1.5), abs=1e-6)
