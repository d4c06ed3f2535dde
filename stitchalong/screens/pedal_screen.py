"""The screen that takes whatever key a pedal sends."""

from __future__ import annotations

from pathlib import Path

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen

from stitchalong.screens.canvas import Canvas
from stitchalong.screens.inks import Look
from stitchalong.screens.mouse import Clicked
from stitchalong.screens.panels import framed, room
from stitchalong.screens.pedal import CLICK, Kept, Pedal
from stitchalong.screens.preferences import Preferences
from stitchalong.settings.settings import Settings


class PedalScreen(Screen[Settings | None]):
    """Gives the settings as they are when a key was kept; None where none was."""

    def __init__(self, path: Path, preferences: Preferences, look: Look, *, alone: bool = False) -> None:
        """`alone`: nothing lies below it, and the program ends with it."""
        super().__init__()
        self._alone = alone
        guard, fastest = preferences.guard, preferences.held[0]
        self.pedal = Pedal(path, preferences.commands, guard, fastest, preferences.tap)
        self._look = look

    def compose(self) -> ComposeResult:
        yield Canvas(self._look)

    def on_resize(self, event: events.Resize) -> None:
        self._show()

    def on_paste(self, event: events.Paste) -> None:
        event.stop()

    def on_clicked(self, message: Clicked) -> None:
        self._take(CLICK, message.at)

    def on_key(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        if event.key in ("ctrl+c", "ctrl+q"):
            self._leave(None)
        else:
            self._take(event.key, event.time)

    def _take(self, key: str, at: float) -> None:
        after = self.pedal.press(key, at)
        match after:
            case None:
                self._leave(None)
            case Kept():
                self._leave(after.found)
            case Pedal():
                self.pedal = after
                self._show()

    def _leave(self, found: Settings | None) -> None:
        if self._alone:
            self.app.exit(found)
        else:
            self.dismiss(found)

    def _show(self) -> None:
        width, height = self.size
        if width and height and self.is_attached:
            lines = self.pedal.lines(*room(width, height))
            self.query_one(Canvas).show(framed(lines, self.pedal.keys, width, height))
