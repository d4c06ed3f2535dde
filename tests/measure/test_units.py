"""Figures as people read them."""

from __future__ import annotations

import math

import pytest

from stitchalong.errors import UsageError
from stitchalong.measure.figure import Figure, total
from stitchalong.measure.pace import duration, duration_range, pace_of
from stitchalong.measure.units import (
    Units,
    length,
    length_range,
    read_length,
    thread,
    thread_range,
    weight,
    weight_range,
)


def test_exact_units() -> None:
    # the agreement of 1959 on yard and pound (from memory): 1 in = 25.4 mm, 1 yd = 0.9144 m, 1 lb = 453.59237 g = 16 oz
    assert length(25.4, Units.INCH) == "1.00 in"
    assert thread(9144.0, Units.INCH) == "10.0 yd"
    assert weight(453.59237, Units.INCH) == "16.00 oz"


def test_metric() -> None:
    assert (length(54.42), thread(3200), weight(12.44)) == ("54.4 mm", "3.2 m", "12.4 g")


def test_ranges() -> None:
    figure = Figure(53.76, 51.61, 55.91)
    assert length_range(figure) == "53.8 mm (51.6 to 55.9)"
    assert length_range(figure, Units.INCH) == "2.12 in (2.03 to 2.20)"
    assert weight_range(Figure.exact(2.0)) == "2.0 g"
    assert weight_range(Figure(8.0, 7.0, 9.0), Units.INCH) == "0.28 oz (0.25 to 0.32)"
    assert weight_range(Figure(2.0, 1.7, 2.3), Units.INCH) == "0.071 oz (0.060 to 0.081)"
    assert weight_range(Figure(0.02, 0.017, 0.023)) == "0.02 g"
    assert thread_range(Figure(3200, 2200, 4200)) == "3.2 m (2.2 to 4.2)"
    assert thread_range(Figure(9144, 9144, 18288), Units.INCH) == "10.0 yd (10.0 to 20.0)"


def test_the_setting_has_its_own_words() -> None:
    assert [str(unit) for unit in Units] == ["metric", "inch"]


# ---- figures ------------------------------------------------------------------------------------


def test_figures_add_and_grow() -> None:
    some = total([Figure.around(10, 0.1), Figure.exact(5), Figure(1, 0, 2)], "three")
    assert (some.value, some.low, some.high, some.basis) == (16, 14, 18, "three")
    assert some.times(2).high == 36
    assert some.reaching(100, 3) == Figure(16, 3, 100, "three")
    assert some.reaching() == some
    assert Figure.around(10, 0.1).share == pytest.approx(0.1)
    assert Figure.exact(0).share == 0


@pytest.mark.parametrize("parts", [(1, 2, 3), (3, 1, 2), (math.nan, 0, 1), (0, 0, math.inf)])
def test_a_figure_is_in_order(parts: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match=r"finite|between"):
        Figure(*parts)


# ---- pace ---------------------------------------------------------------------------------------


def test_pace_leaves_rests_out() -> None:
    gaps = [10.0] * 99 + [3600.0] + [-5.0, 0.0] + [10.0]
    pace = pace_of(gaps)
    assert pace is not None
    assert pace.beads == 100
    assert pace.each == Figure(10, 10, 10, "your own last 100 beads")
    assert pace.time_for(360).value == 3600


def test_pace_has_a_range() -> None:
    gaps = [8.0] * 100 + [16.0] * 100
    pace = pace_of(gaps)
    assert pace is not None
    assert pace.each.value == 12
    assert 8 <= pace.each.low < 12 < pace.each.high <= 16


def test_no_pace_from_little() -> None:
    assert pace_of([5.0] * 19) is None
    assert pace_of([5.0] * 20) is not None
    assert pace_of([500.0] * 100) is None


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        # the inch is 25.4 mm and the yard 914.4 mm: international yard and pound agreement, 1959 (from memory)
        ("54.2 mm", 54.2),
        ("20cm", 200.0),
        ("1,5 m", 1500.0),
        ("7 1/2 in", 190.5),
        ("6½ in", 165.1),
        ('½"', 12.7),
        ("2 yd", 1828.8),
        ("8 INCHES", 203.2),
    ],
)
def test_lengths_are_read_as_people_write_them(text: str, millimetres: float) -> None:
    assert read_length(text) == pytest.approx(millimetres)


@pytest.mark.parametrize(
    "text",
    ["", "20", "cm", "-3 cm", "0 mm", "1/0 in", "71/2 in", "3 ell", "1e9 mm", "٣ mm", "9" * 50 + " mm", "nan mm"],
)
def test_what_is_no_length_is_refused_in_one_line(text: str) -> None:
    with pytest.raises(UsageError) as caught:
        read_length(text)
    assert "\n" not in str(caught.value)


def test_durations_are_said_no_finer_than_they_are_known() -> None:
    # 60 seconds a minute, 60 minutes an hour
    assert [duration(seconds) for seconds in (40, 720, 3600, 12_000, 147_600)] == [
        "40 s",
        "12 min",
        "1 h",
        "3 h 20 min",
        "41 h",
    ]
    assert duration(3599) == "1 h"
    assert duration_range(Figure(12_000, 10_200, 14_400)) == "3 h 20 min (2 h 50 min to 4 h)"


def test_short_threads_are_said_in_hands() -> None:
    assert thread_range(Figure(380.0, 270.0, 490.0)) == "38 cm (27 to 49)"
    assert thread_range(Figure(381.0, 254.0, 508.0), Units.INCH) == "15 in (10 to 20)"
