"""How large whole pieces come out, and what they need, said in words."""

from __future__ import annotations

import math

import pytest

from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.errors import UsageError
from stitchalong.measure.book import Book
from stitchalong.measure.extents import extents
from stitchalong.measure.gauge import MRAW, Per
from stitchalong.measure.need import beads_of, measured_size, measured_use, place_words, thread_of
from stitchalong.measure.of_course import flat_parts
from stitchalong.measure.of_start import asks_for, inside, way_of
from stitchalong.measure.size import Size, Sort, size_of
from stitchalong.measure.sizes import Scale, circumference_of, read_ring_size
from stitchalong.measure.strap import straps
from stitchalong.measure.units import Units
from stitchalong.measure.words import bead_lines, flat_lines, size_lines, thread_lines
from stitchalong.plan.model import Plan
from stitchalong.plan.read import read_text

BEAD = '[beads.A]\nname = "ash"\ncolour = "#888888"\nsize = "{}"\nshape = "{}"\n'


def made(start: str, work: str = "", bead: tuple[str, str] = ("11/0", "cylinder")) -> tuple[Course, Plan]:
    text = f'title = "Trial"\n{BEAD.format(*bead)}[[work]]\n{start}\n'
    plan = read_text(text + (f"[[work]]\n{work}\n" if work else ""), "trial").plan
    return compile_plan(plan), plan


def band(units: int, work: str = "") -> tuple[Course, Plan]:
    return made(f'start = "MRAW band"\nframe = "A"\nspacers = "{units}A"', work)


def strip_work() -> tuple[Course, Plan]:
    """Ten beads across, twenty rows."""
    return made('start = "strung row"\nbeads = "10A"', 'stitch = "flat peyote"\nrows = ["A"]\nheight = 18')


def sized(course: Course, plan: Plan, book: Book | None = None) -> Size:
    return size_of(course, plan, book or Book())


def test_a_band_of_24_units_lies_between_us_6_and_a_half_and_7() -> None:
    # common practice, no source: 24 units of 11/0 cylinders, 1.6 × 1.3 mm, worked snugly
    size = sized(*band(24))
    assert (size.sort, size.count, size.word, size.bead) == (Sort.RING, 24, "units", "11/0 cylinder")
    assert size.inside is not None
    low, high = (circumference_of(Scale.US, us) for us in (6.5, 7))
    assert low <= size.inside.value <= high
    assert size.inside.low <= low
    assert high <= size.inside.high
    assert [one.value.scale for one in size.rings] == [Scale.ISO, Scale.US, Scale.UK, Scale.JP]
    assert [str(one.value) for one in size.rings][1] == "US 6¾"
    assert "too tight" in size.caution


def test_a_wide_band_fits_a_smaller_finger() -> None:
    # about half a US size more from 5 mm on: careypearson.com/finding-a-ring-size
    assert sized(*band(24)).wide is not None
    wide = sized(*band(24, 'stitch = "peyote"\nrounds = ["A"]\nheight = 4'))
    assert wide.finger is not None
    assert wide.rings[1].value.exact - wide.finger.exact == pytest.approx(0.5)
    narrow = sized(*made('start = "tube"\nbeads = "44A"'))
    assert (narrow.sort, narrow.wide, narrow.finger) == (Sort.RING, None, None)


def test_what_is_no_ring_says_so() -> None:
    tube, bangle = sized(*made('start = "tube"\nbeads = "20A"')), sized(*band(100))
    assert (tube.sort, tube.rings, tube.caution) == (Sort.NARROW, (), "")
    assert bangle.sort is Sort.BANGLE
    # at least 2 cm more than the closed hand: kawaiius.com/pages/bracelet-bangle-size-guide
    assert bangle.hand is not None
    assert bangle.inside is not None
    assert bangle.hand.value == pytest.approx(bangle.inside.value - 20)
    strip = sized(*strip_work())
    assert (strip.sort, strip.inside) == (Sort.NONE, None)
    words = [" ".join(size_lines(one, Units.METRIC)) for one in (tube, bangle, strip)]
    assert all("no ring size" in text for text in words)
    assert "too narrow" in words[0]
    assert "over a closed hand" in words[1]


def test_flat_work_has_a_width_and_a_length() -> None:
    # geometry: ten columns of 1.3 mm; twenty rows of half of 1.6 mm
    found = extents(*strip_work(), Book())
    assert [(one.label, one.length.value) for one in found] == [
        ("wide", pytest.approx(13.0)),
        ("long", pytest.approx(16.0)),
    ]
    (edge,) = extents(*made('start = "ring"\nbeads = "4A"'), Book())
    assert (edge.label, edge.length.value) == ("from the middle to the edge", pytest.approx(0.8))


def test_a_ring_of_weave_lies_between_round_and_square_shoulders() -> None:
    # geometry, no source: 20 units of √2 · 2.1 to 2.1 + 1.494 mm, less the wall
    course, plan = made('start = "right-angle weave ring"\nbeads = "60A"', bead=("11/0", "round"))
    asks = asks_for(plan)
    assert asks is not None
    outside, along = asks.bead.outside, asks.bead.length
    assert outside is not None
    assert along is not None
    found = inside(course, plan)
    assert found is not None
    assert found.low == pytest.approx(20 * math.sqrt(2) * outside - math.pi * outside)
    assert found.high == pytest.approx(20 * (outside + along))


def test_a_bead_that_is_not_known_is_named() -> None:
    size = sized(*made('start = "MRAW band"\nframe = "A"\nspacers = "24A"', bead=("9/0", "pebble")))
    assert (size.sort, size.inside) == (Sort.NONE, None)
    assert any("9/0 pebble" in note for note in size.notes)


def test_the_own_gauge_is_used() -> None:
    course, plan = band(24)
    kept = measured_size(course, plan, read_ring_size("US 5"), "", "0" * 32)
    assert (kept.stitch, kept.per, kept.count, kept.piece) == (MRAW, str(Per.UNIT), 24, "0" * 32)
    usual, own = sized(course, plan), sized(course, plan, Book([kept]))
    assert usual.inside is not None
    assert own.inside is not None
    assert circumference_of(Scale.US, 5) < own.inside.value < usual.inside.value
    assert own.inside.share < usual.inside.share


@pytest.mark.parametrize(
    "made_of", [made('start = "tube"\nbeads = "44A"'), made('start = "tube"\nbeads = "44A"', bead=("11/0", "round"))]
)
def test_what_a_tube_measures_comes_back_as_its_size(made_of: tuple[Course, Plan]) -> None:
    course, plan = made_of
    usual = inside(course, plan)
    assert usual is not None
    kept = measured_size(course, plan, read_ring_size(f"{usual.value:.3f} mm"), "", "0" * 32)
    gauge = Book([kept]).gauge(asks_for(plan).bead, "peyote", Per.COLUMN)  # type: ignore[union-attr]
    way = way_of(plan, gauge)
    assert way is not None
    assert way.inside(22).value == pytest.approx(usual.value, abs=0.01)


def test_what_is_no_ring_tells_no_gauge() -> None:
    course, plan = made('start = "ring"\nbeads = "4A"')
    with pytest.raises(UsageError, match="no ring"):
        measured_size(course, plan, read_ring_size("US 7"), "", "")


def test_thread_of_a_piece_and_where_it_changes() -> None:
    course, plan = band(24, 'stitch = "peyote"\nrounds = ["A"]\nheight = 6')
    need = thread_of(course, plan, Book(), 600.0)
    assert need.plan.lengths == len(need.changes) + 1 > 1
    places = place_words(course, plan, need.changes)
    for step, place in zip(need.changes, places, strict=True):
        item = course.rounds[course.round_of(step)]
        assert ("the band" if item.technique == "band" else f"round {item.number}, top edge") in place
        assert "stitch " in place
    lines = list(thread_lines(need, places, Units.METRIC))
    assert sum(line.startswith("length ") for line in lines) == len(places)
    short = thread_of(course, plan, Book([measured_use(course, plan, 1150.0, "x")]))
    assert short.plan.total.share < thread_of(course, plan, Book()).plan.total.share


def test_thread_without_any_bead_measure_is_refused() -> None:
    with pytest.raises(UsageError, match="how large its beads are"):
        thread_of(*made('start = "ring"\nbeads = "4A"', bead=("9/0", "pebble")), Book())


def test_beads_and_flatness_in_words() -> None:
    course, plan = band(24)
    needs = beads_of(course, plan, people=3)
    # 3n frame beads and n spacers of n units: 96 each
    assert needs[0].count == 3 * 96
    text = list(bead_lines(needs, {"A": "ash"}, Units.INCH, 3))
    assert text[0].startswith("A ash: 288 beads, ")
    assert " oz" in text[0]
    assert "for 3 people" in text[1]
    assert next(flat_lines([])).startswith("nothing of it")
    # (h/w)·tan(180°/4) for cylinders is 1.23 columns; a pair in each space gives 2: beadmechanics.com (octagon)
    full = 'stitch = "peyote"\nrounds = ["A"]\nheight = 5\nincrease = { at = "every space" }'
    first = next(flat_lines(flat_parts(*made('start = "ring"\nbeads = "4A"', full))))
    assert "warps to a saddle" in first
    assert "1.23 would be flat" in first


def test_a_strip_by_its_length() -> None:
    # geometry: rows of half of 1.6 mm; 16 cm are 200 of them
    _, plan = strip_work()
    word, some, nearest = straps(plan, Book(), 160.0)
    assert (word, nearest.count, nearest.off) == ("rows", 200, pytest.approx(0.0))
    assert [one.count for one in some] == [198, 199, 200, 201, 202]
    with pytest.raises(UsageError, match="no strip"):
        straps(band(24)[1], Book(), 160.0)
    with pytest.raises(UsageError, match="more than"):
        straps(plan, Book(), 1e6)
