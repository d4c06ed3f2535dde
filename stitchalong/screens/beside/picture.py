"""The chart on the screen: beads as letters in their places, moved with the arrows, following the needle."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise

from stitchalong.chart import Bead, Chart, State
from stitchalong.course.words import counted
from stitchalong.screens.beside.sheet import Done
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.inks import BEAD
from stitchalong.screens.lines import Line, Span, line

_WHOLE = 0.9
"""bead heights from row to row from which each has a line of its own"""

_WIDE = 2.0
"""cells a bead's width"""


@dataclass(frozen=True, slots=True)
class Picture:
    """A window on a chart."""

    chart: Chart
    done: int
    """beads laid"""
    aside: int = 0
    """cells moved from the needle"""
    down: int = 0
    """lines moved"""
    letters: bool = True
    high: float = 2.0
    """lines a bead's height"""
    drawn: bool = False
    """of a plan: nothing is laid yet, and all is shown as if it were"""

    keys = (("Escape", "close"), ("arrows", "move"), ("l", "letters"), ("Home", "to the needle"))

    @classmethod
    def of(cls, chart: Chart, done: int, *, drawn: bool = False) -> Picture:
        """As high as its rows ask for: those of peyote lie half a bead apart, rings and most others about a whole."""
        heights = sorted({round(bead.y, 3) for bead in chart.beads})
        whole = all(after - before > _WHOLE for before, after in pairwise(heights))
        return cls(chart, done, high=1.0 if whole or any(bead.turn for bead in chart.beads) else 2.0, drawn=drawn)

    def press(self, key: str, character: str) -> Picture | Done:
        match key:
            case "escape" | "enter":
                return Done()
            case "left" | "right":
                return replace(self, aside=self.aside + (8 if key == "right" else -8))
            case "up" | "down":
                return replace(self, down=self.down + (3 if key == "down" else -3))
            case "home":
                return replace(self, aside=0, down=0)
        return replace(self, letters=not self.letters) if character.casefold() == "l" else self

    def lines(self, width: int, height: int, glyphs: Glyphs) -> list[Line]:
        rows = max(1, height - 1)
        left, top = self._corner(width, rows)
        cells: list[dict[int, Bead]] = [{} for _ in range(rows)]
        wide, high = _WIDE, self.high
        for bead in self.chart.within(left / wide, top / high, (left + width) / wide, (top + rows) / high):
            row, column = _cell(bead.y * high) - top, _cell(bead.x * wide) - left
            if 0 <= row < rows and 0 <= column < width - 1:
                while column in cells[row] and column < width - 2:
                    column += 1  # rings are round, cells are square: the neighbour gives way
                cells[row].setdefault(column, bead)
        beads = counted(len(self.chart.beads), "bead")
        head = f"{self.chart.title}: {beads}" if self.drawn else f"{self.chart.title}: {self.done:,} of {beads} laid"
        return [line(head[:width], "strong"), *(self._row(row, width, glyphs) for row in cells)]

    def _corner(self, width: int, rows: int) -> tuple[int, int]:
        """The first cell and line that are shown: the needle in the middle, or the whole chart where it fits."""
        needle = self.chart.needle(self.done)
        whole = round(self.chart.width * _WIDE), round(self.chart.height * self.high)
        at = (_cell(needle.x * _WIDE), _cell(needle.y * self.high)) if needle else (0, 0)
        corner = []
        for size, have, here, moved in zip((width, rows), whole, at, (self.aside, self.down), strict=True):
            if have <= size:
                corner.append((have - size) // 2)
            else:
                corner.append(max(0, min(have - size, here - size // 2 + moved)))
        return corner[0], corner[1]

    def _row(self, beads: dict[int, Bead], width: int, glyphs: Glyphs) -> Line:
        spans: list[Span] = []
        at = 0
        for column, bead in sorted(beads.items()):
            if column < at:
                continue
            if column > at:
                spans.append(Span(" " * (column - at)))
            spans.append(self._sign(bead, glyphs))
            at = column + 1
        return (*spans, Span(" " * (width - at))) if at < width else tuple(spans)

    def _sign(self, bead: Bead, glyphs: Glyphs) -> Span:
        """Capital on its colour: laid; marked: the next one; small and faint: to come."""
        state = self.chart.state(bead, self.done)
        if state is State.NEXT:
            return Span(bead.code if self.letters else glyphs.here[:1], "here")
        if state is State.DONE:
            return Span(bead.code if self.letters else glyphs.full, BEAD + bead.code if self.letters else "bar")
        return Span(bead.code.lower() if self.letters else glyphs.dot, "dim")


def _cell(at: float) -> int:
    """The nearest cell; halves go up all alike, so that rows a whole cell apart stay so."""
    return math.floor(at + 0.5)
