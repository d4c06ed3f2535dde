"""From a count to a ring, against the pieces that are published."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from stitchalong.measure.beads import BeadSize, look_up
from stitchalong.measure.gauge import MRAW, PEYOTE, Gauge, Measurement, Per, default_gauge, improved
from stitchalong.measure.rings import Way, band, outside_diameter, strip, tube
from stitchalong.measure.sizes import Scale, circumference_of


def _bead(size: str, shape: str = "cylinder") -> BeadSize:
    found = look_up(size, shape)
    assert found is not None
    return found


def test_the_published_hoop() -> None:
    # lovemyartjewelry.blogspot.com/2013/10: 50 size-10/0 cylinders strung for a tube, about 32 mm outside
    bead = _bead("10/0")
    way = tube(bead)
    assert way is not None
    assert bead.outside is not None
    hoop = way.inside(25)
    assert outside_diameter(hoop.value, bead.outside) == pytest.approx(32, abs=1)
    low, high = (outside_diameter(end, bead.outside) for end in (hoop.low, hoop.high))
    assert low < 32 < high


def test_a_tube_of_round_beads_is_smaller_inside_than_its_thread() -> None:
    bead = _bead("11/0", "round")
    way = tube(bead)
    assert way is not None
    assert bead.length is not None
    ring = way.inside(20)
    assert ring.value < 40 * bead.length
    assert ring.low < ring.value < ring.high


@pytest.mark.parametrize(("size", "rows"), [(5, 68), (6, 72), (8, 78), (9, 82), (10, 84)])
def test_a_strip_round_the_finger(size: float, rows: int) -> None:
    # geometry, no source: R = (C + π · 1.6) / 0.8, rounded up to an even number so that it can be zipped
    way = strip(_bead("11/0"))
    assert way is not None
    target = circumference_of(Scale.US, size)
    assert way.inside(rows).value >= target > way.inside(rows - way.step).value


def test_a_measured_gauge_goes_into_every_way() -> None:
    bead = _bead("11/0")
    ways: list[tuple[str, Per, Callable[[Gauge], Way | None]]] = [
        (MRAW, Per.UNIT, band),
        (PEYOTE, Per.COLUMN, lambda gauge: tube(bead, gauge)),
        (PEYOTE, Per.ROW, lambda gauge: strip(bead, gauge)),
    ]
    for stitch, per, make in ways:
        gauge = default_gauge(bead, stitch, per)
        assert gauge is not None
        own = make(improved(gauge, [Measurement(100, 105 * gauge.each.value)] * 5))
        default = make(gauge)
        assert own is not None
        assert default is not None
        assert own.inside(40).value > default.inside(40).value


def test_beads_of_unknown_measures_make_no_ring() -> None:
    assert tube(_bead("12/0", "round")) is None
    assert strip(_bead("12/0", "round")) is None


def test_outside_of_a_ring() -> None:
    assert outside_diameter(math.pi * 17, 1.6) == pytest.approx(20.2)
