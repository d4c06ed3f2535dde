"""A piece that goes from one window to another: a stitching screen goes on anew, or another takes its place."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

from stitchalong.errors import StitchalongError
from stitchalong.screens import panels
from stitchalong.screens.app import ScreensApp
from stitchalong.screens.canvas import Canvas
from stitchalong.screens.stitching import StitchingScreen
from stitchalong.screens.view import Viewer
from stitchalong.screens.watching import WatchingScreen
from stitchalong.session import Session

S = TypeVar("S", bound=Session)


def go_on_anew(screen: StitchingScreen) -> None:
    """Go on with the piece on this screen, from where another window has left it."""
    session = _fetched(screen, screen.session.taken_back, go_on_anew)
    if session is None:
        return
    screen.session = screen.aloud.session = session
    screen.viewer = Viewer(session)
    screen.query_one(Canvas).dye(screen.colours())
    screen.open(screen.welcome())
    screen.aloud.greet()


def only_watch(screen: StitchingScreen) -> None:
    """From now on another window works, and this one shows it."""
    session = _fetched(screen, screen.session.followed, only_watch)
    if session is not None:
        _hand_on(screen, WatchingScreen, session)


def take_over(screen: WatchingScreen) -> None:
    """Go on in this window with what another one worked on until now."""
    session = _fetched(screen, screen.watching.take_over, lambda _: take_over(screen))
    if session is not None:
        _hand_on(screen, StitchingScreen, session)


def _fetched(screen: StitchingScreen, fetch: Callable[[], S], again: Callable[[StitchingScreen], None]) -> S | None:
    """The session, or None where it cannot be had; then it is told, and Enter tries again."""
    try:
        return fetch()
    except StitchalongError as error:
        screen.open(panels.failed(str(error)), lambda: again(screen))
        return None


def _hand_on(screen: StitchingScreen, kind: type[StitchingScreen], session: Session) -> None:
    """Another screen takes the place of this one, with what was switched at the keys.

    The first screen of an app cannot be taken off; it stays below, and asleep.
    """
    other = kind(session, screen.outlet, **screen.given)
    mine = screen.showing
    other.showing = replace(other.showing, remarks=mine.remarks, large=mine.large)
    app = screen.app
    if screen.keeping.begun:
        screen.keeping.go_to(other)
    elif isinstance(app, ScreensApp) and app.tune and not session.only_watches:
        app.keeping = other.keeping
        app.keeping.begin()
    if app.screen_stack[0] is screen:
        app.push_screen(other)
    else:
        app.switch_screen(other)
    other.greet()
