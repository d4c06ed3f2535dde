"""Work that differs from its plan: what follows is derived from what is really there."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stitchalong.course.choices import Another, Choice, Deviation, StepUpElsewhere, from_data, to_data
from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.course.deviate import deviation_words
from stitchalong.course.report import course_document, rows
from stitchalong.errors import PlanError
from stitchalong.plan.read import read_text
from tests.writing import band, course_of, peyote, plan_of, plan_text, rounds_of

RING = (
    band("*3S, M* 4 times"),
    peyote('["A", "B"]', "height = 5", 'increase = { over = "M", with = "MM", from_round = 2 }'),
    peyote('["A", "D"]', edge="bottom"),
)
RING_PLAN = plan_of(*RING)


def _ring(choices: Iterable[Choice] = ()) -> Course:
    return compile_plan(RING_PLAN, choices)


SPACES = {round_: _ring().rounds[round_].spaces for round_ in range(1, 6)}


def _as_written(course: Course) -> Course:
    """The same piece with every round written out bead by bead, as it was laid."""
    tables = [RING[0]]
    fill = ""
    for round_ in course_document(course)["rounds"]:
        items = []
        for stitch in round_["stitches"]:
            match stitch["kind"]:
                case "single":
                    items.append(f"1{stitch['beads'][0]}")
                case "pair":
                    items.append(_together(stitch["beads"]))
                case "no bead":
                    items.append("no bead")
        text = ", ".join(items)
        if not items or (round_["edge"], round_["round"]) == ("top", 0):
            continue
        if round_["round"] == 0:
            fill = f'fill = "{text}"'
            continue
        tables.append(peyote(f'["{text}"]', *([fill] if fill else []), edge=round_["edge"]))
        fill = ""
    return compile_plan(read_text(plan_text(*tables), "written").plan)


def _together(codes: list[str]) -> str:
    return f"{''.join(codes)} x 1" if len(codes) == 2 else f"{len(codes)}{codes[0]} together"


def _work(course: Course) -> list[dict[str, Any]]:
    return [
        {key: stitch[key] for key in ("beads", "ids", "through", "kind", "step_up", "last")}
        | {"edge": round_["edge"], "round": round_["round"]}
        for round_ in course_document(course)["rounds"]
        for stitch in round_["stitches"]
    ]


laid = st.sampled_from([(), ("A",), ("B", "B"), ("B", "B", "B"), ("M",)])


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 5), st.integers(0, 200), laid)
def test_what_follows_is_that_of_the_same_work_written_out(round_: int, at: int, beads: tuple[str, ...]) -> None:
    """Rounds written out bead by bead are held by the naive model; a deviation has to lead to the same piece."""
    one = Deviation("top", round_, at % SPACES[round_], beads)
    course = _ring([one])
    assert course.deviations == (one,)
    assert _work(course) == _work(_as_written(course))


def test_the_space_is_counted_from_where_the_needle_began() -> None:
    for moved in range(1, 16):
        there = _ring([StepUpElsewhere("top", 1, moved), Deviation("top", 2, 5, ("B", "B"))])
        here = _ring([Deviation("top", 2, (5 + moved) % 16, ("B", "B"))])
        for one, other in zip(rows(there), rows(here), strict=True):
            assert {**one, "sides": sorted(one["sides"])} == {**other, "sides": sorted(other["sides"])}  # type: ignore[call-overload]
        index = next(at for at, item in enumerate(there.rounds) if (item.edge, item.number) == ("top", 2))
        stitches = course_document(there)["rounds"][index]["stitches"]  # type: ignore[index]
        assert stitches[5]["beads"] == ["B", "B"] or stitches[5]["beads"] == ["M", "M"]
        assert stitches[5]["kind"] == "pair"


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.integers(1, 5), st.integers(0, 11), laid), min_size=2, max_size=5))
def test_several_deviations_add_up(several: list[tuple[int, int, tuple[str, ...]]]) -> None:
    course = _ring([Deviation("top", *one) for one in several])
    assert _work(course) == _work(_as_written(course))
    assert _work(course) == _work(_ring([Deviation("top", *one) for one in several]))


def test_nothing_before_the_place_is_changed() -> None:
    plain = _ring()
    course = _ring([Deviation("top", 3, 8, ("A", "A"))])
    index = next(at for at, item in enumerate(plain.rounds) if (item.edge, item.number) == ("top", 3))
    before = [(stitch["beads"], stitch["side"]) for stitch in course_document(plain)["rounds"][index]["stitches"]][:8]
    after = [(stitch["beads"], stitch["side"]) for stitch in course_document(course)["rounds"][index]["stitches"]][:8]
    assert before == after
    assert course_document(plain)["rounds"][:index] == course_document(course)["rounds"][:index]


def test_one_bead_more_makes_its_side_one_longer_from_here_on_and_no_new_side() -> None:
    plain, course = (rounds_of(_ring(choices)) for choices in ([], [_more(4)]))
    for number in (1, 2, 3):
        assert course["top", number]["sides"] == plain["top", number]["sides"]
    for number in (4, 5):
        assert _longer(plain["top", number], course["top", number]) == [0, 0, 0, 1]
        assert course["top", number]["increases"] == 4
        assert course["top", number]["beads"] == plain["top", number]["beads"] + 1


def _more(space: int) -> Deviation:
    return Deviation("top", 3, space, ("A", "A"))


def _longer(plain: dict[str, Any], course: dict[str, Any]) -> list[int]:
    """By how many stitches each side is longer, sorted."""
    return sorted(there - here for here, there in zip(plain["sides"], course["sides"], strict=True))


def test_a_space_missed_makes_its_side_one_shorter_from_here_on() -> None:
    plain, course = (rounds_of(_ring(choices)) for choices in ([], [Deviation("top", 3, 4, ())]))
    for number in (4, 5):
        assert _longer(plain["top", number], course["top", number]) == [-1, 0, 0, 0]


def test_a_pair_that_was_laid_as_one_bead_leaves_its_rib_where_it_is() -> None:
    plain = _ring()
    index = next(at for at, item in enumerate(plain.rounds) if (item.edge, item.number) == ("top", 2))
    kinds = [stitch["kind"] for stitch in course_document(plain)["rounds"][index]["stitches"]]
    space = kinds.index("pair")
    course = rounds_of(_ring([Deviation("top", 2, space, ("M",))]))
    assert [len(course["top", number]["sides"]) for number in (2, 3, 4, 5)] == [4, 4, 4, 4]
    # the rib's column has a space again two rounds later, and the pair goes there
    assert [course["top", number]["increases"] for number in (2, 3, 4, 5)] == [3, 3, 4, 4]


def test_a_bead_of_another_colour_changes_no_count() -> None:
    plain, course = (rounds_of(_ring(choices)) for choices in ([], [Deviation("top", 3, 4, ("D",))]))
    for key, row in plain.items():
        assert {**course[key], "codes": 0} == {**row, "codes": 0}
    assert course["top", 3]["codes"]["D"] == 1  # type: ignore[index]


def test_a_written_round_that_no_longer_fits_is_named_at_once() -> None:
    written = (
        RING[0],
        peyote('"A"', "height = 3", 'increase = { over = "M", with = "MM", from_round = 2 }'),
        peyote('"*5B, MM; repeat from * around"'),
    )
    course_of(*written)
    with pytest.raises(PlanError, match=r"round 4 on the top edge: .*spaces do not come out even") as caught:
        course_of(*written, choices=[Deviation("top", 3, 4, ("A", "A"))])
    assert len(caught.value.problems) == 1


@pytest.mark.parametrize(
    ("deviation", "words"),
    [
        (Deviation("top", 3, 99, ("A",)), "there is no 100th space to accept as it is: this round has 20"),
        (Deviation("top", 3, -1, ("A",)), "there is no"),
        (Deviation("top", 3, 1, ("Q",)), "there is no bead Q in this plan"),
        (Deviation("top", 3, 1, tuple("AAAAA")), "5 beads in one space"),
        (Deviation("top", 9, 1, ("A",)), "round 9 on the top edge cannot be accepted"),
        (Deviation("top", 0, 1, ("A",)), "round 0 on the top edge cannot be accepted"),
        (Deviation("bottom", 0, 1, ()), "round 0 on the bottom edge cannot be accepted"),
        (Deviation("top", 3, 1, ("A",), part="lid"), "cannot be accepted"),
    ],
)
def test_what_cannot_be_worked_on_is_refused_in_words(deviation: Deviation, words: str) -> None:
    with pytest.raises(PlanError, match=words):
        _ring([deviation])


def test_a_round_in_which_nothing_was_laid_is_refused() -> None:
    small = ('start = "ring" ;; beads = "3A"', peyote('"A"', "height = 2"))
    with pytest.raises(PlanError, match="a round with no bead"):
        course_of(*small, choices=[Deviation("top", 2, space, ()) for space in range(3)])


def test_choices_keep_through_json() -> None:
    several = (Another("top", 2, True), Deviation("top", 3, 4, ("A", "A"), somewhere=True), Deviation("top", 3, 5, ()))
    assert from_data(json.loads(json.dumps(to_data(several)))) == several


@pytest.mark.parametrize("wrong", [{"laid": "AA"}, {"space": "4"}, {"round": None}, {"colour": "A"}])
def test_data_that_is_no_deviation_is_refused(wrong: dict[str, Any]) -> None:
    good = to_data([Deviation("top", 3, 4, ("A",))])[0]
    with pytest.raises(ValueError, match="not a choice"):
        from_data([{**good, **wrong}])


def test_it_is_told_where_the_piece_differs() -> None:
    assert deviation_words(Deviation("top", 3, 4, ("A", "A"))) == "round 3, top edge: 2 beads (AA) in the fifth space"
    assert deviation_words(Deviation("top", 3, 0, ())) == "round 3, top edge: no bead in the first space"
    about = Deviation("bottom", 1, 11, ("A", "B"), part="lid", somewhere=True)
    assert deviation_words(about) == "lid: round 1, bottom edge: 2 beads (AB) in about the 12th space"
