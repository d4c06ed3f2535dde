"""What stands between the stitcher's hands and the count: keys held down, and clicks that mean something else."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stitchalong.course.walker import Unit
from stitchalong.cues.cue import Cue
from stitchalong.screens.panels import Page
from stitchalong.settings.held import Verdict

if TYPE_CHECKING:
    from stitchalong.screens.stitching import StitchingScreen

TAP = "tap"
"""what a click is called among the keys"""

FRONT = 0.3
"""seconds within which a click is the one that brought the window to the front"""


def judge(screen: StitchingScreen, key: str, at: float) -> None:
    """Do what a key asks for that came at `at`, unless it is held down."""
    verdict = screen.guard.pressed(key, at)
    if verdict is Verdict.COUNT:
        screen.obey(key)
    elif verdict is Verdict.TAKE_BACK:
        _let_go(screen, key)


def _let_go(screen: StitchingScreen, key: str) -> None:
    """The key is held down: what its first repeat moved is taken back."""
    if screen.counted is None:
        return
    counted_key, before, after = screen.counted
    session = screen.session
    if counted_key == key and session.position == after:
        if after > before:
            screen.do(lambda: session.undo(Unit.BEAD, after - before))
        else:
            screen.do(lambda: session.redo(before - after))
        screen.say("That key was held down: it is counted once.")
        screen.outlet.deliver(Cue("undone", "that key was held down, it is counted once"))
    screen.counted = None


def click(screen: StitchingScreen, button: int, at: float) -> None:
    """A click that came at `at` counts one bead, wherever it is.

    But it answers no question, fills in no form, and is no key for a number that was typed.
    """
    panel = screen.panel
    asked = panel is not None and (screen.act is not None or not isinstance(panel, Page))
    if button != 1 or TAP not in screen.keys or asked or screen.showing.count:
        return
    if not screen.showing.listening or 0 <= at - screen.fronted < FRONT:
        screen.showing = replace(screen.showing, listening=True)
        screen.say("That click brought the window to the front; it is not counted.")
    else:
        judge(screen, TAP, at)
