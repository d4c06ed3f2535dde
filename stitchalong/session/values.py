"""What a session is made of and gives back: choices made, what a press led to, where one stopped."""

from __future__ import annotations

import json
from collections.abc import Sequence

from stitchalong.course.choices import Choice
from stitchalong.course.choices import from_data as choices_from_data
from stitchalong.course.choices import to_data as choices_to_data
from stitchalong.course.course import Course
from stitchalong.course.laid import Digests
from stitchalong.course.outlook import Outlook
from stitchalong.course.walker import Address, address_of
from stitchalong.course.words import counted
from stitchalong.cues.cue import Cue
from stitchalong.store.rows import State
from stitchalong.values import names, value

LAST_BEADS = 12
"""shown on coming back, to be held against the work in the hand"""

LARGE_UNDO = 10
"""steps; an undo of more, or of a choice, says first what it takes"""


@value
class Made:
    """A choice, and the position at which it was made."""

    at: int
    choice: Choice
    joined: bool = False
    """it was made in one with the choice before it, and is taken back with it"""


@value
class Moved:
    """What keeps its bead where the course before it becomes another."""

    notes: tuple[tuple[int, int], ...] = ()
    """of those that move: the id, and the position from now on"""
    thread: str = ""
    """all that was said of the thread, as the data of one event; empty where nothing of it moves"""


@value
class Told:
    """What a press led to."""

    outlook: Outlook
    cue: Cue
    message: str = ""
    """something to say in words beside the cue: why nothing happened, what was taken back"""
    notes: tuple[str, ...] = ()
    """the stitcher's own notes that were passed"""


@value
class Return:
    """Where one stopped, for coming back."""

    when: float
    """epoch seconds of the last press"""
    where: str
    comes_out: str
    last_beads: tuple[str, ...]
    """codes, the nearest last"""
    differs: str = ""
    """that the program derives earlier rounds otherwise than when they were laid; empty where it does not"""


def comes_to(before: Course, after: Course) -> str:
    """What the piece comes to where work is taken as it is, or no longer is."""
    more = after.beads - before.beads
    change = f"{abs(more)} {'more' if more > 0 else 'fewer'}" if more else "as before"
    return f"The piece comes to {counted(after.beads, 'bead')}, {change}."


def state_of(before: Outlook, course: Course, position: int) -> State | None:
    """What going to a position makes of the state of the piece; None: nothing else."""
    if position >= course.steps and course.decision_at(course.steps) is None:
        return "finished"
    return "going" if before.done else None


def place_text(digests: Digests, position: int) -> str:
    """The place as it is kept, with a digest of the rounds laid before it."""
    course = digests.course
    address = address_of(course, position)
    told = {name: getattr(address, name) for name in names(Address)}
    return json.dumps(told | {"laid": digests.before(course.round_of(position))})


@value
class KeptPlace:
    """A place as it was kept."""

    address: Address
    laid: str | None
    """digest of the rounds before it; None where none was kept"""

    @classmethod
    def read(cls, text: str) -> KeptPlace:
        """Raises ValueError, KeyError or TypeError for what is none."""
        data = json.loads(text)
        address = Address(**{key: data[key] for key in Address.__dataclass_fields__})
        if any(type(number) is not int for number in (address.round, address.stitch, address.step)):
            raise ValueError("a place without its numbers")
        laid = data.get("laid")
        return cls(address, None if laid is None else str(laid))


def made_text(made: Sequence[Made]) -> str:
    data = choices_to_data(item.choice for item in made)
    joined = {True: {"joined": True}, False: {}}
    return json.dumps([{**one, "at": item.at, **joined[item.joined]} for one, item in zip(data, made, strict=True)])


def made_from(text: str) -> list[Made]:
    data = json.loads(text)
    positions = [int(item.pop("at", 0)) for item in data]
    joined = [item.pop("joined", False) is True for item in data]
    return [Made(*one) for one in zip(positions, choices_from_data(data), joined, strict=True)]
