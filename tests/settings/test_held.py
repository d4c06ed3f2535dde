"""The guard against held keys.

Repeat rates: the X server's default is a wait of 660 ms and 25 repeats a second (`xset q`, X.Org manual page
`xset(1)`, option `r`); a common desktop's is 500 ms and 30 ms; Windows' range is 250 to 1,000 ms and about 2 to 30
characters a second (documentation of `SystemParametersInfo`, SPI_SETKEYBOARDDELAY and SPI_SETKEYBOARDSPEED).
"""

from __future__ import annotations

import pytest

from stitchalong.settings.held import HeldKeys, Verdict


def counted(times: list[float], *, on: bool = True, key: str = "space") -> tuple[int, list[Verdict]]:
    """Beads that stand after presses at these times, and the verdicts."""
    guard = HeldKeys(on)
    verdicts = [guard.pressed(key, at) for at in times]
    beads = verdicts.count(Verdict.COUNT) - verdicts.count(Verdict.TAKE_BACK)
    return beads, verdicts


def held(wait: float, rate: float, seconds: float) -> list[float]:
    """When presses arrive of a key held so long."""
    times = [10.0]
    at = 10.0 + wait
    while at < 10.0 + seconds:
        times.append(at)
        at += rate
    return times


@pytest.mark.parametrize(("wait", "rate"), [(0.66, 0.04), (0.5, 0.03), (0.25, 0.033), (1.0, 0.033), (0.2, 0.025)])
def test_a_held_key_counts_once(wait: float, rate: float) -> None:
    times = held(wait, rate, wait + 1.0)
    assert len(times) > 20
    beads, verdicts = counted(times)
    assert beads == 1
    assert verdicts.count(Verdict.TAKE_BACK) == 1


@pytest.mark.parametrize("gap", [0.12, 0.2, 0.35, 0.5, 1.0, 4.0])
def test_tapping_loses_none(gap: float) -> None:
    beads, verdicts = counted([gap * nth for nth in range(50)])
    assert beads == 50
    assert set(verdicts) == {Verdict.COUNT}


def test_a_double_tap_by_a_trembling_hand_counts_once_and_takes_nothing_back() -> None:
    beads, verdicts = counted([1.0, 1.5, 1.54, 2.1])
    assert verdicts == [Verdict.COUNT, Verdict.COUNT, Verdict.IGNORE, Verdict.COUNT]
    assert beads == 3


def test_the_first_repeat_is_taken_back_only_after_three_more() -> None:
    _, verdicts = counted([0.0, 0.5, 0.53, 0.56])
    assert Verdict.TAKE_BACK not in verdicts
    _, verdicts = counted([0.0, 0.5, 0.53, 0.56, 0.59, 0.62])
    assert verdicts[2:] == [Verdict.IGNORE, Verdict.IGNORE, Verdict.TAKE_BACK, Verdict.IGNORE]


@pytest.mark.parametrize("gap", [0.15, 1.3])
def test_a_press_too_early_or_too_late_for_a_first_repeat_stands(gap: float) -> None:
    beads, _ = counted([0.0, gap, gap + 0.03, gap + 0.06, gap + 0.09])
    assert beads == 2


def test_presses_that_arrive_together_count_once() -> None:
    """A paste without brackets, or a pedal's burst: all in one read of the terminal."""
    beads, _ = counted([5.0] * 200)
    assert beads == 1


def test_a_hold_after_tapping_takes_back_its_own_repeat_alone() -> None:
    taps = [0.4 * nth for nth in range(5)]
    beads, _ = counted([*taps, *(2.0 + at - 10.0 for at in held(0.5, 0.03, 1.5))])
    assert beads == 6


def test_keys_in_turn_are_no_repeats() -> None:
    guard = HeldKeys()
    verdicts = [guard.pressed(key, 1.0 + nth * 0.02) for nth, key in enumerate(["space", "enter"] * 5)]
    assert set(verdicts) == {Verdict.COUNT}


def test_switched_off_it_counts_all() -> None:
    beads, _ = counted(held(0.5, 0.03, 1.6), on=False)
    assert beads == len(held(0.5, 0.03, 1.6))


def test_a_clock_that_jumps_back_loses_no_press() -> None:
    beads, _ = counted([100.0, 3.0, 3.5])
    assert beads == 3
