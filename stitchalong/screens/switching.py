"""Commands that switch how things are shown or told, and count nothing."""

from __future__ import annotations

from dataclasses import replace

from stitchalong.course.words import counted
from stitchalong.cues.cue import Outlet
from stitchalong.cues.spoken import TOLD, next_talk
from stitchalong.screens.view import Showing
from stitchalong.session import Session
from stitchalong.settings.held import HeldKeys
from stitchalong.values import value

MOST_WARNING = 99
"""beads ahead"""

SWITCHES = frozenset(("warn", "remarks", "large", "mute", "talk", "held"))
"""what `switch` does, by id"""

_EARLY = (0, 1, 2, 3, 5, 8)
"""what the key for the warning goes through"""


@value
class Switched:
    """What is shown from now on, and what is said of it."""

    showing: Showing
    told: str
    aloud: bool = True


def switch(
    wanted: str, count: int | None, session: Session, showing: Showing, guard: HeldKeys, outlet: Outlet
) -> Switched:
    """Do one of `SWITCHES`. `count`: a number typed before the key."""
    match wanted:
        case "warn":
            if count is None:
                count = next((early for early in _EARLY if early > session.warn), _EARLY[0])
            session.warn = min(count, MOST_WARNING)
            ahead = f"Warnings come {counted(session.warn, 'bead')} ahead."
            return Switched(showing, ahead if session.warn else "Warnings are off.")
        case "remarks":
            remarks = session.remarks = not showing.remarks
            return Switched(
                replace(showing, remarks=remarks), "Remarks are shown." if remarks else "Remarks are hidden."
            )
        case "large":
            large = not showing.large
            told = "The large view; the same key leads back." if large else ""
            return Switched(replace(showing, large=large), told, aloud=False)
        case "mute":
            muted = outlet.mute()
            told = "Muted; the same key brings it back." if muted else "You hear it again."
            return Switched(replace(showing, means=outlet.describe()), told, aloud=False)
        case "talk":
            session.talk = next_talk(session.talk)
            return Switched(showing, f"Aloud: {TOLD[session.talk]}.")
        case "held":
            guard.on = not guard.on
            told = "A key held down counts once." if guard.on else "A key held down counts on and on."
            return Switched(showing, told)
        case _:
            raise ValueError(f"{wanted} switches nothing")
