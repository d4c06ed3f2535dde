"""Weaves, nets and bricks: drawn as they lie, held against the thread's own way through the beads."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import pytest

from stitchalong.chart import Chart, chart_of
from stitchalong.course.course import Course
from stitchalong.course.report import course_document
from tests.chart.test_chart import SHIPPED, _complete, _overlaps
from tests.writing import course_of


def at(chart: Chart, number: int) -> tuple[float, float]:
    bead = chart.beads[number - 1]
    return bead.x, bead.y


def apart(chart: Chart, one: int, other: int) -> float:
    return math.dist(at(chart, one), at(chart, other))


def rows(course: Course) -> list[Any]:
    rounds: Any = course_document(course)["rounds"]
    return list(rounds)


@pytest.mark.parametrize("name", ["quay-lattice", "lantern-sleeve"])
def test_the_thread_of_a_weave_goes_from_bead_to_neighbour_about_each_cell(name: str) -> None:
    """Four beads about a cell (trade's definition of the unit; common practice, no source): in the drawing each is
    half a diagonal of two beads from the next, and two beads from the one across, but where a ring is cut open."""
    course = SHIPPED[name]
    chart = chart_of(course)
    width = max(bead.x for bead in chart.beads) - min(bead.x for bead in chart.beads) + 1
    cut = steps = 0
    for round_ in rows(course):
        for stitch in round_["stitches"]:
            if stitch["kind"] != "unit":
                continue
            for one, other in pairwise(stitch["ids"]):
                steps += 1
                far = apart(chart, one, other)
                if far > 2:
                    cut += 1
                    assert abs(at(chart, one)[0] - at(chart, other)[0]) > width - 4
                else:
                    assert far == pytest.approx(math.sqrt(2))
    assert steps > 80
    assert cut <= (0 if name == "quay-lattice" else len(course.rounds))
    assert _overlaps(chart) == []


def test_a_row_of_weave_lies_above_the_one_before_with_its_tops_in_one_line() -> None:
    course = SHIPPED["quay-lattice"]
    chart = chart_of(course)
    before = math.inf
    for index in range(4):
        tops = course.passes.edges[index]
        heights = {round(at(chart, number)[1], 6) for number in tops}
        assert len(heights) == 1
        assert len(tops) == 24
        (height,) = heights
        assert height < before
        before = height
        columns = sorted(at(chart, number)[0] for number in tops)
        assert all(after - here == pytest.approx(2) for here, after in pairwise(columns))


def test_each_loop_of_a_net_is_an_arc_with_its_tip_on_top() -> None:
    """The middle bead is the one that is shared with the next round (trade's definition of netting)."""
    course = SHIPPED["float-net"]
    chart = chart_of(course)
    loops = 0
    for round_ in rows(course)[1:]:
        for stitch in round_["stitches"]:
            ids = stitch["ids"]
            if stitch["kind"] != "group" or len(ids) < 3:
                continue
            loops += 1
            heights = [-at(chart, number)[1] for number in ids]
            tip = len(ids) // 2
            assert heights[tip] == max(heights)
            assert heights[: tip + 1] == sorted(heights[: tip + 1])
            assert heights[tip:] == sorted(heights[tip:], reverse=True)
            assert heights[tip] > -at(chart, stitch["through"][0])[1], "the tip stands above what it hangs from"
    assert loops == 90
    assert _overlaps(chart) == []


def test_the_next_round_of_a_net_hangs_from_tip_to_tip() -> None:
    course = SHIPPED["float-net"]
    chart = chart_of(course)
    width = 40 * (chart.beads[1].x - chart.beads[0].x)
    stitch = rows(course)[2]["stitches"][0]
    left, right = at(chart, 42)[0], at(chart, 45)[0]
    assert stitch["through"] == [45]
    assert at(chart, stitch["ids"][1])[0] == pytest.approx((left + right) / 2)
    assert right - left == pytest.approx(width / 10)


@pytest.mark.parametrize("name", ["shingle-leaf", "chimney-cap"])
def test_each_brick_lies_over_the_thread_between_two_below(name: str) -> None:
    """A bead of brick stitch hangs on the thread between two beads: half a bead aside from either."""
    course = SHIPPED[name]
    chart = chart_of(course)
    below: list[float] = []
    checked = 0
    for index, item in enumerate(course.rounds):
        here = [at(chart, number)[0] for number in range(item.first_bead, item.first_bead + item.beads)]
        if item.technique.endswith("brick stitch") and abs(len(here) - len(below)) <= 1:
            for x in here:
                sides = [abs(x - other) for other in below if abs(x - other) < 0.99]
                assert sides
                assert all(side == pytest.approx(0.5) for side in sides), (index, x)
                checked += 1
        below = here
    assert checked > 40
    assert _overlaps(chart) == []


def weave(units: int, high: int) -> list[str]:
    rows = [f'stitch = "right-angle weave" ;; rows = ["A"] ;; height = {high}'] if high else []
    return [f'start = "right-angle weave row" ;; beads = "{3 * units + 1}B"', *rows]


def sleeve(units: int, high: int) -> list[str]:
    rounds = [f'stitch = "tubular right-angle weave" ;; rounds = ["A"] ;; height = {high}'] if high else []
    top = ['stitch = "peyote" ;; rounds = ["A", "B"]']
    return [f'start = "right-angle weave ring" ;; beads = "{3 * units}B"', *rounds, *top]


def net(loops: int, loop: int) -> list[str]:
    half = loop // 2
    word = f"{'A' * half}B{'A' * half} together x {loops}"
    rows = f'stitch = "netting" ;; loop = {loop} ;; rounds = "{word}" ;; height = 4'
    return [f'start = "net ring" ;; beads = "*B, 3A* {loops} times"', rows]


@pytest.mark.parametrize(
    "work",
    [
        *(weave(units, high) for units in (2, 3, 7) for high in (0, 1, 4)),
        *(sleeve(units, high) for units in (3, 4, 9) for high in (0, 1, 4)),
        *(net(loops, loop) for loops in (3, 4, 12) for loop in (3, 5, 7)),
    ],
    ids=lambda work: work[0][-12:],
)
def test_work_of_any_size_is_drawn_whole(work: list[str]) -> None:
    course = course_of(*work)
    chart = chart_of(course)
    _complete(course, chart)
    assert _overlaps(chart) == []


def test_peyote_hangs_from_the_spacers_of_an_open_strip() -> None:
    """As in any flat peyote each bead lies one column beside the bead that its stitch passes, half a bead above it; and
    a unit's frame is a cell: top, side, bottom and side each a neighbour of the next."""
    course = SHIPPED["pier-edge"]
    chart = chart_of(course)
    (strip, *others) = rows(course)
    hung = 0
    for round_ in others:
        for stitch in round_["stitches"]:
            if stitch["kind"] != "single" or not stitch["through"]:
                continue  # the last bead of a long row closes by the turn
            (x, y), (beside, below) = at(chart, stitch["ids"][0]), at(chart, stitch["through"][0])
            assert abs(x - beside) == pytest.approx(1)
            assert below - y == pytest.approx(0.5)
            hung += 1
    assert hung == 3 * 11 + 3 * 11
    side = None
    for stitch in strip["stitches"]:
        *_, top, far, bottom = stitch["ids"] if side else stitch["ids"][:3]
        near = side or stitch["ids"][3]
        for one, other in pairwise((top, far, bottom, near, top)):
            assert apart(chart, one, other) == pytest.approx(math.sqrt(2))
        side = far
    assert _overlaps(chart) == []
