"""Which command opens which sheet."""

from __future__ import annotations

from dataclasses import replace

from stitchalong.chart import chart_of
from stitchalong.measure.pace import duration, duration_range
from stitchalong.measure.units import Units
from stitchalong.screens.beside.finding import Finding
from stitchalong.screens.beside.notes import NotesSheet
from stitchalong.screens.beside.picture import Picture
from stitchalong.screens.beside.recounting import Recounting
from stitchalong.screens.beside.sheet import Sheet
from stitchalong.screens.beside.threads import ThreadSheet
from stitchalong.screens.beside.trays import Trays
from stitchalong.screens.beside.unpicking import Unpicking
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
            return Picture(chart_of(session.course), session.outlook.beads_done)
    return None


def time_words(session: Session) -> str:
    """Time in this piece, her pace, and what is left as a range."""
    spent = f"{duration(session.seconds_spent())} in this piece"
    pace, left = session.pace(), session.time_left()
    if pace is None or left is None:
        return f"{spent}; your pace is known after some twenty beads."
    return f"{spent}; {60 / pace.each.value:.0f} beads a minute, so about {duration_range(left)} are left."
