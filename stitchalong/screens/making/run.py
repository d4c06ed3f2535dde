"""A new plan made on a screen of its own."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from textual.screen import Screen

from stitchalong.design.draft import Draft
from stitchalong.measure.book import Book
from stitchalong.screens.app import ScreensApp, play
from stitchalong.screens.making.screen import Made, MakingScreen
from stitchalong.screens.preferences import Preferences
from stitchalong.store import Store


def run_making(store: Store, folder: Path, file: str, *, preferences: Preferences) -> Made | None:
    """Make a plan, reckoned with the stitcher's own gauges; what was written, or None.

    `folder`: where a file goes that is named without one. Standard input, output and error must be terminals.
    """
    draft = Draft(Book(store.measured()), preferences.units)

    def first(app: ScreensApp) -> Screen[Any]:
        return MakingScreen(draft, app.look(preferences), preferences, folder=folder, file=file)

    app = ScreensApp(first)
    play(app)
    chosen = app.return_value
    return chosen if isinstance(chosen, Made) else None
