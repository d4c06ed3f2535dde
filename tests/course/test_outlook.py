"""What the stitcher is told at each place."""

from __future__ import annotations

from itertools import pairwise

import pytest

from stitchalong.course.course import Course
from stitchalong.course.outlook import Lookout, Outlook
from stitchalong.course.report import course_document
from stitchalong.course.walker import round_index
from stitchalong.fabric.stitch import Kind, Note
from tests.writing import band, course_of, peyote

STEP_UP = "Step up: pass through 1 bead more, A (amber), the first of this round (2 beads with the one where it began)."
NAMES = {"A": "amber", "M": "gorse", "S": "slate", "C": "coal"}
RING = (
    band("*6S, M* 4 times"),
    peyote('"A"', "height = 4", 'increase = { over = "M", with = "MM", from_round = 2 }'),
    peyote('["A", "A"]', edge="bottom"),
)


@pytest.fixture(scope="module")
def ring() -> Course:
    return course_of(*RING)


def _outlooks(course: Course) -> list[Outlook]:
    lookout = Lookout(course, NAMES)
    return [lookout.at(position) for position in range(course.steps + 1)]


def test_what_is_left_goes_down_to_nothing(ring: Course) -> None:
    outlooks = _outlooks(ring)
    assert [look.left_piece for look in outlooks] == [
        ring.beads - ring.beads_before(at) for at in range(ring.steps + 1)
    ]
    assert outlooks[-1].done
    assert not any(look.done for look in outlooks[:-1])
    for here, there in pairwise(outlooks):
        if here.title == there.title:
            laid = there.beads_done - here.beads_done
            assert here.left_round - there.left_round == laid
            assert sum(count for _, count in here.codes_left) == here.left_round


def test_left_on_this_side_is_what_is_left_before_the_rib_or_the_step_up(ring: Course) -> None:
    """Held against a plain walk to the next stitch on a rib, or the round's last."""
    documents = course_document(ring)["rounds"]
    position = 0
    outlooks = _outlooks(ring)
    for index, round_ in enumerate(documents):
        stitches = round_["stitches"]
        for nth, stitch in enumerate(stitches):
            steps = len(stitch["beads"]) or 1
            if ring.rounds[index].technique in ("peyote", "fill") and stitch["side"] is not None:
                left, at = 0, nth
                while at < len(stitches) and stitches[at]["side"] == stitch["side"]:
                    left += len(stitches[at]["beads"])
                    at += 1
                for step in range(steps):
                    assert outlooks[position + step].big == left - step
            position += steps


@pytest.mark.parametrize(
    ("number", "first", "last"),
    [
        (3, "this side has 2 more at the end of the round", "2 to the step-up; this side had 5 at the start"),
        (4, "this side has 3 more at the end of the round", "2 to the end of the round; this side had 5 at the start"),
    ],
)
def test_a_cut_side_is_told_in_both_parts(ring: Course, number: int, first: str, last: str) -> None:
    """The last round of an edge has no step-up, so none is spoken of."""
    index = round_index(ring, "top", number)
    assert index is not None
    item = ring.rounds[index]
    looks = [Lookout(ring, NAMES).at(at) for at in range(item.first_step, item.stop_step)]
    assert (looks[0].big, looks[0].cut) == (5, first)
    last_two = [look for look in looks if look.left_round == 2 and look.stitch and look.stitch.kind is Kind.SINGLE][-1]
    assert last_two.cut == last


def test_in_a_band_the_number_is_units_and_on_a_strand_beads() -> None:
    looks = _outlooks(course_of(band("5S"), peyote('"A"')))
    assert [look.big for look in looks[:19]] == [5] * 4 + [4] * 4 + [3] * 4 + [2] * 4 + [1] * 3
    looks = _outlooks(course_of('start = "tube" ;; beads = "8A"', peyote('"A"')))
    assert [(look.big, look.big_label) for look in looks[:2]] == [
        (8, "beads left to string"),
        (7, "beads left to string"),
    ]


def test_the_next_special_is_the_first_one_behind_and_its_distance_counts_beads(ring: Course) -> None:
    outlooks = _outlooks(ring)
    special = [ring.spot(at) for at in range(ring.steps) if ring.spot(at).step == 0]
    special = [
        spot
        for spot in special
        if spot.stitch.kind in (Kind.JOIN, Kind.STEP_UP, Kind.CROSS, Kind.REINFORCE)
        or spot.stitch.notes & (Note.INCREASE | Note.DECREASE | Note.MARKER)
    ]
    for look in outlooks[:-1]:
        here = ring.spot(look.position)
        end = here.position - here.step + here.stitch.steps
        following = [
            spot
            for spot in special
            if spot.position >= end and not (spot.stitch.kind is Kind.JOIN and here.stitch.kind is Kind.JOIN)
        ]
        if not following:
            assert look.next is None
            continue
        assert look.next is not None
        assert look.next.position == following[0].position
        assert look.next.away == ring.beads_before(following[0].position) - look.beads_done


def test_the_space_beside_an_increase_is_announced_with_it(ring: Course) -> None:
    pairs = [look.special for look in _outlooks(ring) if look.special and look.special.notes & Note.INCREASE]
    assert pairs
    assert all(pair.then == "then one in the small space beside it" for pair in pairs)


def test_no_sentence_is_unfinished(ring: Course) -> None:
    for look in _outlooks(ring):
        assert look.now[0].isupper() or look.now[0].isdigit()
        assert look.now.endswith(".")
        assert "None" not in look.now + look.comes_out
        assert "  " not in look.now


@pytest.mark.parametrize(
    ("edge", "number", "stitch", "says"),
    [
        ("top", 1, 0, "Pick up 1 A (amber); pass through the next up bead, S (slate)."),
        ("top", 2, 5, "Increase: pick up 2 M (gorse) together in one space; pass through the next up bead, A (amber)."),
        ("top", 3, 6, "Right after the increase: pick up 1 A (amber); pass through the next up bead, A (amber)."),
        ("top", 1, 27, "Pick up 1 A (amber); pass through the up bead where the round began, S (slate)."),
        ("top", 1, 28, STEP_UP),
    ],
)
def test_the_sentence_for_now(ring: Course, edge: str, number: int, stitch: int, says: str) -> None:
    index = round_index(ring, edge, number)
    assert index is not None
    item, left = ring.rounds[index], stitch
    for run in range(item.first_run, item.stop_run):
        if left < ring.count_of(run):
            position = ring.run_step[run] + left * ring.stitch_of(run).steps
            break
        left -= ring.count_of(run)
    assert Lookout(ring, NAMES).at(position).now == says


def test_the_joining_unit_is_told_in_five_moves_after_a_word_on_the_twist() -> None:
    course = course_of(band("5S"), peyote('"A"'))
    lookout = Lookout(course, NAMES)
    told = [look for look in map(lookout.at, range(course.steps)) if look.stitch and look.stitch.kind is Kind.JOIN]
    assert "no twist in the band" in told[0].now
    assert any("no twist" in remark.text for remark in told[0].remarks)
    assert [look.now for look in told if look.step == 0][1:] == [
        "Join: pick up 1 S (slate), 1 C (coal).",
        "Join: pass down through the first unit's free side bead.",
        "Join: pick up 1 C (coal).",
        "Join: pass up through the last side bead and through the new top bead.",
        "Join: pick up 1 S (slate); pass through the first top bead: the band is closed.",
    ]
