"""Answers as people write them. Each function raises UsageError with what is wrong."""

from __future__ import annotations

from stitchalong.course.words import counted
from stitchalong.design.wanted import LETTERS, Colour
from stitchalong.errors import UsageError
from stitchalong.plan.colours import read_colour
from stitchalong.plan.text import clean, listed, shown

MOST_COUNT = 2_000
MOST_ROUNDS = 500


def read_choice(word: str, number: int) -> int:
    """Which of so many, counted from 0; people count from 1."""
    plain = word.strip()
    if plain.isascii() and plain.isdigit() and 1 <= int(plain[:9]) <= number:
        return int(plain) - 1
    raise UsageError(f"“{shown(word)}” is none of them", fix=f"a number from 1 to {number}")


def read_number(word: str, least: int, most: int, what: str) -> int:
    plain = word.strip()
    if not (plain.isascii() and plain.isdigit() and least <= int(plain[:9]) <= most):
        raise UsageError(f"“{shown(word)}” cannot be the number of {what}", fix=f"from {least} to {most:,}")
    return int(plain)


def read_even(word: str, least: int, what: str) -> int:
    number = read_number(word, least, MOST_COUNT, what)
    if number % 2:
        raise UsageError(f"{number} {what} is an odd number", fix=f"{number - 1} or {number + 1}")
    return number


def read_title(word: str) -> str:
    title = clean(word)[:200]
    if not title:
        raise UsageError("it needs a name")
    return title


def colour_parts(word: str) -> tuple[str, ...]:
    """The colours that stand in `charcoal, sea glass #7fb8ad`, as they are written."""
    return tuple(part.strip() for part in word.split(",") if part.strip())


def read_colours(word: str, least: int) -> tuple[Colour, ...]:
    """Reads `charcoal, sea glass #7fb8ad, gold`."""
    found = tuple(map(read_one_colour, colour_parts(word)))
    if not least <= len(found) <= len(LETTERS):
        raise UsageError(f"{counted(len(found), 'colour')} will not do", fix=f"from {least} to {len(LETTERS)}")
    return found


def read_one_colour(text: str) -> Colour:
    """Reads `gold` or `sea glass #7fb8ad`."""
    name, _, code = clean(text).rpartition("#")
    name, rgb = (name.strip(), f"#{code.strip()}") if "#" in text else (clean(text), clean(text))
    try:
        rgb = read_colour(rgb)
    except ValueError as error:
        raise UsageError(f"“{shown(text.strip())}”: {error}") from None
    return Colour(name[:200] or rgb, rgb)


def read_order(word: str, codes: str) -> tuple[str, ...]:
    """Reads `A B A` or `ABA`."""
    letters = tuple(word.upper().replace(",", " ").replace(" ", ""))
    if not letters or not set(letters) <= set(codes) or len(letters) > MOST_ROUNDS:
        raise UsageError(
            f"“{shown(word)}” names no rounds", fix=f"letters from {listed(codes)}, such as {codes[0]} {codes[-1]}"
        )
    return letters
