"""A stitcher's own gauges."""

from __future__ import annotations

from dataclasses import replace

import pytest

from stitchalong.errors import UsageError
from stitchalong.measure.beads import look_up
from stitchalong.measure.book import THREAD, Book, known_bead, measured, measured_thread
from stitchalong.measure.gauge import MRAW, PEYOTE, Measurement, Per, default_gauge, improved, measured_ring
from stitchalong.measure.sizes import read_ring_size
from stitchalong.measure.thread import SLACK, SPREAD, Stretch, plan_thread

CYLINDER = known_bead("11/0 cylinder")
ROUND = known_bead("11/0 round")


def _band(size: str, tension: str = "") -> object:
    return measured(CYLINDER, MRAW, Per.UNIT, measured_ring(24, read_ring_size(size)), tension)


def test_without_a_measurement_it_is_the_default() -> None:
    assert Book().gauge(CYLINDER, MRAW, Per.UNIT) == default_gauge(CYLINDER, MRAW, Per.UNIT)
    assert Book().gauge(CYLINDER, "netting", Per.UNIT) is None
    slack = Book().slack()
    assert (slack.value, slack.low, slack.high) == (SLACK, SLACK * (1 - SPREAD), SLACK * (1 + SPREAD))


def test_only_what_was_measured_of_this_bead_stitch_and_tension_goes_in() -> None:
    kept = [_band("US 6"), _band("US 9", "loose"), measured(ROUND, MRAW, Per.UNIT, Measurement(24, 60.0))]
    kept.append(measured(CYLINDER, PEYOTE, Per.COLUMN, Measurement(40, 52.4)))
    default = default_gauge(CYLINDER, MRAW, Per.UNIT)
    assert default is not None
    own = Book(kept).gauge(CYLINDER, MRAW, Per.UNIT)  # type: ignore[arg-type]
    assert own == improved(default, [measured_ring(24, read_ring_size("US 6"))])
    loose = Book(kept, "loose").gauge(CYLINDER, MRAW, Per.UNIT)  # type: ignore[arg-type]
    assert own is not None
    assert loose is not None
    assert own.each.value < default.each.value < loose.each.value
    assert (own.pieces, loose.pieces, loose.tension) == (1, 1, "loose")


def test_what_cannot_be_of_a_plans_own_bead_is_left_out() -> None:
    kept = measured(CYLINDER, PEYOTE, Per.COLUMN, Measurement(40, 52.4))
    long = replace(CYLINDER, length=4.0)
    assert Book([kept]).gauge(long, PEYOTE, Per.COLUMN) == default_gauge(long, PEYOTE, Per.COLUMN)


def test_a_bead_without_a_name_or_a_length_that_cannot_be_is_refused() -> None:
    with pytest.raises(UsageError, match="does not say the size"):
        measured(replace(CYLINDER, size=""), MRAW, Per.UNIT, Measurement(24, 54.0))
    with pytest.raises(UsageError, match="usual"):
        measured(CYLINDER, MRAW, Per.UNIT, Measurement(24, 5.4))
    with pytest.raises(UsageError, match="no bead is known"):
        known_bead("11/0 triangle")
    with pytest.raises(UsageError, match="no bead is known"):
        known_bead("cylinder")


def test_thread_that_a_piece_took_moves_the_slack_towards_it_and_narrows_it() -> None:
    # 1000 mm of beads and 1700 mm of thread, of which 2 × 150 mm are the tails: 1400 mm were stitched with
    kept = measured_thread(1000.0, 1700.0, 0)
    assert (kept.stitch, kept.count, kept.length) == (THREAD, 1000, pytest.approx(1400.0))
    slack = Book([kept]).slack()
    assert SLACK < slack.value < 1.4
    assert slack.high - slack.low < 2 * SPREAD * SLACK
    assert Book([kept] * 50).slack().value == pytest.approx(1.4, abs=0.01)
    work = [Stretch("p", "r", 100, 10.0)]
    usual, own = plan_thread(work, working=5000), plan_thread(work, working=5000, slack=slack)
    assert own.total.value - usual.total.value == pytest.approx(1000 * (slack.value - SLACK))


@pytest.mark.parametrize("used", [0.0, -1.0, 900.0, 1100.0, 9000.0])
def test_thread_that_cannot_be_is_refused(used: float) -> None:
    with pytest.raises(UsageError) as caught:
        measured_thread(1000.0, used, 0)
    assert "\n" not in str(caught.value)


def test_a_bead_is_named_as_the_trade_does() -> None:
    assert known_bead(" 11/0 Cylinder ") == look_up("11/0", "cylinder")
    assert known_bead("8 seed") == look_up("8/0", "round")
