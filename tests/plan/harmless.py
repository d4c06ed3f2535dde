"""What every message must be."""

from __future__ import annotations

import unicodedata

JOINER = "\u200d"
"""ZERO WIDTH JOINER; beside a picture it makes one emoji of several (Unicode Technical Standard 51, 1.4.6)"""


def is_harmless(text: str) -> bool:
    """One line, and nothing that a terminal obeys."""
    return all(
        unicodedata.category(char) not in ("Cc", "Cf", "Cs", "Zl", "Zp") or (char == JOINER and _joins(text, at))
        for at, char in enumerate(text)
    )


def _joins(text: str, at: int) -> bool:
    """Whether a picture stands beside it; of an excerpt it may be the first sign or the last."""
    return any(unicodedata.category(char) in ("So", "Sk") for char in text[max(0, at - 1) : at + 2])
