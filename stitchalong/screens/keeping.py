"""A screen shows and tells what is kept. What a slow disk has not kept yet waits a while, then is shown as such."""

from __future__ import annotations

import asyncio
from contextlib import suppress
from time import monotonic
from typing import TYPE_CHECKING

from stitchalong.cues.cue import Cue
from stitchalong.screens.deeds import not_done

if TYPE_CHECKING:
    from textual.timer import Timer

    from stitchalong.screens.stitching import StitchingScreen
    from stitchalong.session.behind import Behind

LATE = 0.05
"""seconds after which what is not kept yet is shown, with a mark: a hand must not be left without an answer"""


class Keeping:
    """Holds back the picture and the cues of one screen until what they tell is kept."""

    def __init__(self, screen: StitchingScreen) -> None:
        self._screen = screen
        self._cues: list[Cue] = []
        self._wanted = False
        self._since = self._held = 0.0
        self._timer: Timer | None = None
        self._behind: Behind | None = None
        self.late = False
        """whether what is not kept is shown, with the mark"""

    def begin(self) -> None:
        """From now on a slow disk is not waited for."""
        loop = asyncio.get_running_loop()

        def settled() -> None:
            with suppress(RuntimeError):  # it is over already
                loop.call_soon_threadsafe(self._look)

        self._behind = self._screen.session.keep_behind(settled)

    def go_to(self, screen: StitchingScreen) -> None:
        """Another screen goes on with the work: what is settled from now on is its."""
        self._rest()
        self._cues.clear()
        self._wanted = False  # the picture that the other one wanted is drawn no more
        self._screen, screen.keeping = screen, self

    @property
    def begun(self) -> bool:
        return self._behind is not None

    def finish(self) -> Exception | None:
        """Settle everything, when the screen is gone. Gives why something was not kept, if anything was not."""
        if self._behind is None:
            return None
        self._behind.close()
        return self._screen.session.settle()

    def deliver(self, cue: Cue) -> None:
        """Tell a cue, when what it tells is kept."""
        self._cues.append(cue)
        self._deliver()

    def forget(self) -> None:
        """What the cues that wait would tell was not kept."""
        self._cues.clear()

    def _deliver(self) -> None:
        if not self._screen.session.unkept:
            cues, self._cues = self._cues, []
            for cue in cues:
                self._screen.outlet.deliver(cue)

    def show_soon(self) -> None:
        """Draw when the keys that wait already are worked on: of many at once not every picture is drawn, but enough
        that one sees them count."""
        now = monotonic()
        if not self._wanted:
            self._wanted, self._since = True, now
            self._screen.call_later(self._show)
        elif now - self._since > LATE:
            self._since = now
            self._screen.show()

    def _show(self) -> None:
        self._wanted = False
        self._screen.show()

    def holds(self) -> bool:
        """Whether the picture has to wait."""
        if not self._screen.session.unkept:
            self._rest()
            return False
        now = monotonic()
        if self._timer is None and not self.late:
            self._held = now
            self._timer = self._screen.set_timer(LATE, self._overdue)
        elif now - self._held > LATE:  # no timer rings while keys that came all at once are worked on
            self.late = True
        return not self.late

    def _overdue(self) -> None:
        self._timer = None
        if self._screen.session.unkept:
            self.late = True
            self._screen.show()

    def _rest(self) -> None:
        self.late = False
        if self._timer is not None:
            self._timer.stop()
            self._timer = None

    def _look(self) -> None:
        """The disk has settled something."""
        session, screen = self._screen.session, self._screen
        fault = session.settle()
        if fault is not None:
            screen.counted = None
            screen.refuse(not_done(session, fault))
            screen.show()
        elif not session.unkept:
            self._deliver()
            screen.show()
