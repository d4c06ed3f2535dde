"""Inks: how each kind of text looks. Colour only helps; words, signs and reversed text carry all that matters."""

from __future__ import annotations

from collections.abc import Mapping

from rich.color import Color
from rich.style import Style

from stitchalong.values import value

BEAD = "bead:"
"""before a bead code: the ink of that bead"""

INKS = (
    "text",
    "dim",
    "strong",
    "number",
    "label",
    "key",
    "soon",
    "here",
    "lost",
    "move",
    "message",
    "bar",
    "rest",
    "marked",
    "remark",
)


@value
class Pen:
    """Foreground and background as `#rrggbb`; empty: the terminal's own."""

    front: str = ""
    back: str = ""
    bold: bool = False
    reverse: bool = False
    underline: bool = False

    def style(self) -> Style:
        return Style(
            color=self.front or None,
            bgcolor=self.back or None,
            bold=self.bold,
            reverse=self.reverse,
            underline=self.underline,
        )


@value
class Look:
    """A pen for each ink."""

    name: str
    pens: Mapping[str, Pen]
    coloured: bool = True
    least: float = 4.5
    """contrast of any text with its ground: 4.5 is level AA, 7 level AAA of the guidelines that `contrast` follows"""

    def bead(self, colour: str) -> Pen:
        """A bead's letter on its colour, which is made lighter or darker where the letter could not be read else."""
        if not self.coloured:
            return Pen(bold=True)
        letter = letter_on(colour)
        return Pen(letter, _away_from(letter, colour, self.least), bold=True)


_BOLD = frozenset(("strong", "number", "label", "key", "soon", "here", "lost", "move", "message", "marked"))
_GROUNDS = frozenset(("soon", "here", "lost", "move", "marked"))
"""inks that stand on a ground of their own"""


def painted(name: str, ground: str, inks: Mapping[str, str], *, least: float = 4.5) -> Look:
    """A look of these colours: `#rrggbb`, or `#rrggbb on #rrggbb` for an ink on a ground of its own.

    `number` and `label` are as `strong` is, where they are not named.
    """
    pens = {}
    every = {"number": inks["strong"], "label": inks["strong"], **inks}
    for ink in INKS:
        front, _, back = every[ink].partition(" on ")
        pens[ink] = Pen(front, back or ground, bold=ink in _BOLD)
    return Look(name, pens, least=least)


EVENING = painted(
    "evening",
    "#11161b",
    {
        "text": "#e9edf0",
        "dim": "#aab4bd",
        "strong": "#ffffff",
        "key": "#f3cf7a",
        "soon": "#14110a on #f5c451",
        "here": "#ffffff on #a3244f",
        "lost": "#11161b on #e9edf0",
        "move": "#11161b on #b9c6d2",
        "message": "#bfe3d6",
        "bar": "#8fc7b5",
        "rest": "#7d8993",
        "marked": "#11161b on #bfe3d6",
        "remark": "#d8d2f0",
    },
)

COLOURLESS = Look(
    "colourless",
    {ink: Pen(bold=ink in _BOLD - {"move"}, reverse=ink in _GROUNDS) for ink in INKS},
    coloured=False,
)
"""where no colour is wanted"""


def luminance(colour: str) -> float:
    """Relative luminance of `#rrggbb`, 0 to 1: Web Content Accessibility Guidelines 2.2, "relative luminance".

    https://www.w3.org/TR/WCAG22/#dfn-relative-luminance and, for `contrast`, #dfn-contrast-ratio.
    """
    parts = [value / 255 for value in Color.parse(colour).get_truecolor()]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, 1 to 21: Web Content Accessibility Guidelines 2.2, "contrast ratio"."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def letter_on(colour: str) -> str:
    """Black or white, whichever is read better on this colour: never under 4.5 to 1."""
    return "#000000" if contrast("#000000", colour) >= contrast("#ffffff", colour) else "#ffffff"


def _away_from(letter: str, colour: str, least: float) -> str:
    """The colour, as much lighter or darker as it takes for a black or white letter on it."""
    end = "#ffffff" if letter == "#000000" else "#000000"
    for share in range(0, 101, 4):
        found = _mixed(colour, end, share / 100)
        if contrast(letter, found) >= least:
            return found
    return end


def _mixed(one: str, other: str, share: float) -> str:
    parts = zip(Color.parse(one).get_truecolor(), Color.parse(other).get_truecolor(), strict=True)
    return "#" + "".join(f"{round(mine + (theirs - mine) * share):02x}" for mine, theirs in parts)
