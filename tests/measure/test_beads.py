"""Bead sizes and weights against published figures."""

from __future__ import annotations

import pytest

from stitchalong.measure.beads import (
    WEIGHT_SPREAD,
    BeadSize,
    columns_per_inch,
    look_up,
    rows_per_inch,
    sized,
    table,
)
from stitchalong.plan.model import Bead


def _size(size: str, shape: str) -> BeadSize:
    found = look_up(size, shape)
    assert found is not None
    return found


def _per_gram(size: str, shape: str) -> float:
    weight = _size(size, shape).milligrams()
    assert weight is not None
    return 1000 / weight.value


def test_every_row_says_where_it_comes_from() -> None:
    for (size, shape), row in table().items():
        assert (row.size, row.shape) == (size, shape)
        assert len(row.source) > 20
        assert "memory" in row.source or "." in row.source.split(":")[-1]
        assert 0 < row.spread < 0.3
        assert row.hole is None or (row.outside is not None and row.hole < row.outside)


def test_gauge_of_cylinders_by_their_measures() -> None:
    # 1.6 × 1.3 mm: beadmechanics.com/2019/11/17/flat-peyote-octagon, thebeadgallery.com/pages/seed-bead-guide; the
    # rest is 25.4 divided by them
    cylinder = _size("11/0", "cylinder")
    assert (cylinder.outside, cylinder.length) == (1.6, 1.3)
    assert columns_per_inch(cylinder) == pytest.approx(19.5, abs=0.05)
    assert rows_per_inch(cylinder) == pytest.approx(31.75, abs=0.005)
    assert rows_per_inch(cylinder) == pytest.approx(2 * 15.9, abs=0.1)


@pytest.mark.parametrize(("size", "per_inch"), [("11/0", 17), ("15/0", 23), ("8/0", 11), ("13/0", 25), ("12/0", 22)])
def test_lengths_from_beads_in_an_inch(size: str, per_inch: int) -> None:
    # estherbeadwork.blogspot.com/2013/10; 13/0 and 12/0 measured with calipers set to an inch:
    # beadfx.blogspot.com/2016/05/seedbead-sizes-debunking-myth.html
    assert _size(size, "round").length == pytest.approx(25.4 / per_inch, abs=0.0006)


@pytest.mark.parametrize(("size", "in_ten_grams"), [("15/0", 2715), ("11/0", 1050), ("8/0", 347), ("6/0", 150)])
def test_weights_of_round_beads(size: str, in_ten_grams: int) -> None:
    # estherbeadwork.blogspot.com/2013/10; one shape factor for all four sizes
    assert 10_000 / in_ten_grams == pytest.approx(1000 / _per_gram(size, "round"), rel=WEIGHT_SPREAD)
    weight = _size(size, "round").milligrams()
    assert weight is not None
    assert weight.low <= 10_000 / in_ten_grams <= weight.high


def test_weight_of_three_millimetre_cubes() -> None:
    # docsbay.net square-stitch-abacus-bracelet: 184 beads are 11 g
    assert _per_gram("3 mm", "cube") == pytest.approx(184 / 11, rel=0.03)


def test_a_budget_for_11_0() -> None:
    # beads.co/budgeting-for-projects-using-standard-size-charts: 2,200 beads at 110 to 120 a gram, "18 to 20 g"
    assert 18 <= 2200 / _per_gram("11/0", "round") <= 20


def test_weight_of_11_0_cylinders() -> None:
    # soda-lime glass 2.52 g/cm³: liquisearch.com/soda-lime_glass/typical_compositions_and_properties; a tube of 1.6 mm
    # with a hole of 0.8 mm (from memory), 1.3 mm long: π/4 · (1.6² - 0.8²) · 1.3 mm³
    volume = 3.14159265 / 4 * (1.6**2 - 0.8**2) * 1.3
    assert _per_gram("11/0", "cylinder") == pytest.approx(1000 / (2.52 * volume), rel=0.10)
    assert _per_gram("11/0", "cylinder") == pytest.approx(204, rel=0.10)


def test_published_weights_lie_within_the_spread() -> None:
    for row in table().values():
        weight = row.milligrams()
        if weight is not None and row.per_gram is not None:
            for number in row.per_gram:
                assert weight.low - 1e-9 <= 1000 / number <= weight.high + 1e-9, row


# ---- looking up ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("size", "shape", "row"),
    [
        ("11", "Cylinder", ("11/0", "cylinder")),
        ("11°", " cylinder ", ("11/0", "cylinder")),
        ("size 8", "seed", ("8/0", "round")),
        ("3mm", "square", ("3 mm", "cube")),
        ("1,8 mm", "cube", ("1.8 mm", "cube")),
    ],
)
def test_sizes_as_people_write_them(size: str, shape: str, row: tuple[str, str]) -> None:
    assert look_up(size, shape) is table()[row]


def _bead(**fields: object) -> Bead:
    return Bead(code="A", name="apple", colour="#aa0000", **fields)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("bead", "says"),
    [
        (_bead(size="9/0", shape="cylinder"), "9/0 cylinder"),
        (_bead(size="11/0", shape="marshmallow"), "11/0 marshmallow"),
        (_bead(size="11/0"), "its shape"),
        (_bead(shape="round"), "its size"),
        (_bead(), "size and shape"),
    ],
)
def test_an_unknown_size_is_none_with_a_note(bead: Bead, says: str) -> None:
    found = sized(bead)
    assert found.size is None
    assert says in found.note
    assert "bead A" in found.note


def test_a_plan_measures_its_own_beads() -> None:
    found = sized(_bead(size="11/0", shape="cylinder", length=1.4))
    assert found.size is not None
    assert (found.size.length, found.size.outside, found.size.hole) == (1.4, 1.6, 0.8)
    assert "plan" in found.size.source
    strange = sized(_bead(size="2.3 mm", shape="pebble", length=2.0, width=2.3))
    assert strange.size is not None
    assert strange.note == ""
    weight = strange.size.milligrams()
    assert weight is not None
    # a ball of glass of 2.3 mm weighs 2.5 · π/6 · 2.3³ = 15.9 mg; a bead of it less, for its hole
    assert 10 < weight.value < 15.9


def test_half_a_measure_is_told() -> None:
    found = sized(_bead(size="5 mm", shape="pebble", length=2.0))
    assert found.size is not None
    assert found.size.milligrams() is None
    assert "its width is not known" in found.note


def test_a_drop_weighs_what_is_published() -> None:
    # docsbay.net square-stitch-abacus-bracelet: 120 drops of 3.4 mm are 6 g; no length is known, so no geometry
    found = sized(_bead(size="3.4 mm", shape="drop"))
    assert found.size is not None
    weight = found.size.milligrams()
    assert weight is not None
    assert weight.value == pytest.approx(6000 / 120)
    assert "length" in found.note


def test_a_hole_wider_than_its_bead_is_told_and_left_out() -> None:
    found = sized(_bead(size="11/0", shape="cylinder", hole=1.6))
    assert found.size is not None
    assert found.size.hole is None
    assert "hole" in found.note
    assert found.size.milligrams() is not None
