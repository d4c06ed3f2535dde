"""Edgings and fringe: which beads touch, and that strands go straight on from the work."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from stitchalong.course.compile import compile_plan
from stitchalong.plan.model import Plan
from tests.form.samples import D, L, bonds, formed, plan_of
from tests.techniques.common import thread_of

STRIP = ('start = "strung row" ;; beads = "10A"', 'stitch = "flat peyote" ;; rows = "A" ;; height = 8')
TUBE = ('start = "tube" ;; beads = "20A"', 'stitch = "peyote" ;; rounds = "A" ;; height = 4')

PIECES = {
    "picots on a strip": plan_of(*STRIP, 'stitch = "edging" ;; stitches = "picot BBB x 4"'),
    "singles on a tube": plan_of(*TUBE, 'stitch = "edging" ;; stitches = "10B"'),
    "picots on a tube": plan_of(*TUBE, 'stitch = "edging" ;; stitches = "picot BBB x 10"'),
    "fringe on a strip": plan_of(*STRIP, 'stitch = "fringe" ;; strands = ["12B", "9B"]'),
    "fringe with tips": plan_of(*STRIP, 'stitch = "fringe" ;; strands = ["12B"] ;; tip = 3'),
    "fringe on a tube": plan_of(*TUBE, 'stitch = "fringe" ;; strands = ["8B"] ;; every = 2'),
    "picots on bricks": plan_of(
        'start = "ladder" ;; beads = "5A"',
        'stitch = "brick stitch" ;; rows = "A" ;; height = 3',
        'stitch = "edging" ;; stitches = "picot BBB x 4"',
    ),
}


@pytest.mark.parametrize("plan", PIECES.values(), ids=PIECES.keys())
def test_the_thread_goes_only_between_beads_that_touch(plan: Plan) -> None:
    course = compile_plan(plan)
    tied = {frozenset((one.one + 1, one.other + 1)) for one in bonds(course).springs}
    last = course.rounds[-1]
    way = list(thread_of(course))
    at = way.index(last.first_bead)
    for one, other in pairwise(way[at - 1 :]):
        assert one == other or frozenset((one, other)) in tied or max(one, other) < last.first_bead


@pytest.mark.parametrize("plan", PIECES.values(), ids=PIECES.keys())
def test_every_bead_is_placed_and_little_is_stretched(plan: Plan) -> None:
    form = formed(plan)
    assert np.isfinite(form.points).all()
    assert form.strain < 0.0025


@pytest.mark.parametrize(("name", "tip"), [("fringe on a strip", 1), ("fringe with tips", 3)])
def test_strands_go_straight_on(name: str, tip: int) -> None:
    """A strand is as long as its beads, end to end, but for those of its tip; the work is below it."""
    plan = PIECES[name]
    form = formed(plan)
    course = compile_plan(plan)
    first = course.rounds[-1].first_bead - 1
    sizes = [count * [len(stitch.beads)] for stitch, count in course.runs_of(len(course.rounds) - 1)]
    for size in [size for some in sizes for size in some if size]:
        strand = form.points[first : first + size - tip]
        assert np.linalg.norm(strand[-1] - strand[0]) == pytest.approx((len(strand) - 1) * L, rel=0.03)
        assert strand[:, 2].min() > form.points[: course.rounds[-1].first_bead - 1, 2].max()
        first += size
    doubts = " ".join(form.doubts)
    assert "strands of fringe are drawn straight" in doubts


def test_a_single_bead_stands_between_its_up_beads() -> None:
    """As in a round of peyote: half a bead's thickness higher."""
    form = formed(PIECES["singles on a tube"])
    rim, last = form.points[-20:-10, 2].mean(), form.points[-10:, 2].mean()
    assert last - rim == pytest.approx(D / 2, rel=0.2)
