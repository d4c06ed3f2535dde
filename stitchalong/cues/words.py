"""What is said and sounded at a press: one place decides, in words, what is told when. Pure; knows no sound.

A warning stands on the screen as long as it holds (`warning`); a cue is told once, at the press that brings it
(`cue_of`). The number of beads before which one is warned is the stitcher's (0: off).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from stitchalong.course.outlook import Lookout, Outlook, Special
from stitchalong.course.words import counted
from stitchalong.cues.cue import Cue
from stitchalong.fabric.stitch import Kind

USUAL_WARNING = 2
"""beads before something special"""


@dataclass(frozen=True, slots=True)
class Warning:
    """Something special that is near, or here."""

    level: Literal["heads-up", "now"]
    text: str


def warning(outlook: Outlook, beads_before: int = USUAL_WARNING) -> Warning | None:
    """What has to be warned of here; None where nothing is near or warnings are off."""
    if not beads_before:
        return None
    if outlook.special is not None:
        return Warning("now", _with_then(f"now: {outlook.special.words}", outlook.special))
    near = outlook.next
    if near is not None and 0 < near.away <= beads_before:
        return Warning("heads-up", _with_then(f"{near.words} in {counted(near.away, 'bead')}", near))
    return None


def _with_then(text: str, special: Special) -> str:
    return f"{text}, {special.then}" if special.then else text


def cue_of(before: Outlook, after: Outlook, beads_before: int = USUAL_WARNING) -> Cue:
    """The one cue of going on from `before` to `after`; the weightiest wins, for a newer cue cuts off an older."""
    if after.done:
        return Cue("done", "the piece is done", urgent=True, screen="The piece is done.")
    if after.decision is not None:
        text = f"{after.title} is done: another round, or on?"
        return Cue("done", text, urgent=True, screen=text)
    warned = warning(after, beads_before)
    if warned is not None and _is_new(before, after, warned, beads_before):
        return Cue(warned.level, warned.text, urgent=True, screen=warned.text)
    if after.title != before.title:
        return Cue("done", f"{before.title} is done; {after.title}", screen=f"{before.title} is done.")
    if after.side is not None and before.side is not None and after.side != before.side:
        return Cue("done", f"side done; {after.big} left on the next", screen="Side done.")
    return Cue("bead", "", screen="")


def _is_new(before: Outlook, after: Outlook, warned: Warning, beads_before: int) -> bool:
    """Whether this very warning did not stand already."""
    if warned.level == "now":
        here = after.special
        assert here is not None
        was = before.special
        if was is None:
            return True
        return was.position != here.position and not (was.kind is here.kind is Kind.JOIN)
    near, was_near = after.next, before.next
    assert near is not None
    return was_near is None or was_near.position != near.position or was_near.away > beads_before


def taken_back(after: Outlook) -> Cue:
    """The cue of an undo."""
    return Cue("undone", "taken back", screen=f"Taken back, to {after.title}.")


def passed(lookout: Lookout, before: Outlook, after: Outlook, most: int = 3) -> str:
    """What a count went past, in words; empty where there was nothing to be warned of."""
    found: list[str] = []
    special = before.next
    while special is not None and special.position < after.position:
        if len(found) == most:
            return f"Passed on the way: {'; '.join(found)}; and more."
        found.append(special.words)
        special = lookout.at(special.position).next
    return f"Passed on the way: {'; '.join(found)}." if found else ""


def arrived(after: Outlook) -> Cue:
    """The cue of going forward to another place at once."""
    return Cue(None, "", screen=f"Now at {after.title}.")


def refused(text: str) -> Cue:
    """The cue of a key that does nothing here."""
    return Cue("error", text, screen=text)
