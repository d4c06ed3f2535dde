"""One widget that draws lines: keeps its strips, and repaints only the rows that changed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache

from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from stitchalong.screens.inks import BEAD, COLOURLESS, Look
from stitchalong.screens.lines import BLANK, Line, width_of
from stitchalong.screens.patch import differing, may_send, send

_KEPT = 1024
"""strips"""


class Canvas(Widget):
    """Shows lines. `show` takes new ones; what is the same as before is not drawn again."""

    DEFAULT_CSS = "Canvas { width: 1fr; height: 1fr; }"
    can_focus = False

    def __init__(self, look: Look, colours: Mapping[str, str] | None = None) -> None:
        """`colours` are those of the beads, by code, as `#rrggbb`."""
        super().__init__()
        self.look = look
        self._colours = dict(colours or {})
        self._lines: tuple[Line, ...] = ()
        self._styles: dict[str, Style] = {ink: pen.style() for ink, pen in look.pens.items()}
        self._strip = lru_cache(maxsize=_KEPT)(self._make_strip)

    def dress(self, look: Look) -> None:
        """Another look from now on."""
        self.look = look
        self._dyed()

    def dye(self, colours: Mapping[str, str]) -> None:
        """Beads of other colours from now on."""
        if colours != self._colours:
            self._colours = dict(colours)
            self._dyed()

    def _dyed(self) -> None:
        self._styles = {ink: pen.style() for ink, pen in self.look.pens.items()}
        self._strip.cache_clear()
        self.refresh()

    @property
    def lines(self) -> tuple[Line, ...]:
        """What is shown."""
        return self._lines

    def show(self, lines: Sequence[Line]) -> None:
        """Show these, one a row."""
        before, self._lines = self._lines, tuple(lines)
        if len(before) != len(self._lines):
            self.refresh()
            return
        changed = [
            (row, old, new) for row, (old, new) in enumerate(zip(before, self._lines, strict=True)) if old != new
        ]
        if not changed:
            return
        regions = [Region(0, row, width_of(new), 1) for row, _, new in changed]
        if not may_send(self):
            self.refresh(*regions)
            return
        left, top = self.region.offset
        send(
            self,
            regions,
            [
                (top + row, left + at, self._strip(some))
                for row, old, new in changed
                for at, some in differing(old, new)
            ],
        )

    def render_line(self, y: int) -> Strip:
        return self._strip(self._lines[y] if y < len(self._lines) else BLANK)

    def _make_strip(self, some: Line) -> Strip:
        return Strip([Segment(span.text, self._style(span.ink)) for span in some], width_of(some))

    def _style(self, ink: str) -> Style:
        style = self._styles.get(ink)
        if style is None:
            colour = self._colours.get(ink.removeprefix(BEAD), "")
            pen = self.look.bead(colour) if colour else COLOURLESS.bead("")
            style = self._styles[ink] = pen.style()
        return style
