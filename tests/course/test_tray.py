"""The tray, held against plain counting over the document of a course."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

from stitchalong.course.course import Course
from stitchalong.course.outlook import Lookout
from stitchalong.course.report import course_document
from stitchalong.course.spaces import beads_between, spaces_done, step_of_space
from stitchalong.course.tray import Pile, left_over, left_typed, tray
from stitchalong.errors import UsageError
from tests.writing import band, course_of, peyote

RING = course_of(
    band("*3S, M* 4 times"),
    peyote('["A", "B", "A", "C"]', "height = 5", 'increase = { over = "M", with = "MM", from_round = 2 }'),
    peyote('"*picot DDD; repeat from * around"'),
    peyote('["A", "C; middle S"]', edge="bottom"),
)
LOOKOUT = Lookout(RING, {})


def _steps(course: Course) -> list[dict[str, Any]]:
    """Every step by plain counting: its code (or nothing), round, side, whether its stitch fills a space."""
    steps: list[dict[str, Any]] = []
    for index, round_ in enumerate(course_document(course)["rounds"]):
        space = 0
        for stitch in round_["stitches"]:
            told = {"round": index, "side": stitch["side"], "space": space, "fills": stitch["side"] is not None}
            last = len(stitch["beads"]) - 1
            steps += [{**told, "code": code, "end": at == last} for at, code in enumerate(stitch["beads"])] or [
                {**told, "code": "", "end": True}
            ]
            space += stitch["kind"] in ("single", "pair", "picot", "no bead", "unit", "string", "corner")
    return steps


STEPS = _steps(RING)


def _count(codes: list[str]) -> Pile:
    return tuple(sorted(Counter(code for code in codes if code).items()))


def test_beads_between_any_two_positions_are_those_of_the_steps_between() -> None:
    codes = [step["code"] for step in STEPS]
    for start in range(0, len(codes), 5):
        for stop in range(start, len(codes) + 1, 7):
            assert _count(list(beads_between(RING, start, stop).elements())) == _count(codes[start:stop])


def test_spaces_are_found_where_their_stitch_begins() -> None:
    for index, item in enumerate(RING.rounds):
        if item.technique not in ("peyote", "fill"):
            continue
        for space in range(item.spaces):
            first = step_of_space(RING, index, space)
            assert STEPS[first]["space"] == space
            assert space == 0 or STEPS[first - 1]["space"] == space - 1
            assert spaces_done(RING, index, first) == space
        assert step_of_space(RING, index, item.spaces) == 1 + max(
            at for at, step in enumerate(STEPS) if step["round"] == index and step["space"] == item.spaces - 1
        )


def test_what_lies_on_the_tray_is_what_is_still_to_lay() -> None:
    for position in range(RING.steps):
        here = tray(LOOKOUT, position)
        index = STEPS[position]["round"]
        assert here.round.left == LOOKOUT.at(position).codes_left
        assert here.round.left == _count([s["code"] for s in STEPS[position:] if s["round"] == index])
        assert here.round.used == _count([s["code"] for s in STEPS[:position] if s["round"] == index])
        for nth, heap in enumerate(here.ahead, start=1):
            assert heap.needed == _count([s["code"] for s in STEPS if s["round"] == index + nth])
            assert heap.used == ()
        assert len(here.ahead) == min(3, len(RING.rounds) - 1 - index)
        assert here.together == _count([s["code"] for s in STEPS[position:] if s["round"] <= index + 3])


def test_the_beads_of_a_side_are_those_up_to_the_next_rib_or_the_step_up() -> None:
    tried = 0
    for position, step in enumerate(STEPS):
        side = tray(LOOKOUT, position).side
        if RING.rounds[step["round"]].technique != "peyote":
            continue
        if not step["fills"]:
            assert side is None
            continue
        mine = (step["round"], step["side"])
        first, stop = position, position
        while (STEPS[first - 1]["round"], STEPS[first - 1]["side"]) == mine:
            first -= 1
        while stop < len(STEPS) and (STEPS[stop]["round"], STEPS[stop]["side"]) == mine:
            stop += 1
        if all(s["side"] == 0 for s in STEPS if s["round"] == step["round"] and s["fills"]):
            assert side is None, "the round is all one side"
            continue
        assert side is not None
        assert side.needed == _count([s["code"] for s in STEPS[first:stop]])
        assert side.used == _count([s["code"] for s in STEPS[first:position]])
        tried += 1
    assert tried > 100


def test_at_the_end_of_the_piece_the_last_round_is_used_up() -> None:
    last = tray(LOOKOUT, RING.steps)
    assert (last.round.left, last.ahead, last.side) == ((), (), None)


@pytest.mark.parametrize(
    ("on_tray", "difference", "words"),
    [
        ({}, [0], "this round is right"),
        ({"A": 0}, [0], "this round is right"),
        ({"A": 2}, [-2], "2 A left over: 2 spaces of this round missed"),
        ({"B": -1}, [1], "1 B short: two beads in one space"),
        ({"A": 1, "B": -1}, [0], "B was laid once where A belongs"),
        ({"A": 3, "B": -1}, [0, -2], "2 A left over"),
        ({"A": 1, "Q": -1}, [0], "Q was laid once where A belongs"),
    ],
)
def test_what_is_left_over_or_short_says_what_happened(
    on_tray: dict[str, int], difference: list[int], words: str
) -> None:
    """Left over: a place missed; short: a place filled twice (heartstringsfiberarts.com/bead-counting.shtm)."""
    findings = left_over((("A", 20), ("B", 4)), on_tray)
    assert [finding.difference for finding in findings] == difference
    assert words in " ".join(finding.words for finding in findings)


@pytest.mark.parametrize(("on_tray", "words"), [({"Q": 1}, "no Q was counted out"), ({"B": 5}, "5 B cannot be left")])
def test_what_cannot_be_left_is_refused(on_tray: dict[str, int], words: str) -> None:
    with pytest.raises(UsageError, match=words):
        left_over((("A", 20), ("B", 4)), on_tray)


@pytest.mark.parametrize(
    ("text", "beads"),
    [("1A", {"A": 1}), ("a", {"A": 1}), ("2A, -1b", {"A": 2, "B": -1}), ("-3 C", {"C": -3}), ("", {})],
)
def test_beads_left_over_are_typed_as_one_writes_them(text: str, beads: dict[str, int]) -> None:
    assert left_typed(text) == beads


@pytest.mark.parametrize("text", ["1", "A A*", "1A ?"])
def test_what_names_no_beads_is_refused(text: str) -> None:
    with pytest.raises(UsageError, match="names no beads"):
        left_typed(text)
