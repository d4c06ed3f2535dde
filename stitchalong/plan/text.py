"""Text that strangers wrote: made harmless, shown short, and guessed at when misspelt."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from difflib import get_close_matches

_ZERO_WIDTH_JOINER = "\u200d"
_EMOJI_LOOK = "\ufe0f"


def clean(text: str, *, keep_lines: bool = False) -> str:
    """Text without control characters, direction marks and invisible signs; blanks at both ends go too.

    Tabs and line ends become spaces; with `keep_lines` line ends stay. A joiner stays only between two
    pictures, and the sign that asks for a picture only after one, so that composed emoji survive.
    """
    if text.isascii() and text.isprintable():
        return text.strip()
    out: list[str] = []
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    for index, char in enumerate(text):
        kind = unicodedata.category(char)
        if char == "\n" and keep_lines:
            out.append(char)
        elif char in "\n\t\x0b\x0c\x85" or kind in ("Zl", "Zp"):
            out.append(" ")
        elif char == _ZERO_WIDTH_JOINER:
            if out and _is_picture(out[-1]) and _is_picture(text[index + 1 : index + 2]):
                out.append(char)
        elif char == _EMOJI_LOOK:
            if out and unicodedata.category(out[-1]) == "So":
                out.append(char)
        elif kind not in ("Cc", "Cf", "Cs"):
            out.append(char)
    return "".join(out).strip()


def _is_picture(char: str) -> bool:
    return bool(char) and (
        unicodedata.category(char) == "So" or char == _EMOJI_LOOK or "\U0001f3fb" <= char <= "\U0001f3ff"
    )


def shown(text: str, most: int = 40) -> str:
    """A stranger's words for a message: clean, at most so many characters."""
    text = clean(text[: 4 * most])
    return text if len(text) <= most else text[: most - 1] + "…"


def did_you_mean(word: str, known: Iterable[str]) -> str | None:
    """``did you mean `units`?``, or None where nothing is near."""
    by_fold = {name.casefold(): name for name in known}
    near = get_close_matches(word[:60].casefold(), by_fold, n=1, cutoff=0.6)
    return f"did you mean `{by_fold[near[0]]}`?" if near else None


def listed(words: Iterable[str], last: str = "or") -> str:
    """`a`, `b` or `c`."""
    names = list(words)
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} {last} {names[-1]}"
