"""The floor that start and key are held against: a bare Textual app with one counter."""

from __future__ import annotations

from textual.app import App, ComposeResult
from textual.widgets import Static


class Bare(App[None]):
    """Counts keys."""

    ENABLE_COMMAND_PALETTE = False

    def compose(self) -> ComposeResult:
        self.count = 0
        yield Static("count 0")

    def on_key(self) -> None:
        self.count += 1
        self.query_one(Static).update(f"count {self.count}")


if __name__ == "__main__":
    Bare().run(mouse=False)
