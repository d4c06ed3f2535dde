"""Netting: which beads touch, and how wide a net hangs."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest

from stitchalong.course.compile import compile_plan
from stitchalong.form.bonds import FIRM
from stitchalong.form.shape import Form
from stitchalong.plan.model import Plan
from tests.form.samples import D, L, bonds, formed, plan_of, rounds_of, tube
from tests.techniques.common import thread_of
from tests.techniques.test_net import Net


def net(loops: int, first: int, *sizes: tuple[int, int]) -> Plan:
    """A ring for loops of `first` beads, and rounds: (beads of a loop, how many)."""
    return plan_of(
        f'start = "net ring" ;; beads = "{loops * (first + 1)}A" ;; loop = {first}',
        *(f'stitch = "netting" ;; loop = {size} ;; rounds = "A" ;; height = {rounds}' for size, rounds in sizes),
    )


@pytest.mark.parametrize(
    ("plan", "naive"),
    [
        (net(6, 3, (3, 3)), Net(6, [3, 3, 3, 3])),
        (net(5, 3, (3, 1), (5, 2), (7, 1)), Net(5, [3, 3, 5, 5, 7])),
        (net(8, 5, (5, 2)), Net(8, [5, 5, 5])),
    ],
)
def test_beads_touch_along_the_loops(plan: Plan, naive: Net) -> None:
    course = compile_plan(plan)
    assert course.beads == naive.laid
    tied = {frozenset((one.one + 1, one.other + 1)) for one in bonds(course).springs if one.stiffness == FIRM}
    assert tied == naive.pairs
    for one, other in pairwise(thread_of(course)):
        assert one == other or frozenset((one, other)) in tied


def _radius(form: Form, nth: int) -> float:
    part = rounds_of(form)[nth]
    return float(np.hypot(*(part - part.mean(axis=0))[:, :2].T).mean())


def test_the_ring_is_as_wide_as_its_beads_are_long() -> None:
    form = formed(net(10, 3, (3, 3)))
    assert 2 * _radius(form, 0) == pytest.approx(40 * L / math.pi, rel=0.03)


def test_meshes_hang_as_in_a_honeycomb() -> None:
    """Six sides and corners of 120°: from tip to tip three sides, each a bead's length and what the thickness of two
    others takes at its ends, D / tan 60° (geometry)."""
    form = formed(net(10, 3, (3, 6)))
    side = L + D / math.tan(math.radians(60))
    tips = rounds_of(form)[-1][1::3]
    around = np.linalg.norm(np.roll(tips, -1, axis=0) - tips, axis=1)
    assert around == pytest.approx(np.full(10, 3 * side), rel=0.03)
    assert form.strain < 0.0025
    # a mesh is open: no bead lies within a side's length of its middle but those of its rim
    height = np.ptp(form.points[:, 2])
    assert height == pytest.approx(6 * side * math.sin(math.radians(60)), rel=0.1)


def test_longer_loops_hang_wider_and_peyote_draws_them_in() -> None:
    plain = formed(net(10, 3, (3, 2), (5, 3)))
    assert _radius(plain, -1) > 1.1 * _radius(plain, 0)
    drawn = formed(
        plan_of(
            'start = "net ring" ;; beads = "40A" ;; loop = 3',
            'stitch = "netting" ;; loop = 3 ;; rounds = "A" ;; height = 6',
            'stitch = "peyote" ;; rounds = "A"',
        )
    )
    # ten tips and a bead between each two
    assert _radius(drawn, -1) < 20 * math.hypot(L, D / 2) / (2 * math.pi) * 1.02
    assert _radius(drawn, 3) > 1.5 * _radius(drawn, -1)
    assert drawn.strain < 0.0025
    assert np.ptp(drawn.points[:, 2]) > 6


def test_loops_of_one_bead_are_peyote() -> None:
    """Peyote as a net of one bead: huanjue893.ivoire-blog.com, 2016-04-05."""
    form = formed(net(10, 1, (1, 6)))
    peyote = formed(tube(20, 6))
    assert form.beads == peyote.beads
    assert _radius(form, -1) == pytest.approx(_radius(peyote, -1), rel=0.02)
    assert np.ptp(form.points[:, 2]) == pytest.approx(np.ptp(peyote.points[:, 2]), rel=0.05)
