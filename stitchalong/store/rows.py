"""The values that go into the store and come out of it."""

from __future__ import annotations

import unicodedata
from typing import Literal

from stitchalong.values import value

Kind = Literal["press", "undo", "redo", "goto", "choice", "thread", "mark"]
State = Literal["going", "finished", "put away"]

KINDS: frozenset[str] = frozenset(("press", "undo", "redo", "goto", "choice", "thread", "mark"))
STATES: frozenset[str] = frozenset(("going", "finished", "put away"))


@value
class Event:
    """One thing the stitcher did. Positions are steps of the course, counted from 0."""

    kind: Kind
    amount: int
    """steps moved; 0 where meaningless"""
    position: int
    """the position after it"""
    redo_to: int
    """the highest position redo can reach after it; never below `position`"""
    data: str = ""
    """JSON, for a choice and the like; empty for a plain press"""

    def __post_init__(self) -> None:
        if self.kind not in KINDS:
            raise ValueError(f"an event of no known kind: {self.kind!r}")
        if not 0 <= self.position <= self.redo_to:
            raise ValueError(f"position {self.position} and redo {self.redo_to} do not fit each other")


@value
class Record:
    """What is kept in one go: events, and the state of the piece after the last of them."""

    piece_id: int
    expected_seq: int
    """the number of the last event this window knows of"""
    events: tuple[Event, ...]
    place: str
    """JSON: part, edge, round, stitch, step"""
    choices: str | None = None
    """JSON list; None: as before"""
    steps: int | None = None
    """of the whole course; None: as before"""
    state: State | None = None
    """None: as before"""


@value
class PieceSummary:
    """A piece without its plan: all that a listing needs."""

    id: int
    uid: str
    """32 hex digits, the same on every computer"""
    name: str
    """one of its kind in this store"""
    title: str
    """the plan's"""
    begun: float
    """epoch seconds, UTC; so is `touched`"""
    touched: float
    position: int
    """steps done"""
    redo_to: int
    seq: int
    """how many events were kept"""
    steps: int
    """of the whole course, as last known"""
    place: str
    """JSON: part, edge, round, stitch, step"""
    state: State
    seconds: float
    """time spent: the gaps between events, pauses left out"""
    told: int
    """how many events carry data"""
    notes: int
    """how many notes there are"""


@value
class PieceRow(PieceSummary):
    """A piece with its own copy of the plan."""

    plan_text: str
    plan_data: str
    """JSON: the checked form"""
    plan_name: str
    """the name of the file it came from"""
    compiler: int
    """version of what made the course"""
    choices: str
    """JSON list"""


@value
class Note:
    """A stitcher's own words, pinned to a position."""

    id: int
    position: int
    text: str
    at: float
    """epoch seconds, UTC"""


_TURNING = frozenset("\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
"""characters that change the direction of what is shown around them"""


def clean(text: str, limit: int) -> str:
    """The text on one line, without control and direction characters, `limit` characters at most."""
    spaced = (" " if char.isspace() else char for char in text)
    kept = (c for c in spaced if c not in _TURNING and unicodedata.category(c) not in ("Cc", "Cs"))
    return " ".join("".join(kept).split())[:limit].rstrip()


def name_key(name: str) -> str:
    """What two names are compared by: case and spelling of accents make no difference."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFC", name).casefold())
