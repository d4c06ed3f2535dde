"""The looks that can be chosen, by the names that the settings give them.

Each ink says what it is by more than its hue: by words, a sign, a reversed ground, and by how light or dark it is.
"""

from __future__ import annotations

from functools import lru_cache

from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter

from stitchalong.screens.inks import COLOURLESS, EVENING, Look, Pen

_DAY = "#f8f6f1"

MORNING = Look(
    "morning",
    {
        "text": Pen("#20262c", _DAY),
        "dim": Pen("#525c66", _DAY),
        "strong": Pen("#000000", _DAY, bold=True),
        "number": Pen("#000000", _DAY, bold=True),
        "label": Pen("#000000", _DAY, bold=True),
        "key": Pen("#7a4700", _DAY, bold=True),
        "soon": Pen("#000000", "#b88010", bold=True),
        "here": Pen("#ffffff", "#700a2c", bold=True),
        "lost": Pen("#ffffff", "#5a6772", bold=True),
        "move": Pen("#ffffff", "#44525f", bold=True),
        "message": Pen("#0b5744", _DAY, bold=True),
        "bar": Pen("#1c6f5a", _DAY),
        "rest": Pen("#626c75", _DAY),
        "marked": Pen("#ffffff", "#0b5744", bold=True),
        "remark": Pen("#4a3a8c", _DAY),
    },
)

_COAL = "#000000"

COAL = Look(
    "coal",
    {
        "text": Pen("#ffffff", _COAL),
        "dim": Pen("#dadada", _COAL),
        "strong": Pen("#ffffff", _COAL, bold=True),
        "number": Pen("#ffffff", _COAL, bold=True),
        "label": Pen("#ffffff", _COAL, bold=True),
        "key": Pen("#ffe14d", _COAL, bold=True),
        "soon": Pen("#000000", "#ffd21f", bold=True),
        "here": Pen("#ffffff", "#8a0f3a", bold=True),
        "lost": Pen("#000000", "#ffffff", bold=True),
        "move": Pen("#000000", "#d4dde6", bold=True),
        "message": Pen("#8ff0d0", _COAL, bold=True),
        "bar": Pen("#8ff0d0", _COAL),
        "rest": Pen("#a8b0b8", _COAL),
        "marked": Pen("#000000", "#8ff0d0", bold=True),
        "remark": Pen("#dcd4ff", _COAL),
    },
    least=7.0,
)

_CHALK = "#ffffff"

CHALK = Look(
    "chalk",
    {
        "text": Pen("#000000", _CHALK),
        "dim": Pen("#333a40", _CHALK),
        "strong": Pen("#000000", _CHALK, bold=True),
        "number": Pen("#000000", _CHALK, bold=True),
        "label": Pen("#000000", _CHALK, bold=True),
        "key": Pen("#5c3000", _CHALK, bold=True),
        "soon": Pen("#000000", "#c48e18", bold=True),
        "here": Pen("#ffffff", "#4c001c", bold=True),
        "lost": Pen("#ffffff", "#46545f", bold=True),
        "move": Pen("#ffffff", "#35424e", bold=True),
        "message": Pen("#004a38", _CHALK, bold=True),
        "bar": Pen("#00503c", _CHALK),
        "rest": Pen("#4b545c", _CHALK),
        "marked": Pen("#ffffff", "#004a38", bold=True),
        "remark": Pen("#32247a", _CHALK),
    },
    least=7.0,
)

LOOKS = {"dark": EVENING, "light": MORNING, "contrast-dark": COAL, "contrast-light": CHALK}
"""by the setting's words"""


def look_of(theme: str, *, colourless: bool) -> Look:
    """The look of a theme; one without colours where none are wanted."""
    return COLOURLESS if colourless else LOOKS[theme]


class Colourless(LineFilter):
    """Takes every colour code out of what goes to the terminal; bold and reversed text stay."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        return [Segment(text, style and _plain(style), control) for text, style, control in segments]


@lru_cache(maxsize=256)
def _plain(style: Style) -> Style:
    return style.without_color
