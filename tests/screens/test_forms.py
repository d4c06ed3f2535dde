"""Going to a place, and stepping up elsewhere: held against walking the course bead by bead."""

from __future__ import annotations

from dataclasses import replace

import pytest

from stitchalong.course.course import Course
from stitchalong.course.outlook import Lookout
from stitchalong.screens import places
from stitchalong.screens.forms import Chosen, Form, GoTo, StepUp
from stitchalong.screens.glyphs import BLOCKS
from tests.screens.acting import flat, texts
from tests.writing import band, course_of, peyote

RISE = course_of(
    band("*6S, M* 4 times"),
    peyote('["C", "S"]', "height = 5", 'increase = { over = "M", from_round = 2 }'),
    peyote('["C"]', edge="bottom"),
)
RING = course_of('start = "ring" ;; beads = "5A"', peyote('["A"]', "height = 3", 'increase = { at = "every space" }'))
COURSES = {"rise": RISE, "ring": RING}


def side_at(course: Course, lookout: Lookout, position: int) -> int | None:
    """The side on which the next bead lies; None for a move or a bead on a rib."""
    stitch = course.spot(position).stitch
    return lookout.at(position).side if stitch.beads else None


@pytest.mark.parametrize("name", COURSES)
def test_the_beads_of_a_side_are_those_met_by_walking(name: str) -> None:
    course = COURSES[name]
    lookout = Lookout(course, {})
    for index, item in enumerate(course.rounds):
        walked = range(item.first_step, item.stop_step)
        if not places.has_sides(course, index):
            beads = [at for at in walked if course.spot(at).stitch.beads]
            assert places.beads_in(places.segments(course, index, 0)) == len(beads) == item.beads
            continue
        for side in range(places.side_count(course, index)):
            met = [at for at in walked if side_at(course, lookout, at) == side]
            found = [at + nth for at, beads in places.segments(course, index, side) for nth in range(beads)]
            assert found == met


@pytest.mark.parametrize("name", COURSES)
def test_a_place_named_and_found_again(name: str) -> None:
    """Where one stands, told as round, side and beads laid, leads back to a place at which as many are laid."""
    course = COURSES[name]
    lookout = Lookout(course, {})
    tried = 0
    for position in range(course.steps):
        if side_at(course, lookout, position) is None and places.has_sides(course, course.round_of(position)):
            continue
        form = GoTo.here(course, position, lookout.at(position).side, lambda at: ("", ""))
        assert course.beads_before(form.target) == course.beads_before(position)
        tried += 1
    assert tried > course.steps // 3


def filled_in(form: Form, keys: list[str]) -> Form | Chosen:
    result: Form | Chosen = form
    for key in keys:
        assert not isinstance(result, Chosen)
        result = result.press("" if key.isdigit() else key, key if key.isdigit() else "")
    return result


def start() -> GoTo:
    return GoTo.here(RISE, 0, None, preview)


def preview(position: int) -> tuple[str, str]:
    return f"To {position}.", "There."


def test_the_band_is_named_by_beads() -> None:
    assert filled_in(start(), ["down", "1", "7", "enter"]) == Chosen(17)


def test_round_side_and_beads() -> None:
    """The second round's second side begins behind the first pair; three beads further on a third of it is laid."""
    chosen = filled_in(start(), ["2", "down", "2", "down", "3", "enter"])
    assert isinstance(chosen, Chosen)
    outlook = Lookout(RISE, {}).at(chosen.value)
    assert (outlook.round, outlook.edge, outlook.side) == (2, "top", 1)
    lengths = places.beads_in(places.segments(RISE, RISE.round_of(chosen.value), 1))
    assert outlook.big == lengths - 3


def test_the_other_edge() -> None:
    form = filled_in(start(), ["up", "right"])
    assert isinstance(form, GoTo)
    assert RISE.rounds[form.index].edge == "bottom"


@pytest.mark.parametrize(
    ("keys", "fault"),
    [
        (["9"], "There are rounds 0 to 5 on that edge."),
        (["2", "down", "7"], "This round has sides 1 to 4."),
        (["2", "down", "1", "down", "9", "9"], "beads to lay there."),
    ],
)
def test_what_there_is_not_is_told_and_changes_nothing(keys: list[str], fault: str) -> None:
    form = filled_in(start(), keys)
    assert isinstance(form, GoTo)
    assert form.fault.endswith(fault)
    assert fault in flat(texts(form.lines(38, 11, BLOCKS)))


def test_arrows_go_round() -> None:
    form = filled_in(start(), ["left"])
    assert isinstance(form, GoTo)
    assert RISE.rounds[form.index].number == 5
    assert filled_in(form, ["right"]) == replace(start(), field=form.field)


def test_a_hundred_digits_do_no_harm() -> None:
    for form in (start(), StepUp(("A", "B", "C"))):
        assert not isinstance(filled_in(form, ["7"] * 100), Chosen)


@pytest.mark.parametrize("height", [11, 23, 39])
@pytest.mark.parametrize("width", [38, 78, 118])
def test_the_forms_fit(width: int, height: int) -> None:
    codes = places.next_edge(RISE, 3)
    for spaces in (0, 1, len(codes) // 2, len(codes) - 1):
        form = StepUp(codes, spaces)
        assert len(form.lines(width, height, BLOCKS)) <= height
        text = flat(texts(form.lines(width, height, BLOCKS)))
        assert f"[{codes[spaces]}]" in text
        assert f"at the bead {codes[spaces]}." in text
    assert len(start().lines(width, height, BLOCKS)) <= height


def test_the_mark_stands_under_the_chosen_bead() -> None:
    codes = tuple("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    for spaces in range(26):
        beads, marks, number = texts(StepUp(codes, spaces)._picture(38))
        at = marks.index("^")
        assert beads[at] == codes[spaces]
        assert beads[at - 1 : at + 2] == f"[{codes[spaces]}]"
        assert str(spaces) in number


def test_the_next_edge_is_what_the_round_lays() -> None:
    """Of round 2: each single once, each pair twice, as they are met by walking."""
    index = next(nth for nth, item in enumerate(RISE.rounds) if item.number == 2 and item.edge == "top")
    item = RISE.rounds[index]
    walked = [RISE.spot(at) for at in range(item.first_step, item.stop_step)]
    laid = tuple(spot.stitch.beads[spot.step] for spot in walked if spot.stitch.beads)
    assert places.next_edge(RISE, index) == laid
    assert len(laid) == 28 + 4


def test_stepping_up_so_many_spaces_on() -> None:
    assert filled_in(StepUp(("A", "B", "C")), ["2", "enter"]) == Chosen(2)
    assert filled_in(StepUp(("A", "B", "C")), ["left", "enter"]) == Chosen(2)
    form = filled_in(StepUp(("A", "B", "C")), ["3"])
    assert isinstance(form, StepUp)
    assert form.fault == "The next edge has 3 spaces: 0 to 2."
