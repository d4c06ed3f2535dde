"""Every kind of piece that questions can make: it can be read, is in no fault, and is walked to its end."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.course.walker import Walker
from stitchalong.design.questions import Question, wanted_by
from stitchalong.design.reading import read_colours, read_order
from stitchalong.design.wanted import Colour, Kind, Wanted, plan_data, plan_text
from stitchalong.errors import Problems, UsageError
from stitchalong.measure.book import Book
from stitchalong.measure.flat import Verdict
from stitchalong.measure.of_course import flat_parts
from stitchalong.measure.units import Units
from stitchalong.plan.model import Plan
from stitchalong.plan.read import read_text

T = TypeVar("T")

RGB = st.integers(0, 0xFFFFFF).map(lambda number: f"#{number:06x}")
NAMES = st.text(st.characters(exclude_categories=("C", "Z")), min_size=1, max_size=12)


@st.composite
def wishes(draw: st.DrawFn, kind: Kind) -> Wanted:
    colours = draw(st.lists(st.builds(Colour, NAMES, RGB), min_size=2 if kind.finned else 1, max_size=5))
    codes = "ABCDE"[: len(colours)]
    sides = draw(st.integers(2, 8)) if kind.finned else 1
    least = {Kind.TUBE: 3, Kind.STRIP: 3, Kind.TRIANGLE: 2, Kind.SQUARE: 3}.get(kind, 1)
    count = {
        Kind.TUBE: 2 * draw(st.integers(3, 30)),
        Kind.STRIP: 2 * draw(st.integers(2, 20)),
        Kind.TRIANGLE: 0,
        Kind.SQUARE: 0,
    }.get(kind, draw(st.integers(2 * sides, 60)))
    order = tuple(draw(st.lists(st.sampled_from(codes), min_size=1, max_size=6)))
    return Wanted(
        kind, draw(NAMES), "11/0", "cylinder", tuple(colours), order, count, sides, draw(st.integers(least, 20))
    )


def beads_of(wanted: Wanted) -> int | None:
    """By the trade's own sums: a band of n units has 4n beads, a round on it n, and one more a round for each rib; a
    triangle of two-bead corners of r rounds has 3 r (r + 1) / 2 (OEIS A045943)."""
    n, r, k = wanted.count, wanted.rounds, wanted.sides
    fins = n + sum(n + k * done for done in range(1, r + 1))
    match wanted.kind:
        case Kind.FINS:
            return 4 * n + fins + 2 * n
        case Kind.FINS_BOTH:
            return 4 * n + fins + n + fins
        case Kind.TUBE | Kind.STRIP:
            return n * r // 2
        case Kind.TRIANGLE:
            return 3 * r * (r + 1) // 2
    return None


def read(wanted: Wanted) -> tuple[Plan, Course]:
    problems = Problems()
    loaded = read_text(plan_text(wanted), "new.toml", problems)
    assert not problems.faults
    return loaded.plan, compile_plan(loaded.plan)


@pytest.mark.parametrize("kind", Kind)
@settings(max_examples=25, deadline=None)
@given(st.data())
def test_every_kind_can_be_read_and_is_walked_to_its_end(kind: Kind, data: st.DataObject) -> None:
    wanted = data.draw(wishes(kind))
    plan, course = read(wanted)
    assert plan.title == wanted.title.strip()
    want = beads_of(wanted)
    if want is not None:
        assert course.beads == want
    walker, presses = Walker(), 0
    while walker.position < course.steps:
        walker = walker.pressed(course)
        presses += 1
    assert presses == course.steps


def test_rounds_have_the_colours_asked_for_in_order() -> None:
    """A tube of 6 in A, B, C: round 1 is A, round 2 B, round 3 C, round 4 A again."""
    colours = (Colour("ash", "#888888"), Colour("bone", "#eeeeee"), Colour("coal", "#222222"))
    _, course = read(Wanted(Kind.TUBE, "Tube", "11/0", "cylinder", colours, ("A", "B", "C"), 6, 1, 5))
    strung = [stitch.beads[0] for stitch, count in course.runs_of(0) for _ in range(count) if stitch.beads]
    assert strung == ["B", "A"] * 3  # the first bead strung belongs to round 2 (common practice, no source)
    assert [{code for stitch, _ in course.runs_of(at) for code in stitch.beads} for at in (1, 2, 3)] == [
        {"C"},
        {"A"},
        {"B"},
    ]


@pytest.mark.parametrize("kind", [Kind.TRIANGLE, Kind.SQUARE])
def test_flat_pieces_lie_flat_by_the_model(kind: Kind) -> None:
    """In cylinders of 1.6 by 1.3 mm. 21 rounds, so that the square's cycle of five comes four times."""
    colours = (Colour("ash", "#888888"),)
    plan, course = read(Wanted(kind, "Flat", "11/0", "cylinder", colours, ("A",), 0, 1, 22))
    assert {part.flatness.verdict for part in flat_parts(course, plan)} == {Verdict.FLAT}


# ---- the questions --------------------------------------------------------------------------------


def answered(*answers: str) -> Wanted:
    """What comes of these answers; the rest are empty. A wrong one fails the test."""
    left = list(answers)

    def ask(question: Question, read: Callable[[str], T]) -> T:
        return read((left.pop(0) if left else "") or question.usual)

    return wanted_by(ask, Book(), Units.METRIC)


@pytest.mark.parametrize("nth", range(1, len(Kind) + 1))
def test_empty_answers_make_a_plan_of_each_kind(nth: int) -> None:
    wanted = answered(str(nth))
    assert wanted.kind is list(Kind)[nth - 1]
    read(wanted)


def test_a_finger_gives_a_count_that_fits_it() -> None:
    """US 7 is 54.4 mm round (0.458 + 7 · 0.032 in across), a wide band asks for 1.3 mm more; a unit is 2.24 mm."""
    wanted = answered("1", "Ring", "", "", "", "4", "US 7", "1", "3")
    assert wanted.count == 25
    assert plan_data(wanted)["work"][0]["sides"] == [6, 5, 5, 5], "7 6 6 6 with the markers"


def test_a_hand_gives_a_bangle() -> None:
    """A closed hand of 20 cm wants 22 cm; beads 1.3 mm long, of which a tube strings as many as go round: about 169."""
    wanted = answered("3", "Bangle", "", "", "", "hand 20 cm", "1")
    assert wanted.count * 1.3 == pytest.approx(220, abs=2.6)


@pytest.mark.parametrize(
    "answers",
    [("7",), ("0",), ("1", "", "12/0 moonstone"), ("1", "", "", "teal"), ("1", "", "", "teal, greenish"),
     ("1", "", "", "", "A Z"), ("1", "", "", "", "", "1"), ("1", "", "", "", "", "4", "7"), ("3", "", "", "", "", "41"),
     ("3", "", "", "", "", "40", "0")],
)  # fmt: skip
def test_what_cannot_be_is_refused(answers: tuple[str, ...]) -> None:
    with pytest.raises(UsageError):
        answered(*answers)


def test_colours_and_orders_are_read_as_people_write_them() -> None:
    assert read_colours("sea glass #7FB8AD, gold", 1)[0] == Colour("sea glass", "#7fb8ad")
    assert read_order("a, b A", "AB") == ("A", "B", "A")
