"""A sheet: a value that is drawn as lines; a key makes the next one, or closes it with something to be done."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol

from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.lines import Line, Span, line, wrapped
from stitchalong.screens.panels import Keys
from stitchalong.session import Told

MOST_TYPED = 200
"""characters of a field"""


@dataclass(frozen=True, slots=True)
class Done:
    """The sheet is closed. `act` is done then; without it `message` alone is told."""

    act: Callable[[], Told] | None = None
    message: str = ""
    chosen: object = None
    """for whoever opened it"""


class Sheet(Protocol):
    """One sheet. `press` gets the key's name and the character that it types, if it types one."""

    @property
    def keys(self) -> Keys:
        """Keys and what they do, for the last row."""

    def press(self, key: str, character: str) -> Sheet | Done:
        """The sheet after a key. Keys that mean nothing here change nothing."""

    def lines(self, width: int, height: int, glyphs: Glyphs) -> list[Line]:
        """What is shown, `height` lines at most."""


def typed(text: str, key: str, character: str, *, digits: bool = False, most: int = MOST_TYPED) -> str | None:
    """The text of a field after a key; None where the key does not change it."""
    if key == "backspace":
        return text[:-1]
    if len(character) != 1 or not character.isprintable() or len(text) >= most:
        return None
    if digits and not (character.isascii() and character.isdigit()):
        return None
    return text + character


def field(name: str, value: str, chosen: bool, glyphs: Glyphs, width: int) -> Line:
    """A line of a form: its name, and what is typed there, with a cursor in the chosen one."""
    mark = f"{glyphs.mark} " if chosen else "  "
    head = f"{mark}{name}  "
    room = max(4, width - len(head) - 2)
    shown = value[-room:] + ("_" if chosen else "")
    return Span(head, "strong" if chosen else "dim"), Span(f" {shown} ", "marked" if chosen else "text")


def entries(words: Sequence[str], at: int, rows: int, width: int, glyphs: Glyphs) -> list[Line]:
    """A list in which entry `at` is marked (none: -1): whole entries around it, as many as so many rows hold."""
    if not words or rows < 1:
        return []
    middle = max(0, at)

    def drawn(nth: int) -> list[Line]:
        lead = line(f"{glyphs.mark} " if nth == at else "  ")
        return wrapped(words[nth], width, "marked" if nth == at else "text", lead=lead)

    out = drawn(middle)[:rows]
    above, below = middle - 1, middle + 1
    while above >= 0 or below < len(words):
        grown = False
        for nth in (below, above):
            if 0 <= nth < len(words) and len(out) + len(more := drawn(nth)) <= rows:
                out = [*out, *more] if nth > middle else [*more, *out]
                grown = True
                if nth > middle:
                    below += 1
                else:
                    above -= 1
        if not grown:
            break
    return out
