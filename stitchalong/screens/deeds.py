"""Doing what moves: what a session's action led to, in words for the screen, or why it was not done."""

from __future__ import annotations

from collections.abc import Callable

from stitchalong.course.outlook import Outlook
from stitchalong.cues.cue import Cue
from stitchalong.cues.words import passed
from stitchalong.errors import PlanError, StitchalongError, StoreError
from stitchalong.screens import panels
from stitchalong.screens.panels import Page
from stitchalong.session import Session, Told
from stitchalong.store import Conflict
from stitchalong.values import value


@value
class NotDone:
    """Nothing was counted; `what` says why."""

    what: str
    panel: Page | None = None
    """to be shown before anything else is done"""
    elsewhere: bool = False
    """the piece was worked on in another window, and can be taken over here"""


def attempt(session: Session, action: Callable[[], Told]) -> Told | NotDone:
    """Do it, or say why it cannot be done."""
    try:
        return action()
    except (StoreError, PlanError) as error:
        return not_done(session, session.settle() or error)


def unshown(session: Session, show: Callable[[], object]) -> NotDone | None:
    """Show or open something; why it cannot be, where what it reads cannot be read."""
    try:
        show()
    except StitchalongError as error:
        fault = session.settle()  # of presses, which come before all else
        return not_done(session, fault) if fault else NotDone(f"That cannot be shown: {error}.")
    return None


def not_done(session: Session, error: Exception) -> NotDone:
    """Why it was not done."""
    if isinstance(error, Conflict):
        words = "Not counted: this piece was worked on in another window. Enter takes it over here"
        return NotDone(words, panels.conflict(session.piece.name), elsewhere=True)
    if isinstance(error, PlanError):
        return NotDone(f"That does not fit what follows: {'; '.join(problem.what for problem in error.problems)}.")
    return NotDone(f"Not kept, and not counted: {error}", panels.not_kept(str(error)))


def in_words(told: Told, session: Session, before: Outlook, rest: Cue | None, *, counted_on: bool) -> str:
    """What the screen says of it; of a count, what it went past too. `rest`: a reminder that fell due."""
    quiet = told.cue.earcon in ("bead", "heads-up", "now")
    went_past = passed(session.lookout, before, told.outlook) if counted_on else ""
    said = [told.message, went_past, "" if quiet or told.message else told.cue.screen]
    said += [f"Your note here: {note}" for note in told.notes]
    said += [rest.screen] if rest else []
    return " ".join(part if part.endswith((".", "?")) else f"{part}." for part in said if part)
