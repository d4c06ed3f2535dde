"""The Textual app around the screens, and the two ways into it. Nothing else in the program imports Textual."""

from __future__ import annotations

import asyncio
import gc
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from datetime import tzinfo
from pathlib import Path
from typing import TYPE_CHECKING, Any

from textual import events
from textual.app import App
from textual.driver import Driver
from textual.filter import LineFilter
from textual.screen import Screen

from stitchalong.cues.bell import Bell
from stitchalong.cues.cue import Outlet
from stitchalong.screens.ending import Heeded, heed, remembered, unheed
from stitchalong.screens.inks import Look
from stitchalong.screens.keeping import Keeping
from stitchalong.screens.mouse import Clicked, for_taps, switch
from stitchalong.screens.preferences import Preferences
from stitchalong.screens.stitching import StitchingScreen
from stitchalong.screens.themes import Colourless, look_of
from stitchalong.session import Session
from stitchalong.settings.settings import Settings
from stitchalong.store import Store

if TYPE_CHECKING:
    from stitchalong.plan.library import Listed
    from stitchalong.screens.home import Begin, GoOn

MakeOutlet = Callable[[Callable[[], object], Callable[[], object]], Outlet]
"""makes an outlet of two callables: one rings the terminal's bell, one shows `describe` anew; both from any thread"""

_COLOURLESS = Colourless()


class ScreensApp(App[object]):
    """One screen, and what is the same for all: signals, focus, faults."""

    ENABLE_COMMAND_PALETTE = False
    CSS = "Screen { overflow: hidden hidden; }"

    def __init__(self, first: Callable[[ScreensApp], Screen[Any]]) -> None:
        super().__init__()
        self._first = first
        self.ended_by = 0
        """the signal that ended it; 0: it was left by a key"""
        self.fault: Exception | None = None
        self._keys: tuple[int, asyncio.AbstractEventLoop] | None = None
        """the thread and the loop that take keys, while they do"""
        self._heeded: Heeded = {}
        self._stands = False
        """whether the first screen stands"""
        self.keeping: Keeping | None = None
        """where presses go behind, while they do"""
        self.tune = False
        """whether the garbage collector, switched off until the first screen stands, is switched on then"""

    def get_default_screen(self) -> Screen[Any]:
        return self._first(self)

    @property
    def colourless(self) -> bool:
        """Whether no colour is wanted (`NO_COLOR`)."""
        return self.no_color

    def look(self, preferences: Preferences) -> Look:
        """The look that is set, or the one without colours."""
        return look_of(preferences.theme, colourless=self.colourless)

    def get_line_filters(self) -> Sequence[LineFilter]:
        """The toolkit only makes greys of colours where none are wanted."""
        return (_COLOURLESS,) if self.colourless else super().get_line_filters()

    def get_driver_class(self) -> type[Driver]:
        """The usual one, that takes clicks and nothing else of the mouse."""
        return for_taps(super().get_driver_class())

    async def on_event(self, event: events.Event) -> None:
        """Of the mouse only presses of a button are told, to the screen that is shown."""
        if not isinstance(event, events.MouseEvent):
            await super().on_event(event)
        elif isinstance(event, events.MouseDown):
            self.screen.post_message(Clicked.of(event))

    def tap(self, on: bool) -> None:
        """Take clicks from now on, or leave them to the terminal."""
        switch(self._driver, on)

    def on_mount(self) -> None:
        loop = asyncio.get_running_loop()
        self._keys = (threading.get_ident(), loop)
        self._heeded = heed(loop, self._end)

    def on_unmount(self) -> None:
        loop = asyncio.get_running_loop()
        self._keys = None
        unheed(loop, self._heeded)

    def on_ready(self) -> None:
        self._stands = True
        if self.ended_by:  # before there was anything to leave
            self.exit()
        if self.tune:
            gc.freeze()
            gc.enable()
            if self._at_work and not self._at_work[0].session.only_watches:
                self.keeping = self._at_work[0].keeping
                self.keeping.begin()

    def _end(self, number: int) -> None:
        again = bool(self.ended_by)
        self.remember(number)
        if self._stands or again:
            self.exit()

    def remember(self, number: int) -> None:
        """This signal came, when no loop heeded it."""
        self.ended_by = self.ended_by or number

    def on_app_blur(self, event: events.AppBlur) -> None:
        self._listen(False, event.time)

    def on_app_focus(self, event: events.AppFocus) -> None:
        self._listen(True, event.time)

    def _listen(self, listening: bool, at: float) -> None:
        if self._at_work:
            self._at_work[-1].listen(listening, at)

    def ring(self) -> None:
        """From any thread: ring the terminal's bell."""
        if self._keys is None:
            return
        thread, loop = self._keys
        if threading.get_ident() == thread:
            self.bell()
        else:
            with suppress(RuntimeError):  # it is over already
                loop.call_soon_threadsafe(self.bell)

    def means_changed(self) -> None:
        """From any thread: the outlet tells cues by other means."""
        with suppress(RuntimeError):  # it is over already
            self.call_later(self._means_changed)

    def _means_changed(self) -> None:
        if self._at_work:
            self._at_work[-1].means_changed()

    @property
    def _at_work(self) -> list[StitchingScreen]:
        """The last is the one that has the work; those below it had it before."""
        return [screen for screen in self.screen_stack if isinstance(screen, StitchingScreen)]

    def _fatal_error(self) -> None:
        """A fault of the program: no report on the screen, it would show local values. `play` raises it again."""
        self._close_messages_no_wait()

    def _print_error_renderables(self) -> None:
        if self._exit_renderables and self._exception is None:
            self.fault = RuntimeError("the terminal could not be read")
        self._exit_renderables.clear()


def play(app: ScreensApp, *, tap: bool = False) -> None:
    """Run the app to its end. Raises what went wrong in it, when the terminal is in order again.

    `tap`: clicks are for the program; else the terminal keeps them, to mark text.
    """
    gc.disable()
    app.tune = True
    try:
        with remembered(app.remember):
            app.run(mouse=tap)
    finally:
        gc.enable()
        gc.unfreeze()
    fault = app._exception or app.fault
    if fault is not None:
        raise fault


def _kind_for(session: Session) -> type[StitchingScreen]:
    if not session.only_watches:
        return StitchingScreen
    from stitchalong.screens.watching import WatchingScreen

    return WatchingScreen


def stitching_app(
    session: Session,
    *,
    outlet: MakeOutlet | None = None,
    preferences: Preferences | None = None,
    clock: Callable[[], float],
    zone: tzinfo | None = None,
) -> tuple[ScreensApp, Outlet]:
    """The app with the stitching screen, and its outlet, which whoever runs it closes."""
    outlets: list[Outlet] = []
    wanted = preferences or Preferences()

    def first(app: ScreensApp) -> Screen[None]:
        return _kind_for(session)(
            session,
            outlets[0],
            look=app.look(wanted),
            preferences=wanted,
            clock=clock,
            zone=zone,
        )

    app = ScreensApp(first)
    outlets.append(outlet(app.ring, app.means_changed) if outlet is not None else Bell(app.ring))
    return app, outlets[0]


def run_stitching(
    session: Session,
    *,
    outlet: MakeOutlet | None = None,
    preferences: Preferences | None = None,
    clock: Callable[[], float],
    zone: tzinfo | None = None,
) -> int:
    """Stitch until the person leaves. Every press is kept by then, whatever else went wrong.

    Raises the StoreError of a press that could not be kept, and what went wrong in the app; both as an ExceptionGroup.
    `outlet` makes the way cues are told (None: the terminal's bell); it is closed at the end. `clock` gives epoch
    seconds. Standard input, output and error must be terminals. Gives the number of the signal that ended it, or 0.
    """
    app, made = stitching_app(session, outlet=outlet, preferences=preferences, clock=clock, zone=zone)
    faults: list[Exception] = []
    try:
        with _gathered(faults):
            play(app, tap=preferences.tap if preferences else True)
    finally:
        try:
            with _gathered(faults):
                _finish(app)
        finally:
            with _gathered(faults):
                made.close()
    if len(faults) > 1:
        raise ExceptionGroup("leaving the screen", faults)
    if faults:
        raise faults[0]
    return app.ended_by


@contextmanager
def _gathered(faults: list[Exception]) -> Iterator[None]:
    """What goes wrong is told later, when the rest is done."""
    try:
        yield
    except Exception as fault:
        faults.append(fault)


def _finish(app: ScreensApp) -> None:
    """Settle the presses that are on their way. Raises the StoreError of one that was not kept."""
    fault = app.keeping.finish() if app.keeping is not None else None
    if fault is not None:
        raise fault


def run_pedal(*, preferences: Preferences) -> Settings | None:
    """Take the key of a pedal: the settings as they are when it was kept, None where it was not.

    Terminals as for `run_stitching`. `preferences.file` is the settings file.
    """
    from stitchalong.screens.pedal_screen import PedalScreen

    file = preferences.file
    if file is None:
        raise ValueError("no file for the settings")
    app = ScreensApp(lambda app: PedalScreen(file, preferences, app.look(preferences), alone=True))
    play(app, tap=True)
    found = app.return_value
    return found if isinstance(found, Settings) else None


def run_home(
    store: Store,
    plans: Sequence[Listed],
    *,
    preferences: Preferences | None = None,
    clock: Callable[[], float],
    zone: tzinfo | None = None,
    folder: Path | None = None,
) -> Begin | GoOn | None:
    """Show the pieces and the plans; what the person chose, or None for leaving.

    Renaming, putting away and removing pieces is done in here, and plans are made into `folder`. Terminals as for
    `run_stitching`.
    """
    from stitchalong.screens.home import Begin, GoOn, HomeScreen

    wanted = preferences or Preferences()

    def first(app: ScreensApp) -> Screen[None]:
        return HomeScreen(
            store,
            plans,
            look=app.look(wanted),
            preferences=wanted,
            clock=clock,
            zone=zone,
            folder=folder,
        )

    app = ScreensApp(first)
    play(app)
    chosen = app.return_value
    return chosen if isinstance(chosen, Begin | GoOn) else None
