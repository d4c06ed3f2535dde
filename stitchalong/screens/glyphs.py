"""The signs the screens are drawn with: one set of block elements, one of plain ASCII; and the big numbers."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from stitchalong.values import value

MOVE = ">"
"""in a big number's place: pass the needle, no bead"""

DONE = "+"
"""in a big number's place: the piece is done"""

ASK = "?"
"""in a big number's place: a question waits"""


@value
class Glyphs:
    """One set of signs."""

    ascii: bool
    needle: str
    """between the beads laid and those to come"""
    thread: str
    full: str
    empty: str
    """the two parts of a bar"""
    rule: str
    soon: str
    here: str
    """before a warning: it is near, it is now"""
    dot: str
    """between small facts"""
    times: str
    mark: str
    """before the marked line of a list"""


BLOCKS = Glyphs(False, "══»", "─", "█", "░", "─", "▲", "◆", "·", "×", "▶")
ASCII = Glyphs(True, "==>", "-", "#", ".", "-", "^", "*", "-", "x", ">")

# Drawn by hand on 8 x 10 squares; two squares one above the other are one cell.
_TALL: dict[str, tuple[str, ...]] = {
    "0": (
        "..####..",
        ".######.",
        "###..###",
        "##....##",
        "##....##",
        "##....##",
        "##....##",
        "###..###",
        ".######.",
        "..####..",
    ),
    "1": (
        "...###..",
        "..####..",
        ".#####..",
        "...###..",
        "...###..",
        "...###..",
        "...###..",
        "...###..",
        ".#######",
        ".#######",
    ),
    "2": (
        ".#####..",
        "#######.",
        "##...###",
        ".....###",
        "....###.",
        "...###..",
        "..###...",
        ".###....",
        "########",
        "########",
    ),
    "3": (
        "#######.",
        "########",
        ".....###",
        ".....###",
        "..#####.",
        "..#####.",
        ".....###",
        ".....###",
        "########",
        "#######.",
    ),
    "4": (
        "....###.",
        "...####.",
        "..#####.",
        ".##.###.",
        "##..###.",
        "########",
        "########",
        "....###.",
        "....###.",
        "....###.",
    ),
    "5": (
        "########",
        "########",
        "##......",
        "######..",
        "#######.",
        ".....###",
        "......##",
        "##...###",
        "#######.",
        ".#####..",
    ),
    "6": (
        "...####.",
        "..####..",
        ".###....",
        "##.###..",
        "#######.",
        "###..###",
        "##....##",
        "###..###",
        ".######.",
        "..####..",
    ),
    "7": (
        "########",
        "########",
        ".....###",
        ".....##.",
        "....###.",
        "....##..",
        "...###..",
        "...##...",
        "..###...",
        "..###...",
    ),
    "8": (
        "..####..",
        ".######.",
        "##....##",
        "##....##",
        ".######.",
        ".######.",
        "##....##",
        "##....##",
        ".######.",
        "..####..",
    ),
    "9": (
        "..####..",
        ".######.",
        "###..###",
        "##....##",
        "###..###",
        ".#######",
        "..###.##",
        "....###.",
        "..####..",
        ".####...",
    ),
    MOVE: (
        "##......",
        "####....",
        ".####...",
        "...####.",
        "....####",
        "....####",
        "...####.",
        ".####...",
        "####....",
        "##......",
    ),
    ASK: (
        ".#####..",
        "#######.",
        "##...###",
        ".....###",
        "....###.",
        "...###..",
        "...###..",
        "........",
        "...###..",
        "...###..",
    ),
    DONE: (
        "........",
        ".......#",
        "......##",
        ".....##.",
        "#....##.",
        "##..##..",
        ".##.##..",
        ".####...",
        "..##....",
        "........",
    ),
}

# On 5 x 6 squares.
_LOW: dict[str, tuple[str, ...]] = {
    "0": (".###.", "##.##", "##.##", "##.##", "##.##", ".###."),
    "1": ("..##.", ".###.", "..##.", "..##.", "..##.", ".####"),
    "2": ("####.", "...##", "..###", ".###.", "##...", "#####"),
    "3": ("####.", "...##", ".###.", "...##", "...##", "####."),
    "4": ("..###", ".#.##", "##.##", "#####", "...##", "...##"),
    "5": ("#####", "##...", "####.", "...##", "...##", "####."),
    "6": (".####", "##...", "####.", "##.##", "##.##", ".###."),
    "7": ("#####", "...##", "..##.", "..##.", ".##..", ".##.."),
    "8": (".###.", "##.##", ".###.", "##.##", "##.##", ".###."),
    "9": (".###.", "##.##", "##.##", ".####", "...##", "####."),
    MOVE: ("##...", ".###.", "...##", "...##", ".###.", "##..."),
    ASK: (".###.", "...##", "..##.", "..##.", ".....", "..##."),
    DONE: ("....#", "...##", "#.##.", "####.", ".##..", "....."),
}

# Bars of a number as on a pocket calculator: top, upper left, upper right, middle, lower left, lower right, bottom.
_BARS = {
    "0": "1110111",
    "1": "0010010",
    "2": "1011101",
    "3": "1011011",
    "4": "0111010",
    "5": "1101011",
    "6": "1101111",
    "7": "1010010",
    "8": "1111111",
    "9": "1111011",
}
_PLAIN_LOW = {MOVE: (r"\\  ", " >> ", "//  "), DONE: ("  //", r"\// ", r" V  "), ASK: (" __ ", "  _|", "  . ")}

TALL = 5
"""rows of the big number"""

LOW = 3
"""rows where there is little room"""


def _halves(rows: Sequence[str]) -> list[str]:
    """Two rows of squares to one row of cells."""
    signs = {"..": " ", "#.": "▀", ".#": "▄", "##": "█"}
    return [
        "".join(signs[upper + lower] for upper, lower in zip(rows[row], rows[row + 1], strict=True))
        for row in range(0, len(rows), 2)
    ]


def _plain_tall(rows: Sequence[str]) -> list[str]:
    """Every second row of squares, in ASCII."""
    return [
        "".join("#" if "#" in pair else " " for pair in zip(rows[row], rows[row + 1], strict=True))
        for row in range(0, len(rows), 2)
    ]


def _plain_low(sign: str) -> tuple[str, ...]:
    if sign in _PLAIN_LOW:
        return _PLAIN_LOW[sign]
    top, upper_left, upper_right, middle, lower_left, lower_right, bottom = (bar == "1" for bar in _BARS[sign])

    def row(left: bool, under: bool, right: bool) -> str:
        return f"{'|' if left else ' '}{'__' if under else '  '}{'|' if right else ' '}"

    return row(False, top, False), row(upper_left, middle, upper_right), row(lower_left, bottom, lower_right)


@lru_cache(maxsize=64)
def big(text: str, glyphs: Glyphs, rows: int) -> tuple[str, ...]:
    """A number (digits, or MOVE, DONE or ASK) as so many rows of cells: LOW, TALL, or a multiple of TALL."""
    times = max(1, rows // TALL)
    made = [_sign(sign, glyphs, TALL if rows >= TALL else LOW, times) for sign in text]
    return tuple((" " * times).join(parts) for parts in zip(*made, strict=True))


@lru_cache(maxsize=64)
def _sign(sign: str, glyphs: Glyphs, rows: int, times: int) -> tuple[str, ...]:
    squares = _grown(_TALL[sign] if rows == TALL else _LOW[sign], times)
    if not glyphs.ascii:
        return tuple(_halves(squares))
    return tuple(_plain_tall(squares)) if rows == TALL else _plain_low(sign)


def _grown(rows: Sequence[str], times: int) -> list[str]:
    """Each square so many times as wide and as high."""
    return ["".join(square * times for square in row) for row in rows for _ in range(times)]
