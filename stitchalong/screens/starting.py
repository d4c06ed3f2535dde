"""From the first screen to a new piece: a plan that is chosen, or made."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from textual.app import App

from stitchalong.plan.library import Listed
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.inks import Look
from stitchalong.screens.preferences import Preferences
from stitchalong.session.under_way import under_way
from stitchalong.store import PieceSummary, Store

if TYPE_CHECKING:
    from stitchalong.screens.making.screen import Made


@dataclass(frozen=True, slots=True)
class GoOn:
    """Go on with this piece."""

    piece_id: int


@dataclass(frozen=True, slots=True)
class Begin:
    """Begin a new piece from this plan."""

    plan: Path
    units: int | None = None
    """None: as the plan has it"""
    sides: int | None = None


def choose(
    app: App[object],
    plan: Listed,
    pieces: Sequence[PieceSummary],
    detail: Callable[[PieceSummary], str],
    look: Look,
    glyphs: Glyphs,
) -> None:
    """End the app with `Begin` for this plan; where a piece of it is under way, ask first whether that is meant."""
    begun = under_way(pieces, plan.title)
    if begun is None:
        app.exit(Begin(plan.path))
        return
    from stitchalong.screens.begun import Begun

    def chosen(on: bool | None) -> None:
        if on is not None:
            app.exit(GoOn(begun.id) if on else Begin(plan.path))

    app.push_screen(Begun(begun.name, detail(begun), look, glyphs), chosen)


def make(
    app: App[object],
    store: Store,
    folder: Path,
    preferences: Preferences,
    look: Look,
    done: Callable[[Path | None], None],
) -> None:
    """Make a plan into this folder. The app ends with `Begin` where it is to be begun at once; else `done` gets its
    path, or None where none was written. Raises StoreError."""
    from stitchalong.design.draft import Draft
    from stitchalong.measure.book import Book
    from stitchalong.screens.making.screen import MakingScreen

    draft = Draft(Book(store.measured()), preferences.units)

    def made(found: Made | None) -> None:
        if found is not None and found.begin:
            app.exit(Begin(found.path))
        else:
            done(found.path if found is not None else None)

    app.push_screen(MakingScreen(draft, look, preferences, folder=folder), made)
