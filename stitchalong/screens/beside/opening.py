"""Which command opens which sheet."""

from __future__ import annotations

from dataclasses import replace

from stitchalong.chart import chart_of
from stitchalong.measure.units import Units
from stitchalong.screens.beside.finding import Finding
from stitchalong.screens.beside.notes import NotesSheet
from stitchalong.screens.beside.picture import Picture
from stitchalong.screens.beside.recounting import Recounting
from stitchalong.screens.beside.screen import SheetScreen
from stitchalong.screens.beside.sheet import Sheet
from stitchalong.screens.beside.threads import ThreadSheet
from stitchalong.screens.beside.trays import Trays
from stitchalong.screens.beside.unpicking import Unpicking
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.inks import Look
from stitchalong.screens.panels import room
from stitchalong.session import Session


def sheet_for(wanted: str, session: Session, count: int | None, units: Units = Units.METRIC) -> Sheet | None:
    """The sheet of a command by its id; None for a command that has none. `count`: a number typed before its key."""
    number = str(count) if count else ""
    match wanted:
        case "find":
            return Finding(session)
        case "recount":
            sheet = Recounting(session, number=number)
            if number and session.checkpoints():
                after = sheet.press("enter", "")
                return after if isinstance(after, Recounting) else sheet
            return sheet
        case "tray":
            return Trays(session)
        case "thread":
            return replace(ThreadSheet(session, units), length=number)
        case "note":
            return NotesSheet(session)
        case "take_out":
            return Unpicking(session, number, session.burst())
        case "chart":
            return Picture.of(chart_of(session.course), session.outlook.beads_done)
    return None


def sheet_screen(
    wanted: str, session: Session, count: int | None, units: Units, look: Look, glyphs: Glyphs
) -> SheetScreen:
    """The screen of a command's sheet. Raises KeyError for a command that has none, and StoreError."""
    sheet = sheet_for(wanted, session, count, units)
    if sheet is None:
        raise KeyError(wanted)
    sheet.lines(*room(80, 24), glyphs)  # what it needs is read here, where a fault can be told
    return SheetScreen(sheet, look, glyphs, {bead.code: bead.colour for bead in session.palette})
