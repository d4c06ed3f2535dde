"""Tubes that are one spiral, and tubes with a drop, against published counts and plain columns of beads."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.course.course import Course
from stitchalong.course.outlook import Lookout
from stitchalong.errors import PlanError
from tests.techniques.columns import even_tube, odd_tube
from tests.techniques.common import beads_by_row, calm, leaps, stitches, walked
from tests.writing import course_of, peyote

ODD = st.integers(3, 12).map(lambda half: 2 * half + 1)


def spiral(strung: int, laps: int, *more: str) -> Course:
    rounds = () if more else ('rounds = "A"',)
    return course_of(
        f'start = "odd tube" ;; beads = "{strung}A"',
        " ;; ".join(['stitch = "spiral peyote"', f"height = {laps}", *rounds, *more]),
    )


# ---- the spiral ---------------------------------------------------------------------------------


def test_the_fourth_bead_on_a_ring_of_seven_goes_through_the_first_added() -> None:
    """A ring of 7: no step-up, and the fourth added bead goes through the first added one
    (beadingmag.info/circular-peyote/easy-peyote-tube.html)."""
    course = spiral(7, 4)
    added = [one for one in stitches(course) if one["kind"] == "single"]
    assert added[3]["through"] == added[0]["ids"]
    assert [one["through"][0] for one in added[:4]] == [3, 5, 7, 8]
    assert not [one for one in stitches(course) if one["kind"] == "step-up"]


@calm
@given(ODD, st.integers(1, 20))
def test_laps_hold_n_and_one_more_by_turns(strung: int, laps: int) -> None:
    """A lap is n + 1/2 stitches, so laps take n and n + 1 by turns; after s stitches the total is the ring and s.
    Reckoned from the rule of the spiral."""
    n = strung // 2
    course = spiral(strung, laps)
    assert beads_by_row(course) == [n, n + 1, *(n + nth % 2 for nth in range(laps))]
    assert course.beads == strung + sum(n + nth % 2 for nth in range(laps))


@calm
@given(ODD, st.integers(1, 12))
def test_the_thread_of_a_spiral_goes_only_between_beads_that_touch(strung: int, laps: int) -> None:
    course = spiral(strung, laps)
    piece = odd_tube(strung, course.beads - strung)
    assert not leaps(course, piece.touch)


@calm
@given(ODD, st.integers(2, 12))
def test_each_stitch_passes_the_bead_laid_n_stitches_before(strung: int, laps: int) -> None:
    added = [one for one in stitches(spiral(strung, laps)) if one["kind"] == "single"]
    n = strung // 2
    assert all(one["through"] == added[at]["ids"] for at, one in enumerate(added[n:]))


def test_a_pattern_goes_on_over_the_laps() -> None:
    """The seven-bead ring of the same page: A, B, C picked up in turn for ever, whatever the lap."""
    course = course_of(
        'start = "odd tube" ;; beads = "2A, 2B, 2C, A"', 'stitch = "spiral peyote" ;; pattern = "A, B, C" ;; height = 9'
    )
    laid = "".join(one["beads"][0] for one in stitches(course) if one["kind"] == "single")
    assert laid == ("ABC" * 20)[: len(laid)]


def test_a_spiral_says_that_there_is_no_step_up() -> None:
    course = spiral(7, 3)
    lookout = Lookout(course, {})
    views = [lookout.at(position) for position in range(course.steps)]
    assert [view.title for view in views if view.title.startswith("lap")][:2] == ["laps 1 and 2"] * 2
    (first,) = [view for view in views if any("do not step up" in remark.text for remark in view.remarks)]
    assert first.title == "lap 4"
    assert first.big_label == "left in this lap"
    laid, said = walked(course)
    assert laid == 7 + 3 + 4 + 3
    assert "Pass through the first bead strung: the ring is closed." in said


@pytest.mark.parametrize(
    ("beads", "words"),
    [
        ("8A", "8 are strung (string 7 or 9)"),
        ("5A", "7 or more; 5 are strung (string 7)"),
        ("4A", "7 or more; 4 are strung (string 7)"),
    ],
)
def test_a_ring_that_cannot_be_a_spiral_is_refused(beads: str, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        course_of(f'start = "odd tube" ;; beads = "{beads}"', 'stitch = "spiral peyote" ;; rounds = "A"')
    assert words in str(caught.value)


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ('pattern = "A" ;; rounds = "A" ;; height = 3', "`pattern` stands instead of `rounds`"),
        ('pattern = "A"', "a pattern goes on for ever (say the height: height = 12)"),
        ("height = 3", "`rounds` is missing"),
        ('rounds = "*A, B; repeat from * around"', "3 spaces do not come out even by 2; 2 and 4 do"),
    ],
)
def test_what_a_spiral_cannot_read_is_refused(keys: str, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        course_of('start = "odd tube" ;; beads = "7A"', f'stitch = "spiral peyote" ;; {keys}')
    assert words in str(caught.value)


# ---- a drop -------------------------------------------------------------------------------------


def dropped(groups: int, drop: int, rounds: int) -> Course:
    return course_of(
        f'start = "drop tube" ;; beads = "{groups * drop}A" ;; drop = {drop}',
        f'stitch = "drop peyote" ;; rounds = "A" ;; height = {rounds}',
    )


@calm
@given(st.integers(3, 10), st.integers(2, 4), st.integers(1, 10))
def test_a_drop_tube_is_a_tube_of_groups(half: int, drop: int, rounds: int) -> None:
    """Common practice, no source: what holds of an even tube in beads holds of a drop tube in groups, the step-up
    through two of them included. The plain tube is what it is held against."""
    course = dropped(2 * half, drop, rounds)
    plain = course_of(f'start = "tube" ;; beads = "{2 * half}A"', peyote('"A"', f"height = {rounds}"))
    assert course.beads == drop * plain.beads
    groups = [
        (one["kind"].replace("group", "single"), [bead // drop for bead in one["through"][drop - 1 :: drop]])
        for one in stitches(course)
        if one["kind"] not in ("string", "join")
    ]
    assert groups == [(one["kind"], one["through"]) for one in stitches(plain) if one["kind"] not in ("string", "join")]
    step_ups = [one["step_up"] for one in stitches(course) if one["kind"] == "step-up"]
    assert step_ups == [2 * drop] * (rounds - 1)


@calm
@given(st.integers(3, 8), st.integers(2, 4), st.integers(1, 8))
def test_the_thread_of_a_drop_tube_goes_only_between_beads_that_touch(half: int, drop: int, rounds: int) -> None:
    course = dropped(2 * half, drop, rounds)
    assert not leaps(course, even_tube(2 * half, rounds + 2, drop).touch)


def test_a_drop_tube_is_walked_to_its_last_bead() -> None:
    laid, said = walked(dropped(6, 2, 3))
    assert laid == 12 + 18
    assert "Pick up 2 A (bead a); pass through all of the next up group, A (bead a), A (bead a)." in said
    assert any(
        one.startswith("Step up: pass through 2 beads more") and "(4 beads with the one where it began)" in one
        for one in said
    )


@pytest.mark.parametrize(
    ("beads", "drop", "words"),
    [
        ("34A", 2, "34 beads do not divide by 4; 32 and 36 do"),
        ("8A", 2, "a 2-drop tube of 8 beads cannot be closed (12 beads or more)"),
        ("10A", 3, "10 beads do not divide by 6; 18 do"),
    ],
)
def test_a_count_that_does_not_make_groups_is_refused(beads: str, drop: int, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        course_of(
            f'start = "drop tube" ;; beads = "{beads}" ;; drop = {drop}', 'stitch = "drop peyote" ;; rounds = "A"'
        )
    assert words in str(caught.value)
