"""Lines of a screen as values: runs of text, each with the name of an ink. Widths are cells of a terminal."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

from rich.cells import cell_len, set_cell_size


class Span(NamedTuple):
    """Text in one ink."""

    text: str
    ink: str = "text"


Line = tuple[Span, ...]
BLANK: Line = ()


def line(text: str, ink: str = "text") -> Line:
    return (Span(text, ink),) if text else BLANK


def width_of(some: Iterable[Span]) -> int:
    return sum(cell_len(span.text) for span in some)


def harmless(text: str) -> str:
    """Without anything that is not a sign to be seen; no text can steer the terminal, whatever its source."""
    return text if text.isprintable() else "".join(char for char in text if char.isprintable())


@lru_cache(maxsize=2048)
def fit(some: Line, width: int, ink: str = "text") -> Line:
    """Exactly so many cells: blanks behind in `ink`, or cut with `…` where it is too long.

    Neighbours of one ink become one span: fewer bytes to the terminal.
    """
    spans: list[Span] = []
    left = width
    for span in some:
        text = harmless(span.text)
        size = cell_len(text)
        if size > left:
            if left:
                spans.append(Span(set_cell_size(text, left - 1) + "…", span.ink))
            return tuple(spans)
        if spans and spans[-1].ink == span.ink:
            spans[-1] = Span(spans[-1].text + text, span.ink)
        elif text:
            spans.append(Span(text, span.ink))
        left -= size
    if left:
        if spans and spans[-1].ink == ink:
            spans[-1] = Span(spans[-1].text + " " * left, ink)
        else:
            spans.append(Span(" " * left, ink))
    return tuple(spans)


def apart(left: Line, right: Line, width: int) -> Line:
    """One at the left edge, one at the right; the right one goes where both do not fit."""
    gap = width - width_of(left) - width_of(right)
    return (*left, Span(" " * gap), *right) if right and gap >= 2 else left


@lru_cache(maxsize=256)
def wrap(text: str, width: int) -> tuple[str, ...]:
    """Broken at blanks to lines of at most so many cells; a word that is too long is broken where it must be."""
    lines: list[str] = []
    here = ""
    for word in harmless(text.replace("\n", " ")).split(" "):
        if not word:
            continue
        joined = f"{here} {word}" if here else word
        if cell_len(joined) <= width:
            here = joined
            continue
        if here:
            lines.append(here)
        while cell_len(word) > width:
            head, word = _head(word, width)
            lines.append(head)
        here = word
    if here:
        lines.append(here)
    return tuple(lines)


def _head(word: str, width: int) -> tuple[str, str]:
    """The word's beginning that fits, at least one sign, and the rest."""
    for end in range(min(len(word), width), 1, -1):
        if cell_len(word[:end]) <= width:
            return word[:end], word[end:]
    return word[:1], word[1:]


def wrapped(text: str, width: int, ink: str = "text", *, lead: Line = BLANK, indent: bool = True) -> list[Line]:
    """Wrapped lines; `lead` stands before the first, and the others begin under its end."""
    offset = width_of(lead)
    rest: Line = line(" " * offset) if indent else BLANK
    size = max(1, width - offset)
    return [
        ((*lead, Span(text, ink)) if not nth else (*rest, Span(text, ink)))
        for nth, text in enumerate(wrap(text, size) or ("",))
    ]


def inset(some: Line) -> Line:
    """With a blank before it, in the ink that follows."""
    return (Span(" " + some[0].text, some[0].ink), *some[1:]) if some else BLANK


def text_of(some: Iterable[Span]) -> str:
    return "".join(span.text for span in some)
