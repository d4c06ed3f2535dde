"""What is said and sounded at a press: one place decides, in words, what is told when. Pure; knows no sound.

A warning stands on the screen as long as it holds (`warning`); a cue is told once, at the press that brings it
(`cue_of`). The number of beads before which one is warned is the stitcher's (0: off).
"""

from __future__ import annotations

from typing import Literal

from stitchalong.course.outlook import Lookout, Outlook, Special
from stitchalong.course.words import are, beads_and_passes, capital, counted
from stitchalong.cues.cue import Cue
from stitchalong.cues.spoken import Speech, side_done
from stitchalong.fabric.stitch import Kind
from stitchalong.values import value

USUAL_WARNING = 2
"""beads before something special"""

_UNNAMED = Speech()


@value
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


def cue_of(before: Outlook, after: Outlook, beads_before: int = USUAL_WARNING, speech: Speech = _UNNAMED) -> Cue:
    """The one cue of going on from `before` to `after`.

    The weightiest gives the tone, for a newer cue cuts off an older; the words tell the rest, as much as is wanted.
    """
    if after.done:
        return Cue("done", "the piece is done", urgent=True, screen="The piece is done.")
    if after.decision is not None:
        text = f"{capital(after.title)} {are(after.title)} done: another round, or on?"
        return Cue("done", speech.asked(after), urgent=True, screen=text)
    warned = warning(after, beads_before)
    if warned is not None and not _is_new(before, after, warned, beads_before):
        warned = None
    level = warned.level if warned is not None else None
    words = speech.going_on(before, after, now=level == "now", coming=level == "heads-up")
    if warned is not None:
        return Cue(warned.level, words, urgent=True, screen=warned.text)
    if after.title != before.title:
        return Cue("done", words, screen=f"{capital(before.title)} {are(before.title)} done.")
    if side_done(before, after):
        return Cue("done", words, screen="Side done.")
    return Cue("bead", words)


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


def taken_back(after: Outlook, speech: Speech = _UNNAMED, before: Outlook | None = None) -> Cue:
    """The cue of an undo; what it took is told where `before` is given and it was more than one press."""
    took = took_back(before, after) if before is not None else ""
    screen = f"{took} taken back, to {after.title}." if took else f"Taken back, to {after.title}."
    return Cue("undone", f"back, {speech.stands(after)}", screen=screen)


def took_back(before: Outlook, after: Outlook) -> str:
    """`7 beads`, `3 beads and 1 pass`; empty where no more than one press was taken back."""
    if before.position - after.position < 2:
        return ""
    beads = before.beads_done - after.beads_done
    return beads_and_passes(beads, before.position - after.position - beads)


_LOOKED_AT = 200
"""what a count went past is looked at so far; a longer way is told in part"""


def passed(lookout: Lookout, before: Outlook, after: Outlook, most: int = 3) -> str:
    """What a count went past, in words; empty where there was nothing to be warned of."""
    found: dict[str, int] = {}
    special = before.next
    looked_at = 0
    while special is not None and special.position < after.position and looked_at < _LOOKED_AT:
        found[special.words] = found.get(special.words, 0) + 1
        special = lookout.at(special.position).next
        looked_at += 1
    if not found:
        return ""
    words = [f"{times} × {one}" if times > 1 else one for one, times in found.items()]
    rest = "; and more" if len(words) > most or looked_at == _LOOKED_AT else ""
    return f"Passed on the way: {'; '.join(words[:most])}{rest}."


def arrived(after: Outlook, speech: Speech = _UNNAMED) -> Cue:
    """The cue of going forward to another place at once."""
    return Cue(None, f"{speech.place(after)}, {speech.stands(after)}", screen=f"Now at {after.title}.")


def chosen(message: str, after: Outlook, speech: Speech = _UNNAMED) -> Cue:
    """The cue of a choice that was made: `message` says which."""
    words = "the piece is done" if after.done else speech.stands(after)
    return Cue(None, f"{speech.plainly(message)}, {words}", screen=message)


def refused(text: str) -> Cue:
    """The cue of a key that does nothing here."""
    return Cue("error", text, screen=text)
