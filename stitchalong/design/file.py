"""The file into which a new plan goes."""

from __future__ import annotations

from pathlib import Path

from stitchalong.errors import StoreError
from stitchalong.plan.library import SUFFIX
from stitchalong.plan.text import shown


class AlreadyThere(StoreError):
    """There is such a file; whoever asks may say that it is to be written over."""


def usual_name(title: str) -> str:
    """The name of a file for a plan of this title."""
    words = "".join(char if char.isalnum() else " " for char in title.casefold()).split()
    return ("-".join(words)[:60].strip("-") or "plan") + SUFFIX


def write_plan(path: Path, text: str, *, over: bool = False) -> None:
    """Write it. Raises AlreadyThere, unless it is to be written over, and StoreError where it cannot be written."""
    name = shown(str(path), 200)
    try:
        with path.open("w" if over else "x", encoding="utf-8") as file:
            file.write(text)
    except FileExistsError:
        raise AlreadyThere(f"there is {name} already", fix="name another file") from None
    except (OSError, ValueError) as error:
        reason = (error.strerror if isinstance(error, OSError) else None) or "the name cannot be used"
        raise StoreError(f"{name} cannot be written: {shown(reason, 80).lower()}") from None
