"""The chart in small: beads as points of their colour, two points one above the other in a cell."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise
from math import ceil, cos, radians, sin

from stitchalong.chart import Bead, Chart
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.inks import Look
from stitchalong.screens.lines import Line, Span, line
from stitchalong.screens.making.board import PAINT

_SCALES = (4.0, 3.0, 2.0)
_ROUND_SCALES = (*_SCALES, 1.5, 1.0)
"""points a bead's width, the largest that fits first; a disc is better seen whole than in part"""
_SHADE = 0.86
"""of every other bead, so that neighbours of one colour are told apart"""

_LABEL = 1.8
"""how far a panel's label begins before its middle"""

_PART = "a part of it; F2 shows all"

Points = list[list[str]]
"""rows of `#rrggbb`; empty where there is no bead"""


def draw(chart: Chart, colours: Mapping[str, str], width: int, height: int, look: Look, glyphs: Glyphs) -> list[Line]:
    """The chart in at most so many cells, with a word where it is only a part. `colours`: `#rrggbb` by code.

    Where no colour can be shown, letters.
    """
    if width < 4 or height < 2:
        return []
    top = min((bead.y - bead.height / 2 for bead in chart.beads), default=0.0)
    if not look.coloured or glyphs.ascii:
        return _lettered(chart, top, width, height)
    tall = max((bead.y + bead.height / 2 for bead in chart.beads), default=0.0) - top

    def fits(scale: float) -> bool:
        return chart.width * scale <= width and tall * scale <= 2 * height

    scales = _ROUND_SCALES if any(bead.turn for bead in chart.beads) else _SCALES
    scale = next((one for one in scales if fits(one)), _SCALES[-1])
    whole = fits(scale)
    columns, lines = min(width, ceil(chart.width * scale)), min(height - (not whole), ceil(tall * scale / 2))
    part = ""
    if not whole:
        columns, part = _whole_panels(chart, scale, columns, tall * scale <= 2 * lines)
    points: Points = [[""] * columns for _ in range(2 * lines)]
    for bead in chart.within(-1, -1, columns / scale + 1, top + 2 * lines / scale + 1):
        _put(points, bead, top, colours.get(bead.code, "#808080"), scale)
    drawn = [_row(upper, lower) for upper, lower in zip(points[::2], points[1::2], strict=True)]
    return drawn if whole else [*drawn, line(f"{part}; F2 shows all" if part else _PART, "dim")]


def _whole_panels(chart: Chart, scale: float, columns: int, to_the_end: bool) -> tuple[int, str]:
    """As many columns as show whole panels, and which they are, in words. `to_the_end`: as high as they are."""
    middles = sorted(label.x for label in chart.labels)
    bounds = [scale * ((one + other) / 2 + _LABEL - 0.6) for one, other in pairwise(middles)]
    inside = [bound for bound in bounds if bound <= columns]
    if chart.width * scale <= columns or not inside or not to_the_end:
        return columns, ""
    number = len(inside)
    which = "side 1" if number == 1 else f"sides 1 to {number}"
    return int(inside[-1]), f"{which} of {len(middles)}"


def _put(points: Points, bead: Bead, top: float, colour: str, scale: float) -> None:
    """Every point whose middle lies in the bead."""
    if (bead.number + int(bead.y)) % 2:
        colour = "#" + "".join(f"{int(int(colour[at : at + 2], 16) * _SHADE):02x}" for at in (1, 3, 5))
    turn = radians(bead.turn)
    along, across = cos(turn), sin(turn)
    reach = max(bead.width, bead.height)
    x, y = bead.x, bead.y - top
    for row in range(max(0, int((y - reach) * scale)), min(len(points), ceil((y + reach) * scale))):
        for column in range(max(0, int((x - reach) * scale)), min(len(points[0]), ceil((x + reach) * scale))):
            dx, dy = (column + 0.5) / scale - x, (row + 0.5) / scale - y
            if abs(dx * along + dy * across) <= bead.width / 2 and abs(dy * along - dx * across) <= bead.height / 2:
                points[row][column] = colour


def _row(upper: list[str], lower: list[str]) -> Line:
    spans: list[Span] = []
    for top, bottom in zip(upper, lower, strict=True):
        if not top and not bottom:
            span = Span(" ")
        elif top == bottom:
            span = Span(" ", f"{PAINT}/{top}")
        elif top:
            span = Span("▀", f"{PAINT}{top}/{bottom}")
        else:
            span = Span("▄", f"{PAINT}{bottom}/")
        if spans and spans[-1].ink == span.ink:
            spans[-1] = Span(spans[-1].text + span.text, span.ink)
        else:
            spans.append(span)
    return tuple(spans)


def _lettered(chart: Chart, top: float, width: int, height: int) -> list[Line]:
    """Each bead by its code, from the upper end: two cells wide, and two high where rows lie half a bead apart."""
    high = 1.0 if any(bead.turn for bead in chart.beads) else 2.0
    cells: dict[tuple[int, int], str] = {}
    for bead in chart.beads:
        row, column = round((bead.y - top) * high - high / 2), round(bead.x * 2)
        while (row, column) in cells:
            column += 1  # rings are round, cells are square: the neighbour gives way
        cells[row, column] = bead.code[:1]
    rows, columns = max(row for row, _ in cells) + 1, max(column for _, column in cells) + 1
    whole = rows <= height and columns <= width
    drawn = [
        line("".join(cells.get((row, column), " ") for column in range(min(columns, width))).rstrip())
        for row in range(min(rows, height - (not whole)))
    ]
    return drawn if whole else [*drawn, line(_PART, "dim")]
