"""A plan is chosen of which a piece is begun already: go on with that one, or begin another?"""

from __future__ import annotations

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen

from stitchalong.course.words import sentence
from stitchalong.screens.canvas import Canvas
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.inks import Look
from stitchalong.screens.lines import BLANK, Line, wrapped
from stitchalong.screens.panels import Page, framed, room

ANOTHER = "b"
"""the key that begins another piece"""


class Begun(Screen[bool | None]):
    """Gives whether to go on with the piece that is there; None: neither."""

    def __init__(self, name: str, detail: str, look: Look, glyphs: Glyphs) -> None:
        """`name`: of the piece; `detail`: how far it is, in words."""
        super().__init__()
        self._look = look
        self._glyphs = glyphs

        def draw(width: int, glyphs: Glyphs) -> list[Line]:
            return [
                *wrapped(f"You have “{name}” of this plan begun already", width, "strong"),
                BLANK,
                *wrapped(sentence(detail), width),
                BLANK,
                *wrapped("Go on with it, or begin another piece? Each keeps its own place.", width),
            ]

        self._page = Page(draw, (("Enter", "go on with it"), (ANOTHER, "begin another"), ("Escape", "neither")))

    def compose(self) -> ComposeResult:
        yield Canvas(self._look)

    def on_resize(self, event: events.Resize) -> None:
        width, height = self.size
        if width and height:
            lines = self._page.lines(*room(width, height), self._glyphs)
            self.query_one(Canvas).show(framed(lines, self._page.keys, width, height))

    def on_key(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        match event.key:
            case "enter":
                self.dismiss(True)
            case key if key == ANOTHER:
                self.dismiss(False)
            case "escape" | "q" | "ctrl+c" | "ctrl+q":
                self.dismiss(None)
