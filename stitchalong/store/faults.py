"""Faults of SQLite and of the system, told in one line with the path and the way out."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from shutil import disk_usage

from stitchalong.errors import Place, StoreError
from stitchalong.store.layout import has_copies
from stitchalong.store.rows import clean

ELSEWHERE = "set STITCHALONG_HOME to a folder that can be written"

ROOM = 64 * 1024
"""bytes; twice what SQLite takes at least for the index of its log (https://www.sqlite.org/walformat.html, 2.2)"""

MEANINGS = (
    ("SQLITE_FULL", "the disk is full, so nothing more can be kept", "make room; what was kept is safe"),
    ("SQLITE_BUSY", "another program holds the file locked", "close the other program, then try again"),
    ("SQLITE_LOCKED", "another program holds the file locked", "close the other program, then try again"),
    ("SQLITE_READONLY", "the file cannot be written", ELSEWHERE),
    ("SQLITE_PERM", "the file cannot be written", ELSEWHERE),
    ("SQLITE_CANTOPEN", "the file cannot be opened", f"look at its folder's permissions, or {ELSEWHERE}"),
    ("SQLITE_IOERR", "the disk cannot be read or written", "what was kept is safe; look at the disk's room and health"),
    ("SQLITE_TOOBIG", "the plan is too large to be kept", "use a smaller one"),
)
"""Beginnings of the names of SQLite's errors (https://www.sqlite.org/rescode.html), what each means, and a fix."""


@contextmanager
def faults(path: Path) -> Iterator[None]:
    """Turns a fault into a `StoreError`."""
    try:
        yield
    except sqlite3.Error as error:
        raise _told(path, error) from error
    except UnicodeDecodeError as error:  # what SQLite says of a damaged file can hold some of the damage
        raise damaged(path, "it cannot be read") from error
    except OSError as error:
        what = f"cannot be reached: {error.strerror or error}"
        raise StoreError(what, fix=ELSEWHERE, place=Place(str(path))) from error


def _told(path: Path, error: sqlite3.Error) -> StoreError:
    name = getattr(error, "sqlite_errorname", "") or ""
    if name.startswith(("SQLITE_IOERR", "SQLITE_CANTOPEN")) and _is_full(path.parent):
        name = "SQLITE_FULL"
    for start, what, fix in MEANINGS:
        if name.startswith(start):
            return StoreError(what, fix=fix, place=Place(str(path)))
    if name.startswith("SQLITE_NOTADB"):
        return StoreError("this is not a database of pieces", fix=_way_out(path), place=Place(str(path)))
    if name.startswith("SQLITE_CORRUPT") or "decode" in str(error).casefold():
        return damaged(path, "it cannot be read")
    what = f"the database says: {clean(str(error), 120)}"
    return StoreError(what, fix=_way_out(path), place=Place(str(path)))


def _is_full(folder: Path) -> bool:
    """Whether there is no room for the small files that even reading needs beside the database."""
    try:
        return disk_usage(folder).free < ROOM
    except OSError:
        return False


def damaged(path: Path, what: str) -> StoreError:
    """The error for a file that does not hold what was kept in it."""
    return StoreError(f"the file is damaged: {what}", fix=_way_out(path), place=Place(str(path)))


def _way_out(path: Path) -> str:
    if has_copies(path.parent):
        return "`stitchalong restore` brings back the last copy and sets this file aside"
    return "there is no copy yet; move it away to begin anew"
