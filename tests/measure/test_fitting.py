"""Plans brought to a finger: what is offered can be begun, and comes out as it says."""

from __future__ import annotations

import pytest

from stitchalong.course.compile import compile_plan
from stitchalong.errors import PlanError, UsageError
from stitchalong.measure.book import Book, known_bead, measured
from stitchalong.measure.fit import Other
from stitchalong.measure.fit_words import answer, start_words, ways
from stitchalong.measure.fitting import Fitting
from stitchalong.measure.gauge import MRAW, Measurement, Per
from stitchalong.measure.of_start import ring_count, strung_for, way_of
from stitchalong.measure.size import size_of
from stitchalong.measure.sizes import read_ring_size
from stitchalong.measure.units import Units
from stitchalong.plan.read import read_text
from stitchalong.plan.sizes import resized
from tests.measure.test_size import band, made

MARKED = """
title = "Trial"
[beads.A]
name = "ash"
colour = "#888888"
size = "11/0"
shape = "cylinder"
[beads.M]
name = "moss"
colour = "#446644"
size = "11/0"
shape = "cylinder"
marker = true
[[work]]
start = "MRAW band"
frame = "A"
spacers = "*6A, M* 4 times"
"""


def marked() -> Fitting:
    plan = read_text(MARKED, "trial").plan
    return Fitting(plan, compile_plan(plan), Book())


def test_every_choice_begins_with_its_count_and_its_size() -> None:
    fitting = marked()
    found = fitting.find(read_ring_size("US 7"), finger=True).found
    some = [*found.choices, *(one.choice for one in found.alternatives if one.kind is not Other.BEAD)]
    for choice in some:
        begun = fitting.begin(choice)
        assert begun.cannot == ""
        course = compile_plan(resized(fitting.plan, begun.units, begun.sides))
        assert course.rounds[0].spaces == choice.count
        size = size_of(course, resized(fitting.plan, begun.units, begun.sides), Book())
        assert size.inside == choice.inside
        assert size.finger is None or str(size.finger) == str(choice.fits)


@pytest.mark.parametrize(
    ("start", "bead"),
    [
        ('start = "tube"\nbeads = "44A"', ("11/0", "cylinder")),
        ('start = "right-angle weave ring"\nbeads = "36A"', ("11/0", "round")),
        ('start = "drop tube"\nbeads = "40A"', ("8/0", "round")),
        ('start = "odd tube"\nbeads = "41A"', ("11/0", "round")),
    ],
)
def test_other_starts_are_begun_with_what_is_strung(start: str, bead: tuple[str, str]) -> None:
    course, plan = made(start, bead=bead)
    strung = strung_for(plan, ring_count(course, plan))
    assert resized(plan, strung) == plan, "the same count is the same plan"
    way = way_of(plan)
    assert way is not None
    more = strung_for(plan, ring_count(course, plan) + way.step)
    other = compile_plan(resized(plan, more))
    assert ring_count(other, plan) == ring_count(course, plan) + way.step


def test_a_gauge_of_ones_own_asks_for_another_count() -> None:
    course, plan = band(24)
    bead = Fitting(plan, course, Book()).find(read_ring_size("US 7"), finger=False).found.nearest
    tight = measured(known_bead("11/0 cylinder"), MRAW, Per.UNIT, Measurement(24, 48.0))
    own = Fitting(plan, course, Book([tight] * 4)).find(read_ring_size("US 7"), finger=False)
    assert own.found.nearest.count > bead.count
    assert "of your own" in own.basis
    assert own.measuring == ""


def test_what_is_said_first() -> None:
    fitting = marked()
    fitted = fitting.find(read_ring_size("US 7"), finger=False)
    # 24 units of 2.24 mm are 53.8 mm and US 7 is 54.4 mm: common practice, no source; en.wikipedia.org/wiki/Ring_size
    first, beside = answer(fitted, "US 7", Units.METRIC)
    assert first == "for US 7: 24 units, equal sides of 6: 53.8 mm (51.6 to 55.9) inside, US 6¾"
    assert beside == "smaller: 23 units, sides 6 6 6 5, for US 5¾; larger: 25 units, sides 7 6 6 6, for US 7½"
    kinds = [one.kind for one in ways(fitted.found)]
    assert kinds == [Other.SIDES, Other.SIDES, Other.BEAD, Other.BEAD]
    assert start_words(fitting.begin(fitted.found.nearest)) == "--units 24"
    assert start_words(fitting.begin_other(Other.BEAD, fitted.found.nearest), bead=True) == "another bead in the plan"


def test_what_cannot_be_chosen_is_refused_in_one_line() -> None:
    for fitting in (
        Fitting(*reversed(made('start = "ring"\nbeads = "4A"')), Book()),  # type: ignore[arg-type]
        Fitting(*reversed(made('start = "tube"\nbeads = "44A"')), Book(), 4),  # type: ignore[arg-type]
    ):
        with pytest.raises(UsageError) as caught:
            fitting.find(read_ring_size("US 7"), finger=True)
        assert "\n" not in str(caught.value)


DOZENS = """
title = "Trial"
[beads.A]
name = "ash"
colour = "#888888"
size = "11/0"
shape = "cylinder"
[beads.M]
name = "moss"
colour = "#446644"
size = "11/0"
shape = "cylinder"
[[work]]
start = "tube"
beads = "*2A, M* 14 times"
[[work]]
stitch = "peyote"
rounds = ["*6A, M; repeat from * around"]
height = 4
"""
"""rounds in steps of seven stitches"""


@pytest.mark.parametrize("size", ["US 4", "US 7", "US 10"])
def test_where_the_nearest_cannot_be_begun_the_nearest_of_all_that_can_is_named(size: str) -> None:
    """By trying every count there is, up to sixty stitches a round."""
    plan = read_text(DOZENS, "trial").plan
    fitting = Fitting(plan, compile_plan(plan), Book())
    found = fitting.find(read_ring_size(size), finger=True).found
    way = way_of(plan)
    assert way is not None
    can = []
    for count in range(3, 60):
        try:
            compile_plan(resized(plan, 2 * count, None))
        except PlanError:
            continue
        can.append(count)
    assert 1 < len(can) < 20
    best = min(can, key=lambda count: abs(way.inside(count).value - found.target))
    possible = fitting.possible(found)
    assert possible is not None
    assert possible.count == best
