"""How large other work comes out, against plain geometry: no source but the beads' measures."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.errors import Problems
from stitchalong.measure.beads import look_up
from stitchalong.measure.book import Book, known_bead, measured
from stitchalong.measure.extents import Extent, extents, width
from stitchalong.measure.gauge import BRICK, HERRINGBONE, RAW, SQUARE, Measurement, Per, default_gauge
from stitchalong.measure.need import measured_size
from stitchalong.measure.of_start import asks_for, inside, way_of
from stitchalong.measure.size import Sort, size_of
from stitchalong.measure.sizes import read_ring_size
from stitchalong.measure.strap import straps
from stitchalong.measure.units import Units
from stitchalong.measure.words import size_lines
from stitchalong.plan.library import shipped
from stitchalong.plan.model import Plan
from stitchalong.plan.read import read_plan
from tests.measure.test_size import made

# 11/0 cylinders are 1.6 mm thick and 1.3 mm long: beadmechanics.com /2019/11/17/flat-peyote-octagon, citing the maker
THICK, LONG = 1.6, 1.3

BRICK_FLAT = made('start = "ladder"\nbeads = "10A"', 'stitch = "brick stitch"\nrows = ["A"]\nheight = 11')
BRICK_LEAF = made(
    'start = "ladder"\nbeads = "2A"', 'stitch = "brick stitch"\nwidth = "one more"\nrows = ["A"]\nheight = 5'
)
BRICK_TUBE = made(
    'start = "ladder"\njoined = true\nbeads = "24A"', 'stitch = "tubular brick stitch"\nrounds = ["A"]\nheight = 9'
)
HERRINGBONE_FLAT = made('start = "ladder"\nbeads = "10A"', 'stitch = "herringbone"\nrows = ["A"]\nheight = 11')
HERRINGBONE_TUBE = made(
    'start = "ladder"\njoined = true\nbeads = "24A"', 'stitch = "tubular herringbone"\nrounds = ["A"]\nheight = 9'
)
SQUARES = made('start = "strand"\nbeads = "10A"', 'stitch = "square stitch"\nrows = ["A"]\nheight = 19')
NET = made(
    'start = "net ring"\nbeads = "40A"',
    'stitch = "netting"\nrounds = "AAA together x 10"\nheight = 3',
    ("11/0", "round"),
)
CUBES = made('start = "cube base"\nbeads = "4A"', 'stitch = "cubic right-angle weave"\nrounds = "A"\nheight = 5')
STRIP = made('start = "MRAW strip"\nframe = "A"\nspacers = "23A"')
FLAT = ('start = "strung row"\nbeads = "6A"', 'stitch = "flat peyote"\nrows = ["A"]\nheight = 72')


def of(work: tuple[Course, Plan], book: Book | None = None) -> dict[str, float]:
    return {one.label: pytest.approx(one.length.value) for one in extents(*work, book or Book())}


def test_beads_that_stand_are_as_wide_as_they_are_thick_and_as_high_as_they_are_long() -> None:
    """Brick stitch is peyote turned by a quarter; twelve rows of ten."""
    assert of(BRICK_FLAT) == {"wide": 10 * THICK, "long": 12 * LONG}
    assert of(HERRINGBONE_FLAT) == {"wide": 10 * THICK, "long": 12 * LONG}
    assert of(BRICK_LEAF) == {"wide": 7 * THICK, "long": 6 * LONG}
    (across, _), (leaning, _) = extents(*BRICK_FLAT, Book()), extents(*HERRINGBONE_FLAT, Book())
    assert across.length.high >= 10.5 * THICK, "rows lie half a bead beside each other"
    assert across.length.share < leaning.length.share == pytest.approx(0.15)


def test_square_stitch_stands_in_straight_columns() -> None:
    assert of(SQUARES) == {"wide": 10 * LONG, "long": 20 * THICK}


@pytest.mark.parametrize("tube", [BRICK_TUBE, HERRINGBONE_TUBE])
def test_a_tube_of_standing_beads_is_a_polygon_of_beads(tube: tuple[Course, Plan]) -> None:
    """24 cylinders that touch lie with their middles on a circle of radius (d / 2) / sin(180° / 24); the inside is half
    a bead nearer."""
    radius = THICK / 2 / math.sin(math.pi / 24) - THICK / 2
    found = inside(*tube)
    assert found is not None
    assert found.value == pytest.approx(2 * math.pi * radius)
    assert of(tube) == {"from rim to rim": 10 * LONG}
    size = size_of(*tube, Book())
    assert size.count == 24
    assert size.sort is Sort.NARROW


def test_rounds_that_grow_are_told_where_they_are_widest() -> None:
    cone = made(
        'start = "ladder"\njoined = true\nbeads = "9A"',
        'stitch = "tubular brick stitch"\nrounds = ["*2A, AA* 3 times (12 beads)"]',
    )
    found = of(cone)
    way = way_of(cone[1])
    assert way is not None
    assert found["inside where it is widest, around"] == way.inside(12).value
    assert found["from rim to rim"] == 2 * LONG


def test_a_net_has_the_ring_it_hangs_from_and_says_that_it_gives() -> None:
    """40 beads strung are 40 lengths round; rounded ends may take up to π thicknesses off (geometry, no source)."""
    bead = look_up("11/0", "round")
    assert bead is not None
    assert bead.length is not None
    found = inside(*NET)
    assert found is not None
    assert found.low < 40 * bead.length < found.high
    assert extents(*NET, Book()) == ()
    assert any("a net gives" in note for note in size_of(*NET, Book()).notes)


def test_cubes_stand_one_unit_apart() -> None:
    bead = look_up("11/0", "cylinder")
    assert bead is not None
    pitch = default_gauge(bead, RAW, Per.UNIT)
    assert pitch is not None
    assert of(CUBES) == {"long": 5 * pitch.each.value + THICK, "thick": pitch.each.value + THICK}


def test_a_band_that_is_not_joined_is_longer_than_its_inside() -> None:
    """24 units of 2.24 mm inside (common practice, no source) are π thicknesses longer along the middle of the wall."""
    found = {one.label: one.length for one in extents(*STRIP, Book())}
    assert found["long"].value == pytest.approx(24 * 2.24 + math.pi * THICK)
    assert found["long"].low <= 24 * 2.24
    assert found["wide"].value == pytest.approx(LONG + 2 * THICK + THICK / 2)


def test_a_strip_that_is_zipped_is_a_ring_of_its_rows() -> None:
    """74 rows of half of 1.6 mm, less π thicknesses: 54.2 mm, 0.2 mm below US 7 of 54.4 mm (en.wikipedia.org/wiki/
    Ring_size; geometry)."""
    assert inside(*made(*FLAT)) is None
    zipped = made(FLAT[0], FLAT[1] + '\n[[work]]\nzip = "main"')
    found = inside(*zipped)
    assert found is not None
    assert found.value == pytest.approx(54.2, abs=0.05)
    size = size_of(*zipped, Book())
    assert (size.sort, size.count, size.word) == (Sort.RING, 74, "rows")
    across = width(*zipped)
    assert across is not None
    assert across.value == pytest.approx(6 * LONG)
    assert size.wide is not None
    kept = measured_size(*zipped, read_ring_size("US 7"), "", "0" * 32)
    assert (kept.per, kept.count) == ("row", 74)
    assert kept.length == pytest.approx(54.42 + math.pi * THICK, abs=0.02)


def test_peyote_on_top_of_another_stitch_adds_its_own_rows() -> None:
    weave = 'stitch = "tubular right-angle weave"\nrounds = "A"\nheight = 3'
    work = f'{weave}\n[[work]]\nstitch = "peyote"\nrounds = "A"\nheight = 4'
    sleeve = made('start = "right-angle weave ring"\nbeads = "36A"', work)
    bead = look_up("11/0", "cylinder")
    assert bead is not None
    pitch = default_gauge(bead, RAW, Per.UNIT)
    assert pitch is not None
    assert of(sleeve) == {"from rim to rim": 4 * pitch.each.value + 4 * THICK / 2}


@pytest.mark.parametrize(
    ("work", "stitch", "per", "label"),
    [
        (BRICK_FLAT, BRICK, Per.ROW, "long"),
        (BRICK_FLAT, BRICK, Per.COLUMN, "wide"),
        (HERRINGBONE_FLAT, HERRINGBONE, Per.ROW, "long"),
        (SQUARES, SQUARE, Per.COLUMN, "wide"),
        (HERRINGBONE_TUBE, HERRINGBONE, Per.ROW, "from rim to rim"),
    ],
)
def test_a_gauge_of_ones_own_makes_it_surer(work: tuple[Course, Plan], stitch: str, per: Per, label: str) -> None:
    bead = known_bead("11/0 cylinder")
    usual = default_gauge(bead, stitch, per)
    assert usual is not None
    one = Measurement(20, 20 * usual.each.value * 1.04)
    book = Book([measured(bead, stitch, per, one)] * 3)

    def found(some: Book) -> Extent:
        return next(one for one in extents(*work, some) if one.label == label)

    assert found(book).length.value == pytest.approx(found(Book()).length.value * 1.04, rel=0.01)
    assert found(book).length.share < found(Book()).length.share


def test_the_size_of_a_tube_of_standing_beads_comes_back_as_its_gauge() -> None:
    course, plan = made(
        'start = "ladder"\njoined = true\nbeads = "36A"', 'stitch = "tubular brick stitch"\nrounds = ["A"]'
    )
    kept = measured_size(course, plan, read_ring_size("US 7"), "", "0" * 32)
    asks = asks_for(plan)
    assert asks is not None
    assert (asks.stitch, asks.per) == (BRICK, Per.COLUMN)
    way = way_of(plan, Book([kept] * 50).gauge(asks.bead, asks.stitch, asks.per))
    assert way is not None
    assert way.inside(36).value == pytest.approx(read_ring_size("US 7").circumference, abs=0.2)


@pytest.mark.parametrize(
    ("work", "word", "each"),
    [
        (SQUARES, "rows", THICK),
        (BRICK_FLAT, "rows", LONG),
        (HERRINGBONE_FLAT, "rows", LONG),
        (STRIP, "units", 2.24 + math.pi * THICK / 24),
    ],
)
def test_other_strips_by_their_length(work: tuple[Course, Plan], word: str, each: float) -> None:
    found, _, nearest = straps(work[1], Book(), 160.0)
    assert (found, nearest.count) == (word, round(160 / each))


@pytest.mark.parametrize("path", shipped(), ids=lambda path: path.stem)
def test_every_plan_that_ships_has_a_size_in_all_its_figures(path: Path) -> None:
    plan = read_plan(path, Problems()).plan
    course = compile_plan(plan)
    size = size_of(course, plan, Book())
    assert size.inside is not None or size.extents
    for units in Units:
        lines = list(size_lines(size, units))
        assert all(line.isprintable() for line in lines)
        assert not any("not reckoned" in line for line in lines if "hangs" not in line)
    for one in size.extents:
        assert 0 < one.length.low <= one.length.value <= one.length.high < 1000
        assert one.length.basis
