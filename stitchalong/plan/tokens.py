"""The signs of the notation: a round's text cut into tokens, and faults that point at them."""

from __future__ import annotations

import re

from stitchalong.errors import Place, PlanError, Problem
from stitchalong.values import value

MAX_TEXT = 200_000
"""characters of one round"""
MAX_COUNT = 1_000_000
"""of anything that is counted"""

_WINDOW = 60
"""characters of a long round shown on each side of a fault"""


@value
class Token:
    """One sign. `kind` is `number`, `codes` (capital letters), `word` (folded to small letters), `end`, or
    the sign itself (`*`, `**`, `(`, `x`, …)."""

    kind: str
    text: str
    start: int
    end: int


# One character for one character, so that spans still fit the text as it was written.
_SAME: dict[int, str] = {code: chr(code - 0xFEE0) for code in range(0xFF01, 0xFF5F)}
_SAME |= {
    ord(char): sign
    for sign, chars in {
        "x": "×✕✖⨯",
        "*": "∗⁎✱",
        ",": "、،",
        "-": "−–—‐‑",
        " ": "\u00a0\u2002\u2003\u2007\u2009\u200a\u202f\u3000\t\r\n",
    }.items()
    for char in chars
}

_TOKEN = re.compile(
    r"""(?P<space>\ +)
    | (?P<number>[0-9]+)
    | (?P<x>x(?![A-Za-z]))
    | (?P<codes>[A-Z]++(?![a-z]) | [A-Z]++(?=x\ *[0-9]))
    | (?P<word>[A-Za-z]+)
    | (?P<sign>\*\*? | [()\[\]{},;:.-])
    """,
    re.VERBOSE,
)


def fault(source: str, span: tuple[int, int], what: str, fix: str | None = None) -> PlanError:
    """The error for a fault in a round's text; of a long text only the neighbourhood is kept."""
    start, end = span
    end = min(end, start + _WINDOW)
    first, last = max(0, start - _WINDOW), min(len(source), end + _WINDOW)
    return PlanError(Problem(what, Place(source=source[first:last], span=(start - first, end - first)), fix))


def tokens(source: str) -> list[Token]:
    """The tokens of one round, with an `end` token last; spaces only divide.

    Raises PlanError for text that is too long and for signs the notation does not have.
    """
    if len(source) > MAX_TEXT:
        raise fault(source, (MAX_TEXT, MAX_TEXT + 1), f"this round is longer than {MAX_TEXT:,} characters")
    text = source.translate(_SAME)
    found: list[Token] = []
    at = 0
    while at < len(text):
        match = _TOKEN.match(text, at)
        if match is None:
            char = source[at]
            sign = f"`{char}` (U+{ord(char):04X})" if char.isprintable() else f"U+{ord(char):04X}"
            raise fault(
                source,
                (at, at + 1),
                f"{sign} is no sign of the notation",
                "bead codes are the capital letters A to Z",
            )
        at = match.end()
        kind, word = match.lastgroup or "", match.group()
        if kind == "space":
            continue
        if kind == "sign":
            kind = word
        elif kind == "word":
            word = word.lower()
        found.append(Token(kind, word, match.start(), at))
    found.append(Token("end", "", len(text), len(text)))
    return found
