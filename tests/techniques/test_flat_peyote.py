"""Flat peyote, against published orders and counts, and against a grid of plain columns."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.course.course import Course
from tests.techniques.common import beads_by_row, leaps, stitches, thread_of, walked
from tests.techniques.grid import Grid
from tests.writing import course_of


def strip(across: int, rows: int, *more: str) -> Course:
    return course_of(
        f'start = "strung row" ;; beads = "{across}A"',
        " ;; ".join(['stitch = "flat peyote" ;; rows = "A"', f"height = {rows - 2}", *more]),
    )


@given(st.integers(1, 12).map(lambda half: 2 * half), st.integers(3, 30))
def test_an_even_count_adds_half_its_width_in_each_row(across: int, rows: int) -> None:
    """N * R / 2 in R rows, the first two strung together (zanotowane.pl/1137/7067, Beading Basics: Stitches)."""
    course = strip(across, rows)
    assert beads_by_row(course) == [across // 2] * rows
    assert course.beads == across * rows // 2
    assert not [one for one in stitches(course) if one["kind"] not in ("string", "single")], "no turn is needed"


def test_the_first_row_skips_the_last_bead_and_ends_through_the_first() -> None:
    """Pick up one, skip the last bead strung, pass through the second from the end; the last pass is the first bead
    strung; then back through the bead added last (the same page)."""
    assert [one["through"] for one in stitches(strip(6, 4))][6:] == [[5], [3], [1], [9], [8], [7]]


@given(st.integers(1, 12).map(lambda half: 2 * half), st.integers(3, 20))
def test_the_thread_goes_only_between_beads_that_touch(across: int, rows: int) -> None:
    grid = Grid(across, rows)
    course = strip(across, rows)
    assert not leaps(course, grid.touch)
    assert grid.columns_in_order == [bead for one in stitches(course) for bead in one["ids"]]


def test_words_lead_to_the_last_bead() -> None:
    laid, said = walked(strip(4, 5))
    assert laid == 10
    assert "Pick up 1 A (bead a); pass through the next up bead, A (bead a)." in said


def test_colours_stand_where_the_row_says() -> None:
    course = course_of(
        'start = "strung row" ;; beads = "*A, B* 3 times"',
        'stitch = "flat peyote" ;; rows = ["(2)C, (1)D (3 beads)", "A; over B C"] ;; height = 2',
    )
    rows = [[*one["beads"]] for one in stitches(course)][6:]
    assert rows == [["C"], ["C"], ["D"], ["A"], ["A"], ["A"]]


def test_a_row_is_told_apart_from_a_round() -> None:
    with pytest.raises(Exception, match=r"row 3 on the top edge: 1 stitch too many: the row has 3 spaces"):
        course_of('start = "strung row" ;; beads = "6A"', 'stitch = "flat peyote" ;; rows = ["4A"]')


def test_the_thread_comes_out_where_a_stitcher_would_look() -> None:
    assert thread_of(strip(4, 3)) == [1, 2, 3, 4, 5, 3, 6, 1]
