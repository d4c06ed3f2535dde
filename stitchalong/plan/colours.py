"""Colours as a plan writes them: `#rrggbb`, `#rgb`, or one of a few plain names."""

from __future__ import annotations

import re

from stitchalong.plan.text import did_you_mean, shown

NAMED = {
    "amber": "#d9941f",
    "black": "#1a1a1a",
    "blue": "#2b5fb3",
    "brown": "#6f4a2f",
    "charcoal": "#3a3d40",
    "copper": "#b06a42",
    "coral": "#e8705f",
    "cream": "#f2e8cf",
    "crimson": "#a61c3c",
    "emerald": "#1f8f5f",
    "gold": "#c9a227",
    "gray": "#808488",
    "green": "#3d8b4f",
    "grey": "#808488",
    "indigo": "#3f3d8f",
    "ivory": "#f4efdf",
    "lavender": "#b5a4d6",
    "lime": "#9ac53e",
    "maroon": "#6e2233",
    "mint": "#a3d9bd",
    "navy": "#22335c",
    "olive": "#7a7a34",
    "orange": "#e2782b",
    "peach": "#f2b58e",
    "pink": "#e79bb4",
    "plum": "#76406b",
    "purple": "#70479c",
    "red": "#c23030",
    "rose": "#d1678a",
    "rust": "#a34a28",
    "silver": "#bcc1c6",
    "slate": "#5a6672",
    "tan": "#c2a57c",
    "teal": "#2f8589",
    "turquoise": "#40b3ad",
    "violet": "#8a5fb5",
    "white": "#f7f7f5",
    "yellow": "#ecc531",
}
"""The program's own picks, near the middle of what each name means."""

_LONG = re.compile(r"#[0-9a-f]{6}")
_SHORT = re.compile(r"#[0-9a-f]{3}")


def read_colour(text: str) -> str:
    """`#rrggbb` in small letters. Raises ValueError in a person's words."""
    word = text.strip().lower()
    if _LONG.fullmatch(word):
        return word
    if _SHORT.fullmatch(word):
        return "#" + "".join(digit * 2 for digit in word[1:])
    if word in NAMED:
        return NAMED[word]
    hint = did_you_mean(word, NAMED) or "write it as #rrggbb, such as #7fb8ad"
    raise ValueError(f"`{shown(text)}` is no colour the program knows; {hint}")
