"""Another name for a piece: one line to be typed."""

from __future__ import annotations

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen
from textual.widgets import Input, Label

from stitchalong.screens.inks import Look
from stitchalong.store.names import NAME_LIMIT


class Renaming(Screen[str | None]):
    """Gives the name typed, or None."""

    DEFAULT_CSS = """
    Renaming { padding: 1; }
    Renaming Label { width: 1fr; }
    Renaming Input, Renaming Input:focus { border: none; height: 1; margin: 1 0; padding: 0; }
    """

    def __init__(self, name: str, look: Look) -> None:
        super().__init__()
        self._before = name
        text = look.pens["text"]
        if look.coloured:
            self.styles.background, self.styles.color = text.back, text.front

    def compose(self) -> ComposeResult:
        yield Label("Another name for this piece:", markup=False)
        yield Input(self._before, max_length=NAME_LIMIT, select_on_focus=False)
        yield Label("Enter keeps it, Escape leaves it as it is.", markup=False)

    def on_mount(self) -> None:
        self.query_one(Input).focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        name = event.value.strip()
        self.dismiss(name if name and name != self._before else None)

    def on_key(self, event: events.Key) -> None:
        if event.key in ("escape", "ctrl+c"):
            event.stop()
            event.prevent_default()
            self.dismiss(None)
