"""Decreases in steps, and thin beads passed as one, against a ring of plain lists.

Common practice: the single decrease and its one bead over the gap as printed on isabellestreasures.blogspot.com/2008/01
and in interweave.com's scalloped edges; the gradual and the double one from memory, no page read.
"""

from __future__ import annotations

from itertools import groupby

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.course.course import Course
from stitchalong.errors import PlanError
from tests.techniques.common import beads_by_row, calm, stitches, walked
from tests.techniques.rings import AS_ONE, NOTHING, PAIR, SINGLE, Ring
from tests.writing import course_of, peyote, rounds_of

TUBE = 'start = "tube" ;; beads = "*19A, M* 4 times"'


def shrunk(way: str, rounds: int, from_round: int = 3) -> Course:
    rule = f'decrease = {{ over = "M", way = "{way}", from_round = {from_round} }}'
    return course_of(TUBE, peyote('"A"', f"height = {rounds}", rule))


def stitches_by_round(course: Course) -> list[object]:
    return [row["stitches"] for _, row in sorted(rounds_of(course).items(), key=lambda pair: pair[0][1])]


def test_a_single_decrease_leaves_one_fewer_in_all_later_rounds() -> None:
    """No bead, the next round one bead over the gap; all later rounds have one fewer for each."""
    course = shrunk("single", 7)
    assert beads_by_row(course) == [40, 40, 36, 36, 36, 32, 32, 32, 28]
    assert stitches_by_round(course) == [40, 40, 40, 36, 36, 36, 32, 32, 32]


def test_a_gradual_decrease_lays_two_over_the_gap_and_passes_them_as_one() -> None:
    course = shrunk("gradual", 4)
    assert beads_by_row(course) == [40, 40, 36, 40, 36, 32]
    assert stitches_by_round(course) == [40, 40, 40, 36, 36, 36]
    groups = [one for one in stitches(course) if one["kind"] == "group"]
    assert len(groups) == 4
    as_one = [one["through"] for one in stitches(course) if len(one["through"]) == 2 and one["kind"] == "single"]
    assert [one["ids"] for one in groups] == as_one


def test_a_double_decrease_leaves_two_spaces_in_a_row_empty() -> None:
    course = shrunk("double", 4, from_round=4)
    assert beads_by_row(course) == [40, 40, 40, 32, 32, 24]
    skips = [one["kind"] == "no bead" for one in stitches(course)]
    assert {len(list(same)) for kind, same in groupby(skips) if kind} == {2}


def test_gradual_increases_with_thin_beads() -> None:
    """Two thin beads in one gap, passed as one; two in the space over them; one between those two: one stitch more."""
    rule = 'corners = { over = "M", code = "1-0-2-1-0", with = ["DD as one", "BB", "B"], from_round = 3 }'
    course = course_of(TUBE, peyote('"A"', "height = 6", rule))
    assert stitches_by_round(course) == [40, 40, 40, 40, 40, 44, 44, 44]
    assert beads_by_row(course) == [40, 40, 44, 40, 44, 44, 44, 48]


# ---- against plain lists ------------------------------------------------------------------------

KINDS = {SINGLE: "A", PAIR: "AA", AS_ONE: "SS as one", NOTHING: "no bead"}


@calm
@given(st.integers(3, 12), st.data())
def test_rounds_written_out_are_worked_as_plain_lists_say(start: int, data: st.DataObject) -> None:
    """Any mix of singles, pairs, two as one and empty spaces, rounds over rounds."""
    piece = Ring.strung(2 * start, tube=True)
    rounds = []
    count = data.draw(st.integers(1, 6))
    for nth in range(count):
        kinds = data.draw(
            st.lists(st.sampled_from(list(KINDS)), min_size=len(piece.ups), max_size=len(piece.ups)).filter(
                lambda kinds: sum({PAIR: 2, NOTHING: 0}.get(kind, 1) for kind in kinds) >= 2
            )
        )
        piece.round(kinds, steps_up=nth < count - 1)
        rounds.append(", ".join(KINDS[kind] + (" x 1" if len(kinds) == 1 else "") for kind in kinds))
    course = course_of(
        f'start = "tube" ;; beads = "{2 * start}A"', peyote("[" + ", ".join(f'"{text}"' for text in rounds) + "]")
    )
    assert [(one["ids"], one["through"]) for one in stitches(course)] == piece.told


@pytest.mark.parametrize("way", ["single", "gradual", "double"])
def test_it_is_walked_to_the_last_bead(way: str) -> None:
    course = shrunk(way, 6, 4 if way == "double" else 3)
    laid, said = walked(course)
    assert laid == course.beads
    assert any("no bead here" in one.lower() for one in said)
    if way != "double":
        assert any("One stitch goes over each gap" in remark.text for remark in course.remarks)


def test_a_step_up_through_two_as_one_counts_both() -> None:
    course = course_of('start = "tube" ;; beads = "8A"', peyote('["SS as one, 3A", "4A", "A"]'))
    ups = [(one["through"], one["step_up"]) for one in stitches(course) if one["kind"] == "step-up"]
    assert ups == [([9, 10], 3), ([14], 3)]


@pytest.mark.parametrize(
    ("rule", "words"),
    [
        ('{ over = "M", way = "double", from_round = 3 }', "a double decrease goes past a bead (begin in 4)"),
        ('{ over = "M", with = "AA as one" }', "nothing is laid where the space stays empty"),
        ('{ over = "M", way = "gradual", with = "AA" }', "`AA` would fill the gap with more"),
        ('{ over = "M", way = "slow" }', "`way` must be"),
        ('{ sides = 20, way = "double" }', "leave no bead between them"),
    ],
)
def test_what_cannot_be_worked_is_refused(rule: str, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        course_of(TUBE, peyote('"A"', "height = 3", f"decrease = {rule}"))
    assert words in str(caught.value)
