"""Right-angle weave, flat, round and cubic: which beads meet at right angles, and how large the rooms come out."""

from __future__ import annotations

import math
from itertools import combinations, pairwise

import numpy as np
import pytest

from stitchalong.course.compile import compile_plan
from stitchalong.form.bonds import FIRM, Bonds, Measure
from stitchalong.form.shape import Form
from stitchalong.measure.beads import look_up
from stitchalong.measure.gauge import RAW, Per, default_gauge
from stitchalong.plan.model import Plan
from tests.form.samples import D, L, bonds, formed, plan_of, rounds_of
from tests.techniques.common import thread_of
from tests.techniques.rooms import Rooms

PITCH = L + D
"""A room is as wide as a bead is long and thick: square shoulders that touch (geometry)."""


def weave(units: int, rows: int, code: str = "A") -> Plan:
    start = f'start = "right-angle weave row" ;; beads = "{3 * units + 1}{code}"'
    more = f'stitch = "right-angle weave" ;; rows = "{code}" ;; height = {rows - 1}'
    return plan_of(start, *[more] * (rows > 1))


def ring(units: int, rounds: int, *more: str) -> Plan:
    return plan_of(
        f'start = "right-angle weave ring" ;; beads = "{3 * units}A"',
        *[f'stitch = "tubular right-angle weave" ;; rounds = "A" ;; height = {rounds - 1}'] * (rounds > 1),
        *more,
    )


def beam(base: int, storeys: int) -> Plan:
    return plan_of(
        f'start = "cube base" ;; beads = "{base}A"',
        f'stitch = "cubic right-angle weave" ;; rounds = "A" ;; height = {storeys}',
    )


def _tied(found: Bonds) -> set[frozenset[int]]:
    return {frozenset((one.one + 1, one.other + 1)) for one in found.springs if one.stiffness == FIRM}


@pytest.mark.parametrize(
    ("plan", "naive"),
    [
        (weave(5, 3), Rooms(5, 3, closed=False)),
        (weave(1, 4), Rooms(1, 4, closed=False)),
        (weave(4, 1), Rooms(4, 1, closed=False)),
        (ring(6, 4), Rooms(6, 4, closed=True)),
        (ring(7, 3), Rooms(7, 3, closed=True)),
        (ring(3, 1), Rooms(3, 1, closed=True)),
    ],
    ids=["row", "one wide", "one row", "ring", "odd ring", "three"],
)
def test_beads_are_tied_where_they_meet_in_a_room(plan: Plan, naive: Rooms) -> None:
    course = compile_plan(plan)
    assert course.beads == naive.laid
    meeting = {frozenset(pair) for room in naive.rooms for pair in pairwise([*room, room[0]])}
    assert _tied(bonds(course)) == meeting


@pytest.mark.parametrize("plan", [weave(4, 3), ring(6, 3), ring(5, 2), beam(4, 3), beam(3, 2), beam(6, 2)])
def test_the_thread_goes_only_between_beads_that_touch(plan: Plan) -> None:
    course = compile_plan(plan)
    tied = _tied(bonds(course))
    for one, other in pairwise(thread_of(course)):
        assert one == other or frozenset((one, other)) in tied


def test_flat_rooms_are_a_grid() -> None:
    units, rows = 6, 4
    form = formed(weave(units, rows))
    extents = np.ptp(form.points, axis=0)
    assert extents[0] == pytest.approx(units * PITCH, rel=0.01)
    assert extents[2] == pytest.approx(rows * PITCH, rel=0.01)
    assert extents[1] < 0.1
    # a bead for each edge of the grid: n(m + 1) of them lie, the others stand
    lying = np.abs(form.holes[:, 0]) > 0.99
    standing = np.abs(form.holes[:, 2]) > 0.99
    assert lying.sum() == units * (rows + 1)
    assert standing.sum() == rows * (units + 1)


@pytest.mark.parametrize("units", [5, 12])
def test_a_ring_is_as_wide_as_its_rooms(units: int) -> None:
    """Rooms side by side round a prism: walls at its corners, half a room by the sine of π / n from the middle."""
    form = formed(ring(units, 4))
    off = np.hypot(*(form.points - form.points.mean(axis=0))[:, :2].T)
    standing = np.abs(form.holes[:, 2]) > 0.9
    assert standing.sum() == 4 * units
    assert off[standing].mean() == pytest.approx(PITCH / (2 * math.sin(math.pi / units)), rel=0.01)
    # so small a ring bends its rooms a little
    assert np.ptp(form.points[:, 2]) == pytest.approx(4 * PITCH, rel=0.02)


def test_cubes_have_right_angles() -> None:
    """A cube has twelve edges, at each of its eight corners three of them, square to each other (a bead an edge:
    Fisher and Mellor 2007, cited after the trade's pages)."""
    form = formed(beam(4, 1))
    assert form.beads == 12
    for one, other in combinations(range(12), 2):
        dot = abs(float(form.holes[one] @ form.holes[other]))
        assert dot < 0.02 or dot > 0.98, "square or parallel"
        away = math.dist(form.points[one], form.points[other])
        # middles of a cube's edges: next to each other, across a face, across the cube, or skew
        assert min(abs(away / PITCH - math.sqrt(share / 2)) for share in (1, 2, 3, 4)) < 0.02
    meeting = sum(
        math.dist(form.points[one], form.points[other]) < 0.8 * PITCH for one, other in combinations(range(12), 2)
    )
    assert meeting == 24, "three pairs at each of eight corners"
    assert form.strain < 0.0025


@pytest.mark.parametrize("base", [3, 4, 6])
def test_a_beam_is_straight_and_as_long_as_its_storeys(base: int) -> None:
    form = formed(beam(base, 5))
    middles = [part[-base:].mean(axis=0) for part in rounds_of(form)[1:]]
    assert np.ptp([middle[2] for middle in middles]) == pytest.approx(4 * PITCH, rel=0.01)
    assert np.ptp(np.array(middles)[:, :2], axis=0) == pytest.approx([0, 0], abs=0.1)


def test_beads_with_rounded_ends_lie_closer_as_the_gauge_has_it() -> None:
    """Between √2 · D, spheres that touch at the corners, and D + L: the middle, as the default gauge."""
    size = look_up("11/0", "round")
    assert size is not None
    assert size.outside
    assert size.length
    gauge = default_gauge(size, RAW, Per.UNIT)
    assert gauge is not None
    found = Bonds([Measure(size.outside, size.length, rounded=True)] * 2)
    assert found.corner(0, 1) * math.sqrt(2) == pytest.approx(gauge.each.value, rel=0.001)


def _walls(form: Form, rounds: int) -> np.ndarray:
    """The middle of the last rounds, and how far their beads are from its axis."""
    last = np.concatenate(rounds_of(form)[-rounds:])
    return np.hypot(*(last - last.mean(axis=0))[:, :2].T)


def test_peyote_between_the_ceilings_of_a_ring_draws_it_in_little() -> None:
    """A bead lies between two ceilings: of 12 rooms, 24 beads end to end, 24 · L / π, where the rooms have 12 · (D + L)
    / π. Geometry."""
    form = formed(ring(12, 3, 'stitch = "peyote" ;; rounds = "A" ;; height = 3'))
    wide = 2 * _walls(form, 2).mean()
    assert 24 * L / math.pi * 0.99 < wide < 12 * PITCH / math.pi
    assert form.strain < 0.0025


def test_a_strip_is_as_long_as_its_units() -> None:
    """Top bead and spacer by turns, end to end: 2 L a unit, of eight units seven and the ends. Geometry."""
    plan = plan_of(
        'start = "MRAW strip" ;; frame = "A" ;; spacers = "7A"',
        'stitch = "flat peyote" ;; turn = "through the edge" ;; rows = "A" ;; height = 5',
    )
    course = compile_plan(plan)
    form = formed(plan)
    assert np.ptp(form.points[course.rounds[0].beads :, 0]) == pytest.approx(14 * L, rel=0.01)
    assert np.ptp(form.points[:, 1]) < 0.2
    assert form.strain < 0.0025
    tied = {frozenset((one.one + 1, one.other + 1)) for one in bonds(course).springs}
    for one, other in pairwise(thread_of(course)):
        assert one == other or frozenset((one, other)) in tied
