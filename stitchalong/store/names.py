"""Names of pieces: made, checked, and found again."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence

from stitchalong.errors import StoreError
from stitchalong.store.rows import PieceSummary, clean, name_key

NAME_LIMIT = 80
"""characters of a name or a title"""


def good_name(name: str, taken: set[str]) -> str:
    """The name as it is kept. `taken` holds keys. Raises `StoreError` where it cannot be used."""
    words = clean(name, NAME_LIMIT)
    if not any(char.isalpha() for char in words):
        raise StoreError("a piece's name needs a letter", fix="a number alone would be read as a piece's number")
    if name_key(words) in taken:
        raise StoreError(f"there is a piece “{words}” already", fix="choose another name")
    return words


def new_name(title: str, taken: set[str]) -> str:
    """Of the title's words: `Gorse ring` becomes `gorse-ring`, then `gorse-ring-2`."""
    words = re.findall(r"\w+", unicodedata.normalize("NFC", clean(title, NAME_LIMIT - 8)).casefold())
    stem = "-".join(words)
    if not any(char.isalpha() for char in stem):
        stem = f"piece-{stem}" if stem else "piece"
    return free_name(stem, taken)


def free_name(name: str, taken: set[str]) -> str:
    """The name, with the first number that makes it free where it is taken."""
    free, number = name, 1
    while name_key(free) in taken:
        number += 1
        free = f"{name[: NAME_LIMIT - 8]}-{number}"
    return free


def pick(word: str, pieces: Sequence[PieceSummary]) -> PieceSummary:
    """The piece of this number, this name, or the only one whose name begins so.

    Raises `StoreError` that names what is like it, or all that the beginning fits.
    """
    asked = clean(word, NAME_LIMIT)
    key = name_key(asked)
    if key.isdecimal() and key.isascii():
        fits = [piece for piece in pieces if str(piece.id) == key.lstrip("0")]
    else:
        fits = [piece for piece in pieces if name_key(piece.name) == key]
        fits = fits or [piece for piece in pieces if key and name_key(piece.name).startswith(key)]
    if len(fits) == 1:
        return fits[0]
    if fits:
        listed = ", ".join(f"{piece.id} {piece.name}" for piece in sorted(fits, key=lambda piece: piece.id))
        raise StoreError(f"“{asked}” fits several pieces: {listed}", fix="give the number of one")
    raise StoreError(f"there is no piece “{asked}”", fix=_like(key, pieces))


def _like(key: str, pieces: Iterable[PieceSummary]) -> str:
    from difflib import get_close_matches

    names = {name_key(piece.name): piece.name for piece in pieces}
    close = get_close_matches(key, list(names), n=1)
    return f"did you mean “{names[close[0]]}”?" if close else "`stitchalong pieces` lists what there is"
