"""The course of a piece, kept beside the pieces so that going on with one derives nothing anew.

It is kept for the very program that made it, and for one plan with its choices; anything else is refused and compiled.
"""

from __future__ import annotations

import os
import sys
from functools import cache
from hashlib import blake2b
from pathlib import Path
from typing import TYPE_CHECKING

from stitchalong.course.course import COMPILER
from stitchalong.course.kept import KeptCourse, Look, from_bytes, to_bytes
from stitchalong.errors import StoreError

if TYPE_CHECKING:
    from stitchalong.plan.model import Plan
    from stitchalong.store.pieces import Store

_PACKAGE = Path(__file__).parents[1]
_DERIVING = ("fabric", "plan", "course", "course/techniques")
"""the folders whose files a course depends on"""


@cache
def program() -> str:
    """What tells this program from a changed one: its files by name, size and time. Empty where it lies in no files."""
    known = [f"{COMPILER} {sys.byteorder}"]
    try:
        for folder in _DERIVING:
            with os.scandir(_PACKAGE / folder) as files:
                for file in sorted(files, key=lambda file: file.name):
                    if file.name.endswith(".py"):
                        status = file.stat()
                        known.append(f"{file.name} {status.st_size} {status.st_mtime_ns}")
    except OSError:
        return ""
    return blake2b("\n".join(known).encode("utf-8", "surrogateescape"), digest_size=16).hexdigest()


def key_of(plan_data: str, choices: str) -> str:
    """What a course is made of."""
    digest = blake2b(plan_data.encode("utf-8", "surrogatepass"), digest_size=16)
    digest.update(b"\0" + choices.encode("utf-8", "surrogatepass"))
    return f"{program()} {digest.hexdigest()}"


def fetch(store: Store, uid: str, plan_data: str, choices: str) -> KeptCourse | None:
    """The course kept for this piece, plan and choices; None where there is none."""
    data = store.kept_course(uid) if program() else None
    return from_bytes(key_of(plan_data, choices), data) if data else None


def keep(store: Store, uid: str, plan_data: str, choices: str, kept: KeptCourse) -> None:
    """Keep it, where that can be done; nothing is lost where it cannot."""
    if program():
        try:
            store.keep_course(uid, to_bytes(key_of(plan_data, choices), kept))
        except StoreError:  # a window that only watches keeps nothing
            return


def look_of(plan: Plan) -> tuple[Look, ...]:
    """The palette as it is shown."""
    return tuple(Look(bead.code, bead.name, bead.colour) for bead in plan.beads)
