"""The looks that can be chosen, by the names that the settings give them.

Each ink says what it is by more than its hue: by words, a sign, a reversed ground, and by how light or dark it is.
"""

from __future__ import annotations

from functools import lru_cache

from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter

from stitchalong.screens.inks import COLOURLESS, EVENING, Look, painted

MORNING = painted(
    "morning",
    "#f8f6f1",
    {
        "text": "#20262c",
        "dim": "#525c66",
        "strong": "#000000",
        "key": "#7a4700",
        "soon": "#000000 on #b88010",
        "here": "#ffffff on #700a2c",
        "lost": "#ffffff on #5a6772",
        "move": "#ffffff on #44525f",
        "message": "#0b5744",
        "bar": "#1c6f5a",
        "rest": "#626c75",
        "marked": "#ffffff on #0b5744",
        "remark": "#4a3a8c",
    },
)

COAL = painted(
    "coal",
    "#000000",
    {
        "text": "#ffffff",
        "dim": "#dadada",
        "strong": "#ffffff",
        "key": "#ffe14d",
        "soon": "#000000 on #ffd21f",
        "here": "#ffffff on #8a0f3a",
        "lost": "#000000 on #ffffff",
        "move": "#000000 on #d4dde6",
        "message": "#8ff0d0",
        "bar": "#8ff0d0",
        "rest": "#a8b0b8",
        "marked": "#000000 on #8ff0d0",
        "remark": "#dcd4ff",
    },
    least=7.0,
)

CHALK = painted(
    "chalk",
    "#ffffff",
    {
        "text": "#000000",
        "dim": "#333a40",
        "strong": "#000000",
        "key": "#5c3000",
        "soon": "#000000 on #c48e18",
        "here": "#ffffff on #4c001c",
        "lost": "#ffffff on #46545f",
        "move": "#ffffff on #35424e",
        "message": "#004a38",
        "bar": "#00503c",
        "rest": "#4b545c",
        "marked": "#ffffff on #004a38",
        "remark": "#32247a",
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
