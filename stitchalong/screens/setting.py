"""Opens the screens that change the settings file; where that cannot be, a page that says why."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from textual.screen import Screen

from stitchalong.course.words import sentence
from stitchalong.errors import StitchalongError
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.inks import Look
from stitchalong.screens.lines import BLANK, Line, line, wrapped
from stitchalong.screens.panels import Page
from stitchalong.screens.reader import Reader
from stitchalong.screens.settings_screen import Changed, Now, SettingsScreen
from stitchalong.settings.file import read_settings

_NO_FILE = "there is no settings file here"


def settings_screen(
    path: Path | None, look: Look, glyphs: Glyphs, on_change: Changed, *, pedal: bool = False, now: Now = ()
) -> Screen[Any]:
    """The settings as they stand in the file now; `pedal`: the screen for the pedal's key lies over it. `now`: what is
    switched otherwise at the keys."""
    if path is None:
        return Reader(_faults([_NO_FILE]), look, glyphs)
    try:
        found = read_settings(path)
    except StitchalongError as error:
        return Reader(_faults([str(problem) for problem in error.problems]), look, glyphs)
    return SettingsScreen(
        path, found, look, on_change, pedal=pedal, now=tuple(pair for pair in now if pair[1] != found.value(pair[0]))
    )


def _faults(some: list[str]) -> Page:
    """What is wrong with the file, a line each."""

    def draw(width: int, glyphs: Glyphs) -> list[Line]:
        out = [line("The settings cannot be changed here", "strong")]
        for text in some:
            out += [BLANK, *wrapped(sentence(text), width)]
        return out

    return Page(draw, (("Escape", "close"), ("Up Down", "scroll")))
