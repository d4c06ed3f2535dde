"""Brick stitch, against published rows and naive courses of bricks.

Rows of 1, 2, 3, 4, 5, 6, 7 beads, and back (interweave.com, how-to-bead-shamrock-brick-stitch). The row of one bead
that the printed piece begins with has no bridge; here it is left to the end.
"""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.course.course import Course
from stitchalong.errors import PlanError
from tests.techniques.common import beads_by_row, calm, leaps, stitches, walked
from tests.techniques.courses_of_bricks import chimney, wall
from tests.writing import course_of

WORDS = {-1: "one fewer", 0: "same", 1: "one more"}


def work(width: str, rows: str = '"A"', *more: str) -> str:
    return " ;; ".join(['stitch = "brick stitch"', f'width = "{width}"', f"rows = {rows}", *more])


def rows_of(widths: list[int]) -> Course:
    steps = [work(WORDS[after - before]) for before, after in pairwise(widths)]
    return course_of(f'start = "ladder" ;; beads = "{widths[0]}A"', *steps)


@st.composite
def widths(draw: st.DrawFn) -> list[int]:
    found = [draw(st.integers(2, 9))]
    for step in draw(st.lists(st.sampled_from([-1, 0, 1]), max_size=12)):
        found.append(max(2, found[-1] + step))
    return found


def test_the_printed_rows_grow_to_seven_and_shrink_to_one() -> None:
    printed = [2, 3, 4, 5, 6, 7, 6, 5, 4, 3, 2, 1]
    course = rows_of(printed)
    assert beads_by_row(course) == printed
    assert course.beads == sum(range(1, 8)) + sum(range(1, 7)) - 1


def test_a_triangle_shrinks_by_itself_to_n_times_n_plus_one_over_two() -> None:
    """The triangular numbers, A000217."""
    for size in range(2, 9):
        course = course_of(f'start = "ladder" ;; beads = "{size}A"', work("one fewer", '"A"', f"height = {size - 1}"))
        assert course.beads == size * (size + 1) // 2


@calm
@given(widths())
def test_rows_are_as_wide_as_asked_and_stand_half_a_bead_apart(asked: list[int]) -> None:
    course = rows_of(asked)
    assert beads_by_row(course) == asked
    assert not leaps(course, wall(asked).touch)


@calm
@given(widths())
def test_the_needle_goes_back_up_through_the_bead_just_added(asked: list[int]) -> None:
    for one in list(stitches(rows_of(asked)))[asked[0] - 1 :]:
        assert one["through"] == one["ids"][-1:]


def test_a_row_begins_with_two_beads_on_one_bridge() -> None:
    for width, first in (("same", 2), ("one more", 2), ("one fewer", 2)):
        course = course_of('start = "ladder" ;; beads = "5A"', work(width))
        sizes = [len(one["ids"]) for one in stitches(course)][4:]
        assert sizes[0] == first
        assert set(sizes[1:]) == {1}


def test_each_bridge_is_used_once_and_the_last_twice_for_one_more() -> None:
    """Bridges in the order passed, counted from the thread, by the words said."""
    said = {}
    for width in ("same", "one more", "one fewer"):
        course = course_of('start = "ladder" ;; beads = "4A"', work(width))
        said[width] = [stitch.detail for stitch, count in course.runs_of(1) for _ in range(count)]
    assert said == {
        "same": ["first bridge", "", ""],
        "one more": ["first bridge", "", "", "again"],
        "one fewer": ["second bridge", ""],
    }


# ---- round and round ----------------------------------------------------------------------------


def tube(around: int, rounds: int) -> Course:
    start = f'start = "ladder" ;; joined = true ;; beads = "{around}A"'
    return course_of(start, f'stitch = "tubular brick stitch" ;; rounds = "A" ;; height = {rounds - 1}')


@calm
@given(st.integers(3, 12), st.integers(2, 8))
def test_a_tube_keeps_its_count(around: int, rounds: int) -> None:
    """n * R (thealluringbeadboutique.com, tubular-brick-stitch-basics)."""
    course = tube(around, rounds)
    assert course.beads == around * rounds
    assert not leaps(course, chimney(around, rounds).touch)


def test_a_round_is_joined_down_through_its_first_bead_and_up_through_its_last() -> None:
    joins = [one["through"] for one in stitches(tube(5, 3)) if one["kind"] == "join"]
    assert joins == [[1, 5], [6, 10], [11, 15]]


@calm
@given(st.integers(3, 9), st.lists(st.integers(1, 3), min_size=3, max_size=9))
def test_more_beads_on_a_bridge_are_increases(around: int, asked: list[int]) -> None:
    asked = (asked * 3)[:around]
    row = ", ".join("A" * size + (" together" if size > 2 else "") if size > 1 else "1A" for size in asked)
    course = course_of(
        f'start = "ladder" ;; joined = true ;; beads = "{around}A"',
        f'stitch = "tubular brick stitch" ;; rounds = ["{row}", "A"]',
    )
    assert beads_by_row(course) == [around, sum(asked), sum(asked)]
    bridges = [stitch.detail for stitch, count in course.runs_of(1) for _ in range(count)]
    # two on the first bridge, and then one on each but the last, that the join makes
    assert bridges.count("") + 1 == around - 1
    assert bridges.count("again") == sum(asked) - around


@pytest.mark.parametrize(
    ("start", "stitch", "words"),
    [
        ("5A", work("same", '"6A"'), '6 beads in a row of 5 (width = "one more" makes it 6)'),
        ("5A", work("one more", '"4A"'), '4 beads in a row of 6 (width = "one fewer" makes it 4)'),
        ("5A", work("same", '"8A"'), "3 stitches too many"),
        ("5A", work("same", '"AA, 4A"'), "told bead by bead"),
        ("3A", work("one fewer", '"A"', "height = 3"), "a row of one bead has no bridge"),
        ("5A", work("wider"), "width"),
        ("5A", 'stitch = "tubular brick stitch" ;; rounds = "A"', "joined = true"),
        ('5A" ;; joined = "yes', 'stitch = "tubular brick stitch" ;; rounds = "A"', "true or false"),
    ],
)
def test_what_cannot_be_worked_is_refused(start: str, stitch: str, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        course_of(f'start = "ladder" ;; beads = "{start}"', stitch)
    assert words in str(caught.value)


def test_words_lead_to_the_last_bead() -> None:
    laid, said = walked(rows_of([4, 5, 5, 4]))
    assert laid == 18
    assert any("under the first bridge, then back up through the second of the two" in one for one in said)
    assert any("under the same bridge once more" in one for one in said)
    assert walked(tube(6, 3))[0] == 18
