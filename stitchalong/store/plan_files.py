"""Where the plan of a piece was read from: known on this computer alone, and never part of what is exported.

It is only a help: where nothing is known, or it cannot be kept, all else goes on as it is.
"""

from __future__ import annotations

import json
from contextlib import suppress
from dataclasses import asdict
from pathlib import Path

from stitchalong.store.files import beside
from stitchalong.store.layout import PLAN_FILES
from stitchalong.values import value

LONGEST = 20_000
"""bytes of one note"""


@value
class PlanFile:
    """Where a plan lay when its piece was begun."""

    word: str
    """its path, or the name of a plan that ships"""
    ships: bool
    told: str = ""
    """digest of the text that was last told to be another; empty: none was"""


def known(folder: Path, uid: str) -> PlanFile | None:
    """For the piece of this uid; None where nothing is known. `folder`: where the pieces lie."""
    try:
        with _note(folder, uid).open("rb") as file:
            data = json.loads(file.read(LONGEST))
        found = PlanFile(data["word"], data["ships"], data["told"])
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return None
    fits = isinstance(found.word, str) and isinstance(found.ships, bool) and isinstance(found.told, str)
    return found if fits else None


def note(folder: Path, uid: str, found: PlanFile) -> None:
    """Keep it."""
    path = _note(folder, uid)
    with suppress(OSError, ValueError):
        path.parent.mkdir(exist_ok=True)
        with beside(path) as fresh:
            fresh.write_text(json.dumps(asdict(found)), encoding="ascii")


def _note(folder: Path, uid: str) -> Path:
    return folder / PLAN_FILES / uid
