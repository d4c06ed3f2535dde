"""Gauge: the calibration, and the estimate against an integral done by hand."""

from __future__ import annotations

import math
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.errors import UsageError
from stitchalong.measure.beads import BeadSize, look_up
from stitchalong.measure.gauge import (
    MRAW,
    PEYOTE,
    RAW,
    Gauge,
    Measurement,
    Per,
    default_gauge,
    improved,
    measured_ring,
    swatch,
)
from stitchalong.measure.sizes import Scale, circumference_of, read_ring_size


def _bead(size: str = "11/0", shape: str = "cylinder") -> BeadSize:
    found = look_up(size, shape)
    assert found is not None
    return found


def _gauge(bead: BeadSize, stitch: str = MRAW, per: Per = Per.UNIT) -> Gauge:
    found = default_gauge(bead, stitch, per)
    assert found is not None
    return found


# ---- defaults -----------------------------------------------------------------------------------


def test_a_band_of_24_units_comes_out_between_us_6_and_a_half_and_7() -> None:
    # common practice, no source: 24 units in 11/0 cylinders (1.6 × 1.3 mm), worked snugly
    ring = _gauge(_bead()).length(24)
    assert circumference_of(Scale.US, 6.5) <= ring.value <= circumference_of(Scale.US, 7)
    assert ring.low < circumference_of(Scale.US, 6.5)
    assert ring.high > circumference_of(Scale.US, 7)
    # as the calibration is told: 2.24 mm a unit, ± 4 %
    assert ring.value / 24 == pytest.approx(2.24)
    assert (ring.low, ring.high) == pytest.approx((0.96 * ring.value, 1.04 * ring.value))


def test_other_beads_scale_with_a_wider_spread() -> None:
    small, large = _gauge(_bead("15/0")), _gauge(_bead("8/0"))
    middle = _gauge(_bead())
    assert small.each.value < middle.each.value < large.each.value
    assert min(small.each.share, large.each.share) > middle.each.share
    # round beads: no narrower than √2 · outside less the wall's share, no wider than square shoulders allow
    around = _gauge(_bead("11/0", "round"))
    assert around.each.share > small.each.share
    assert around.each.low < 2.24 * 1.494 / 1.3 < around.each.value < 2.24 * 2.1 / 1.6 < around.each.high


def test_right_angle_weave_lies_between_round_and_square_shoulders() -> None:
    # geometry, no source: √2 · D for spheres, D + L for square-shouldered beads
    each = _gauge(_bead("11/0", "round"), RAW).each
    assert each.low == pytest.approx(math.hypot(2.1, 2.1))
    assert each.high == pytest.approx(2.1 + 1.494)


def test_peyote_columns_and_rows() -> None:
    # 19.5 columns and 31.75 zig-zag rows an inch by the measures of beadmechanics.com/2019/11/17/flat-peyote-octagon
    column, row = _gauge(_bead(), PEYOTE, Per.COLUMN), _gauge(_bead(), PEYOTE, Per.ROW)
    assert 25.4 / column.each.value == pytest.approx(19.5, abs=0.05)
    assert 25.4 / row.each.value == pytest.approx(31.75)
    assert column.length(20).value == pytest.approx(26.0)
    assert _gauge(_bead("11/0", "round"), PEYOTE, Per.ROW).each.share > row.each.share


def test_what_has_no_default() -> None:
    assert default_gauge(_bead(), "knotting", Per.UNIT) is None
    assert default_gauge(_bead(), MRAW, Per.ROW) is None
    assert default_gauge(_bead("12/0", "round"), MRAW, Per.UNIT) is None  # its outside is not known


def test_far_from_the_calibration_the_range_takes_in_the_other_model() -> None:
    gauge = _gauge(_bead())
    at_ring_size = gauge.length(30)
    assert at_ring_size.share == pytest.approx(0.04)
    bangle = gauge.length(90)
    # a wall of constant thickness: what 24 units give, plus π · 1.6 mm, taken 90/24 times, less π · 1.6 mm
    wall = math.pi * 1.6
    assert bangle.high == pytest.approx((24 * 2.24 + wall) * 90 / 24 - wall)
    assert bangle.value == pytest.approx(90 * 2.24)
    assert gauge.length(3).low >= 0


# ---- a stitcher's own ---------------------------------------------------------------------------


def _posterior(default: Gauge, measurements: list[Measurement]) -> tuple[float, float]:
    """Mean and standard deviation by integrating Bayes' rule over a grid, standard library only."""
    prior = NormalDist(default.each.value, (default.each.high - default.each.low) / 2)
    hand = 0.01 * default.each.value
    steps = [default.each.value * (0.7 + 0.6 * at / 20_000) for at in range(20_001)]
    weights = []
    for step in steps:
        likely = prior.pdf(step)
        for one in measurements:
            spread = math.hypot(hand, one.error / one.count)
            likely *= NormalDist(step, spread).pdf(one.length / one.count)
        weights.append(likely)
    whole = math.fsum(weights)
    mean = math.fsum(w * s for w, s in zip(weights, steps, strict=True)) / whole
    variance = math.fsum(w * (s - mean) ** 2 for w, s in zip(weights, steps, strict=True)) / whole
    return mean, math.sqrt(variance)


@pytest.mark.parametrize(
    "measurements",
    [
        [Measurement(24, 55.5)],
        [Measurement(24, 55.5), Measurement(28, 64.6)],
        [Measurement(24, 55.5), Measurement(28, 64.6, 1.5), Measurement(26, 59.9, 0.2)],
    ],
)
def test_the_estimate_is_bayes_rule(measurements: list[Measurement]) -> None:
    default = _gauge(_bead())
    own = improved(default, measurements)
    mean, spread = _posterior(default, measurements)
    assert own.each.value == pytest.approx(mean, rel=1e-5)
    half = 2 * math.hypot(spread, 0.01 * default.each.value)
    assert (own.each.high - own.each.low) / 2 == pytest.approx(half, rel=1e-4)
    assert own.pieces == len(measurements)


def test_a_measurement_is_used_from_then_on() -> None:
    default = _gauge(_bead())
    one = improved(default, [Measurement(24, 55.5)])
    # it moves the figure nearly all the way to what was measured, and narrows the range
    assert abs(one.each.value - 55.5 / 24) < 0.15 * (55.5 / 24 - 2.24)
    assert one.each.share < default.each.share
    many = improved(default, [Measurement(24, 55.5)] * 8)
    assert many.each.share < one.each.share
    assert abs(many.each.value - 55.5 / 24) < abs(one.each.value - 55.5 / 24)
    assert "8 measurements" in many.each.basis


def test_measurements_that_disagree_widen_the_range() -> None:
    default = _gauge(_bead())
    agree = improved(default, [Measurement(24, 55.0), Measurement(24, 55.0)])
    differ = improved(default, [Measurement(24, 51.0), Measurement(24, 59.0)])
    assert differ.each.value == pytest.approx(agree.each.value, rel=0.01)
    assert differ.each.low < 51 / 24
    assert differ.each.high > 59 / 24


def test_a_poor_reading_tells_little() -> None:
    default = _gauge(_bead())
    poor = improved(default, [Measurement(24, 60.0, 20.0)])
    assert poor.each.value == pytest.approx(default.each.value, rel=0.01)
    assert (poor.each.high - poor.each.low) <= (default.each.high - default.each.low) * (1 + 1e-9)


def test_a_finished_ring_by_its_size() -> None:
    one = measured_ring(24, read_ring_size("US 7"))
    assert one.count == 24
    assert one.length == pytest.approx(54.4, abs=0.05)  # en.wikipedia.org/wiki/Ring_size
    assert 0.3 <= one.error <= 1.0


def test_without_measurements_nothing_changes() -> None:
    default = _gauge(_bead())
    assert improved(default, []) is default


def test_a_stitch_without_a_default_is_measured() -> None:
    own = swatch(_bead(), "herringbone", Per.COLUMN, [Measurement(20, 27.0), Measurement(40, 54.6)])
    assert own.each.value == pytest.approx(1.36, abs=0.01)
    assert own.each.share < 0.05
    assert "default" not in own.each.basis
    with pytest.raises(UsageError, match="no gauge"):
        swatch(_bead(), "herringbone", Per.COLUMN, [])


@pytest.mark.parametrize(
    "one",
    [
        Measurement(24, 2.1),  # inches taken for millimetres
        Measurement(24, 537.6),
        Measurement(0, 53.0),
        Measurement(24, -1.0),
        Measurement(24, math.nan),
        Measurement(24, 53.0, 0.0),
    ],
)
def test_nonsense_is_refused_in_one_line(one: Measurement) -> None:
    with pytest.raises(UsageError) as caught:
        improved(_gauge(_bead()), [one])
    assert "\n" not in str(caught.value)


@given(
    st.lists(st.builds(Measurement, st.integers(5, 200), st.just(0.0), st.floats(0.05, 5)), min_size=1, max_size=8),
    st.lists(st.floats(0.6, 1.9), min_size=8, max_size=8),
)
def test_the_estimate_lies_among_default_and_measurements(blank: list[Measurement], by: list[float]) -> None:
    default = _gauge(_bead())
    some = [
        Measurement(one.count, one.count * 2.24 * factor, one.error) for one, factor in zip(blank, by, strict=False)
    ]
    own = improved(default, some)
    each = [one.length / one.count for one in some] + [default.each.value]
    assert min(each) - 1e-9 <= own.each.value <= max(each) + 1e-9
    assert own.each.low <= own.each.value <= own.each.high
