"""Times of day in plain words."""

from __future__ import annotations

from datetime import datetime, tzinfo

from stitchalong.course.words import counted

_DAY = 86_400


def spoken(then: float, now: float, zone: tzinfo | None = None) -> str:
    """`today at 21:40, 2 hours ago`; `on Tuesday 3 June 2025 at 21:40, 5 days ago`.

    Epoch seconds; `zone` None is the computer's own.
    """
    at, today = (datetime.fromtimestamp(seconds, zone).astimezone(zone) for seconds in (then, now))
    days = (today.date() - at.date()).days
    clock = f"{at.hour}:{at.minute:02}"
    match days:
        case 0:
            day = f"today at {clock}"
        case 1:
            day = f"yesterday at {clock}"
        case _:
            day = f"on {_DAYS[at.weekday()]} {at.day} {_MONTHS[at.month - 1]} {at.year} at {clock}"
    ago = _ago(now - then, days)
    return f"{day}, {ago}" if ago else day


def _ago(seconds: float, days: int) -> str:
    if seconds < 0:
        return ""  # a clock was set back; say nothing wrong
    if seconds < 90:
        return "just now"
    if seconds < 5400:
        return f"{counted(round(seconds / 60), 'minute')} ago"
    if days <= 1:
        return f"{counted(round(seconds / 3600), 'hour')} ago" if seconds < _DAY else ""
    return f"{counted(days, 'day')} ago"


_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
