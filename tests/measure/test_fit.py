"""From a finger to counts, against trying every count."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.errors import UsageError
from stitchalong.measure.beads import look_up
from stitchalong.measure.fit import Fit, Other, fit
from stitchalong.measure.gauge import MRAW, Per, default_gauge
from stitchalong.measure.rings import Way, band, strip, tube
from stitchalong.measure.sizes import Scale, read_ring_size, ring_size


def _way(size: str = "11/0", shape: str = "cylinder") -> Way:
    bead = look_up(size, shape)
    assert bead is not None
    gauge = default_gauge(bead, MRAW, Per.UNIT)
    assert gauge is not None
    return band(gauge)


def _fit(size: str = "US 7", sides: int = 4, **more: object) -> Fit:
    return fit(read_ring_size(size), _way(), sides, **more)  # type: ignore[arg-type]


def test_counts_one_unit_apart_with_their_sides() -> None:
    found = _fit()
    counts = [choice.count for choice in found.choices]
    assert counts == list(range(counts[0], counts[0] + 7))
    assert found.nearest in found.choices
    for choice in found.choices:
        assert sum(choice.sides) == choice.count
        assert max(choice.sides) - min(choice.sides) <= 1
        assert choice.equal == (choice.count % 4 == 0)
        assert choice.size.circumference == choice.inside.value
        assert choice.off == pytest.approx(choice.inside.value - found.target)


def test_the_finest_step_and_that_of_equal_sides() -> None:
    # 2.24 mm a unit is common practice, no source; 2.5535 mm of circumference a US size:
    # en.wikipedia.org/wiki/Ring_size. One unit on each of four sides is about 9 mm or 3½ US sizes.
    found = _fit()
    assert found.step == pytest.approx(2.24)
    assert found.step_us == pytest.approx(2.24 / 2.5535, rel=1e-3)
    assert found.equal_step == pytest.approx(9, abs=0.1)
    assert found.equal_step_us == pytest.approx(3.5, abs=0.05)


def test_smaller_and_larger() -> None:
    found = _fit()
    assert found.smaller is not None
    assert found.equal_smaller is not None
    assert found.smaller.inside.value < found.target <= found.larger.inside.value
    assert found.larger.count == found.smaller.count + 1
    assert (found.equal_smaller.count, found.equal_larger.count) == (24, 28)
    assert found.equal_smaller.equal
    assert found.equal_larger.equal
    assert found.equal_smaller.size.nominal < 7 < found.equal_larger.size.nominal


def test_alternatives_have_their_sizes() -> None:
    found = _fit("US 8½", others={"the smaller bead": _way("15/0"), "the larger bead": _way("8/0")})
    kinds = {other.kind for other in found.alternatives}
    assert kinds == {Other.UNEQUAL, Other.SIDES, Other.BEAD}
    offs = [abs(other.choice.off) for other in found.alternatives]
    assert offs == sorted(offs)
    for other in found.alternatives:
        assert other.choice.equal == (other.kind is not Other.UNEQUAL)
        assert other.choice.size.scale is Scale.US
        if other.kind is Other.SIDES:
            assert other.label == f"{len(other.choice.sides)} sides"
    assert {other.label for other in found.alternatives if other.kind is Other.BEAD} == {
        "the smaller bead",
        "the larger bead",
    }


def test_a_wide_band_is_given_more_room() -> None:
    narrow, wide = _fit(width=4.0), _fit(width=8.0)
    assert narrow.target == narrow.finger.circumference
    assert narrow.advice == ()
    # half a US size, as in test_wear
    assert ring_size(wide.target, Scale.US).exact - ring_size(narrow.target, Scale.US).exact == pytest.approx(0.5)
    assert "half a US size" in wide.advice[0]


def test_the_caution_stands_with_every_ring_and_no_bangle() -> None:
    assert "too tight" in _fit().caution
    assert fit(ring_size(220.0, Scale.MM), _way()).caution == ""


def test_any_scale_may_be_asked() -> None:
    for word in ("UK N½", "ISO 54", "JP 14", "54.4 mm"):
        found = _fit(word)
        assert {choice.size.scale for choice in found.choices} == {found.finger.scale}
        assert found.nearest.count == 24


def test_tubes_and_strips() -> None:
    bead = look_up("11/0", "cylinder")
    assert bead is not None
    around, across = tube(bead), strip(bead)
    assert around is not None
    assert across is not None
    by_tube = fit(read_ring_size("US 7"), around, 3)
    assert by_tube.equal_larger.count % 3 == 0
    by_strip = fit(read_ring_size("US 7"), across)
    assert all(choice.count % 2 == 0 for choice in by_strip.choices)
    # one step of two rows is 1.6 mm, 0.63 US sizes (geometry, no source)
    assert by_strip.step == pytest.approx(1.6)
    assert by_strip.step_us == pytest.approx(0.63, abs=0.005)


@given(st.floats(41, 300), st.integers(1, 12))
def test_against_trying_every_count(target: float, sides: int) -> None:
    way = _way()
    found = fit(ring_size(target, Scale.MM), way, sides)
    ring = {count: way.inside(count).value for count in range(max(3, sides), 400)}
    assert found.nearest.off**2 == min((value - target) ** 2 for value in ring.values())
    assert found.larger.count == min(count for count, value in ring.items() if value >= target)
    below = [count for count, value in ring.items() if value < target]
    assert (found.smaller.count if found.smaller else None) == max(below, default=None)
    equal = {count: value for count, value in ring.items() if count % sides == 0}
    assert found.equal_larger.count == min(count for count, value in equal.items() if value >= target)
    below = [count for count, value in equal.items() if value < target]
    assert (found.equal_smaller.count if found.equal_smaller else None) == max(below, default=None)


@pytest.mark.parametrize(("size", "sides"), [(54.0, 0), (54.0, -1), (1e6, 1)])
def test_what_cannot_be_is_refused_in_one_line(size: float, sides: int) -> None:
    with pytest.raises(UsageError) as caught:
        fit(ring_size(size, Scale.MM), _way(), sides)
    assert "\n" not in str(caught.value)
