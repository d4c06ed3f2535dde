"""Rules of fitting against the pages they come from."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from stitchalong.errors import UsageError
from stitchalong.measure.wear import (
    MEASURE_WELL,
    TOO_TIGHT,
    Ease,
    bangle,
    bracelet,
    read_hand,
    read_wrist,
    wide_band,
)


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
    ("read", "text", "millimetres"),
    [
        (read_hand, "20cm", 200),
        (read_hand, "8 in", 203.2),
        (read_hand, "29.5 cm", 295),
        (read_wrist, "16cm", 160),
        (read_wrist, "6 1/2 in", 165.1),
    ],
)
def test_hands_and_wrists_are_read(read: Callable[[str], float], text: str, millimetres: float) -> None:
    assert read(text) == pytest.approx(millimetres)


@pytest.mark.parametrize(
    ("read", "text"),
    [(read_hand, some) for some in ("720cm", "20in", "20mm", "9 cm")]
    + [(read_wrist, some) for some in ("16in", "30cm")],
)
def test_what_is_no_hand_and_no_wrist_is_refused(read: Callable[[str], float], text: str) -> None:
    """A mistyped number or unit; common practice, no source."""
    with pytest.raises(UsageError, match="is the unit right"):
        read(text)


@pytest.mark.parametrize(
    ("ease", "low", "high"), [(Ease.SNUG, 6, 13), (Ease.COMFORTABLE, 19, 25), (Ease.LOOSE, 32, 32)]
)
def test_bracelets(ease: Ease, low: float, high: float) -> None:
    # tasitreasures.com bracelet size (alike: asimplebead.com, kawaiius.com, htuse.com):
    # 0.6 to 1.3 cm, 1.9 to 2.5 cm, 3.2 cm (printed to a tenth of a centimetre)
    figure = bracelet(160.0, ease)
    assert figure.low - 160 == pytest.approx(low, abs=0.5)
    assert figure.high - 160 == pytest.approx(high, abs=0.5)


def test_the_caution_of_a_ring_and_how_a_finger_is_measured() -> None:
    # between sizes the larger: cdn.shopify.com, BizzottoG_Guida_Taglie_Anelli_2023
    assert "between two sizes take the larger" in TOO_TIGHT
    # a strip of at most ¼ in (6.35 mm): en.wikipedia.org/wiki/Ring_size; at the end of the day, warm, three or four
    # times: tinybling.com/pages/finger-sizer, zuzujewellery.com/pages/ring-sizes; a whole US size over a day:
    # en.wikipedia.org/wiki/Ring_size, an older copy
    for words in ("no wider than 6 mm", "late in the day", "three or four times", "a whole US size"):
        assert words in MEASURE_WELL


@pytest.mark.parametrize("rule", [wide_band, bangle, bracelet])
def test_nothing_is_fitted_to_nothing(rule) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(UsageError, match="more than 0"):
        rule(0.0)
