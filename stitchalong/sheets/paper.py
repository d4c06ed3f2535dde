"""The papers that sheets are made for."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Paper:
    name: str
    width: float
    """mm"""
    height: float


MOST_BEAD = 5.0
"""mm of a bead in a picture, at most"""

PICTURE = (178.0, 105.0)
"""mm of width and height that a picture has on either paper"""
READABLE = 3.0
"""mm of a bead on which a letter is read with ease"""

PAPERS = {
    "a4": Paper("a4", 210.0, 297.0),
    "letter": Paper("letter", 215.9, 279.4),
}
"""ISO 216 A4; ANSI A, 8.5 by 11 inches"""
