"""Bonds against the thread that makes them, and against flat work as geometry has it."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.course.threads import Threads
from stitchalong.fabric.stitch import Kind, Stitch
from stitchalong.form.bonds import Bonds, Measure, inscribed
from stitchalong.form.derive import NotModelled, refuse_unknown
from stitchalong.form.edges import Edge, Gap
from stitchalong.form.rounds import Rounds
from stitchalong.plan.model import Plan
from tests.form.samples import D, L, bonds, disc, fins, plan_of, tube

PIECES = {
    "tube": tube(12, 4),
    "triangle": disc(3, (2,), 5),
    "hexagon": disc(6, (2, 1, 0), 7),
    "square": disc(4, (3, 2, 2, 1, 0), 8),
    "fins on both edges": fins(
        3, 3, 4, 'stitch = "peyote" ;; edge = "bottom" ;; fill = "A" ;; rounds = ["A"] ;; height = 2'
    ),
    "picots": plan_of(
        'start = "tube" ;; beads = "12A"', 'stitch = "peyote" ;; rounds = ["A", "*picot BBB; repeat from * around"]'
    ),
    "spaces passed": plan_of(
        'start = "tube" ;; beads = "16A"',
        'stitch = "peyote" ;; rounds = ["*A, no bead, 2A; repeat from * around", "B", "A"]',
    ),
    "walked along": plan_of(
        'start = "tube" ;; beads = "12A"',
        'stitch = "peyote" ;; rounds = ["A"] ;; height = 2',
        "walk = 2",
        'stitch = "peyote" ;; rounds = ["B"] ;; height = 2',
    ),
    "three together": plan_of(
        'start = "ring" ;; beads = "4A"', 'stitch = "peyote" ;; rounds = ["*AAB together; repeat from * around", "B"]'
    ),
}


def _way(course: Course) -> list[int]:
    """The beads in the order the thread goes through them, from 0."""
    threads = Threads(course)
    way: list[int] = []
    for at, item in enumerate(course.rounds):
        view = threads.view(at)
        bead = item.first_bead
        for run in range(item.first_run, item.stop_run):
            stitch = course.stitch_of(run)
            for nth in range(course.count_of(run)):
                way.extend(range(bead, bead + len(stitch.beads)))
                bead += len(stitch.beads)
                way.extend(view.through(run, nth))
    return [bead - 1 for bead in way]


@pytest.mark.parametrize("plan", PIECES.values(), ids=PIECES.keys())
def test_the_thread_goes_only_between_beads_that_touch(plan: Plan) -> None:
    """Bead by bead the course tells where the needle goes; from one bead it can only come into one beside it."""
    course = compile_plan(plan)
    found = bonds(course)
    tied = {frozenset((one.one, one.other)) for one in found.springs}
    threaded = {frozenset((one.bead, one.other)) for one in found.neighbours}
    way = _way(course)
    assert set(way) == set(range(course.beads))
    for one, other in pairwise(way):
        # the next bead in the same hole: the ring closes, a pass begins where the last ended
        if one != other:
            assert frozenset((one, other)) in threaded
            assert frozenset((one, other)) in tied or _in_ring(course, one, other)


def _in_ring(course: Course, one: int, other: int) -> bool:
    """A ring's beads are held by the next round alone."""
    return course.rounds[0].technique == "ring" and max(one, other) < course.rounds[0].beads


@pytest.mark.parametrize("plan", PIECES.values(), ids=PIECES.keys())
def test_every_bead_is_placed_and_held(plan: Plan) -> None:
    course = compile_plan(plan)
    found = bonds(course)
    assert set(found.seed) | set(found.births) == set(range(course.beads))
    held = {bead for one in found.springs for bead in (one.one, one.other)}
    assert held == set(range(course.beads))
    for birth in found.births.values():
        assert len(birth.beside) == 2
    assert found.stops == [item.first_bead - 1 + item.beads for item in course.rounds]


def _flat(bead: int, across: int) -> tuple[float, float]:
    """Where a bead of an even tube lies if it is cut open and laid flat: a column is a bead's length wide, a round half
    its thickness high (19.5 columns and 31.75 rows in an inch at 1.6 × 1.3 mm: gallery dimensions, geometry)."""
    if bead < across:
        return bead * L, 0.0 if bead % 2 else D / 2
    row, space = divmod(bead - across, across // 2)
    # the first stitch of round 3 lies over the second bead strung; the start of each round travels half a stitch
    return (2 * space + 1 + row) * L, D / 2 * (2 + row)


def test_flat_work_bends_nowhere_and_stretches_nowhere() -> None:
    across, rounds = 20, 6
    course = compile_plan(tube(across, rounds))
    found = bonds(course)
    # columns that do not come round to the seam
    inner = {
        bead for bead in range(course.beads) if bead < across or 2 <= (bead - across) % (across // 2) < across // 2 - 1
    }
    springs = [one for one in found.springs if {one.one, one.other} <= inner and abs(one.one - one.other) < across - 1]
    assert len(springs) > 60
    for spring in springs:
        assert math.dist(_flat(spring.one, across), _flat(spring.other, across)) == pytest.approx(spring.rest)
    stencils = [one for one in found.stencils if {bead for bead, _ in one.weights} <= inner]
    stencils = [one for one in stencils if {bead for bead, _ in one.weights}.isdisjoint({0, across - 1})]
    assert len(stencils) > 60
    for stencil in stencils:
        for axis in (0, 1):
            assert sum(weight * _flat(bead, across)[axis] for bead, weight in stencil.weights) == pytest.approx(0)
    for stencil in found.stencils:
        assert sum(weight for _, weight in stencil.weights) == pytest.approx(0)


def test_corners_of_a_polygon_in_a_circle() -> None:
    # Thales: over its diameter a circle sees a right angle; a triangle of 3, 4 and 5 has one
    corners = inscribed([3, 4, 5])
    middle = ((corners[2][0] + corners[0][0]) / 2, (corners[2][1] + corners[0][1]) / 2)
    assert math.dist(middle, corners[1]) == pytest.approx(2.5)
    # Ptolemy: of four points on a circle, the product of the diagonals is the sum of those of opposite sides
    sides = [1.5, 1.6, 2.0, 1.3]
    a, b, c, d = inscribed(sides)
    assert math.dist(a, c) * math.dist(b, d) == pytest.approx(sides[0] * sides[2] + sides[1] * sides[3])


@pytest.mark.parametrize("lengths", [[1, 1, 1], [1, 1, 1.99], [2, 1, 1, 1, 1.2, 1], [1, 1, 1, 2.9], [0.5, 3, 3]])
def test_edges_of_a_polygon_have_their_lengths(lengths: list[float]) -> None:
    corners = inscribed(lengths)
    found = [math.dist(one, other) for one, other in zip(corners, corners[1:] + corners[:1], strict=True)]
    assert found == pytest.approx(lengths, abs=1e-6)


def test_distances_of_beads() -> None:
    """Two boxes side by side: half their lengths and a quarter of their thicknesses (Pythagoras)."""
    found = Bonds([Measure(1.6, 1.3), Measure(1.6, 1.3), Measure(3.0, 2.3)])
    assert found.side(0, 1) == pytest.approx(math.sqrt(1.3**2 + 0.8**2))
    assert found.side(0, 2) == pytest.approx(math.hypot(1.8, 1.15))
    assert found.over(0, 2) == pytest.approx(2.3)
    assert found.rim(0, 1, 180) == pytest.approx(1.3)
    assert found.rim(0, 1, 0) == pytest.approx(1.6)


def test_what_lies_under_the_spaces_of_the_next_round() -> None:
    """Two beads passed as one, a single and a single; one bead in each of the first two spaces, none in the last: then
    one of the new spaces lies over the single between, the other over all that was passed on the way round."""
    edge = Edge(((0, 1), (2,), (3,)), (Gap((4,)), Gap((5,)), Gap((6,))))
    found = Bonds([Measure(D, L)] * 9)
    for one, other in ((1, 4), (4, 2), (2, 5), (5, 3), (3, 6), (6, 0), (0, 1)):
        found.tie(one, other, found.side(one, other))
    single, none = Stitch(Kind.SINGLE, ("A",), (0,)), Stitch(Kind.SKIP)
    after = Rounds(found).work(edge, 0, [(single, (7,)), (single, (8,)), (none, ())])
    assert after.ups == ((7,), (8,))
    assert [gap.under for gap in after.gaps] == [(2,), (3, 0, 1)]
    assert [gap.rib for gap in after.gaps] == [False, True]


def test_what_is_not_modelled_says_so() -> None:
    course = compile_plan(tube(12, 2))
    strange = replace(course, rounds=(course.rounds[0], course.rounds[1]._replace(technique="knotting")))
    with pytest.raises(NotModelled, match="the form of knotting is not known"):
        refuse_unknown(strange, strange.beads)
    refuse_unknown(strange, strange.rounds[0].beads)
