"""The piece, or a plan, in figures: a page of them."""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.course.compile import compile_plan
from stitchalong.errors import Problems
from stitchalong.measure.book import Book
from stitchalong.measure.in_figures import Section, in_figures
from stitchalong.measure.units import Units
from stitchalong.plan.library import Listed
from stitchalong.plan.read import read_plan
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.lines import BLANK, Line, line, wrapped
from stitchalong.screens.panels import Keys, Page
from stitchalong.session import Session
from stitchalong.session.pacing import pace_of_pieces
from stitchalong.store import PieceSummary, Store

READING: Keys = (("Escape", "close"), ("Up Down", "scroll"), ("Page Up, Page Down", "by pages"))
STITCHING: Keys = (("Space", "counts on"), ("Escape", "close"), ("Up Down", "scroll"))


def of_session(session: Session, units: Units) -> Page:
    """Of the piece at work."""
    return figures_page(session.piece.title, tuple(session.in_figures(units)), STITCHING)


def of_entry(store: Store, entry: PieceSummary | Listed, units: Units) -> Page:
    """Of a piece or a plan in the list. Raises PlanError for a plan that cannot be stitched, and StoreError."""
    if isinstance(entry, PieceSummary):
        return figures_page(entry.name, tuple(Session.resume(store, entry.id).in_figures(units)), READING)
    problems = Problems()
    plan = read_plan(entry.path, problems).plan
    course = compile_plan(plan)
    sections = in_figures(course, plan, Book(store.measured()), pace_of_pieces(store), units)
    return figures_page(plan.title, tuple(sections), READING)


def figures_page(title: str, sections: Sequence[Section], keys: Keys) -> Page:
    """Headings, and lines below them."""

    def draw(width: int, glyphs: Glyphs) -> list[Line]:
        out = [*wrapped(f"{title} in figures", width, "strong")]
        for heading, lines in sections:
            out += [BLANK, line(heading, "key")]
            for text in lines:
                out += wrapped(text, width)
        return out

    return Page(draw, keys)
