"""A canvas that paints cells in any colours, too."""

from __future__ import annotations

from functools import lru_cache

from rich.style import Style

from stitchalong.screens.canvas import Canvas
from stitchalong.screens.inks import letter_on

PAINT = "paint:"
"""before `#rrggbb/#rrggbb`, what is in front and what is behind; either may be empty: as text has it"""


class Board(Canvas):
    """Lines whose inks may be colours."""

    def _style(self, ink: str) -> Style:
        if not ink.startswith(PAINT):
            return super()._style(ink)
        front, _, back = ink.removeprefix(PAINT).partition("/")
        text = self.look.pens["text"]
        return _painted(front or text.front, back or text.back)


@lru_cache(maxsize=4096)
def _painted(front: str, back: str) -> Style:
    return Style(color=front or None, bgcolor=back or None)


def bead_ink(colour: str) -> str:
    """A letter on this `#rrggbb`."""
    return f"{PAINT}{letter_on(colour)}/{colour}"
