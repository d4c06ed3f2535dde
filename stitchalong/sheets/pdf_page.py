"""A page of a PDF: fonts, lines of text, boxes, page ends."""

from __future__ import annotations

from pathlib import Path

from fpdf import FPDF

from stitchalong.errors import UsageError
from stitchalong.plan.text import clean, shown
from stitchalong.sheets.ink import ink_on, rgb
from stitchalong.sheets.latin import latin
from stitchalong.sheets.paper import Paper

MARGIN = 16.0
POINT = 25.4 / 72
_FONT_MARKS = (b"\x00\x01\x00\x00", b"OTTO", b"true")
"""how a TrueType or OpenType file begins (ISO/IEC 14496-22)"""


class Page(FPDF):
    """Sets words. Lengths in mm."""

    def __init__(self, title: str, paper: Paper, points: float, font: Path | None) -> None:
        super().__init__(format=(paper.width, paper.height))
        self.lost: set[str] = set()
        self.points = points
        self.own_font = font is not None
        self.family = "helvetica"
        if font is not None:
            self._take(font)
        self.running = title
        self.set_margins(MARGIN, MARGIN)
        self.set_auto_page_break(True, MARGIN + 4)
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
        return self.points * size * POINT * 1.35

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
        self.set_y(-MARGIN + 2)
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

    def chip(self, x: float, y: float, size: float, code: str, colour: str) -> float:
        """A letter on its colour, so high; gives how wide it is."""
        self.ink(size * 0.7 / (self.points * POINT), bold=True)
        words = self.words(code)
        wide = max(size, self.get_string_width(words) + size * 0.4)
        self.set_fill_color(*rgb(colour))
        self.set_draw_color(34)
        self.set_line_width(0.15)
        self.rect(x, y, wide, size, style="DF")
        self.set_text_color(*rgb(ink_on(colour)))
        self.set_xy(x, y)
        self.cell(wide, size, words, align="C")
        self.set_text_color(0)
        return wide
