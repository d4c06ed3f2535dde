"""Corner codes, against discs printed round by round, and against a ring of plain lists."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.course.course import Course
from stitchalong.errors import PlanError
from tests.techniques.common import beads_by_row, calm, stitches, walked
from tests.techniques.rings import CORNER, PAIR, SINGLE, Ring
from tests.writing import course_of, peyote, rounds_of


def ring(beads: int) -> str:
    return f'start = "ring" ;; beads = "{beads}A"'


def coded(start: int, code: str, rounds: int, from_round: int = 3) -> Course:
    corners = f'corners = {{ code = "{code}", from_round = {from_round} }}'
    return course_of(ring(start), peyote('"A"', f"height = {rounds - 1}", corners))


def from_three(rounds: int) -> Course:
    """A ring of three, two in each gap, one in each gap, then six corners 2-1-0."""
    return course_of(
        ring(3),
        peyote('["BB x 3", "B"]'),
        peyote('"C"', f"height = {rounds - 3}", 'corners = { code = "2-1-0", from_round = 4 }'),
    )


def test_the_hexagon_from_three_is_the_printed_one() -> None:
    """Rounds 3, 6, 6, 12, 12, 12, 18, 18, and of the first three rounds 3 A and 12 B
    (jeririggs.blogspot.com/2020, circular peyote hexagons)."""
    assert beads_by_row(from_three(8)) == [3, 6, 6, 12, 12, 12, 18, 18]
    codes = [rounds_of(from_three(8))["top", number]["codes"] for number in (1, 2, 3)]
    assert codes == [{"A": 3}, {"B": 6}, {"B": 6}]


def test_every_round_of_the_hexagon_steps_up_through_two() -> None:
    """'Through two beads each round' (the same page)."""
    assert {one["step_up"] for one in stitches(from_three(9)) if one["kind"] == "step-up"} == {2}


def test_the_hexagon_from_six_grows_by_six_in_every_third_round() -> None:
    """Increases exactly in rounds 3, 6, 9 and 12 by the base number (bellaonline.com/articles/art62793.asp)."""
    course = coded(6, "2-1-0", 12)
    beads = beads_by_row(course)
    assert beads == [6, 6, 12, 12, 12, 18, 18, 18, 24, 24, 24, 30]
    rounds = rounds_of(course)
    assert [number for number in range(1, 13) if rounds["top", number]["increases"]] == [3, 6, 9, 12]


def test_the_flat_square_is_the_printed_one() -> None:
    """4, 4, 12, 12, 16, 16; three in each gap in round 3, whose step-up passes only the first of the three; in round 4
    two over each corner past the middle one, and one on each side (beads-making.com/beaded-square-box)."""
    course = coded(4, "3-2-2-1-0", 6)
    assert beads_by_row(course) == [4, 4, 12, 12, 16, 16]
    third = [one for one in stitches(course) if len(one["beads"]) == 3]
    assert len(third) == 4
    step_up = next(
        one for one in stitches(course) if one["kind"] == "step-up" and one["through"] == third[0]["ids"][:1]
    )
    assert step_up["step_up"] == 2
    middles = {one["ids"][1] for one in third}
    passed = {bead for one in stitches(course) for bead in one["through"]}
    assert not middles & passed, "the middle one sits on the bead below"
    assert [rounds_of(course)["top", number]["increases"] for number in range(1, 7)] == [0, 0, 4, 4, 4, 0]


def test_the_square_goes_on_as_its_rule_does() -> None:
    """The five-round cycle 3-2-2-1-0 goes on to 16 | 24, 24, 28, 28, 28 | 36: reckoned from the rule, no page read."""
    assert beads_by_row(coded(4, "3-2-2-1-0", 13))[5:] == [16, 16, 24, 24, 28, 28, 28, 36]


@pytest.mark.parametrize(
    ("corners", "totals"),
    [(3, [3, 9, 18, 30, 45, 63, 84, 108, 135, 165]), (4, [4, 12, 24, 40, 60, 84]), (6, [6, 18, 36, 60, 90, 126])],
)
def test_the_code_2_gives_the_known_sequences(corners: int, totals: list[int]) -> None:
    """oeis.org/A045943, oeis.org/A046092, oeis.org/A028896, as printed."""
    beads = beads_by_row(coded(corners, "2", len(totals), from_round=2))
    assert [sum(beads[: nth + 1]) for nth in range(len(beads))] == totals


# ---- against plain lists ------------------------------------------------------------------------


@st.composite
def codes(draw: st.DrawFn) -> list[int]:
    """Codes that can be worked over and over: 0 after every 1 and nowhere else."""
    parts = draw(st.lists(st.sampled_from([[3], [2], [1, 0]]), min_size=1, max_size=5))
    return [digit for part in parts for digit in part]


def naive(start: int, cycles: list[list[int]], rounds: int, from_round: int) -> Ring:
    piece = Ring.strung(start)
    for number in range(2, rounds + 1):
        if number == from_round:
            piece.tag_spaces(list(range(len(piece.ups))))
        kinds = []
        for tag in piece.tags():
            digit = 1
            if number >= from_round and tag is not None:
                cycle = cycles[tag % len(cycles)]
                digit = cycle[(number - from_round) % len(cycle)]
                assert digit, "a code says 0 only where a bead stands"
            kinds.append({1: SINGLE, 2: PAIR, 3: CORNER}[digit])
        piece.round(kinds, steps_up=number < rounds)
    return piece


@calm
@given(st.integers(3, 8), codes(), st.integers(2, 4), st.integers(1, 9))
def test_any_code_is_worked_as_plain_lists_say(start: int, code: list[int], from_round: int, more: int) -> None:
    rounds = from_round + more
    course = coded(start, "-".join(map(str, code)), rounds, from_round)
    assert [(one["ids"], one["through"]) for one in stitches(course)] == naive(start, [code], rounds, from_round).told


@calm
@given(st.integers(3, 8), st.lists(codes(), min_size=2, max_size=3), st.integers(1, 8))
def test_corners_may_take_turns_with_their_codes(start: int, cycles: list[list[int]], more: int) -> None:
    said = ", ".join('"' + "-".join(map(str, cycle)) + '"' for cycle in cycles)
    corners = f"corners = {{ code = [{said}], from_round = 2 }}"
    course = course_of(ring(start), peyote('"A"', f"height = {more}", corners))
    assert [(one["ids"], one["through"]) for one in stitches(course)] == naive(start, cycles, more + 1, 2).told


# ---- places and colours -------------------------------------------------------------------------


def test_corners_stand_over_markers_or_where_they_are_counted() -> None:
    start = 'start = "tube" ;; beads = "*5A, M* 4 times"'
    over = course_of(start, peyote('"A"', "height = 7", 'corners = { code = "2-1-0", over = "M", from_round = 3 }'))
    counted = course_of(start, peyote('"A"', "height = 7", 'corners = { code = "2-1-0", sides = [2, 2, 2, 2] }'))
    assert beads_by_row(over) == beads_by_row(counted) == [12, 12, 16, 16, 16, 20, 20, 20, 24]


def test_corner_beads_may_have_a_colour_of_their_own() -> None:
    plain = course_of(ring(4), peyote('"A"', "height = 5", 'corners = { code = "3-2-1-0", with = "B" }'))
    assert [rounds_of(plain)["top", number]["codes"].get("B", 0) for number in range(2, 7)] == [12, 8, 4, 0, 12]
    listed = course_of(
        ring(4), peyote('"A"', "height = 4", 'corners = { code = "3-2-1-0", with = ["corner BCB", "DD", "C"] }')
    )
    assert [rounds_of(listed)["top", number]["codes"].get("C", 0) for number in range(2, 6)] == [4, 0, 4, 0]


def test_what_people_miss_at_corners_is_said() -> None:
    course = coded(4, "3-2-1-0", 7)
    said = [remark.text for remark in course.remarks]
    assert any("Pass over the middle bead" in text for text in said)
    assert any("A pair is two beads" in text for text in said)
    assert any("The corner is a bead in this round" in text for text in said)
    laid, _ = walked(course)
    assert laid == sum(beads_by_row(course))


@pytest.mark.parametrize(
    ("corners", "words"),
    [
        ('"2-1-1-0"', "in 2-1-1-0 a 1 follows a 1 (after 1 comes 0"),
        ('"2-1"', "in 2-1 a 2 follows a 1"),
        ('"2-0-1-0"', "in 2-0-1-0 a 0 follows a 2"),
        ('"0-2-1"', "begins with 0"),
        ('"2-1-4"', "each 0, 1, 2 or 3"),
        ('{ code = "2-1-0", over = "M", sides = 3 }', "says where in 2 ways"),
        ('{ code = "2-1-0", with = ["BB"] }', "1 stitches for 2 rounds"),
        ('{ code = "2-1-0", with = ["B", "BB"] }', "`BB` is no corner of 1"),
        ('{ code = "2-1-0", from_round = 9 }', "the corner never happens"),
    ],
)
def test_a_code_that_cannot_be_worked_is_refused(corners: str, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        course_of(ring(6), peyote('"A"', "height = 3", f"corners = {corners}"))
    assert words in str(caught.value)
