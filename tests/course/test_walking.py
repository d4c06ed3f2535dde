"""Walking a course: forward, back, by any unit, to any place; every state is what counting gives."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.course.choices import Another, Deviation, StepUpElsewhere, from_data, to_data
from stitchalong.course.course import Course
from stitchalong.course.report import course_document, rows
from stitchalong.course.walker import (
    Unit,
    Walker,
    address_of,
    position_of,
    position_on_side,
    round_index,
    same_place,
    start_of,
    stitch_end,
)
from stitchalong.fabric.stitch import Note
from tests.writing import band, course_of, peyote

RING = (
    band("*6S, M* 4 times"),
    peyote('["A", "B"]', "height = 5", 'increase = { over = "M", with = "MM", from_round = 2 }'),
    peyote('"*picot DDD; repeat from * around"'),
    peyote('["A", "A"]', edge="bottom"),
)


@pytest.fixture(scope="module")
def ring() -> Course:
    return course_of(*RING)


def _counted(course: Course) -> list[tuple[str, bool]]:
    """Every step by plain counting over the document: (code or nothing, first step of its stitch)."""
    steps: list[tuple[str, bool]] = []
    for round_ in course_document(course)["rounds"]:
        for stitch in round_["stitches"]:
            steps += [(code, nth == 0) for nth, code in enumerate(stitch["beads"])] or [("", True)]
    return steps


def test_every_position_found_by_bisection_is_the_counted_one(ring: Course) -> None:
    counted = _counted(ring)
    assert ring.steps == len(counted)
    beads = 0
    for position, (code, first) in enumerate(counted):
        spot = ring.spot(position)
        assert (spot.stitch.beads[spot.step] if spot.stitch.beads else "") == code
        assert (spot.step == 0) == first
        assert ring.beads_before(position) == beads
        beads += bool(code)
    assert ring.beads == beads


def test_all_forward_then_all_back_ends_where_it_began(ring: Course) -> None:
    walker = Walker()
    for _ in range(ring.steps + 3):
        walker = walker.pressed(ring)
    assert walker.position == ring.steps
    for _ in range(ring.steps + 3):
        walker = walker.back()
    assert walker == Walker(0, ring.steps)


@given(st.lists(st.tuples(st.sampled_from(["press", "back", "again"]), st.integers(1, 40)), max_size=60))
def test_any_mix_of_presses_and_undos_is_what_counting_gives(moves: list[tuple[str, int]]) -> None:
    course = course_of(*RING[:2])
    walker, position, redo = Walker(), 0, 0
    for move, steps in moves:
        if move == "press":
            walker = walker.pressed(course, steps)
            after = min(course.steps, position + steps)
            redo = redo if after == position else after
            position = after
        elif move == "back":
            walker = walker.back(steps)
            position = max(0, position - steps)
        else:
            walker = walker.forward_again(steps)
            position = min(redo, position + steps)
        assert (walker.position, walker.redo_to) == (position, redo)


@pytest.mark.parametrize("unit", list(Unit))
def test_going_back_by_any_unit_reaches_the_first_bead(ring: Course, unit: Unit) -> None:
    position, visited = ring.steps, 0
    while position:
        earlier = start_of(ring, position, unit)
        assert earlier < position
        position, visited = earlier, visited + 1
    assert visited == {
        Unit.BEAD: ring.steps,
        Unit.STITCH: sum(first for _, first in _counted(ring)),
        Unit.ROUND: len(ring.rounds),
    }.get(unit, visited)


def test_going_back_a_side_stops_right_behind_the_rib(ring: Course) -> None:
    index = round_index(ring, "top", 3)
    assert index is not None
    inside = position_on_side(ring, index, 1, 4)
    assert inside is not None
    back = start_of(ring, inside, Unit.SIDE)
    assert back == position_on_side(ring, index, 1, 0)
    assert ring.spot(back - 1).stitch.has(Note.RIB)
    assert start_of(ring, back, Unit.SIDE) == back - 2, "then the pair on the rib"


def test_going_back_a_part_stops_at_the_band_and_at_each_edge(ring: Course) -> None:
    """The band, the rounds of the top edge, those of the bottom edge, each by itself."""
    starts, position = [], ring.steps
    while position:
        position = start_of(ring, position, Unit.PART)
        starts.append(position)
    bottom = next(item for item in ring.rounds if item.edge == "bottom")
    assert starts == [bottom.first_step, ring.rounds[1].first_step, 0]


def test_a_place_of_another_course_of_the_piece_is_found_by_its_address() -> None:
    """Work accepted with one bead more before the place: one step later, at the same stitch."""
    plain = course_of(*RING)
    more = course_of(*RING, choices=[Deviation("top", 3, 4, ("A", "A"))])
    index = round_index(plain, "top", 3)
    assert index is not None
    first = plain.rounds[index].first_step
    assert [same_place(plain, more, at) for at in range(first + 4)] == list(range(first + 4))
    for at in range(first + 5, plain.rounds[index].stop_step):
        assert address_of(plain, at) == address_of(more, same_place(plain, more, at))
    assert same_place(plain, more, plain.steps) == more.steps
    assert same_place(more, plain, more.steps) == plain.steps


def test_the_end_of_a_stitch_leaves_no_bead_on_the_needle(ring: Course) -> None:
    for position in range(ring.steps):
        end = stitch_end(ring, position)
        assert end > position
        assert end == ring.steps or ring.spot(end).step == 0


def test_every_position_has_an_address_that_leads_back(ring: Course) -> None:
    for position in range(ring.steps):
        address = address_of(ring, position)
        assert position_of(ring, address) == position


# ---- choices ------------------------------------------------------------------------------------

OPEN = (
    band("*6S, M* 4 times"),
    peyote('"A"', 'height = "2 to 4"', "usual = 3", 'increase = { over = "M", from_round = 2 }'),
    peyote('"D"'),
)


def test_an_open_rise_asks_before_the_step_up_and_stops_there() -> None:
    course = course_of(*OPEN)
    assert [(item.round, item.done) for item in course.decisions] == [(2, 2), (3, 3)]
    first = course.decisions[0]
    walker = Walker().pressed(course, course.steps)
    assert walker.position == first.step
    assert course.spot(first.step).stitch.kind == "step-up"
    assert walker.pressed(course) == walker


@pytest.mark.parametrize("answers", [[False], [True, False], [True, True]])
def test_each_answer_changes_only_what_comes_after(answers: list[bool]) -> None:
    usual = course_of(*OPEN)
    choices = [Another("top", 2 + nth, more) for nth, more in enumerate(answers)]
    course = course_of(*OPEN, choices=choices)
    assert sum(1 for item in course.rounds if item.edge == "top") == 1 + 2 + sum(answers) + 1
    before = usual.decisions[0].step
    assert [course.spot(at).stitch for at in range(before)] == [usual.spot(at).stitch for at in range(before)]
    assert not course.decisions


def test_stepping_up_elsewhere_moves_only_where_rounds_begin() -> None:
    for spaces in range(1, 32):
        there = course_of(*RING, choices=[StepUpElsewhere("top", 2, spaces)])
        usual = course_of(*RING)
        for here, same in zip(rows(there), rows(usual), strict=True):
            assert {**here, "sides": sorted(here["sides"])} == {**same, "sides": sorted(same["sides"])}
        index = round_index(there, "top", 2)
        assert index is not None
        stop = usual.rounds[index].stop_step - 1
        assert [there.spot(at).stitch for at in range(stop)] == [usual.spot(at).stitch for at in range(stop)]


def test_a_written_round_stays_in_its_columns_when_the_start_moves() -> None:
    work = (band("*6S, M* 4 times"), peyote('["28A", "B, 27A", "A", "2D, 26A"]'))
    usual, moved = course_of(*work), course_of(*work, choices=[StepUpElsewhere("top", 1, 9)])

    def cycle(course: Course, number: int) -> list[str]:
        (round_,) = [
            item for item in course_document(course)["rounds"] if (item["edge"], item["round"]) == ("top", number)
        ]
        return [code for stitch in round_["stitches"] for code in stitch["beads"]]

    for number in (2, 4):
        here, there = cycle(usual, number), cycle(moved, number)
        assert there != here
        assert there == here[9:] + here[:9]


def test_choices_come_back_from_plain_data() -> None:
    choices = (Another("top", 4, True), StepUpElsewhere("bottom", 2, 5))
    assert from_data(to_data(choices)) == choices
    with pytest.raises(ValueError, match="not a choice"):
        from_data([{"choice": "something"}])


def test_a_rise_may_be_ended_before_its_increase_begins() -> None:
    rise = peyote('"A"', 'height = "as high as you like"', "usual = 4", 'increase = { over = "M", from_round = 3 }')
    work = (band("*6S, M* 4 times"), rise.replace("from_round = 3", "from_round = 4"), peyote('"D"'))
    course = course_of(*work, choices=[Another("top", 1, False)])
    assert [item.number for item in course.rounds if item.edge == "top"] == [0, 1, 2]
