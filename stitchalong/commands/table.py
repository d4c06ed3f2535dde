"""Columns of text for people, by the width a terminal gives each character."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence


def width(text: str) -> int:
    """Cells that the text takes: two for wide characters, none for those that join (Unicode TR 11)."""
    if text.isascii():
        return len(text)
    return sum(_cells(char) for char in text)


def _cells(char: str) -> int:
    if unicodedata.combining(char) or unicodedata.category(char) in ("Mn", "Me", "Cf"):
        return 0
    return 2 if unicodedata.east_asian_width(char) in "WF" else 1


def cut(text: str, most: int) -> str:
    """The text, at most so many cells wide."""
    if width(text) <= most:
        return text
    out, used = "", 1
    for char in text:
        used += _cells(char)
        if used > most:
            break
        out += char
    return out.rstrip() + "…"


def columns(rows: Sequence[Sequence[str]], *, right: frozenset[int] = frozenset(), gap: str = "  ") -> Iterator[str]:
    """Lines of the rows, each column as wide as its widest cell. `right`: columns that are set to the right."""
    widths = [max(map(width, column)) for column in zip(*rows, strict=True)]
    for row in rows:
        cells = []
        for index, cell in enumerate(row):
            blanks = " " * (widths[index] - width(cell))
            cells.append(blanks + cell if index in right else cell + blanks)
        yield gap.join(cells).rstrip()
