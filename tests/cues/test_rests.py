"""Reminders come when they are due, once, and not while one rests anyway."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from stitchalong.cues.rests import GLANCE, LOOK_AFTER, REST, REST_AFTER, Rests

MINUTE = 60


def _told(times: list[float], rests: Rests | None = None) -> list[tuple[float, str]]:
    rests = rests or Rests()
    found = []
    for at in times:
        cue = rests.stitched(at)
        if cue is not None:
            found.append((at, "rest" if "needle down" in cue.words else "look"))
    return found


def test_the_figures_are_those_that_are_advised() -> None:
    """20 minutes, 20 feet (6.1 m), 20 seconds: American Academy of Ophthalmology (prnewswire 301244952). 5 to 10
    minutes after 50 to 60: UK Health and Safety Executive as quoted by positura.uk/take-a-break."""
    steady = [3.0 * nth for nth in range(2000)]
    assert _told(steady) == [
        (20 * MINUTE, "look"),
        (40 * MINUTE, "look"),
        (50 * MINUTE, "rest"),
        (70 * MINUTE, "look"),
        (90 * MINUTE, "look"),
    ]
    rests = Rests()
    words = [cue.words for at in steady if (cue := rests.stitched(at))]
    assert "20 seconds" in words[0]
    assert "6 metres" in words[0]
    assert "for 50 minutes" in words[2]
    assert "5 to 10" in words[2]


def test_a_rest_taken_is_not_asked_for_again() -> None:
    first = [3.0 * nth for nth in range(600)]  # 30 minutes
    after = [first[-1] + 5 * MINUTE + 3.0 * nth for nth in range(600)]
    assert _told(first + after) == [(20 * MINUTE, "look"), (after[0] + 20 * MINUTE, "look")]


def test_a_minute_away_from_the_work_is_looking_up() -> None:
    times, at = [], 0.0
    for nth in range(200):
        times.append(at)
        at += 61 if nth % 20 == 19 else 3
    assert _told(times) == []


def test_each_can_be_turned_off() -> None:
    steady = [3.0 * nth for nth in range(2000)]
    assert [what for _, what in _told(steady, Rests(look_after=None))] == ["rest"]
    assert {what for _, what in _told(steady, Rests(rest_after=None))} == {"look"}
    assert _told(steady, Rests(None, None)) == []


def test_a_clock_that_goes_back_says_nothing_wrong() -> None:
    assert _told([10_000.0, 9_000.0, 9_003.0, 0.0, 3.0]) == []


@settings(deadline=None)
@given(st.lists(st.floats(0.1, 900), max_size=300))
def test_no_reminder_follows_sooner_than_it_is_due(gaps: list[float]) -> None:
    times, at = [0.0], 0.0
    for gap in gaps:
        at += gap
        times.append(at)
    told = _told(times)
    for (before, _), (after, what) in pairwise(told):
        assert after - before >= (LOOK_AFTER if what == "look" else 0)
    rests = [at for at, what in told if what == "rest"]
    assert all(after - before >= REST_AFTER for before, after in pairwise(rests))
    for at, what in told:
        gap = gaps[times.index(at) - 1]
        assert gap < (GLANCE if what == "look" else REST), "nobody is told so on coming back from it"
