"""Picots and fringe on open and closed edges, against published counts and plain lists of the way along an edge."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.course.course import Course
from stitchalong.errors import PlanError
from tests.techniques.columns import even_tube, flat
from tests.techniques.common import calm, leaps, stitches, walked
from tests.writing import band, course_of, peyote


def strip(across: int, rows: int, *work: str) -> Course:
    start = f'start = "strung row" ;; beads = "{across}A"'
    body = (f'stitch = "flat peyote" ;; rows = "A" ;; height = {rows - 2}',) if rows > 2 else ()
    return course_of(start, *body, *work)


def tube(around: int, rounds: int, *work: str) -> Course:
    return course_of(f'start = "tube" ;; beads = "{around}A"', peyote('"A"', f"height = {rounds - 2}"), *work)


def fringe(*keys: str) -> str:
    return " ;; ".join(['stitch = "fringe"', *keys])


PICOTS = 'stitch = "edging" ;; stitches = "picot BBB"'


@calm
@given(st.integers(2, 14), st.integers(2, 9))
def test_picots_add_three_in_every_gap_of_an_open_edge(across: int, rows: int) -> None:
    """3(u - 1) beads on an open edge of u up beads (interweave.com, beadwise, beaded picot)."""
    ups = (across + rows % 2) // 2
    if ups < 2:
        return
    plain, edged = strip(across, rows), strip(across, rows, PICOTS)
    assert edged.beads - plain.beads == 3 * (ups - 1)
    piece = flat(across, rows, 1, lambda row: bool(across % 2))
    told = list(stitches(edged))[sum(1 for _ in stitches(plain)) :]
    through = [bead for one in told for bead in one["through"]]
    last = [bead for bead in piece.column_of if bead > plain.beads - ups]
    turned_in = rows % 2 and across % 2 and rows > 2
    assert through == (last[::-1][1:] if turned_in else last[::-1]) or rows == 2, "back through the last row"
    assert [one["kind"] for one in told if one["kind"] != "turn"] == ["picot"] * (ups - 1)


@calm
@given(st.integers(3, 10).map(lambda half: 2 * half), st.integers(3, 8))
def test_picots_add_three_in_every_gap_of_a_closed_edge(around: int, rounds: int) -> None:
    """3u beads on a closed edge of u gaps (the same page)."""
    edged = tube(around, rounds, PICOTS)
    assert edged.beads - tube(around, rounds).beads == 3 * around // 2
    same = tube(around, rounds, peyote('["*picot BBB; repeat from * around"]'))
    assert [(one["ids"], one["through"]) for one in stitches(edged)] == [
        (one["ids"], one["through"]) for one in stitches(same)
    ]


# ---- fringe -------------------------------------------------------------------------------------


def test_a_strand_goes_down_round_its_last_bead_and_back_up() -> None:
    """Common practice, no source: string, skip the last bead, back up through the others, into the edge."""
    course = strip(4, 4, fringe('strands = "3B, C"'))
    told = list(stitches(course))[-2:]
    assert [(one["kind"], one["ids"], one["through"]) for one in told] == [
        ("turn", [], [8]),
        ("group", [9, 10, 11, 12], [11, 10, 9, 7]),
    ]


def test_a_tip_of_three_turns_the_thread_as_one() -> None:
    course = strip(4, 4, fringe('strands = "2B, 3C"', "tip = 3"))
    assert [one["through"] for one in stitches(course)][-1] == [10, 9, 7]


@calm
@given(
    st.integers(2, 12),
    st.integers(2, 9),
    st.lists(st.integers(2, 7), min_size=1, max_size=3),
    st.integers(1, 3),
)
def test_fringe_on_an_open_edge_keeps_to_beads_that_touch(
    across: int, rows: int, lengths: list[int], every: int
) -> None:
    ups = (across + rows % 2) // 2
    if ups < 2:
        return
    strands = ", ".join(f'"{length - 1}B, C"' for length in lengths)
    course = strip(across, rows, fringe(f"strands = [{strands}]", f"every = {every}"))
    hung = [one for one in stitches(course) if len(one["beads"]) > 1 or one["kind"] == "group"]
    places = len(range(0, ups - 1, every))
    assert [len(one["ids"]) for one in hung] == [lengths[nth % len(lengths)] for nth in range(places)]
    piece = flat(across, rows, 1, lambda row: bool(across % 2))

    tops = {one["ids"][0] for one in hung}
    edge = range(piece.laid - ups + 1, piece.laid + 1) if rows > 2 else range(1, across + 1)

    def touch(one: int, other: int) -> bool:
        low, high = min(one, other), max(one, other)
        if high <= piece.laid:
            return piece.touch(one, other)
        return high in tops and low in edge if low <= piece.laid else high - low == 1 and high not in tops

    assert not leaps(course, touch)
    for one in hung:
        assert one["through"][:-1] == one["ids"][-2::-1]


@calm
@given(st.integers(3, 9).map(lambda half: 2 * half), st.integers(3, 8), st.integers(1, 4))
def test_along_a_closed_edge_the_needle_goes_through_the_beads_between(around: int, rounds: int, every: int) -> None:
    course = tube(around, rounds, fringe('strands = "2B"', f"every = {every}"))
    piece = even_tube(around, rounds)
    along = [one for one in stitches(course) if one["kind"] == "walk along"]
    assert len(along) == around // 2 - len(range(0, around // 2, every))
    for one in along:
        first, second = one["through"]
        assert piece.touch(first, second)
    ends = [one["through"][-1] for one in stitches(course) if one["through"]][-around // 2 :]
    assert sorted(ends) == list(range(piece.laid - around // 2 + 1, piece.laid + 1))


def test_fringe_hangs_from_pairs_and_from_a_band_too() -> None:
    course = course_of(
        band("*6S, M* 4 times"),
        peyote('"A"', "height = 3", 'increase = { over = "M", with = "MM", from_round = 2 }'),
        fringe('strands = ["4A, B", "6A, B"]', "every = 2"),
    )
    assert walked(course)[0] == course.beads == 4 * 28 + 28 + 32 + 36 + 9 * 5 + 9 * 7
    alone = course_of(band("8S"), fringe('strands = "3A"'))
    assert alone.beads == 32 + 24


def test_a_step_up_comes_before_a_closed_fringe() -> None:
    """The needle stands in the first up bead of the last round."""
    course = tube(8, 4, fringe('strands = "2B"'))
    kinds = [one["kind"] for one in stitches(course)]
    assert kinds[-5:] == ["step-up", "group", "group", "group", "group"]


# ---- a turning bead -----------------------------------------------------------------------------


def test_a_turning_bead_stays_outside_the_edge() -> None:
    course = course_of(
        'start = "strung row" ;; beads = "5A"',
        'stitch = "flat peyote" ;; rows = "A" ;; height = 4 ;; turn = "turning bead" ;; turning_bead = "D"',
    )
    row = [(one["ids"], one["through"]) for one in stitches(course)][5:]
    assert row[:4] == [([6], [4]), ([7], [2]), ([8, 9], []), ([], [8])]
    assert row[4:6] == [([10], [7]), ([11], [6])]
    passed = {bead for _, through in row for bead in through}
    assert 9 not in passed
    assert course.beads == 5 + 3 + 1 + 2 + 3 + 1 + 2


@pytest.mark.parametrize(
    ("work", "words"),
    [
        ((fringe('strands = "B"'),), "a strand of 1 bead has none to come back through (2 beads or more"),
        ((fringe('strands = "2B, 3C"', "tip = 5"),), "(6 beads or more, the last 5 of them to turn the thread)"),
        ((fringe('strands = "2B"'), PICOTS), "nothing can hang from fringe"),
        ((PICOTS, peyote('"A"')), "nothing can hang from edging"),
        (('stitch = "edging" ;; stitches = "corner BBB"',), "an edging takes single beads"),
        (('stitch = "edging" ;; stitches = "3A"',), "1 stitch too many: the row has 2 spaces"),
        ((fringe('strands = "2B"', 'edge = "bottom"'),), "the needle is not on the bottom edge"),
    ],
)
def test_what_cannot_end_an_edge_is_refused(work: tuple[str, ...], words: str) -> None:
    with pytest.raises(PlanError) as caught:
        strip(6, 4, *work)
    assert words in str(caught.value)


def test_more_fringe_than_a_plan_can_hold_is_refused_before_it_is_hung() -> None:
    with pytest.raises(PlanError, match=r"more than 1,000,000 beads"):
        strip(400, 3, fringe('strands = ["2B", "900000B"]'))


def test_a_turning_bead_has_to_be_named() -> None:
    with pytest.raises(PlanError, match="names that bead"):
        strip(5, 2, 'stitch = "flat peyote" ;; rows = "A" ;; turn = "turning bead"')


def test_edgings_are_walked_to_the_last_bead() -> None:
    laid, said = walked(strip(6, 4, fringe('strands = "3B"', "every = 2")))
    assert laid == 12 + 3
    assert any("skip the last bead, which turns the thread" in one for one in said)
    assert any(one.startswith("Go along the edge without a bead") for one in said)
    _, said = walked(strip(6, 4, PICOTS))
    assert any("so that the middle bead stands out" in one for one in said)
