"""A screen of text to be read, scrolled by keys: the help."""

from __future__ import annotations

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen

from stitchalong.screens.canvas import Canvas
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.inks import Look
from stitchalong.screens.panels import Page, framed, room

_CLOSING = frozenset(("escape", "enter", "q", "h", "f1", "question_mark"))


class Reader(Screen[None]):
    """Shows a page until it is closed."""

    def __init__(self, page: Page, look: Look, glyphs: Glyphs) -> None:
        super().__init__()
        self._page = page
        self._look = look
        self._glyphs = glyphs

    def compose(self) -> ComposeResult:
        yield Canvas(self._look)

    def on_resize(self, event: events.Resize) -> None:
        self._scroll(0)

    def on_key(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        if event.key in _CLOSING:
            self.dismiss()
            return
        height = max(1, self.size.height - 3)
        by = {
            "down": 1,
            "up": -1,
            "pagedown": height,
            "space": height,
            "pageup": -height,
            "home": -(10**6),
            "end": 10**6,
        }
        self._scroll(by.get(event.key, 0))

    def _scroll(self, by: int) -> None:
        width, height = self.size
        if not width or not height:
            return
        self._page = self._page.scrolled(by, *room(width, height), self._glyphs)
        lines = self._page.lines(*room(width, height), self._glyphs)
        self.query_one(Canvas).show(framed(lines, self._page.keys, width, height))
