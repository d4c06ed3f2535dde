"""Finding one's place, held against plain looking through the list of all beads."""

from __future__ import annotations

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stitchalong.course.course import Course
from stitchalong.course.find import MOST, Clues, Finder, Found, codes_typed, fit_words, positions_after
from stitchalong.course.outlook import Lookout
from stitchalong.course.report import course_document
from stitchalong.errors import UsageError
from tests.writing import band, course_of, peyote

RING = (
    band("*3S, M* 4 times"),
    peyote('["A", "B", "A", "C"]', "height = 6", 'increase = { over = "M", with = "MM", from_round = 2 }'),
    peyote('"*picot DDD; repeat from * around"'),
    peyote('["A", "S"]', edge="bottom"),
)
EVERYTHING = 10**6


def _finder(course: Course) -> Finder:
    return Finder(Lookout(course, {}))


RING_COURSE = course_of(*RING)
FINDER = _finder(RING_COURSE)


def _plain(course: Course) -> list[dict[str, object]]:
    """Every bead by plain counting over the document: its code, round, edge, and beads since the last increase."""
    beads: list[dict[str, object]] = []
    since: int | None = None
    for round_ in course_document(course)["rounds"]:
        codes = [code for stitch in round_["stitches"] for code in stitch["beads"]]
        for stitch in round_["stitches"]:
            for nth, code in enumerate(stitch["beads"]):
                since = None if since is None else since + 1
                if stitch["increase"] and nth == len(stitch["beads"]) - 1:
                    since = 0
                beads.append(
                    {"code": code, "round": round_["round"], "edge": round_["edge"], "since": since, "all": codes}
                )
    return beads


BEADS = _plain(RING_COURSE)


def _fitting(clues: Clues) -> tuple[set[int], set[int]]:
    """(numbers of beads after which all clues fit, those after which they fit but for one bead)."""
    exact, one_off = set(), set()
    orders = [clues.last, clues.last[::-1]] if clues.either_way else [clues.last]
    for number in range(1, len(BEADS) + 1):
        bead = BEADS[number - 1]
        if clues.since_increase is not None and bead["since"] != clues.since_increase:
            continue
        if clues.edge is not None and bead["edge"] != clues.edge:
            continue
        if clues.round is not None and abs(bead["round"] - clues.round) > 2:
            continue
        if clues.colour is not None and bead["all"].count(clues.colour) * 3 < len(bead["all"]):
            continue
        if number < len(clues.last):
            continue
        laid = [other["code"] for other in BEADS[number - len(clues.last) : number]]
        wrong = min(sum(a != b for a, b in zip(laid, order, strict=True)) for order in orders)
        if wrong == 0:
            exact.add(number)
        elif wrong == 1 and len(clues.last) > 2:
            one_off.add(number)
    return exact, one_off


def _numbers(found: Found, *, misread: bool) -> set[int]:
    return {fit.beads for fit in found.fits if (fit.misread is not None) == misread}


@settings(deadline=None)
@given(
    st.integers(3, len(BEADS)),
    st.integers(0, 9),
    st.sampled_from([None, "since", "round", "edge", "colour", "all"]),
    st.integers(-2, 2),
    st.booleans(),
    st.one_of(st.none(), st.integers(0, 8)),
    st.sampled_from("ABCDMS"),
    st.integers(0, RING_COURSE.steps),
)
def test_what_fits_is_what_looking_through_all_beads_finds(
    number: int, seen: int, more: str | None, off: int, backwards: bool, wrong: int | None, other: str, kept: int
) -> None:
    bead = BEADS[number - 1]
    last = [str(one["code"]) for one in BEADS[max(0, number - seen) : number]]
    if wrong is not None and wrong < len(last):
        last[wrong] = other
    clues = Clues(
        tuple(last[::-1] if backwards else last),
        since_increase=bead["since"] if more in ("since", "all") else None,
        round=bead["round"] + off if more in ("round", "all") or not last else None,
        edge=str(bead["edge"]) if more in ("edge", "all") else None,
        colour=str(bead["all"][0]) if more in ("colour", "all") else None,
    )
    exact, one_off = _fitting(clues)
    if not last:  # the place before the first bead fits too, where nothing was said of the beads
        one_off = set()
    found = FINDER.find(clues, kept, most=EVERYTHING)
    assert _numbers(found, misread=False) == exact
    assert _numbers(found, misread=True) == one_off
    assert (found.places, found.doubtful) == (len(exact), len(one_off))
    assert all(RING_COURSE.beads_before(fit.position) == fit.beads for fit in found.fits)
    few = FINDER.find(clues, kept)
    assert few.fits == found.fits[:MOST]
    # best first: fits before doubtful ones, the right round before one that is off, then the nearest
    near = RING_COURSE.beads_before(kept)
    marks = [(fit.misread is not None, fit.backwards, fit.off, abs(fit.beads - near)) for fit in found.fits]
    assert marks == sorted(marks)


def test_the_place_is_found_from_enough_beads_and_told_with_what_comes_next() -> None:
    look = Lookout(RING_COURSE, {"A": "amber"})
    for number in range(30, RING_COURSE.beads, 7):
        for position in positions_after(RING_COURSE, number):
            last = tuple(str(bead["code"]) for bead in BEADS[max(0, number - 60) : number])
            found = Finder(look).find(Clues(last, either_way=False), kept=position)
            here = next(fit for fit in found.fits if fit.position == position)
            outlook = look.at(position)
            assert (here.title, here.now) == (outlook.title, outlook.now)
            item = RING_COURSE.rounds[RING_COURSE.round_of(position)]
            assert here.laid == f"{number - item.first_bead + 1} of {item.beads} laid"
            assert here is found.fits[0], "the kept place, where it fits, comes first"


def test_at_the_end_of_a_round_both_sides_of_the_step_up_are_told() -> None:
    index = next(at for at, item in enumerate(RING_COURSE.rounds) if (item.edge, item.number) == ("top", 3))
    item = RING_COURSE.rounds[index]
    number = item.first_bead + item.beads - 1
    positions = list(positions_after(RING_COURSE, number))
    assert positions == [item.stop_step - 1, item.stop_step]
    assert [RING_COURSE.round_of(at) for at in positions] == [index, index + 1]


def test_every_position_is_one_of_those_after_its_beads() -> None:
    spread = [at for beads in range(RING_COURSE.beads + 1) for at in positions_after(RING_COURSE, beads)]
    assert spread == list(range(RING_COURSE.steps + 1))


def test_how_sure_it_is_said_in_words() -> None:
    whole = tuple(str(bead["code"]) for bead in BEADS[:57])
    assert FINDER.find(Clues(whole)).sure == "the only place that fits all you see"
    assert "places fit all you see" in FINDER.find(Clues(("A",))).sure
    wrong = (*whole[:40], "D", *whole[41:])
    found = FINDER.find(Clues(wrong))
    assert found.sure == "no place fits all you see; 1 place would if one bead was misread"
    assert fit_words(found.fits[0], Clues(wrong)) == "if the 41st bead, D, was misread"
    assert FINDER.find(Clues(tuple("DMDMDMDM"))).sure == "no place fits what you see"


@pytest.mark.parametrize(
    ("clues", "words"),
    [
        (Clues(), "nothing to go by"),
        (Clues(("A", "Q")), "there is no bead Q in this piece"),
        (Clues(colour="Z"), "there is no bead Z"),
        (Clues(since_increase=-1), "fewer than no beads"),
        (Clues(("A",), edge="left"), "there is no left edge"),
        (Clues(("A",), part="lid"), "there is no part lid"),
        (Clues(("A",) * 201), "more than 200 beads"),
    ],
)
def test_what_cannot_be_looked_for_is_refused_in_words(clues: Clues, words: str) -> None:
    with pytest.raises(UsageError, match=words):
        FINDER.find(clues)


def test_a_number_that_no_piece_can_have_finds_nothing() -> None:
    assert FINDER.find(Clues(since_increase=10**12)).fits == ()
    assert FINDER.find(Clues(round=10**12)).fits == ()


def test_a_piece_without_increases_says_so() -> None:
    plain = _finder(course_of('start = "ring" ;; beads = "12A"', peyote('"A"', "height = 2")))
    with pytest.raises(UsageError, match="no increases"):
        plain.find(Clues(since_increase=2))


@pytest.mark.parametrize(
    ("typed", "codes"),
    [("A A B B A", "AABBA"), ("aabba", "AABBA"), ("2A, 2B, A", "AABBA"), ("2 A", "AA"), ("A-B;C", "ABC"), ("", "")],
)
def test_beads_are_typed_in_any_of_the_usual_ways(typed: str, codes: str) -> None:
    assert codes_typed(typed) == tuple(codes)


@pytest.mark.parametrize("typed", ["A*B", "3", "A \x1b[31m", "999999999A", "ä", "201A"])
def test_what_is_no_bead_is_refused(typed: str) -> None:
    with pytest.raises(UsageError) as caught:
        codes_typed(typed)
    assert str(caught.value).isprintable()


def test_a_million_beads_are_looked_through_before_it_can_be_felt() -> None:
    """Time of this process alone, so that a busy machine does not matter. 0.1 s is the usual limit under which an
    answer seems to come at once (Nielsen, Usability Engineering, 1993, chapter 5; from memory)."""
    rounds = peyote('["A", "A", "*3A, 3B; repeat from * around"]', "height = 1000")
    course = course_of(band("*245S, M* 4 times"), rounds)
    assert course.beads > 980_000
    finder = _finder(course)
    finder.find(Clues(("A", "A", "S")))
    questions = [Clues(tuple("AABBBABBBAAABB")), Clues(("A",)), Clues(tuple("SSMSSS")), Clues(round=500)]
    for clues in questions:
        times = []
        for _ in range(3):
            begun = time.process_time()
            finder.find(clues, kept=course.steps // 2)
            times.append(time.process_time() - begun)
        assert min(times) < 0.1, clues
