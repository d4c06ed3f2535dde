"""Times in words, against the calendar of the standard library."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.settings.when import spoken

NOW = datetime(2025, 6, 10, 20, 30, tzinfo=UTC)


@pytest.mark.parametrize(
    ("before", "words"),
    [
        (timedelta(seconds=20), "today at 20:29, just now"),
        (timedelta(minutes=10), "today at 20:20, 10 minutes ago"),
        (timedelta(hours=2, minutes=25), "today at 18:05, 2 hours ago"),
        (timedelta(hours=22), "yesterday at 22:30, 22 hours ago"),
        (timedelta(days=1, hours=20), "yesterday at 0:30"),
        # 3 June 2025 was a Tuesday (ISO 8601 weekday 2)
        (timedelta(days=7), "on Tuesday 3 June 2025 at 20:30, 7 days ago"),
        (-timedelta(hours=1), "today at 21:30"),
    ],
)
def test_a_time_is_told_by_day_clock_and_how_long_ago(before: timedelta, words: str) -> None:
    assert spoken((NOW - before).timestamp(), NOW.timestamp(), UTC) == words


@given(st.integers(2, 4000))
def test_older_days_are_named_as_the_calendar_names_them(days: int) -> None:
    then = NOW - timedelta(days=days)
    # the C library's English names: this process sets no locale
    assert spoken(then.timestamp(), NOW.timestamp(), UTC).startswith(
        f"on {then:%A} {then.day} {then:%B} {then.year} at 20:30"
    )
