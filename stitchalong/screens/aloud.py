"""What the stitching screen says beside the cues of its presses."""

from __future__ import annotations

from stitchalong.cues.cue import Cue, Outlet
from stitchalong.session import Session
from stitchalong.session.plan_files import CHANGED


class Aloud:
    """A voice for one session."""

    def __init__(self, outlet: Outlet, session: Session) -> None:
        self.outlet = outlet
        self.session = session
        self.greeted = False
        """whether it was said where one stands, or a key came first"""

    def words(self, words: str) -> None:
        """Say these words."""
        self.outlet.deliver(Cue(None, words))

    def sentence(self, text: str) -> None:
        """Say a sentence of the screen."""
        self.words(self.session.speech.plainly(text))

    def fault(self, text: str, *, urgent: bool = False) -> None:
        """Say what went wrong."""
        self.outlet.deliver(Cue("error", self.session.speech.plainly(text), urgent=urgent))

    def here(self) -> None:
        """What is left here, and what is to be done."""
        self.words(self.session.speech.stands(self.session.outlook))

    def greet(self) -> None:
        """Where one stands, on coming back with the last beads."""
        self.greeted = True
        session, back = self.session, self.session.came_back
        if back is not None:
            words = session.speech.came_back(session.outlook, back.last_beads)
        else:
            words = session.speech.stands(session.outlook)
        self.words(f"{words}. {session.speech.plainly(CHANGED)}" if session.plan_changed else words)
