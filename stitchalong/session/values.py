"""What a session is made of and gives back: choices made, what a press led to, where one stopped."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass

from stitchalong.course.choices import Choice
from stitchalong.course.choices import from_data as choices_from_data
from stitchalong.course.choices import to_data as choices_to_data
from stitchalong.course.course import Course
from stitchalong.course.outlook import Outlook
from stitchalong.course.walker import address_of
from stitchalong.cues.cue import Cue

LAST_BEADS = 12
"""shown on coming back, to be held against the work in the hand"""

LARGE_UNDO = 10
"""steps; an undo of more, or of a choice, says first what it takes"""


@dataclass(frozen=True, slots=True)
class Made:
    """A choice, and the position at which it was made."""

    at: int
    choice: Choice


@dataclass(frozen=True, slots=True)
class Told:
    """What a press led to."""

    outlook: Outlook
    cue: Cue
    message: str = ""
    """something to say in words beside the cue: why nothing happened, what was taken back"""


@dataclass(frozen=True, slots=True)
class Return:
    """Where one stopped, for coming back."""

    when: float
    """epoch seconds of the last press"""
    where: str
    comes_out: str
    last_beads: tuple[str, ...]
    """codes, the nearest last"""


def place_text(course: Course, position: int) -> str:
    return json.dumps(asdict(address_of(course, position)))


def made_text(made: Sequence[Made]) -> str:
    data = choices_to_data(item.choice for item in made)
    return json.dumps([{**choice, "at": item.at} for choice, item in zip(data, made, strict=True)])


def made_from(text: str) -> list[Made]:
    data = json.loads(text)
    positions = [int(item.pop("at", 0)) for item in data]
    return [Made(at, choice) for at, choice in zip(positions, choices_from_data(data), strict=True)]
