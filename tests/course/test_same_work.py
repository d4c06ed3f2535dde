"""A rule and the same work written out compile to the same course; and where a round may not begin."""

from __future__ import annotations

import pytest

from stitchalong.course.report import course_document
from stitchalong.errors import PlanError
from tests.writing import band, course_of, peyote, rounds_of

BAND = band("*6S, M* 4 times")
RULE = peyote('["A", "B", "A", "B"]', 'increase = { over = "M", with = "MM", from_round = 2 }')


@pytest.mark.parametrize(
    "written",
    [
        '["28A", "*6B, MM; repeat from * around", "*7A, MM; repeat from * around", "*8B, MM; repeat from * around"]',
        '["A to end", "*B to marker, MM; repeat from * around", "*A to rib, MM; repeat from * around", "B; ribs MM"]',
        '["28A (28 beads)", "5B, MM, 6B, MM, 6B, MM, 6B, MM, B", "5A, MM, (7A, MM) x 3, 2A (36 beads)", '
        '"5B, [MM, 8B] 3 times, MM, 3B"]',
    ],
)
def test_a_rule_and_the_work_written_out_are_the_same(written: str) -> None:
    assert course_document(course_of(BAND, peyote(written))) == course_document(course_of(BAND, RULE))


@pytest.mark.parametrize("markers", ["M", ""])
def test_they_are_the_same_also_where_the_markers_are_not_named(markers: str) -> None:
    """A written round without `around` begins at the needle, so it needs no marker to be known as one."""
    written = '["28A", "5B, MM, 6B, MM, 6B, MM, 6B, MM, B", "5A, MM, 7A, MM, 7A, MM, 7A, MM, 2A"]'
    rule = peyote('["A", "B", "A"]', 'increase = { over = "M", with = "MM", from_round = 2 }')
    ruled = course_document(course_of(BAND, rule))
    got = course_document(course_of(BAND, peyote(written), markers=markers))
    for document in (ruled, got):
        for stitch in (stitch for round_ in document["rounds"] for stitch in round_["stitches"]):
            del stitch["marker"]
    assert got == ruled


def test_increases_can_be_placed_by_counting() -> None:
    counted = course_of(band("28S"), peyote('"A"', "height = 4", "increase = { sides = 4, from_round = 2 }"))
    by_hand = course_of(
        band("28S"),
        peyote('["28A", "(6A, AA) x 4", "(6A, AA, A) x 4", "(6A, AA, 2A) x 4"]'),
    )
    assert course_document(counted) == course_document(by_hand)
    assert rounds_of(counted)["top", 1]["sides"] == [7, 7, 7, 7]


def test_singles_before_each_pair_can_be_named_one_by_one() -> None:
    rounds = rounds_of(
        course_of(band("28S"), peyote('"A"', "height = 3", "increase = { sides = [5, 6, 6, 6], from_round = 2 }"))
    )
    assert rounds["top", 2]["sides"] == [6, 6, 6, 6]


def test_between_markers_means_the_middle_of_the_side() -> None:
    rounds = rounds_of(
        course_of(
            band("*7S, M* 3 times"),
            peyote('"A"', "height = 3", 'increase = { between = "M", from_round = 2 }'),
        )
    )
    assert rounds["top", 2]["sides"] == [3] * 6


BAD_ROUNDS = [
    # (rounds, rule, what the message says)
    ('"A"', 'increase = { over = "M", from_round = 1 }', "round 1 has no space over M (begin in 2)"),
    (
        '["A", "A", "A", "A"]',
        'increase = { over = "M", from_round = 3 }',
        "round 3 has no space over M (begin in 2 or 4)",
    ),
    ('["A", "A"]', 'increase = { over = "M", from_round = 6 }', "the increase never happens"),
    ('"A"', 'increase = { over = "D" }', "there is no D on the top edge to increase over"),
    ('"27A"', "", "the last space of the round has no bead: the round has 28 spaces and 27 stitches"),
    ('"30A"', "", "2 stitches too many"),
    ('"28A (27 beads)"', "", "the round has 28 beads, not 27"),
    ('["A", "*5A, MM; repeat from * around"]', "", "28 spaces do not come out even by 6; 24 and 30 do"),
    ('["A", "A", "*6A, MM; repeat from * around"]', "", "round 3 has no space over a rib or marker (begin in 2 or 4)"),
    ('["A", "*3A, MM; repeat from * around"]', "", "in no turn do the many-bead stitches"),
    ('"*A to rib, no bead x 3; repeat from * around"', "", "round 1 has no space over a rib or marker"),
    ('"no bead x 28"', "", "this round lays no bead at all"),
    ('["A", "A to 9 before rib, A to end"]', "", "before the rib, not 9"),
]


@pytest.mark.parametrize(("rounds", "rule", "says"), BAD_ROUNDS)
def test_what_cannot_be_stitched_is_refused_with_its_place(rounds: str, rule: str, says: str) -> None:
    with pytest.raises(PlanError) as caught:
        course_of(BAND, peyote(rounds, *([rule] if rule else [])))
    assert says in str(caught.value)
    assert "work[2]" in str(caught.value)
    assert "test.toml" in str(caught.value)
    assert "\n" not in str(caught.value)


def test_a_flank_left_out_is_named() -> None:
    rounds = '["A", "5A, MM, 6A, MM, 6A, MM, 6A, MM, A", "5A, MM, 7A, MM, 6A, MM, 7A, MM, 2A"]'
    with pytest.raises(PlanError, match="the space right after the second increase has no bead"):
        course_of(BAND, peyote(rounds))


def test_a_decrease_that_outlasts_its_side_names_the_last_round_that_works() -> None:
    with pytest.raises(PlanError, match="the last round that works is 6"):
        course_of(
            'start = "tube" ;; beads = "*M, 7A* 4 times"',
            peyote('"A"', "height = 12", 'decrease = { over = "M", from_round = 4 }'),
        )
    rounds = rounds_of(
        course_of(
            'start = "tube" ;; beads = "*M, 7A* 4 times"',
            peyote('"A"', "height = 4", 'decrease = { over = "M", from_round = 4 }'),
        )
    )
    assert [rounds["top", number]["beads"] for number in range(1, 7)] == [16, 16, 16, 12, 8, 4]


def test_no_round_hangs_from_the_one_up_bead_that_is_left() -> None:
    with pytest.raises(PlanError, match=r"one up bead, .*the last round that works is 2"):
        course_of('start = "ring" ;; beads = "3A"', peyote('["A, no bead, no bead", "A"]'))
    two = rounds_of(course_of('start = "ring" ;; beads = "4A"', peyote('["A, no bead, A, no bead", "A"]')))
    assert two["top", 3]["beads"] == 2


def test_an_empty_space_is_closed_by_one_bead_in_the_next_round() -> None:
    """A one-step decrease: pass over the space, next round one bead there; from then on one bead fewer
    (isabellestreasures.blogspot.com/2008/01)."""
    rounds = rounds_of(
        course_of(
            'start = "tube" ;; beads = "*M, 7A* 4 times"',
            peyote('"A"', "height = 4", 'decrease = { over = "M", from_round = 4, rounds = 1 }'),
        )
    )
    assert [rounds["top", number]["beads"] for number in range(3, 7)] == [16, 12, 12, 12]
    assert [rounds["top", number]["decreases"] for number in range(3, 7)] == [0, 4, 0, 0]


def test_a_round_that_can_be_turned_two_ways_is_refused() -> None:
    rounds = '["A", "*6A, MM; repeat from * around", "*A to rib, MM, B to rib, MM; repeat from * around"]'
    with pytest.raises(PlanError, match="2 ways that give different work"):
        course_of(BAND, peyote(rounds))
    course_of(BAND, peyote(rounds.replace('"*A to rib', '"from rib: *A to rib')))


def test_only_a_band_has_a_bottom_edge() -> None:
    with pytest.raises(PlanError, match="there is no bottom edge"):
        course_of('start = "tube" ;; beads = "12A"', peyote('"A"', edge="bottom"))


@pytest.mark.parametrize(
    ("start", "says"),
    [
        (band("2S"), "a band of 2 units cannot be joined"),
        ('start = "ring" ;; beads = "2A"', "a ring of 2 beads cannot be closed"),
        ('start = "tube" ;; beads = "4A"', "6 beads or more"),
        ('start = "tube" ;; beads = "13A"', "13"),
    ],
)
def test_starts_that_cannot_be_closed_are_refused(start: str, says: str) -> None:
    with pytest.raises(PlanError, match=says):
        course_of(start, peyote('"A"'))


@pytest.mark.parametrize(
    ("height", "says"), [("height = 20001", "20,000"), ('height = "as high as you like" ;; usual = 20001', "20,000")]
)
def test_a_piece_has_a_limit(height: str, says: str) -> None:
    with pytest.raises(PlanError, match=says):
        course_of('start = "ring" ;; beads = "3A"', peyote('"A"', height))


def test_a_piece_has_a_limit_of_beads() -> None:
    with pytest.raises(PlanError, match="1,000,000 beads"):
        course_of('start = "ring" ;; beads = "6A"', peyote('"A"', "height = 1000", 'increase = { at = "every space" }'))


def test_ribs_of_the_other_edge_part_no_side_of_this_one() -> None:
    rounds = rounds_of(
        course_of(
            band("6S"),
            peyote('["C", "MM, 5C"]'),
            peyote('["MM, 5C", "MM, 6C"]', 'fill = "C"', edge="bottom"),
            peyote('["C", "C"]', 'decrease = { over = "ribs", from_round = 3, rounds = 1 }', edge="bottom"),
            markers="",
        )
    )
    assert [rounds["bottom", number]["sides"] for number in range(5)] == [[6], [5], [6], [7], [6]]
