"""Rules of fitting against the pages they come from."""

from __future__ import annotations

import math

import pytest

from stitchalong.errors import UsageError
from stitchalong.measure.wear import Ease, bangle, bracelet, wide_band


def test_a_wide_band_is_half_a_us_size_larger() -> None:
    # careypearson.com/finding-a-ring-size: 5 mm and wider, half a US size up (0.032 in / 2 = 0.41 mm of diameter);
    # cho-kin.com/tool_size-ring.html: one to two Japanese sizes, each a third of a millimetre of diameter
    assert wide_band(4.9) is None
    advice = wide_band(5.0)
    assert advice is not None
    assert advice.us == 0.5
    assert advice.diameter == pytest.approx(0.41, abs=0.005)
    assert 1 / 3 <= advice.diameter <= 2 / 3
    assert advice.circumference == pytest.approx(math.pi * 0.4064)


def test_a_bangle_is_two_centimetres_larger_than_the_hand() -> None:
    # kawaiius.com/pages/bracelet-bangle-size-guide: 20 cm of hand, 22 cm of bangle and more
    figure = bangle(200.0)
    assert figure.value >= 220.0
    # asimplebead.com/pages/getting-an-accurate-measurement: a quarter of an inch of diameter, 2.0 cm (± 0.05) round
    assert (figure.low - 200.0) / math.pi == pytest.approx(25.4 / 4)
    assert figure.low == pytest.approx(figure.value, abs=0.5)


@pytest.mark.parametrize(
    ("ease", "low", "high"), [(Ease.SNUG, 6, 13), (Ease.COMFORTABLE, 19, 25), (Ease.LOOSE, 32, 32)]
)
def test_bracelets(ease: Ease, low: float, high: float) -> None:
    # tasitreasures.com bracelet size: 0.6 to 1.3 cm, 1.9 to 2.5 cm, 3.2 cm (printed to a tenth of a centimetre)
    figure = bracelet(160.0, ease)
    assert figure.low - 160 == pytest.approx(low, abs=0.5)
    assert figure.high - 160 == pytest.approx(high, abs=0.5)


@pytest.mark.parametrize("rule", [wide_band, bangle, bracelet])
def test_nothing_is_fitted_to_nothing(rule) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(UsageError, match="more than 0"):
        rule(0.0)
