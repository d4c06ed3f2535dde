"""Text for fonts that know the Latin-1 letters alone."""

from __future__ import annotations

import unicodedata

_SIGNS = {
    "“": '"', "”": '"', "„": '"', "‘": "'", "’": "'", "–": "-", "—": "-", "−": "-", "…": "...", "•": "-", "→": "->",
    "≤": "<=", "≥": ">=", "ß": "ß", "ł": "l", "Ł": "L", "đ": "d", "Đ": "D", "œ": "oe", "Œ": "OE",
    "€": "EUR", "\u00a0": " ",
}  # fmt: skip


def latin(text: str) -> tuple[str, set[str]]:
    """The text in Latin-1, and what could not be shown and stands as `?`. Signs and accents give way before letters."""
    out: list[str] = []
    lost: set[str] = set()
    for char in text:
        plain = _SIGNS.get(char, char)
        if not _fits(plain):
            plain = "".join(part for part in unicodedata.normalize("NFKD", char) if not unicodedata.combining(part))
        if not plain or not _fits(plain):
            if unicodedata.combining(char):
                continue
            lost.add(char)
            plain = "?"
        out.append(plain)
    return "".join(out), lost


def _fits(text: str) -> bool:
    return all(" " <= char <= "~" or "\u00a1" <= char <= "\u00ff" for char in text)
