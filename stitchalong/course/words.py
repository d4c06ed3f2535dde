"""Counts and numbers in words, for people."""

from __future__ import annotations

_ORDINALS = (
    "",
    "first",
    "second",
    "third",
    "fourth",
    "fifth",
    "sixth",
    "seventh",
    "eighth",
    "ninth",
    "tenth",
)


def counted(number: int, one: str, many: str | None = None) -> str:
    """`1 bead`, `2 beads`."""
    return f"{number:,} {one if number == 1 else many or one + 's'}"


def ordinal(number: int) -> str:
    """`first`, `second`, … `tenth`, `11th`."""
    if number < len(_ORDINALS):
        return _ORDINALS[number]
    tail = "th" if 10 <= number % 100 <= 20 else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{tail}"


def capital(text: str) -> str:
    """With its first letter large."""
    return text[:1].upper() + text[1:]


def are(title: str) -> str:
    """The verb of a round's title: `round 5` is, `rounds 1 and 2` are."""
    return "are" if " and " in title.rpartition(": ")[2] else "is"


def beads_and_passes(beads: int, passes: int) -> str:
    """`17 beads and 3 passes`; what there is none of is left out, and empty is neither."""
    words = [counted(beads, "bead")] if beads > 0 else []
    if passes > 0:
        words.append(counted(passes, "pass", "passes"))
    return " and ".join(words)


def sentence(text: str) -> str:
    """With its first letter large and a full stop, unless it has its end."""
    return capital(text) + ("" if text.endswith((".", "?", "!")) else ".")
