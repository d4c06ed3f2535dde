"""Which way holes run, against what each stitch is known for, and against least squares."""

from __future__ import annotations

import numpy as np
import pytest

from stitchalong.course.compile import compile_plan
from stitchalong.fabric import band
from stitchalong.form.bonds import Neighbour
from stitchalong.form.holes import holes
from tests.form.samples import fins, formed, tube


def test_in_a_tube_holes_run_round_it() -> None:
    """Common practice, no source: in tubular peyote the holes run around the finger."""
    form = formed(tube(20, 8))
    out = form.points - form.points.mean(axis=0)
    out[:, 2] = 0
    out /= np.linalg.norm(out, axis=1)[:, None]
    assert np.abs((form.holes * out).sum(axis=1)).max() < 0.12
    # at the ends, where beads lean on one side alone, less exactly
    assert np.abs(form.holes[20:-10, 2]).max() < 0.05


def test_in_a_band_side_beads_stand_and_the_others_lie() -> None:
    """Common practice, no source: each unit passes up through the side bead; the other beads lie along the band."""
    plan = fins(5, 4, 2)
    units = compile_plan(plan).rounds[0].spaces
    form = formed(plan)
    for unit in range(units):
        assert abs(form.holes[band.side(unit, units) - 1, 2]) > 0.95
        for kind in (band.top, band.bottom, band.spacer):
            assert abs(form.holes[kind(unit, units) - 1, 2]) < 0.3


def test_holes_are_those_of_least_squares() -> None:
    chance = np.random.default_rng(7)
    points = chance.normal(size=(6, 3)) * 2
    ends = [Neighbour(0, other, end) for other, end in ((1, 1.0), (2, -1.0), (3, 1.0), (4, 1.0), (5, -1.0))]
    # y - x = s h, for all neighbours at once
    left = np.concatenate([one.end * np.eye(3) for one in ends])
    right = np.concatenate([points[one.other] - points[0] for one in ends])
    best, *_ = np.linalg.lstsq(left, right, rcond=None)
    found = holes(points, ends)
    assert found[0] == pytest.approx(best / np.linalg.norm(best))
    # beads of which nothing is known
    assert np.linalg.norm(found[1:], axis=1) == pytest.approx(np.ones(5))


def test_neighbours_that_are_not_there_yet_do_not_count() -> None:
    points = np.array([[0.0, 0, 0], [1, 0, 0]])
    assert holes(points, [Neighbour(0, 1, 1.0), Neighbour(0, 2, -1.0)])[0] == pytest.approx([1, 0, 0])
