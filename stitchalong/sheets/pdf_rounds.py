"""Rounds on the pages of a PDF: boxes to tick, notation, sides, notes; short ones side by side."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from stitchalong.sheets.blocks import Note, Sort, Step, Steps, count_words, side_words
from stitchalong.sheets.pdf_page import POINT, Page

_ABREAST = 3
"""short rounds in a line"""
_BOX = 0.65
"""of a line's height"""


def set_steps(page: Page, block: Steps) -> None:
    """All rounds."""
    for short, steps in block.groups():
        if short:
            _abreast(page, steps)
        else:
            for step in steps:
                _step(page, step, block.colours)


def _abreast(page: Page, steps: Sequence[Step]) -> None:
    line = page.ink()
    indent = page.points * POINT * 1.9
    wide = page.epw / _ABREAST
    for first in range(0, len(steps), _ABREAST):
        page.room(2.3 * line)
        y = page.get_y()
        for at, step in enumerate(steps[first : first + _ABREAST]):
            x = page.l_margin + at * wide
            page.box(x, y + line * 0.15, line * _BOX)
            page.ink(bold=True)
            page.set_xy(x + indent, y)
            page.cell(wide - indent, line, page.words(f"{step.title}   {step.notation}"))
            page.ink(0.85, grey=60)
            page.set_xy(x + indent, y + line)
            page.cell(wide - indent, line, page.words(count_words(step)))
        page.set_xy(page.l_margin, y + 2 * line)
        page.rule(0.1, 190)


def _step(page: Page, step: Step, colours: Mapping[str, str]) -> None:
    indent = page.points * POINT * 1.9
    line = page.ink()
    wide = page.epw - indent
    needed = 2 + page.lines(step.notation, wide, 1.12, bold=True) + bool(step.sides)
    needed += sum(page.lines(_said(note), wide) for note in step.notes)
    page.room(line * needed * 1.05)
    y = page.get_y()
    page.box(page.l_margin, y + line * 0.15, line * _BOX)
    page.ink(bold=True)
    page.set_x(page.l_margin + indent)
    title = page.words(step.title)
    page.cell(page.get_string_width(title) + 3, line, title)
    page.ink(grey=60)
    page.cell(0, line, page.words(count_words(step)), new_x="LMARGIN", new_y="NEXT")
    _codes(page, step, colours, y, line)
    page.put(step.notation, indent=indent, size=1.12, bold=True)
    if step.sides:
        _sides(page, step, indent, line)
    for note in step.notes:
        marked = note.sort in (Sort.MIND, Sort.THREAD)
        y = page.get_y()
        page.put(_said(note), indent=indent + 2)
        if marked and page.get_y() > y:
            page.set_draw_color(0)
            page.set_line_width(0.6)
            page.line(page.l_margin + indent, y + 0.4, page.l_margin + indent, page.get_y() - 0.4)
    page.rule(0.1, 150)


def _codes(page: Page, step: Step, colours: Mapping[str, str], y: float, line: float) -> None:
    """Beads of each letter at the right end of the first line, as many as have room beside the count."""
    below = page.get_y()
    page.ink()
    width = sum(line * 1.1 + page.get_string_width(f"{count:,}") + 4 for _, count in step.codes)
    page.ink(bold=True)
    used = page.get_string_width(page.words(step.title)) + page.get_string_width(page.words(count_words(step))) + 20
    if step.codes and width + used < page.epw:
        x = page.l_margin + page.epw - width
        for code, count in step.codes:
            x += page.chip(x, y + line * 0.1, line * 0.8, code, colours.get(code, "#808080")) + 1
            page.ink()
            page.set_xy(x, y)
            page.cell(page.get_string_width(f"{count:,}") + 1, line, f"{count:,}")
            x += page.get_string_width(f"{count:,}") + 3
    page.set_xy(page.l_margin, below)


def _sides(page: Page, step: Step, indent: float, line: float) -> None:
    page.ink()
    page.set_x(page.l_margin + indent)
    page.cell(page.get_string_width("sides:") + 3, line, "sides:")
    for side in side_words(step):
        need = line * _BOX + 1.5 + page.get_string_width(side) + 4
        if page.get_x() + need > page.l_margin + page.epw:
            page.ln(line)
            page.set_x(page.l_margin + indent)
        page.box(page.get_x(), page.get_y() + line * 0.15, line * _BOX)
        page.set_x(page.get_x() + line * _BOX + 1.0)
        page.cell(page.get_string_width(side) + 4, line, side)
    page.ln(line)


def _said(note: Note) -> str:
    return f"{note.sort}: {note.text}"
