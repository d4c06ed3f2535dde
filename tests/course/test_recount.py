"""A recount: each fault that can be made, made in a list of beads, is among those named, with its place."""

from __future__ import annotations

import pytest

from stitchalong.course.accept import accepting
from stitchalong.course.checkpoints import Checkpoint, checkpoints
from stitchalong.course.choices import Deviation
from stitchalong.course.course import Course
from stitchalong.course.outlook import Lookout
from stitchalong.course.recount import Recount, Slip, recount
from stitchalong.course.report import course_document, rows
from stitchalong.course.spaces import step_of_space
from stitchalong.errors import UsageError
from tests.writing import band, course_of, peyote

WORK = (
    band("*6S, M* 4 times"),
    peyote('"A"', "height = 5", 'increase = { over = "M", with = "MM", from_round = 2 }'),
    peyote('["A", "A"]', edge="bottom"),
)
RING = course_of(*WORK)
LOOKOUT = Lookout(RING, {})


def _index(number: int, edge: str = "top", course: Course = RING) -> int:
    return next(at for at, item in enumerate(course.rounds) if (item.edge, item.number) == (edge, number))


def _round(number: int, edge: str = "top") -> Checkpoint:
    """The checkpoint of a whole round, where its last stitch is laid."""
    index = _index(number, edge)
    return checkpoints(LOOKOUT, step_of_space(RING, index, 10**6))[-1]


def _sides(number: int) -> list[Checkpoint]:
    """The checkpoints at the end of each side (or part of one) of a round."""
    index = _index(number)
    found: list[Checkpoint] = []
    for space in range(1, RING.rounds[index].spaces + 1):
        here = checkpoints(LOOKOUT, step_of_space(RING, index, space))
        if here[0].side is not None and here[0] not in found:
            found.append(here[0])
    return found


def _slips(found: Recount) -> list[Slip]:
    return [fault.slip for fault in found.faults]


# ---- what can be counted ------------------------------------------------------------------------


def test_the_sides_of_a_round_and_the_round_are_counted() -> None:
    """First pairs in round 2 over 28 spacers, needle in the middle of nothing: 5 | 6 6 6 | 1, then 5 | 7 7 7 | 2."""
    for number, sides in ((2, [5, 6, 6, 6, 1]), (3, [5, 7, 7, 7, 2]), (4, [5, 8, 8, 8, 3])):
        found = _sides(number)
        assert [one.expected for one in found] == sides
        assert [one.side for one in found] == [0, 1, 2, 3, 0]
        assert found[0].label == "first part of side 1 of 4"
        assert found[1].label == "side 2 of 4"
        assert found[-1].label == "last part of side 1 of 4"
        assert (found[0].first, found[-1].last) == (True, True)
        row = next(row for row in rows(RING) if (row["edge"], row["round"]) == ("top", number))
        assert _round(number).expected == row["beads"]
        assert _round(number).label == "this round"


def test_in_the_middle_the_round_is_counted_so_far() -> None:
    index = _index(3)
    found = checkpoints(LOOKOUT, step_of_space(RING, index, 9))
    assert found[-1].label == "this round so far"
    assert found[-1].expected == RING.beads_before(step_of_space(RING, index, 9)) - RING.beads_before(
        RING.rounds[index].first_step
    )


def test_a_band_is_counted_in_units() -> None:
    found = checkpoints(LOOKOUT, RING.rounds[0].stop_step - 1)
    assert [(one.unit, one.expected) for one in found] == [("unit", 6), ("unit", 28)]


def test_before_the_first_stitch_there_is_nothing_to_count() -> None:
    assert checkpoints(LOOKOUT, 0) == ()
    assert checkpoints(LOOKOUT, 2) == ()


# ---- the faults ---------------------------------------------------------------------------------


def _beads(number: int) -> list[dict[str, object]]:
    return [
        stitch
        for stitch in course_document(RING)["rounds"][_index(number)]["stitches"]
        if stitch["kind"] in ("single", "pair")
    ]


@pytest.mark.parametrize("number", [2, 3, 4, 5])
def test_every_space_that_can_be_missed_is_among_the_places_named(number: int) -> None:
    stitches = _beads(number)
    whole = sum(len(stitch["beads"]) for stitch in stitches)
    checkpoint = _round(number)
    for space, stitch in enumerate(stitches):
        gone = len(stitch["beads"])
        found = recount(RING, checkpoint, whole - gone, RING.rounds[checkpoint.index].stop_step)
        assert found.difference == -gone
        if stitch["flank"] and not stitch["increase"]:
            slip = Slip.FLANK
        elif stitch["inside"]:
            slip = Slip.INSIDE
        elif stitch["increase"]:
            continue  # a pair left out altogether: two faults at once
        else:
            slip = Slip.ELSEWHERE
        fault = next(fault for fault in found.faults if fault.slip is slip and fault.times == 1)
        if slip is not Slip.ELSEWHERE:
            where = next(where for where in fault.places if where.space == space)
            assert where.position == step_of_space(RING, checkpoint.index, space)
            assert where.back == sum(len(one["beads"]) for one in stitches[space:])


def test_the_order_is_that_of_the_trade() -> None:
    """The small space beside a pair is missed most, then inside, then the pair passed as one; then step-up and others:
    common practice, no source."""
    one = recount(RING, _round(4), _round(4).expected - 1, RING.steps)
    assert _slips(one) == [Slip.FLANK, Slip.SHORT_PAIR, Slip.STEP_UP, Slip.ELSEWHERE, Slip.INSIDE, Slip.AS_ONE]
    assert [fault.times for fault in one.faults] == [1, 1, 1, 1, 0, 0]
    two = recount(RING, _round(4), _round(4).expected - 2, RING.steps)
    assert _slips(two) == [
        Slip.FLANK,
        Slip.INSIDE,
        Slip.AS_ONE,
        Slip.SHORT_PAIR,
        Slip.ELSEWHERE,
        Slip.STEP_UP,
    ]
    assert [fault.times for fault in two.faults] == [2, 1, 1, 2, 2, 0]


def test_a_step_up_that_was_missed_lengthens_the_first_part_of_the_round() -> None:
    """The needle stands one space before where it should, so one bead more comes before the first rib."""
    first = _sides(3)[0]
    found = recount(RING, first, 6, RING.steps)
    assert _slips(found) == [Slip.STEP_UP, Slip.COUNTED, Slip.TOO_MANY]
    assert "first bead lies one space too early" in found.faults[0].words
    second = recount(RING, _sides(3)[1], 8, RING.steps)
    assert _slips(second) == [Slip.COUNTED, Slip.TOO_MANY]
    last = recount(RING, _sides(4)[-1], 2, RING.steps)
    assert _slips(last) == [Slip.FLANK, Slip.STEP_UP, Slip.ELSEWHERE]
    assert last.faults[1].places[0].words == "the last space before the step-up"


def test_spaces_are_named_by_the_increases_in_working_order() -> None:
    found = recount(RING, _round(2), _round(2).expected - 1, RING.steps)
    words = [where.words for where in found.faults[0].places]
    assert words == [
        "right before the first increase",
        "right after the first increase",
        "right before the second increase",
        "right after the second increase",
        "right before the third increase",
        "right after the third increase",
        "right before the fourth increase",
        "right after the fourth increase",
    ]
    side = recount(RING, _sides(2)[2], 5, RING.steps)
    assert [where.words for where in side.faults[0].places] == [
        "right after the second increase",
        "right before the third increase",
    ]


def test_what_is_told_says_how_to_mend() -> None:
    """Unthread and pull back, never sew backwards; a surplus bead may be broken with the eyes protected, a missing one
    sewn in (interweave.com stitch-pro-breaking-bad-beads, prumihimo.com)."""
    missing = recount(RING, _round(3), _round(3).expected - 1, RING.steps)
    assert "sew the missing bead in" in missing.faults[0].mend
    surplus = recount(RING, _round(3), _round(3).expected + 1, RING.steps)
    assert "eyes protected" in surplus.faults[-1].mend
    assert "may be broken" in surplus.faults[-1].mend


def test_a_count_that_is_right_says_so() -> None:
    found = recount(RING, _round(3), 36, RING.steps)
    assert (found.difference, found.faults) == (0, ())
    assert found.words == "this round, round 3, top edge: 36 beads, as it should be"


def test_a_count_that_is_far_off_asks_for_another_count_first() -> None:
    assert "count once more" in recount(RING, _round(3), 20, RING.steps).words
    assert "count once more" not in recount(RING, _round(3), 35, RING.steps).words


@pytest.mark.parametrize("counted", [-1, 10**9])
def test_a_number_that_cannot_be_counted_is_refused(counted: int) -> None:
    with pytest.raises(UsageError):
        recount(RING, _round(3), counted, RING.steps)


def test_a_band_and_a_strand_have_faults_of_their_own() -> None:
    units = checkpoints(LOOKOUT, RING.rounds[0].stop_step - 1)[-1]
    assert _slips(recount(RING, units, 27, RING.rounds[0].stop_step - 1)) == [Slip.PRESSES, Slip.UNIT]
    ring = course_of('start = "ring" ;; beads = "12A"', peyote('"A"', "height = 2"))
    strand = checkpoints(Lookout(ring, {}), 12)[-1]
    assert _slips(recount(ring, strand, 13, 12)) == [Slip.STRAND], "the strand holds no more than twelve"
    assert _slips(recount(ring, strand, 11, 12)) == [Slip.PRESSES, Slip.STRAND]


@pytest.mark.parametrize("number", [1, 2, 3, 4])
def test_presses_forgotten_or_made_twice_come_first(number: int) -> None:
    """Laid one by one from a list: where so many beads of the round are there is where the count should stand."""
    index = _index(number)
    first, stop = RING.rounds[index].first_step, RING.rounds[index].stop_step
    laid: list[int] = [0]
    for step in range(first, stop):
        laid.append(laid[-1] + (1 if RING.spot(step).stitch.beads else 0))
    position = first + 9
    here = checkpoints(LOOKOUT, position)[-1]
    for counted in range(laid[-1] + 1):
        if counted == here.expected:
            continue
        fault = recount(RING, here, counted, position).faults[0]
        assert (fault.slip, fault.times) == (Slip.PRESSES, 1)
        assert fault.words == f"the work is right, the count is not: set it to {counted}"
        assert fault.places[0].position == first + laid.index(counted)
        assert fault.places[0].back == laid[9] - counted
    assert Slip.PRESSES not in _slips(recount(RING, here, laid[-1] + 1, position)), "the round holds no more"


def test_a_finished_side_holds_no_more_than_the_plan() -> None:
    index = _index(3)
    position = step_of_space(RING, index, 13)
    side = checkpoints(LOOKOUT, position)[0]
    assert side.side == 1
    assert Slip.PRESSES not in _slips(recount(RING, side, side.expected + 1, position))
    fewer = recount(RING, side, side.expected - 2, position).faults[0]
    assert fewer.slip is Slip.PRESSES
    assert fewer.places[0].position == step_of_space(RING, index, side.stop - 2)


# ---- accepting ----------------------------------------------------------------------------------


@pytest.mark.parametrize("number", [1, 2, 3, 4, 5])
@pytest.mark.parametrize("difference", [-2, -1, 1, 2])
def test_what_is_accepted_makes_the_plan_agree_with_the_count(number: int, difference: int) -> None:
    for nth, checkpoint in enumerate(_sides(number)):
        if checkpoint.expected < 6:
            continue
        chosen = accepting(RING, checkpoint, difference)
        assert all(one.somewhere for one in chosen)
        course = course_of(*WORK, choices=chosen)
        index = _index(number, course=course)
        look = Lookout(course, {})
        spaces = course.rounds[index].spaces
        here = [checkpoints(look, step_of_space(course, index, space))[0] for space in range(1, spaces + 1)]
        after = list(dict.fromkeys(one for one in here if one.side is not None))
        assert after[nth].expected == checkpoint.expected + difference
        others = [one.expected for at, one in enumerate(after) if at != nth]
        assert others == [one.expected for at, one in enumerate(_sides(number)) if at != nth]


def test_what_was_seen_is_accepted_where_it_was_seen() -> None:
    checkpoint = _round(3)
    found = recount(RING, checkpoint, checkpoint.expected - 1, RING.steps)
    flank = found.faults[0]
    assert accepting(RING, checkpoint, -1, flank, flank.places[2]) == (Deviation("top", 3, flank.places[2].space, ()),)
    short = next(fault for fault in found.faults if fault.slip is Slip.SHORT_PAIR)
    assert accepting(RING, checkpoint, -1, short, short.places[0]) == (
        Deviation("top", 3, short.places[0].space, ("M",)),
    )


def test_a_whole_round_is_not_accepted_without_the_side() -> None:
    with pytest.raises(UsageError, match="on which side"):
        accepting(RING, _round(3), -1)
    bottom = _round(1, "bottom")
    assert len(accepting(RING, bottom, 1)) == 1, "it is all one side"


@pytest.mark.parametrize("difference", [-4, 4])
def test_many_at_once_are_not_accepted(difference: int) -> None:
    with pytest.raises(UsageError, match="too many to accept"):
        accepting(RING, _sides(3)[1], difference)


def test_a_start_is_not_accepted_otherwise() -> None:
    units = checkpoints(LOOKOUT, RING.rounds[0].stop_step - 1)[-1]
    with pytest.raises(UsageError, match="cannot be accepted"):
        accepting(RING, units, 1)


def test_a_side_too_short_is_not_accepted() -> None:
    with pytest.raises(UsageError, match="too short"):
        accepting(RING, _sides(2)[-1], -2)
