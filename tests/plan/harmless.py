"""What every message must be."""

from __future__ import annotations

import unicodedata


def is_harmless(text: str) -> bool:
    """One line, and nothing that a terminal obeys."""
    return all(unicodedata.category(char) not in ("Cc", "Cf", "Cs", "Zl", "Zp") for char in text)
