"""A document as PDF, by fpdf2 (the extra `pdf`)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from fpdf import FPDF
from fpdf.enums import TableBordersLayout
from fpdf.fonts import FontFace

from stitchalong.chart.model import Chart
from stitchalong.errors import UsageError
from stitchalong.plan.text import clean, shown
from stitchalong.sheets.blocks import (
    Block,
    Document,
    Grid,
    Heading,
    Items,
    Note,
    Paragraph,
    Picture,
    Sort,
    Step,
    Steps,
    count_words,
    side_words,
)
from stitchalong.sheets.ink import ink_on, rgb
from stitchalong.sheets.latin import latin
from stitchalong.sheets.paper import MOST_BEAD, Paper

_MARGIN = 16.0
_PICTURE_HEIGHT = 105.0
"""mm at most"""
_LEAST_LETTER = 2.0
"""mm; letters on smaller beads are left out"""
_POINT = 25.4 / 72
_FONT_MARKS = (b"\x00\x01\x00\x00", b"OTTO", b"true")
"""how a TrueType or OpenType file begins (ISO/IEC 14496-22)"""


@dataclass(frozen=True, slots=True)
class Made:
    """A PDF, and the characters that its font does not have."""

    content: bytes
    lost: frozenset[str]


def as_pdf(document: Document, paper: Paper, made: datetime, *, large: bool = False, font: Path | None = None) -> Made:
    """The PDF. `font`: a TrueType or OpenType file instead of the font that every reader has, for other scripts.

    Raises UsageError for a font file that cannot be used.
    """
    page = _Page(document.title, paper, 15.0 if large else 10.5, font)
    page.set_creation_date(made)
    page.set_title(clean(document.title))
    page.set_lang("en")
    page.add_page()
    page.title_line(document.title)
    for block in document.blocks:
        page.block(block)
    return Made(bytes(page.output()), frozenset(page.lost))


class _Page(FPDF):
    """Knows how each block is set. Lengths in mm."""

    def __init__(self, title: str, paper: Paper, points: float, font: Path | None) -> None:
        super().__init__(format=(paper.width, paper.height))
        self.lost: set[str] = set()
        self.points = points
        self.own_font = font is not None
        self.family = "helvetica"
        if font is not None:
            self._take(font)
        self.running = title
        self.set_margins(_MARGIN, _MARGIN)
        self.set_auto_page_break(True, _MARGIN + 4)
        self.alias_nb_pages()

    def _take(self, font: Path) -> None:
        try:
            with font.open("rb") as file:
                if file.read(4) not in _FONT_MARKS:
                    raise ValueError("no font")
            for style in ("", "B"):
                self.add_font("own", style, font)
        except Exception as error:  # the font reader raises whatever it meets in a file that is no font
            raise UsageError(
                f"the font {shown(str(font), 200)} cannot be used", fix="name a .ttf or .otf file"
            ) from error
        self.family = "own"

    # ---- text -----------------------------------------------------------------------------------

    def words(self, text: str) -> str:
        """The text as this font can show it."""
        text = clean(text)
        if self.own_font:
            known = self.fonts["own"].cmap  # type: ignore[union-attr]
            self.lost |= {char for char in text if ord(char) not in known}
            return text
        text, lost = latin(text)
        self.lost |= lost
        return text

    def ink(self, size: float = 1.0, bold: bool = False, grey: int = 0) -> float:
        """Sets the font, relative to that of the text; gives the height of a line."""
        self.set_font(self.family, "B" if bold else "", self.points * size)
        self.set_text_color(grey)
        return self.points * size * _POINT * 1.35

    def lines(self, text: str, width: float, size: float = 1.0, bold: bool = False) -> int:
        """How many lines a text takes."""
        self.ink(size, bold)
        found = self.multi_cell(width, 1, self.words(text) or " ", dry_run=True, output="LINES")
        return len(found)  # type: ignore[arg-type]

    def put(self, text: str, *, indent: float = 0.0, size: float = 1.0, bold: bool = False, grey: int = 0) -> None:
        """A text over as many lines as it takes, from `indent` to the right margin."""
        height = self.ink(size, bold, grey)
        self.set_x(self.l_margin + indent)
        self.multi_cell(self.epw - indent, height, self.words(text) or " ", align="L", new_x="LMARGIN", new_y="NEXT")

    def room(self, height: float) -> None:
        """A new page where so much does not fit on this one any more."""
        if self.get_y() + height > self.page_break_trigger and height < self.eph:
            self.add_page()

    def footer(self) -> None:
        self.set_y(-_MARGIN + 2)
        height = self.ink(0.8, grey=90)
        self.cell(self.epw / 2, height, self.words(self.running)[:80])
        self.cell(self.epw / 2, height, f"page {self.page_no()} of {{nb}}", align="R")

    def title_line(self, title: str) -> None:
        self.put(title, size=1.9, bold=True)
        self.rule(0.8)

    def rule(self, thick: float, grey: int = 0) -> None:
        self.set_draw_color(grey)
        self.set_line_width(thick)
        y = self.get_y() + 0.6
        self.line(self.l_margin, y, self.l_margin + self.epw, y)
        self.set_y(y + 1.2)

    def box(self, x: float, y: float, size: float) -> None:
        """A box to tick."""
        self.set_draw_color(0)
        self.set_line_width(0.35)
        self.rect(x, y, size, size)

    # ---- blocks ---------------------------------------------------------------------------------

    def block(self, block: Block) -> None:
        match block:
            case Heading(text):
                self.room(self.points * _POINT * 6)
                self.ln(self.points * _POINT)
                self.put(text, size=1.25, bold=True)
                self.rule(0.2, 120)
            case Paragraph(text):
                self.put(text)
                self.ln(1)
            case Items():
                self._items(block)
            case Grid():
                self._grid(block)
            case Picture(chart, colours, _, letters):
                self._picture(chart, colours, letters)
            case Steps(steps):
                for step in steps:
                    self._step(step)

    def _items(self, items: Items) -> None:
        indent = self.points * _POINT * 1.8
        for nth, text in enumerate(items.texts, start=1):
            height = self.ink()
            self.room(height * min(4, self.lines(text, self.epw - indent)))
            self.ink()
            self.set_x(self.l_margin)
            self.cell(indent, height, f"{nth}." if items.numbered else "-")
            self.put(text, indent=indent)
        self.ln(1)

    def _grid(self, grid: Grid) -> None:
        rows = [row for row in (grid.head, *grid.rows, grid.foot) if any(row)]
        headed = any(grid.head)
        aligns = tuple("RIGHT" if at in grid.right else "LEFT" for at in range(len(grid.head)))
        size, widths = self._widths(rows, grid.right)
        height = self.ink(size)
        self.set_draw_color(150)
        self.set_line_width(0.1)
        self.set_fill_color(255)
        with self.table(
            width=min(sum(widths), self.epw),
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
                    row.cell(self.words(cell), style=style)
        self.ln(2)

    def _widths(self, rows: Sequence[Sequence[str]], whole: frozenset[int]) -> tuple[float, tuple[float, ...]]:
        """The size of the letters (1: as the text), and the widths of columns by what stands in them.

        No column is so narrow that its longest word is cut, nor one of numbers (`whole`) that it is broken; where they
        do not fit at all the letters become smaller.
        """
        self.ink(bold=True)
        columns = [[self.words(cell) for cell in column] for column in zip(*rows, strict=True)]
        pad = 4.0
        full = [max(map(self.get_string_width, column)) + pad for column in columns]
        least = [max(self.get_string_width(part) for cell in column for part in cell.split() or [""]) + pad
                 for column in columns]  # fmt: skip
        numbers = [
            max(self.get_string_width(cell) for cell in column[1:] or column) + pad if at in whole else 0.0
            for at, column in enumerate(columns)
        ]
        least = list(map(max, least, numbers))
        size = min(1.0, self.epw / sum(least))
        full, least = [size * width for width in full], [size * width for width in least]
        wanted, left = sum(full) - sum(least), self.epw - sum(least)
        share = min(1.0, left / wanted) if wanted > 0 else 0.0
        return size, tuple(low + (high - low) * share for high, low in zip(full, least, strict=True))

    # ---- picture --------------------------------------------------------------------------------

    def _picture(self, chart: Chart, colours: dict[str, str], letters: bool) -> None:
        scale = min(self.epw / chart.width, _PICTURE_HEIGHT / chart.height, MOST_BEAD)
        height = chart.height * scale
        self.room(height)
        left = self.l_margin + (self.epw - chart.width * scale) / 2
        top = self.get_y()
        self.set_line_width(max(0.02, 0.05 * scale))
        self.set_draw_color(34)
        lettered = letters and scale >= _LEAST_LETTER
        if lettered:
            self.set_font("helvetica", "", 0.62 * scale / _POINT)
        for bead in chart.beads:
            x, y = left + bead.x * scale, top + bead.y * scale
            wide, high = bead.width * 0.94 * scale, bead.height * 0.94 * scale
            colour = colours.get(bead.code, "#808080")
            self.set_fill_color(*rgb(colour))
            if bead.turn:
                with self.rotation(-bead.turn, x, y):
                    self.rect(x - wide / 2, y - high / 2, wide, high, style="DF")
            else:
                self.rect(x - wide / 2, y - high / 2, wide, high, style="DF")
            if lettered:
                self.set_text_color(*rgb(ink_on(colour)))
                self.set_xy(x - scale / 2, y - scale / 2)
                self.cell(scale, scale, bead.code, align="C")
        self._labels(chart, left, top, scale)
        self.set_xy(self.l_margin, top + height + 2)

    def _labels(self, chart: Chart, left: float, top: float, scale: float) -> None:
        self.set_text_color(0)
        self.set_font(self.family, "", max(6.0, 0.95 * scale / _POINT))
        for label in chart.labels:
            self.text(left + label.x * scale, top + (label.y + 0.35) * scale, self.words(label.text))

    # ---- rounds ---------------------------------------------------------------------------------

    def _step(self, step: Step) -> None:
        indent = self.points * _POINT * 1.9
        line = self.ink()
        wide = self.epw - indent
        needed = 2 + self.lines(step.notation, wide, 1.12, bold=True) + bool(step.sides)
        needed += sum(self.lines(_said(note), wide) for note in step.notes)
        self.room(line * needed * 1.05)
        y = self.get_y()
        self.box(self.l_margin, y + line * 0.15, line * 0.65)
        self.ink(bold=True)
        self.set_x(self.l_margin + indent)
        title = self.words(step.title)
        self.cell(self.get_string_width(title) + 3, line, title)
        self.ink(grey=60)
        self.cell(0, line, self.words(count_words(step)), new_x="LMARGIN", new_y="NEXT")
        self.put(step.notation, indent=indent, size=1.12, bold=True)
        if step.sides:
            self._sides(step, indent, line)
        for note in step.notes:
            bold = note.sort in (Sort.MIND, Sort.THREAD)
            y = self.get_y()
            self.put(_said(note), indent=indent + 2)
            if bold and self.get_y() > y:
                self.set_draw_color(0)
                self.set_line_width(0.6)
                self.line(self.l_margin + indent, y + 0.4, self.l_margin + indent, self.get_y() - 0.4)
        self.rule(0.1, 150)

    def _sides(self, step: Step, indent: float, line: float) -> None:
        self.ink()
        self.set_x(self.l_margin + indent)
        self.cell(self.get_string_width("sides:") + 3, line, "sides:")
        for side in side_words(step):
            need = line * 0.65 + 1.5 + self.get_string_width(side) + 4
            if self.get_x() + need > self.l_margin + self.epw:
                self.ln(line)
                self.set_x(self.l_margin + indent)
            self.box(self.get_x(), self.get_y() + line * 0.15, line * 0.65)
            self.set_x(self.get_x() + line * 0.65 + 1.0)
            self.cell(self.get_string_width(side) + 4, line, side)
        self.ln(line)


def _said(note: Note) -> str:
    return f"{note.sort}: {note.text}"
