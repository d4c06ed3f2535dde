"""The stitching screen of a window that only watches: it shows what another does, until it takes the piece over."""

from __future__ import annotations

from collections.abc import Callable
from datetime import tzinfo

from textual import events

from stitchalong.cues.cue import Outlet
from stitchalong.errors import StitchalongError
from stitchalong.screens import panels
from stitchalong.screens.canvas import Canvas
from stitchalong.screens.inks import Look
from stitchalong.screens.keymap import keymap
from stitchalong.screens.panels import Page
from stitchalong.screens.preferences import Preferences
from stitchalong.screens.stitching import StitchingScreen
from stitchalong.session import Session
from stitchalong.session.watching import Watching
from stitchalong.settings.commands import Scope

EVERY = 0.25
"""seconds between two looks at the other window's work"""

ONLY = "Only watching: another window counts. Enter or t takes the piece over here."
_OPEN = "this piece is open in another window. Enter takes it over here, Space only watches"


class WatchingScreen(StitchingScreen):
    """Follows another window's session."""

    scope: Scope = "watching"

    def __init__(
        self,
        session: Session,
        outlet: Outlet,
        *,
        look: Look,
        preferences: Preferences,
        clock: Callable[[], float],
        zone: tzinfo | None = None,
    ) -> None:
        assert isinstance(session, Watching)
        self.watching = session
        super().__init__(session, outlet, look=look, preferences=preferences, clock=clock, zone=zone)
        self.keys = dict.fromkeys(keymap("stitching", self._commands), "counting") | self.keys
        if self.panel is not None:
            self.act, self._otherwise = self._take_over, self._tell_only

    def on_mount(self) -> None:
        self._clockwork = self.set_interval(EVERY, self._follow)

    def on_screen_suspend(self) -> None:
        self._clockwork.pause()

    def on_screen_resume(self) -> None:
        self._clockwork.resume()
        self._follow()

    def welcome(self) -> Page | None:
        return panels.open_elsewhere(self.session.piece.name) if self.watching.unasked else None

    def greet(self) -> None:
        self.aloud.greeted = True
        self.aloud.words(_OPEN if self.watching.unasked else self.session.speech.plainly(ONLY))

    def show(self) -> None:
        """What may be done stands there whenever nothing else is said."""
        if not self.showing.message:
            self.say(ONLY)
        super().show()

    def _follow(self) -> None:
        """Show what the other window has done."""
        try:
            if not self.watching.look():
                return
            self.query_one(Canvas).dye(self.colours())
            self.say(ONLY)
        except StitchalongError as error:
            self.say(f"{error}.")
        self.show()

    def _digit(self, digit: str) -> None:
        self._close()
        self._tell_only()

    def _run(self, wanted: str, count: int | None) -> None:
        if wanted == "take_over":
            self._take_over()
        elif wanted == "counting":
            self._tell_only()
        else:
            super()._run(wanted, None)

    def _tell_only(self) -> None:
        self._say_aloud(ONLY)

    def _take_over(self) -> None:
        from stitchalong.screens.handing import take_over

        take_over(self)

    def on_paste(self, event: events.Paste) -> None:
        event.stop()
