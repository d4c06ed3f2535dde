"""Sides as even as can be, and plans begun in another size."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.errors import PlanError
from stitchalong.plan.model import Band, Plan, RingStart, TubeStart, Written
from stitchalong.plan.notation import parse_written, print_round
from stitchalong.plan.read import read_text
from stitchalong.plan.sizes import even_sides, resized, singles, with_markers
from tests.plan.samples import BEADS, SMALL

UNITS_AND_SIDES = st.integers(1, 400).flatmap(lambda units: st.tuples(st.just(units), st.integers(1, units)))


def test_twenty_six_over_four() -> None:
    # 7, 6, 7, 6 is how a stitcher would share them out (common practice, no source)
    assert even_sides(26, 4) == (7, 6, 7, 6)
    assert even_sides(28, 4) == (7, 7, 7, 7)
    assert even_sides(3, 3) == (1, 1, 1)


@given(UNITS_AND_SIDES)
def test_sides_are_even_all_around(asked: tuple[int, int]) -> None:
    units, sides = asked
    shared = even_sides(units, sides)
    assert len(shared) == sides
    assert sum(shared) == units
    assert max(shared) - min(shared) <= 1
    # no stretch of sides runs ahead of its fair share by a whole unit
    fair = Fraction(units, sides)
    for first in range(min(sides, 12)):
        for last in range(first + 1, sides + 1):
            assert abs(sum(shared[first:last]) - fair * (last - first)) < 1


@pytest.mark.parametrize(("units", "sides"), [(3, 4), (3, 0), (3, -1), (0, 1)])
def test_sides_that_cannot_be_made(units: int, sides: int) -> None:
    with pytest.raises(ValueError, match="cannot make"):
        even_sides(units, sides)


@given(st.lists(st.integers(1, 9), min_size=1, max_size=6), st.none() | st.integers(0, 9))
def test_spacers_with_markers(plain: list[int], lead: int | None) -> None:
    laid = singles(with_markers("S", "M", plain, lead).items)
    assert len(laid) == sum(plain) + len(plain)
    # cyclically the runs between markers are the sides, in order
    first = laid.index("M")
    turned = "".join(laid[first + 1 :] + laid[: first + 1])
    assert [len(run) for run in turned.split("M")[:-1]] == [*plain[1:], plain[0]]
    assert first == (plain[0] if lead is None else min(lead, plain[0]))


def plan_of(start: str) -> Plan:
    return read_text(f'title = "x"\n{BEADS}\n[[work]]\n{start}\n').plan


def band_plan(spacers: str) -> Plan:
    return plan_of(f'start = "MRAW band"\nframe = "C"\nspacers = "{spacers}"')


def laid_by(plan: Plan) -> str:
    start = plan.work[0]
    if isinstance(start, Band):
        assert start.units == len(singles(start.spacers.items))
        written: Written = start.spacers
    else:
        assert isinstance(start, RingStart | TubeStart)
        written = start.beads
    assert parse_written(written.text) == written
    return print_round(written)


@pytest.mark.parametrize(
    ("spacers", "units", "sides", "laid"),
    [
        ("*6S, M* 4 times", 26, None, "6S, M, 5S, M, 6S, M, 5S, M"),
        ("*6S, M* 4 times", 32, None, "(7S, M) x 4"),
        ("*6S, M* 4 times", 28, 3, "9S, M, 8S, M, 8S, M"),
        ("*6S, M* 4 times", None, 7, "(3S, M) x 7"),
        ("*6S, M* 4 times", 28, 1, "27S, M"),
        ("*6S, M* 4 times", None, [6, 7, 6, 5], "6S, M, 7S, M, 6S, M, 5S, M"),
        ("*6S, M* 4 times", 28, [6, 7, 6, 5], "6S, M, 7S, M, 6S, M, 5S, M"),
        ("*6S, M* 4 times", None, [9], "9S, M"),
        ("6S, M, 5S, M", 26, None, "(12S, M) x 2"),
        # begun on the marker, and in the middle of a side
        ("*M, 6S* 4 times", 26, None, "M, 5S, M, 6S, M, 5S, M, 6S"),
        ("3S, M, *6S, M* 3 times, 3S", 26, None, "3S, M, 5S, M, 6S, M, 5S, M, 3S"),
        ("3S, M, *6S, M* 3 times, 3S", None, [2, 4], "2S, M, 4S, M"),
        # without a marker: one code, or whole repeats of a pattern
        ("28S", 30, None, "30S"),
        ("*C, S, M* 4 times", 15, None, "(C, S, M) x 5"),
        ("*2C, 2S* 4 times", 12, None, "(2C, 2S) x 3"),
        ("*2C, 2S* 4 times", 4, None, "(2C, 2S) x 1"),
    ],
)
def test_a_band_in_another_size(spacers: str, units: int | None, sides: int | Sequence[int] | None, laid: str) -> None:
    plan = resized(band_plan(spacers), units, sides)
    assert laid_by(plan) == laid


@pytest.mark.parametrize(
    ("start", "units", "laid"),
    [
        ('start = "ring"\nbeads = "6C"', 9, "9C"),
        ('start = "ring"\nbeads = "*C, S* 3 times"', 4, "(C, S) x 2"),
        ('start = "tube"\nbeads = "20C"', 24, "24C"),
        ('start = "tube"\nbeads = "*C, 2S* 4 times"', 18, "(C, 2S) x 6"),
    ],
)
def test_a_strung_start_in_another_size(start: str, units: int, laid: str) -> None:
    assert laid_by(resized(plan_of(start), units)) == laid


def test_which_code_is_the_marker() -> None:
    # two codes, each standing alone: the palette says it (M is its marker), else a rule does
    assert laid_by(resized(band_plan("*S, M* 4 times"), 12)) == "(2S, M) x 4"
    text = f"""title = "x"\n{BEADS.replace("marker = true", "")}
[[work]]
start = "MRAW band"
frame = "C"
spacers = "*S, M* 4 times"
[[work]]
stitch = "peyote"
rounds = "C"
increase = {{ over = "S" }}
"""
    assert laid_by(resized(read_text(text).plan, 12)) == "S, 2M, S, 2M, S, 2M, S, 2M"


def test_nothing_asked_nothing_changed() -> None:
    plan = read_text(SMALL).plan
    assert resized(plan) is plan
    assert resized(plan, 28) == plan
    assert resized(plan, 28).work[1:] == plan.work[1:]


@pytest.mark.parametrize(
    ("start", "units", "sides", "words"),
    [
        ("*6S, M* 4 times", 2, None, "2 units cannot be begun (from 3 to 1,000,000)"),
        ("*6S, M* 4 times", 1_000_001, None, "cannot be begun"),
        ("*6S, M* 4 times", 7, None, "7 units cannot make 4 sides (each side needs a spacer and its marker)"),
        ("*6S, M* 4 times", None, 15, "28 units cannot make 15 sides"),
        ("*6S, M* 4 times", None, 0, "28 units cannot make 0 sides"),
        ("*6S, M* 4 times", 27, [6, 7, 6, 5], "make 28 units, not 27"),
        ("*6S, M* 4 times", None, [6, 0], "each side needs at least one plain spacer"),
        ("*6S, M* 4 times", None, [], "each side needs at least one plain spacer"),
        ("*6S, M* 4 times", None, [1], "2 units cannot be begun"),
        ("28S", None, 4, "have no one marker, so its sides cannot be named (say how many units)"),
        ("28S", 2, None, "2 units cannot be begun"),
        ("28S", 1, None, "1 unit cannot be begun"),
        ("*2C, 2S* 4 times", 14, None, "4 beads does not come out even over 14 units (choose 12 or 16)"),
        ("*2C, 2S* 4 times", 3, None, "choose 4 or 8"),
        ("*2C, 2S* 4 times", None, [6, 6], "have no one marker"),
        ("*S, 2M* 4 times", None, 4, "have no one marker"),
    ],
)
def test_a_size_that_cannot_be(start: str, units: int | None, sides: int | Sequence[int] | None, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        resized(band_plan(start), units, sides)
    assert words in str(caught.value)


@pytest.mark.parametrize(
    ("start", "units", "sides", "words"),
    [
        ('start = "ring"\nbeads = "6C"', 2, None, "2 beads cannot be begun (from 3"),
        ('start = "ring"\nbeads = "6C"', None, 3, "only a band has sides"),
        ('start = "tube"\nbeads = "20C"', 21, None, "an even number of beads, not 21 (string 22)"),
        ('start = "tube"\nbeads = "20C"', 4, None, "4 beads cannot be begun (from 6"),
    ],
)
def test_a_strung_size_that_cannot_be(start: str, units: int | None, sides: int | None, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        resized(plan_of(start), units, sides)
    assert words in str(caught.value)
