"""A cue: words first; tones, voice, bell, screen and plain text are ways to deliver it."""

from __future__ import annotations

from typing import Literal, Protocol, get_args

from stitchalong.values import value

Earcon = Literal["bead", "heads-up", "now", "done", "undone", "error"]
"""The short sounds: a bead is counted; an action is coming; it is now; a side or a round is complete; a
press is taken back; something is wrong."""

EARCONS: tuple[Earcon, ...] = get_args(Earcon)

MEANINGS: dict[Earcon, str] = {
    "bead": "a bead is counted",
    "heads-up": "something is coming",
    "now": "it is now",
    "done": "a side, a round or the piece is done",
    "undone": "something is taken back",
    "error": "something is wrong",
}
"""what each says"""


@value
class Cue:
    """One thing to tell the stitcher, at the moment it is delivered and never later."""

    earcon: Earcon | None
    words: str = ""
    """spoken; empty where nothing is to be said"""
    urgent: bool = False
    """a warning that must not go unnoticed: if the sound fails just then, the bell rings in its place"""
    screen: str = ""
    """shown by what shows; never sounded"""


class Outlet(Protocol):
    """A way to deliver cues. No method raises or waits: a broken loudspeaker must not stop the counting."""

    def deliver(self, cue: Cue) -> None:
        """Tell this now; what is still being told of an earlier cue is cut off."""

    def mute(self) -> bool:
        """Fall silent at once, or tell cues again; True: silent from now on."""

    def describe(self) -> str:
        """In a few words, by which means cues are told at this moment."""

    def close(self) -> None:
        """Fall silent and let go of everything; may be called twice."""
