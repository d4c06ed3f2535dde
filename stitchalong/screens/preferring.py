"""How the screens are wanted, changed while they are shown: by the settings screen."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, cast

from stitchalong.cues.rests import Rests
from stitchalong.screens.app import ScreensApp
from stitchalong.screens.canvas import Canvas
from stitchalong.screens.preferences import Preferences
from stitchalong.screens.themes import look_of
from stitchalong.screens.view import Viewer
from stitchalong.settings.held import HeldKeys
from stitchalong.settings.settings import Settings

if TYPE_CHECKING:
    from stitchalong.cues.spoken import Talk
    from stitchalong.screens.stitching import StitchingScreen


def prefer(screen: StitchingScreen, before: Settings, after: Settings) -> None:
    """What is set otherwise than before counts from now on; what was switched at the keys stays, else."""
    old: Preferences = screen.given["preferences"]
    new = Preferences.of(after, old.file)
    was = Preferences.of(before, old.file)
    screen.given["preferences"] = new
    session, showing = screen.session, screen.showing
    if new.theme != was.theme:
        screen.look = screen.given["look"] = look_of(new.theme, colourless=not screen.look.coloured)
        screen.query_one(Canvas).dress(screen.look)
    if new.guard != was.guard or new.held != was.held:
        screen.guard = HeldKeys(new.guard, *new.held)
    if new.reminders != was.reminders:
        screen.rests = Rests(*new.reminders)
    if after.words.hand != before.words.hand:
        session.hold_needle(left=after.words.hand == "left")
        screen.viewer = Viewer(session)
    if after.counting.warn != before.counting.warn:
        session.warn = after.counting.warn
    if new.remarks != was.remarks:
        session.remarks = new.remarks
    if after.sound.talkative != before.sound.talkative:
        session.talk = cast("Talk", after.sound.talkative)
    screen.glyphs, screen.units = new.glyphs, new.units
    screen.take_keys(new)
    if isinstance(screen.app, ScreensApp):
        screen.app.tap(new.tap)
    screen.showing = replace(
        showing,
        commands=new.commands,
        remarks=new.remarks if new.remarks != was.remarks else showing.remarks,
        large=new.large if new.large != was.large else showing.large,
    )
