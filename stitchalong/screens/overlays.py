"""Which command opens which screen over the work. Nothing here is needed for the first picture."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from textual.screen import Screen

from stitchalong.cues.cue import Outlet
from stitchalong.measure.units import Units
from stitchalong.screens.beside import SHEETS
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.inks import Look
from stitchalong.session import Session
from stitchalong.settings.commands import Command, Scope
from stitchalong.values import value

if TYPE_CHECKING:
    from stitchalong.settings.settings import Settings

OVERLAYS = SHEETS | {"finish", "form", "help", "palette", "pedal", "settings", "sounds"}
"""the commands that open one, by id"""


@value
class Beneath:
    """The work that a screen is opened over."""

    session: Session
    outlet: Outlet
    look: Look
    glyphs: Glyphs
    units: Units
    commands: tuple[Command, ...]
    scope: Scope
    file: Path | None
    """of the settings"""
    prefer: Callable[[Settings, Settings], None]
    """is told what was set otherwise"""


def overlay(wanted: str, count: int | None, over: Beneath) -> Screen[Any]:
    """The screen of one of `OVERLAYS`; `count` is a number typed before the key.

    A screen that is left gives None, a `beside.sheet.Done` to be carried out, or the id of a command to be run.
    """
    look, glyphs = over.look, over.glyphs
    match wanted:
        case "finish":
            from stitchalong.screens.beside.screen import SheetScreen
            from stitchalong.screens.finishing import FinishSheet

            store, piece = over.session.listed()
            return SheetScreen(FinishSheet(store, piece, over.units), look, glyphs, {})
        case "form":
            from stitchalong.screens.form_screen import FormScreen

            session = over.session
            return FormScreen(session.course, session.plan, session.outlook.beads_done, look)
        case "help":
            from stitchalong.screens.help_text import help_page
            from stitchalong.screens.reader import Reader

            return Reader(help_page(over.scope, over.commands), look, glyphs)
        case "palette":
            from stitchalong.screens.palette import Palette

            return Palette(over.scope, look, glyphs, over.commands)
        case "settings" | "pedal":
            from stitchalong.screens.setting import settings_screen

            now = (("counting.warn", over.session.warn), ("counting.remarks", over.session.remarks))
            return settings_screen(over.file, look, glyphs, over.prefer, pedal=wanted == "pedal", now=now)
        case "sounds":
            from stitchalong.screens.sounds import Sounds

            return Sounds(over.outlet, look, glyphs)
        case _:
            from stitchalong.screens.beside.opening import sheet_screen

            return sheet_screen(wanted, over.session, count, over.units, look, glyphs)
