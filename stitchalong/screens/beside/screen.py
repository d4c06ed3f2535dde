"""The screen that shows a sheet until it is closed."""

from __future__ import annotations

from collections.abc import Mapping

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen

from stitchalong.screens.beside.sheet import Done, Sheet
from stitchalong.screens.canvas import Canvas
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.inks import Look
from stitchalong.screens.panels import framed, room

_CLOSING = frozenset(("ctrl+c", "ctrl+q"))


class SheetScreen(Screen[Done | None]):
    """Gives what is to be done when the sheet is closed."""

    def __init__(self, sheet: Sheet, look: Look, glyphs: Glyphs, colours: Mapping[str, str]) -> None:
        """`colours` of the beads, by code."""
        super().__init__()
        self.sheet = sheet
        self._look = look
        self._glyphs = glyphs
        self._colours = colours

    def compose(self) -> ComposeResult:
        yield Canvas(self._look, self._colours)

    def on_resize(self, event: events.Resize) -> None:
        self._show()

    def on_paste(self, event: events.Paste) -> None:
        event.stop()
        for character in event.text[:200]:
            if character.isprintable():
                self._take(character, character)
        self._show()

    def on_key(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        if event.key in _CLOSING:
            self.dismiss(None)
            return
        self._take(event.key, event.character if event.is_printable and event.character else "")
        self._show()

    def _take(self, key: str, character: str) -> None:
        after = self.sheet.press(key, character)
        if isinstance(after, Done):
            self.dismiss(after)
        else:
            self.sheet = after

    def _show(self) -> None:
        width, height = self.size
        if width and height and self.is_attached:
            lines = self.sheet.lines(*room(width, height), self._glyphs)
            self.query_one(Canvas).show(framed(lines, self.sheet.keys, width, height))
