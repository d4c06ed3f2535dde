"""A widget that shows the cells of a picture."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from rich.color import Color
from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from stitchalong.screens.inks import Look

if TYPE_CHECKING:
    from stitchalong.form.runs import Colour, Run


def ground_of(look: Look) -> Colour:
    """The colour behind all text, behind a picture too; black where the terminal has its own."""
    ground = look.pens["text"].back.removeprefix("#") or "000000"
    return int(ground[:2], 16), int(ground[2:4], 16), int(ground[4:], 16)


class Drawing(Widget):
    """Rows of cells; those that are the same as before are not drawn again."""

    DEFAULT_CSS = "Drawing { width: 1fr; height: 1fr; }"
    can_focus = False

    def __init__(self) -> None:
        super().__init__()
        self._rows: tuple[tuple[Run, ...], ...] = ()

    @property
    def rows(self) -> tuple[tuple[Run, ...], ...]:
        """What is shown."""
        return self._rows

    def show(self, rows: Sequence[tuple[Run, ...]]) -> int:
        """Show these rows; gives how many of them changed."""
        before, self._rows = self._rows, tuple(rows)
        if len(before) != len(self._rows):
            self.refresh()
            return len(self._rows)
        width = self.size.width
        changed = [
            Region(0, at, width, 1) for at, (old, new) in enumerate(zip(before, self._rows, strict=True)) if old != new
        ]
        if changed:
            self.refresh(*changed)
        return len(changed)

    def render_line(self, y: int) -> Strip:
        row = self._rows[y] if y < len(self._rows) else ()
        strip = Strip([Segment(run.text, _style(run.ink, run.paper)) for run in row])
        return strip.adjust_cell_length(self.size.width)


@lru_cache(maxsize=8192)
def _style(ink: Colour | None, paper: Colour | None) -> Style:
    return Style(color=Color.from_rgb(*ink) if ink else None, bgcolor=Color.from_rgb(*paper) if paper else None)
