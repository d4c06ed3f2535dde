"""A screen to hear each of the short sounds, and what it says."""

from __future__ import annotations

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen

from stitchalong.cues.cue import EARCONS, MEANINGS, Cue, Outlet
from stitchalong.screens.canvas import Canvas
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.inks import Look
from stitchalong.screens.lines import BLANK, Line, Span, line, wrapped
from stitchalong.screens.panels import framed, room

_CLOSING = frozenset(("escape", "q", "u", "ctrl+c", "ctrl+q"))
_KEYS = (("Space", "hear it"), ("Up Down", "another"), ("Escape", "close"))
_SET = "How loud each is, and whether: stitchalong settings sound.volume_bead 0.3"


class Sounds(Screen[None]):
    """The sounds, one of them marked, until it is closed."""

    def __init__(self, outlet: Outlet, look: Look, glyphs: Glyphs) -> None:
        super().__init__()
        self._outlet = outlet
        self._look = look
        self._glyphs = glyphs
        self._at = 0

    def compose(self) -> ComposeResult:
        yield Canvas(self._look)

    def on_resize(self, event: events.Resize) -> None:
        self._show()

    def on_key(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        if event.key in _CLOSING:
            self.dismiss()
        elif event.key in ("up", "down"):
            self._at = (self._at + (1 if event.key == "down" else -1)) % len(EARCONS)
            self._show()
        elif event.key in ("space", "enter"):
            earcon = EARCONS[self._at]
            self._outlet.deliver(Cue(earcon, MEANINGS[earcon], urgent=True))

    def _show(self) -> None:
        width, height = self.size
        if width and height:
            lines = self._lines(*room(width, height))
            self.query_one(Canvas).show(framed(lines, _KEYS, width, height))

    def _lines(self, width: int, height: int) -> list[Line]:
        """As many as fit, the sounds first."""
        out = [line("Hear the sounds", "strong"), *([BLANK] if height > len(EARCONS) + 4 else [])]
        for nth, earcon in enumerate(EARCONS):
            ink = "strong" if nth == self._at else "text"
            sign = self._glyphs.needle if nth == self._at else ""
            lead = (Span(f"{sign:<3}{earcon:<10}", ink),)
            out += wrapped(MEANINGS[earcon], width, ink, lead=lead)
        out += wrapped(f"Told through: {self._outlet.describe()}.", width, "dim")
        return [*out, *wrapped(_SET, width, "dim")][:height]
