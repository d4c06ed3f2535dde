"""Ladders and herringbone, against published counts and naive stacks.

A ring of eight: eight beads in four stitches, a step-up through two (thesprucecrafts.com,
tubular-herringbone-stitch-necklace-pattern-339716; rojagatodesigns.blogspot.com/2008/12).
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.course.course import Course
from stitchalong.errors import PlanError
from tests.techniques.common import beads_by_row, calm, leaps, stitches, walked
from tests.techniques.stacks import upright
from tests.writing import course_of


def piece(across: int, rows: int, *more: str, closed: bool = False) -> Course:
    start = f'start = "ladder" ;; beads = "{across}A" ;; joined = {str(closed).lower()}'
    if rows == 1:
        return course_of(start)
    stitch = 'stitch = "tubular herringbone" ;; rounds = "A"' if closed else 'stitch = "herringbone" ;; rows = "A"'
    return course_of(start, " ;; ".join([stitch, f"height = {rows - 1}", *more]))


# ---- the ladder ---------------------------------------------------------------------------------


@calm
@given(st.integers(2, 40))
def test_a_ladder_is_its_beads(count: int) -> None:
    course = piece(count, 1)
    assert course.beads == count
    assert not leaps(course, upright(count, 1, closed=False).touch)


def test_a_ladder_goes_through_the_bead_before_and_the_new_one() -> None:
    """Pick up two, loop through both; pick up one, through the bead before, through the new one (monkeysee.com,
    beading-basics-brick-stitch)."""
    assert [(one["ids"], one["through"]) for one in stitches(piece(4, 1))] == [
        ([1, 2], [1, 2]),
        ([3], [2, 3]),
        ([4], [3, 4]),
    ]


def test_a_ring_is_joined_through_first_last_and_first() -> None:
    """thealluringbeadboutique.com, tubular-brick-stitch-basics."""
    join = list(stitches(piece(8, 1, closed=True)))[-1]
    assert (join["kind"], join["through"]) == ("join", [1, 8, 1])


@calm
@given(st.integers(3, 40))
def test_the_thread_leaves_a_ring_on_the_upper_side(count: int) -> None:
    """Each pass through a bead goes up where the one before went down; the first goes up."""
    passes = [bead for one in stitches(piece(count, 1, closed=True)) for bead in (*one["ids"], *one["through"])]
    up, at = True, passes[0]
    ways = {at: [True]}
    for bead in passes[1:]:
        if bead != at:
            up = not up
        ways.setdefault(bead, []).append(up)
        at = bead
    assert up, "the last bead is passed upwards"


@pytest.mark.parametrize(
    ("beads", "joined", "words"),
    [
        (1, "false", "a ladder of 1 bead cannot be worked (2 beads or more)"),
        (2, "true", "a ladder of 2 beads cannot be joined (3 beads or more)"),
    ],
)
def test_a_ladder_that_is_too_short_is_refused(beads: int, joined: str, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        course_of(f'start = "ladder" ;; beads = "{beads}A" ;; joined = {joined}')
    assert words in str(caught.value)


# ---- herringbone --------------------------------------------------------------------------------


def test_a_ring_of_eight_takes_four_stitches_and_a_step_up_through_two() -> None:
    course = piece(8, 3, closed=True)
    assert beads_by_row(course) == [8, 8, 8]
    second = list(stitches(course))[8:13]
    assert [one["through"] for one in second] == [[2, 3], [4, 5], [6, 7], [8, 1], [9]]
    assert [len(one["ids"]) for one in second] == [2, 2, 2, 2, 0]
    assert second[-1]["step_up"] == 2


@calm
@given(st.integers(2, 12), st.integers(1, 12))
def test_a_tube_has_two_beads_a_stitch_in_each_round(stitched: int, rounds: int) -> None:
    """2s * R, the ladder being round 1; the thread goes only between neighbours."""
    course = piece(2 * stitched, rounds, closed=True)
    assert course.beads == 2 * stitched * rounds
    assert not leaps(course, upright(2 * stitched, rounds, closed=True).touch)
    assert sum(one["kind"] == "step-up" for one in stitches(course)) == max(0, rounds - 2)


@calm
@given(st.integers(1, 12), st.integers(2, 12), st.booleans())
def test_rows_turn_with_or_without_a_bead(stitched: int, rows: int, turning: bool) -> None:
    """2s * R, and a bead for each turn where the turn takes one. Common practice, no source."""
    across = 2 * stitched
    course = piece(across, rows, *(['turning_bead = "B"'] if turning else []))
    turns = rows - 2
    assert course.beads == across * rows + (turns if turning else 0)
    naive = upright(across, rows, closed=False, turning=turning)
    assert course.beads == naive.laid
    assert not leaps(course, naive.touch)
    told = [one for one in stitches(course) if one["kind"] == "turn"]
    assert len(told) == turns * (1 if turning else 2)


def test_a_turn_goes_back_up_through_the_bead_it_came_down() -> None:
    row = list(stitches(piece(4, 3)))[3:7]
    assert [(one["ids"], one["through"]) for one in row] == [
        ([5, 6], [3, 2]),
        ([7, 8], [1]),
        ([], []),
        ([], [1, 8]),
    ]


def test_the_turn_is_announced_once() -> None:
    _, said = walked(piece(4, 4))
    assert (
        "Turn: back up through A (bead a) and on up through the bead added last, A (bead a); the row is done." in said
    )


@pytest.mark.parametrize(
    ("beads", "joined", "words"),
    [
        (9, "true", "a ladder of 9 is odd; 8 and 10 do"),
        (3, "true", "a ladder of 3 is odd; 4 does"),
        (7, "false", "a ladder of 7 is odd; 6 and 8 do"),
    ],
)
def test_an_odd_ladder_is_refused(beads: int, joined: str, words: str) -> None:
    stitch = 'stitch = "tubular herringbone" ;; rounds = "A"'
    if joined == "false":
        stitch = 'stitch = "herringbone" ;; rows = "A"'
    with pytest.raises(PlanError) as caught:
        course_of(f'start = "ladder" ;; beads = "{beads}A" ;; joined = {joined}', stitch)
    assert words in str(caught.value)


@pytest.mark.parametrize(
    ("start", "stitch", "words"),
    [
        ('start = "ladder" ;; beads = "8A"', 'stitch = "tubular herringbone" ;; rounds = "A"', "joined = true"),
        ('start = "ladder" ;; beads = "8A" ;; joined = true', 'stitch = "herringbone" ;; rows = "A"', "an open ladder"),
        ('start = "ring" ;; beads = "8A"', 'stitch = "herringbone" ;; rows = "A"', "hangs from a ladder"),
        ('start = "ladder" ;; beads = "8A"', 'stitch = "herringbone" ;; rows = "3A"', "the last space of the row"),
        ('start = "ladder" ;; beads = "8A"', 'stitch = "herringbone" ;; rows = ["3A, AAA together"]', "takes 2 beads"),
        ('start = "ladder" ;; beads = "8A"', 'stitch = "herringbone" ;; rows = "A" ;; turning_bead = "Z"', "Z"),
        ('start = "ladder" ;; beads = "8A"', 'stitch = "peyote" ;; rounds = "A"', "is open"),
    ],
)
def test_what_cannot_be_worked_is_refused(start: str, stitch: str, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        course_of(start, stitch)
    assert words in str(caught.value)


@pytest.mark.parametrize("closed", [False, True])
def test_words_lead_to_the_last_bead(closed: bool) -> None:
    laid, said = walked(piece(6, 4, closed=closed))
    assert laid == 24
    assert (
        "Pick up 2 A (bead a); pass down through the next bead, A (bead a), "
        "and up through the bead after it, A (bead a)." in said
    )


# ---- widening -----------------------------------------------------------------------------------


def widening(stitched: int, before: int, after: int) -> Course:
    start = f'start = "ladder" ;; joined = true ;; beads = "{2 * stitched}A"'
    plain = 'stitch = "tubular herringbone" ;; rounds = "A" ;; height = '
    work = [f"{plain}{before}"] if before else []
    work.append(f'{plain}2 ;; between = "B"')
    return course_of(start, *work, *([f"{plain}{after}"] if after else []))


def spread(stitched: int, before: int, after: int) -> dict[int, tuple[int, float]]:
    """Naive: (row, place around in thirds of a column) of each bead. What lies between stacks i and i + 1 stands at
    halves or thirds between their columns."""
    place: dict[int, tuple[int, float]] = {}
    rounds = [*[()] * (1 + before), (1.5,), (4 / 3, 5 / 3), *[(4 / 3, 5 / 3)] * after]
    for row, between in enumerate(rounds):
        for stack in range(stitched):
            for at in (0.0, 1.0, *between):
                place[len(place) + 1] = (row, 2 * stack + at)
    return place


@calm
@given(st.integers(2, 8), st.integers(0, 3), st.integers(0, 4))
def test_one_bead_and_then_two_between_the_stacks_double_them(stitched: int, before: int, after: int) -> None:
    """3s and 4s beads, and 4s in each round from then on. Common practice, no source."""
    course = widening(stitched, before, after)
    assert beads_by_row(course) == [
        *[2 * stitched] * (1 + before),
        3 * stitched,
        *[4 * stitched] * (1 + after),
    ]
    place = spread(stitched, before, after)
    assert len(place) == course.beads

    def near(one: int, other: int) -> bool:
        (row, at), (other_row, other_at) = place[one], place[other]
        apart = abs(at - other_at)
        apart = min(apart, 2 * stitched - apart)
        return apart <= 1 if row == other_row else abs(row - other_row) == 1 and apart <= 0.5

    assert not leaps(course, near)


def test_the_two_between_are_told_as_increases_and_then_as_a_stack() -> None:
    course = widening(2, 0, 1)
    told = [(one["beads"], one["through"]) for one in stitches(course)]
    assert told[4:9] == [
        (["A", "A"], [2]),
        (["B"], [3]),
        (["A", "A"], [4]),
        (["B"], [1]),
        ([], [5]),
    ]
    assert [one["increase"] for one in stitches(course)][9:13] == [False, True, False, True]
    assert told[14] == (["A", "A"], [12, 13]), "down the stack, up through the first of the new one"
    laid, said = walked(course)
    assert laid == 4 + 6 + 8 + 8
    assert any("side by side between two stacks" in one for one in said)


def test_widening_takes_just_two_rounds() -> None:
    with pytest.raises(PlanError, match=r"widening takes two rounds.*height = 2"):
        course_of(
            'start = "ladder" ;; joined = true ;; beads = "8A"',
            'stitch = "tubular herringbone" ;; rounds = "A" ;; between = "B" ;; height = 3',
        )
