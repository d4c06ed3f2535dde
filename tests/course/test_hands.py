"""Left-handed working mirrors words of direction, never counts and never words that only look like one."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.course.compile import compile_plan
from stitchalong.course.outlook import Lookout
from stitchalong.course.say import Teller, mirrored
from stitchalong.plan.read import read_text
from tests.writing import course_of, plan_text


@pytest.mark.parametrize(
    ("text", "other"),
    [
        ("this row goes from right to left", "this row goes from left to right"),
        ("with the tail at the left", "with the tail at the right"),
        ("turn it clockwise, then anticlockwise", "turn it anticlockwise, then clockwise"),
        ("the bead on the right, to the left of it", "the bead on the left, to the right of it"),
    ],
)
def test_words_of_direction_are_turned_round(text: str, other: str) -> None:
    assert mirrored(text) == other
    assert mirrored(other) == text


@pytest.mark.parametrize(
    "text",
    [
        "right after the increase",
        "the space right before a pair",
        "2 beads left on this side",
        "the space is left empty, what is left to the end",
        "on the right-angle weave",
        "pass straight on through the next up bead",
        "an upright bead, a bright one, leftover thread",
    ],
)
def test_words_that_only_look_like_a_direction_stay(text: str) -> None:
    assert mirrored(text) == text


@given(st.text(alphabet=list("lefright anticlockwse-,"), max_size=60))
def test_mirroring_twice_changes_nothing(text: str) -> None:
    assert mirrored(mirrored(text)) == text


@pytest.mark.parametrize("left_handed", [False, True])
def test_counts_and_bead_names_are_the_same_for_both_hands(left_handed: bool) -> None:
    course = course_of('start = "strung row" ;; beads = "5A"', 'stitch = "flat peyote" ;; rows = "A" ;; height = 4')
    names = {"A": "to the left"}
    plain, teller = Teller(course, names), Teller(course, names, left_handed=left_handed)
    for position in range(course.steps):
        assert teller.now(course.spot(position)) == plain.now(course.spot(position)), "no direction is named here"
        assert teller.comes_out(position) == plain.comes_out(position)


def test_the_first_row_says_which_way_it_goes() -> None:
    course = course_of('start = "strung row" ;; beads = "6A"', 'stitch = "flat peyote" ;; rows = "A"')
    said = next(remark.text for remark in course.remarks if "With the tail" in remark.text)
    assert said == "With the tail at the left, this row goes from right to left, and the next one back."
    assert mirrored(said) == "With the tail at the right, this row goes from left to right, and the next one back."


def test_an_outlook_is_mirrored_in_its_own_words_alone() -> None:
    work = 'start = "strung row" ;; beads = "6A"', 'stitch = "flat peyote" ;; rows = "A"'
    text = plan_text(*work) + '[[remarks]]\nsay = "The clasp is at the left."\nround = 3\n'
    course = compile_plan(read_text(text).plan)
    right, left = (Lookout(course, {}, left_handed=hand).at(6) for hand in (False, True))
    assert [remark.text for remark in left.remarks if remark.own] == ["The clasp is at the left."]
    assert [remark.text for remark in left.remarks] != [remark.text for remark in right.remarks]
    assert replace(left, remarks=()) == replace(right, remarks=())
