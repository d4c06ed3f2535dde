"""A document as PDF, by fpdf2 (the extra `pdf`)."""

from __future__ import annotations

import struct
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from itertools import zip_longest
from pathlib import Path

from fpdf.enums import TableBordersLayout
from fpdf.fonts import FontFace

from stitchalong.chart.model import Chart
from stitchalong.plan.text import clean
from stitchalong.sheets.blocks import Block, Document, Grid, Heading, Items, Paragraph, Photo, Picture, Steps
from stitchalong.sheets.ink import ink_on, rgb
from stitchalong.sheets.paper import MOST_BEAD, PICTURE, Paper
from stitchalong.sheets.pdf_page import POINT, Page
from stitchalong.sheets.pdf_rounds import set_steps

_LEAST_LETTER = 2.0
"""mm; letters on smaller beads are left out"""
_TOGETHER = 0.3
"""of a page: what is no higher stays together with its heading"""


@dataclass(frozen=True, slots=True)
class Made:
    """A PDF, and the characters that its font does not have."""

    content: bytes
    lost: frozenset[str]


def as_pdf(document: Document, paper: Paper, made: datetime, *, large: bool = False, font: Path | None = None) -> Made:
    """The PDF. `font`: a TrueType or OpenType file instead of the font that every reader has, for other scripts.

    Raises UsageError for a font file that cannot be used.
    """
    page = Page(document.title, paper, 15.0 if large else 10.5, font)
    page.set_creation_date(made)
    page.set_title(clean(document.title))
    page.set_lang("en")
    page.add_page()
    page.title_line(document.title)
    for block, after in zip_longest(document.blocks, document.blocks[1:]):
        if isinstance(block, Heading) and after is not None:
            page.room(_heading_height(page) + min(_height(page, after), _TOGETHER * page.eph))
        _block(page, block)
    return Made(bytes(page.output()), frozenset(page.lost))


def _block(page: Page, block: Block) -> None:
    match block:
        case Heading(text):
            page.room(_heading_height(page))
            page.ln(page.points * POINT)
            page.put(text, size=1.25, bold=True)
            page.rule(0.2, 120)
        case Paragraph(text):
            page.put(text)
            page.ln(1)
        case Items():
            _items(page, block)
        case Grid():
            _grid(page, block)
        case Picture(chart, colours, _, letters):
            _picture(page, chart, colours, letters)
        case Photo():
            _photo(page, block)
        case Steps():
            set_steps(page, block)


def _heading_height(page: Page) -> float:
    return page.points * POINT * 4


def _height(page: Page, block: Block) -> float:
    """How high a block is, about; of one that may be broken, what has to follow a heading."""
    line = page.ink()
    match block:
        case Paragraph(text):
            return line * (page.lines(text, page.epw) + 4)
        case Items(texts):
            wide = page.epw - page.points * POINT * 1.8
            return line * sum(page.lines(text, wide) for text in texts)
        case Grid():
            return (line + 1.6) * (len(block.rows) + 2)
    return line * 4


def _items(page: Page, items: Items) -> None:
    indent = page.points * POINT * 1.8
    for nth, text in enumerate(items.texts, start=1):
        height = page.ink()
        page.room(height * min(4, page.lines(text, page.epw - indent)))
        page.ink()
        page.set_x(page.l_margin)
        page.cell(indent, height, f"{nth}." if items.numbered else "-")
        page.put(text, indent=indent)
    page.ln(1)


def _grid(page: Page, grid: Grid) -> None:
    rows = [row for row in (grid.head, *grid.rows, grid.foot) if any(row)]
    headed = any(grid.head)
    page.room(min(_height(page, grid), _TOGETHER * page.eph))
    aligns = tuple("RIGHT" if at in grid.right else "LEFT" for at in range(len(grid.head)))
    size, widths = _widths(page, rows, grid.right)
    height = page.ink(size)
    page.set_draw_color(150)
    page.set_line_width(0.1)
    page.set_fill_color(255)
    with page.table(
        width=min(sum(widths), page.epw),
        align="LEFT",
        col_widths=widths,
        text_align=aligns,
        line_height=height,
        padding=(0.7, 1.2),
        borders_layout=TableBordersLayout.HORIZONTAL_LINES,
        first_row_as_headings=headed,
        headings_style=FontFace(emphasis="BOLD"),
    ) as table:
        for nth, cells in enumerate(rows):
            row = table.row()
            at = nth - headed
            foot = bool(grid.foot) and nth == len(rows) - 1
            for column, cell in enumerate(cells):
                style = FontFace(emphasis="BOLD") if foot or (column == 0 and at >= 0) else None
                if column == 0 and grid.colours and 0 <= at < len(grid.colours):
                    colour = grid.colours[at]
                    style = FontFace("", "BOLD", None, rgb(ink_on(colour)), rgb(colour))
                row.cell(page.words(cell), style=style)
    page.ln(2)


def _widths(page: Page, rows: Sequence[Sequence[str]], whole: frozenset[int]) -> tuple[float, tuple[float, ...]]:
    """The size of the letters (1: as the text), and the widths of columns by what stands in them.

    No column is so narrow that its longest word is cut, nor one of numbers (`whole`) that it is broken; where they
    do not fit at all the letters become smaller.
    """
    page.ink(bold=True)
    columns = [[page.words(cell) for cell in column] for column in zip(*rows, strict=True)]
    pad = 4.0
    full = [max(map(page.get_string_width, column)) + pad for column in columns]
    least = [max(page.get_string_width(part) for cell in column for part in cell.split() or [""]) + pad
             for column in columns]  # fmt: skip
    numbers = [
        max(page.get_string_width(cell) for cell in column[1:] or column) + pad if at in whole else 0.0
        for at, column in enumerate(columns)
    ]
    least = list(map(max, least, numbers))
    size = min(1.0, page.epw / sum(least))
    full, least = [size * width for width in full], [size * width for width in least]
    wanted, left = sum(full) - sum(least), page.epw - sum(least)
    share = min(1.0, left / wanted) if wanted > 0 else 0.0
    return size, tuple(low + (high - low) * share for high, low in zip(full, least, strict=True))


def _picture(page: Page, chart: Chart, colours: dict[str, str], letters: bool) -> None:
    scale = min(page.epw / chart.width, PICTURE[1] / chart.height, MOST_BEAD)
    height = chart.height * scale
    page.room(height)
    left = page.l_margin + (page.epw - chart.width * scale) / 2
    top = page.get_y()
    page.set_line_width(max(0.02, 0.05 * scale))
    page.set_draw_color(34)
    lettered = letters and scale >= _LEAST_LETTER
    if lettered:
        page.set_font("helvetica", "", 0.62 * scale / POINT)
    for bead in chart.beads:
        x, y = left + bead.x * scale, top + bead.y * scale
        wide, high = bead.width * 0.94 * scale, bead.height * 0.94 * scale
        colour = colours.get(bead.code, "#808080")
        page.set_fill_color(*rgb(colour))
        if bead.turn:
            with page.rotation(-bead.turn, x, y):
                page.rect(x - wide / 2, y - high / 2, wide, high, style="DF")
        else:
            page.rect(x - wide / 2, y - high / 2, wide, high, style="DF")
        if lettered:
            page.set_text_color(*rgb(ink_on(colour)))
            page.set_xy(x - scale / 2, y - scale / 2)
            page.cell(scale, scale, bead.code, align="C")
    _labels(page, chart, left, top, scale)
    page.set_xy(page.l_margin, top + height + 2)


def _photo(page: Page, photo: Photo) -> None:
    wide, high = struct.unpack(">II", photo.png[16:24])
    across = min(photo.across, page.epw)
    height = across * high / wide
    page.room(height + 3 * page.ink())
    left, top = page.l_margin + (page.epw - across) / 2, page.get_y() + 2
    page.image(BytesIO(photo.png), x=left, y=top, w=across, alt_text=page.words(photo.title))
    page.set_xy(page.l_margin, top + height + 1)
    page.put(photo.told, grey=60, size=0.9)
    page.ln(1)


def _labels(page: Page, chart: Chart, left: float, top: float, scale: float) -> None:
    page.set_text_color(0)
    page.set_font(page.family, "", max(6.0, 0.95 * scale / POINT))
    for label in chart.labels:
        page.text(left + label.x * scale, top + (label.y + 0.35) * scale, page.words(label.text))
