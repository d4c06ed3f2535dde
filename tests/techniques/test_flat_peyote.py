"""Flat peyote, against published orders and counts, and against plain columns of beads.

Orders and counts printed in Beading Basics: Stitches, 2006 (zanotowane.pl/1137/7067).
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.course.outlook import Lookout
from stitchalong.errors import PlanError
from stitchalong.plan.sizes import resized
from tests.techniques.columns import flat
from tests.techniques.common import beads_by_row, calm, leaps, stitches, thread_of, walked
from tests.writing import course_of, plan_of

TURNS = ["figure eight", "under thread", "through the edge"]
EVEN = st.integers(1, 12).map(lambda half: 2 * half)
ODD = st.integers(1, 12).map(lambda half: 2 * half + 1)


def strip(across: int, rows: int, *more: str, drop: int = 1) -> Course:
    return course_of(
        f'start = "strung row" ;; beads = "{across * drop}A" ;; drop = {drop}',
        " ;; ".join(['stitch = "flat peyote" ;; rows = "A"', f"height = {rows - 2}", *more]),
    )


# ---- an even count ------------------------------------------------------------------------------


@calm
@given(EVEN, st.integers(3, 30))
def test_an_even_count_adds_half_its_width_in_each_row(across: int, rows: int) -> None:
    """N * R / 2 in R rows, the first two strung together."""
    course = strip(across, rows)
    assert beads_by_row(course) == [across // 2] * rows
    assert course.beads == across * rows // 2
    assert {one["kind"] for one in stitches(course)} == {"string", "single"}, "no turn is needed"


def test_the_first_row_skips_the_last_bead_and_ends_through_the_first() -> None:
    """Pick up one, skip the last bead strung, pass through the second from the end; the last pass is the first bead
    strung; then back through the bead added last."""
    assert [one["through"] for one in stitches(strip(6, 4))][6:] == [[5], [3], [1], [9], [8], [7]]


# ---- an odd count -------------------------------------------------------------------------------


def test_the_figure_eight_is_the_printed_one() -> None:
    """Five strung, 6, 7 and 8 added in row 3: after 7 through 2 and 1; pick up 8; through 2, 3, 7, 2, 1, 8."""
    course = strip(5, 4)
    row = [[*one["ids"], *one["through"]] for one in stitches(course)][5:]
    assert [bead for move in row for bead in move][:13] == [6, 4, 7, 2, 1, 8, 2, 3, 7, 2, 1, 8, 9]
    assert row[-2:] == [[9, 7], [10, 6]], "row 4 goes back through the beads of row 3"


@pytest.mark.parametrize("turn", TURNS)
@pytest.mark.parametrize(("rows", "beads"), [(9, 23), (10, 25)])
def test_five_across_come_to_the_known_totals(rows: int, beads: int, turn: str) -> None:
    """Five across: 23 beads in nine rows, 25 in ten; the turn adds none."""
    course = strip(5, rows, f'turn = "{turn}"')
    assert course.beads == beads
    assert beads_by_row(course) == [3 if row % 2 else 2 for row in range(1, rows + 1)]


@calm
@given(ODD, st.integers(3, 25), st.sampled_from(TURNS))
def test_an_odd_count_takes_turns(across: int, rows: int, turn: str) -> None:
    """N * R / 2 for an even number of rows, (N * R + 1) / 2 for an odd one."""
    course = strip(across, rows, f'turn = "{turn}"')
    assert course.beads == (across * rows + rows % 2) // 2
    turns = [one for one in stitches(course) if one["kind"] == "turn" and one["through"]]
    assert all(not one["ids"] for one in turns)
    held = [one["through"][-1] for one in turns]
    per_turn = 3 if turn == "figure eight" else 2 if turn == "through the edge" else 1
    rows_turned = (rows - 1) // 2
    assert len(held) == per_turn * rows_turned + (2 if turn == "under thread" and rows_turned else 0)


def test_the_turn_under_the_thread_goes_back_through_the_bead_just_added() -> None:
    moves = [one for one in stitches(strip(5, 5, 'turn = "under thread"')) if one["kind"] == "turn"][3:]
    assert [one["through"] for one in moves] == [[], [13]]


def test_the_turn_through_the_edge_goes_round_the_edge_bead_once_more() -> None:
    """Out of the edge bead, pick one up, through the edge bead in the same direction, through the new one
    (beadingbeadworkbeads.typepad.com/patricia_woodhouse/2010/06)."""
    row = [[*one["ids"], *one["through"]] for one in stitches(strip(5, 3, 'turn = "through the edge"'))][5:]
    assert row == [[6, 4], [7, 2, 1], [8], [1], [8]]


def test_a_turn_on_an_even_count_is_refused() -> None:
    with pytest.raises(PlanError, match="each row turns by itself"):
        strip(6, 4, 'turn = "figure eight"')


# ---- both, and with a drop ----------------------------------------------------------------------


@calm
@given(EVEN | ODD, st.integers(3, 20), st.integers(1, 3), st.sampled_from(TURNS))
def test_the_thread_goes_only_between_beads_that_touch(across: int, rows: int, drop: int, turn: str) -> None:
    more = [f'turn = "{turn}"'] if across % 2 else []
    course = strip(across, rows, *more, drop=drop)
    # row 3 has no thread along its edge to turn under
    piece = flat(across, rows, drop, lambda row: bool(across % 2) and (row == 3 or turn != "under thread"))
    assert course.beads == piece.laid
    assert not leaps(course, piece.touch)


@calm
@given(st.integers(1, 8).map(lambda half: 2 * half), st.integers(3, 12), st.integers(2, 4))
def test_a_group_is_one_stitch(across: int, rows: int, drop: int) -> None:
    """Common practice, no source: with a drop of d everything is counted in groups of d."""
    course = strip(across, rows, drop=drop)
    assert course.beads == drop * across * rows // 2
    row = [one for one in stitches(course) if one["kind"] == "group"]
    assert len(row) == across // 2 * (rows - 2)
    assert {len(one["through"]) for one in row} == {drop}


def test_a_group_turned_outside_is_picked_up_the_other_way_round() -> None:
    """So that its colours stand in their columns: the last group of a turned row is met from outside."""
    course = course_of(
        'start = "strung row" ;; beads = "6A" ;; drop = 2',
        'stitch = "flat peyote" ;; rows = ["BC, BC", "DA"] ;; height = 3',
    )
    assert [one["beads"] for one in stitches(course) if one["kind"] == "group"] == [
        ["B", "C"],
        ["C", "B"],
        ["D", "A"],
        ["B", "C"],
        ["C", "B"],
    ]


def test_beads_of_a_drop_row_may_be_written_one_by_one() -> None:
    start = 'start = "strung row" ;; beads = "12A" ;; drop = 2'
    rows = ['"4B, C, A (6 beads)"', '"BB x 2, CA (3 stitches)"', '"(2B) x 2, CA"']
    laid = [
        [one["beads"] for one in stitches(course_of(start, f'stitch = "flat peyote" ;; rows = [{row}]'))]
        for row in rows
    ]
    assert laid[0] == laid[1] == laid[2]
    assert laid[0][6:] == [["B", "B"], ["B", "B"], ["C", "A"]]


@pytest.mark.parametrize(
    ("start", "rows", "words"),
    [
        ('beads = "7A" ;; drop = 2', '"A"', "7 beads do not divide by 2; 6 and 8 do"),
        ('beads = "1A"', '"A"', "a row of 1 bead cannot be worked (2 beads or more)"),
        ('beads = "6A"', '"4A"', "row 3 on the top edge: 1 stitch too many: the row has 3 spaces"),
        ('beads = "6A"', '"2A"', "the last space of the row has no bead"),
        ('beads = "6A"', '"AA, 2A"', "flat peyote takes one bead in each space"),
        ('beads = "12A" ;; drop = 2', '"AAA together, 3A"', "one stitch of this 2-drop work is 2 beads"),
        ('beads = "12A" ;; drop = 2', '"A; ribs B"', "no rib or marker has a space in this row"),
        ('beads = "12A" ;; drop = 2', '"6A (5 beads)"', "the row has 6 beads, not 5"),
    ],
)
def test_what_cannot_be_worked_is_refused(start: str, rows: str, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        course_of(f'start = "strung row" ;; {start}', f'stitch = "flat peyote" ;; rows = [{rows}]')
    assert words in str(caught.value)


def test_peyote_on_an_open_edge_is_refused() -> None:
    with pytest.raises(PlanError, match=r"goes round and round.*is open"):
        course_of('start = "strung row" ;; beads = "6A"', 'stitch = "peyote" ;; rounds = "A"')


def test_flat_peyote_on_a_ring_is_refused() -> None:
    with pytest.raises(PlanError, match="hangs from a strung row"):
        course_of('start = "ring" ;; beads = "6A"', 'stitch = "flat peyote" ;; rows = "A"')


# ---- words --------------------------------------------------------------------------------------


def test_words_lead_to_the_last_bead() -> None:
    laid, said = walked(strip(4, 5))
    assert laid == 10
    assert "Pick up 1 A (bead a); pass through the next up bead, A (bead a)." in said


@pytest.mark.parametrize("turn", TURNS)
def test_a_turn_is_told_move_by_move(turn: str) -> None:
    _, said = walked(strip(5, 6, f'turn = "{turn}"'))
    assert [one for one in sorted(said) if one.startswith("Turn")]


def test_the_turn_is_announced_once_and_explained() -> None:
    course = strip(5, 5)
    view = Lookout(course, {}).at(5)
    assert view.title == "row 3"
    assert view.big_label == "left in this row"
    assert view.next is not None
    assert (view.next.words, view.next.away) == ("the turn, a figure eight", 3)
    assert view.after is not None
    assert view.after.position > view.next.position + 2, "three moves, one turn"
    assert any("finishes this row, it does not start the next" in remark.text for remark in view.remarks)


def test_the_thread_comes_out_where_a_stitcher_would_look() -> None:
    assert thread_of(strip(4, 3)) == [1, 2, 3, 4, 5, 3, 6, 1]


def test_colours_stand_where_the_row_says() -> None:
    course = course_of(
        'start = "strung row" ;; beads = "*A, B* 3 times"',
        'stitch = "flat peyote" ;; rows = ["(2)C, (1)D (3 beads)", "A; over A C"] ;; height = 2',
    )
    rows = [one["beads"] for one in stitches(course)][6:]
    assert rows == [["C"], ["C"], ["D"], ["C"], ["C"], ["C"]], "row 4 lies over row 2, which is the As"


# ---- another size -------------------------------------------------------------------------------


def test_a_strip_may_be_begun_in_another_width() -> None:
    plan = plan_of('start = "strung row" ;; beads = "*A, B* 4 times"', 'stitch = "flat peyote" ;; rows = "A"')
    course = compile_plan(resized(plan, 12))
    assert beads_by_row(course) == [6, 6, 6]
    assert [one["beads"] for one in stitches(course)][:4] == [["A"], ["B"], ["A"], ["B"]]
    with pytest.raises(PlanError, match="does not come out even over 11 beads"):
        resized(plan, 11)
