"""The screen of the settings: what is changed on it is seen on it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen

from stitchalong.screens.beside.sheet import Done
from stitchalong.screens.canvas import Canvas
from stitchalong.screens.inks import Look
from stitchalong.screens.panels import framed, room
from stitchalong.screens.pedal_screen import PedalScreen
from stitchalong.screens.preferences import Preferences
from stitchalong.screens.settings_sheet import PEDAL, SettingsSheet
from stitchalong.screens.themes import look_of
from stitchalong.settings.kinds import Value
from stitchalong.settings.settings import Settings

Changed = Callable[[Settings, Settings], None]
"""is told of the settings before a change and after it"""

Now = tuple[tuple[str, Value], ...]


class SettingsScreen(Screen[None]):
    """The settings of a file until it is closed."""

    def __init__(
        self, path: Path, found: Settings, look: Look, on_change: Changed, *, pedal: bool = False, now: Now = ()
    ) -> None:
        """`pedal`: the pedal's key comes first, and the settings are closed with it. `now`: see `SettingsSheet`."""
        super().__init__()
        self._pedal_first = pedal
        self.sheet = SettingsSheet(path, found, now=now)
        self._look = look
        self._on_change = on_change

    def compose(self) -> ComposeResult:
        yield Canvas(self._look)

    def on_mount(self) -> None:
        if self._pedal_first:
            self._ask_for_pedal()

    def on_resize(self, event: events.Resize) -> None:
        self._show()

    def on_screen_resume(self, event: events.ScreenResume) -> None:
        self._show()

    def on_paste(self, event: events.Paste) -> None:
        event.stop()
        for character in event.text[:200]:
            if character.isprintable() and self.sheet.text is not None:
                self._take(character, character)

    def on_key(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        if event.key in ("ctrl+c", "ctrl+q"):
            self.dismiss(None)
        else:
            self._take(event.key, event.character if event.is_printable and event.character else "")

    def _take(self, key: str, character: str) -> None:
        before = self.sheet.found
        after = self.sheet.press(key, character)
        if isinstance(after, Done):
            if after.message == PEDAL:
                self._ask_for_pedal()
            else:
                self.dismiss(None)
            return
        self.sheet = after
        self._changed(before)
        self._show()

    def _ask_for_pedal(self) -> None:
        screen = PedalScreen(self.sheet.path, Preferences.of(self.sheet.found), self._look)
        self.app.push_screen(screen, self._pedal_set)

    def _pedal_set(self, found: Settings | None) -> None:
        if found is not None:
            before = self.sheet.found
            self.sheet = SettingsSheet(self.sheet.path, found, self.sheet.at)
            self._changed(before)
        if self._pedal_first:
            self.dismiss(None)
        else:
            self._show()

    def _changed(self, before: Settings) -> None:
        after = self.sheet.found
        if after != before:
            self._look = look_of(after.look.theme, colourless=not self._look.coloured)
            self.query_one(Canvas).dress(self._look)
            self._on_change(before, after)

    def _show(self) -> None:
        width, height = self.size
        if width and height and self.is_attached:
            lines = self.sheet.lines(*room(width, height), Preferences.of(self.sheet.found).glyphs)
            self.query_one(Canvas).show(framed(lines, self.sheet.keys, width, height))
