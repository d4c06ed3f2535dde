"""Copies of the database: before every migration, once a day when there is something new, and when asked.

A few of each sort are kept. `restore` puts one in the place of the database and sets the old one aside.
"""

from __future__ import annotations

import re
import sqlite3
from contextlib import closing, suppress
from datetime import UTC, datetime
from pathlib import Path

from stitchalong.errors import Place, StoreError
from stitchalong.store import schema
from stitchalong.store.database import Database
from stitchalong.store.faults import damaged, faults
from stitchalong.store.files import beside, sync
from stitchalong.store.layout import ASIDE, COPIES, FILE_NAME, in_use_lock
from stitchalong.store.locks import FileLock
from stitchalong.values import value

BY_ITSELF = "daily"
BEFORE_MIGRATION = "before-migration"
ASKED = "asked"

KEPT_OF_EACH = 3
BY_ITSELF_EVERY = 20 * 3600.0
"""seconds; a little under a day, so that evenings count one by one"""

_NAME = re.compile(r"pieces-(\d{8}T\d{6}Z)-(\d+)-([a-z-]+)\.db")


@value
class Copy:
    path: Path
    at: float
    """epoch seconds, UTC, whole"""
    why: str
    """`daily`, `before-migration` or `asked`"""
    size: int
    """bytes"""


@value
class Restored:
    copy: Copy
    aside: Path | None
    """the folder that holds what was there before; None where nothing was"""


def copies(folder: Path) -> list[Copy]:
    """The copies of the pieces in `folder`, newest first."""
    found = []
    with faults(folder):
        for path in (folder / COPIES).glob("pieces-*.db"):
            name = _NAME.fullmatch(path.name)
            if name:
                at = datetime.fromisoformat(name[1]).timestamp()
                found.append((at, int(name[2]), Copy(path, at, name[3], path.stat().st_size)))
    return [copy for _, _, copy in sorted(found, key=lambda one: one[:2], reverse=True)]


def make(database: Database, why: str, now: float) -> Copy:
    """Copy the whole database, synced, and let the oldest copies of this sort go.

    A damaged database is not copied, so that good copies stay. Raises `StoreError`.
    """
    path = database.path
    state = database.rows("PRAGMA integrity_check(1)")
    if state != [("ok",)]:
        raise damaged(path, str(state[0][0]).splitlines()[-1])
    folder = path.parent / COPIES
    stamp = datetime.fromtimestamp(int(now), UTC).strftime("%Y%m%dT%H%M%SZ")
    with faults(folder):
        folder.mkdir(exist_ok=True)
        for broken_off in folder.glob(".pieces-*"):
            broken_off.unlink(missing_ok=True)
        names = (_NAME.fullmatch(copy.path.name) for copy in copies(path.parent))
        number = 1 + max((int(name[2]) for name in names if name and name[1] == stamp), default=0)
        target = folder / f"pieces-{stamp}-{number}-{why}.db"
        with beside(target) as fresh:
            database.execute("VACUUM INTO ?", (str(fresh),))
    made = Copy(target, float(int(now)), why, target.stat().st_size)
    same = [copy for copy in copies(path.parent) if copy.why == why]
    for old in same[KEPT_OF_EACH:]:
        with suppress(OSError):  # a copy too many does no harm
            old.path.unlink()
    return made


def copy_before(database: Database, now: float) -> Copy:
    """The copy that is made before a migration."""
    return make(database, BEFORE_MIGRATION, now)


def make_if_due(database: Database, now: float) -> Copy | None:
    """The daily copy, where the last is old enough and something was kept since."""
    last = max((copy.at for copy in copies(database.path.parent) if copy.why == BY_ITSELF), default=0.0)
    if now - last < BY_ITSELF_EVERY:
        return None
    [(touched,)] = database.rows(
        "SELECT max(coalesce((SELECT max(touched) FROM piece), 0), coalesce((SELECT max(at) FROM note), 0), "
        "coalesce((SELECT max(at) FROM measured), 0))"
    )
    return make(database, BY_ITSELF, now) if touched > last else None


def restore(folder: Path, *, now: float, copy: Copy | None = None) -> Restored:
    """Put a copy, the newest where none is named, in the place of the database.

    What was there (file, log, whatever it is) is set aside whole, in a folder of its own. Refused while any
    window has the pieces open. Raises `StoreError`; then nothing was changed.
    """
    if copy is None:
        known = copies(folder)
        if not known:
            raise StoreError(
                "there is no copy to bring back",
                fix="copies are made once a day",
                place=Place(str(folder / COPIES)),
            )
        copy = known[0]
    from shutil import copyfile

    _check(copy.path)
    with faults(folder):
        lock = FileLock.take(in_use_lock(folder))
        if lock is None:
            raise StoreError(
                "the pieces are open in another window",
                fix="close it, then try again",
                place=Place(str(folder)),
            )
        try:
            path = folder / FILE_NAME
            with beside(path) as fresh:
                copyfile(copy.path, fresh)
                aside = _set_aside(path, now)
        finally:
            lock.release()
    return Restored(copy, aside)


def _set_aside(path: Path, now: float) -> Path | None:
    """Copy the database and what belongs to it, then take away what a new file must not meet."""
    from shutil import copy2

    parts = [path, *(path.with_name(path.name + end) for end in ("-wal", "-shm", "-journal"))]
    parts = [part for part in parts if part.exists()]
    if not parts:
        return None
    stamp = datetime.fromtimestamp(int(now), UTC).strftime("%Y%m%dT%H%M%SZ")
    number = 1
    while (aside := path.parent / ASIDE / f"{stamp}-{number}").exists():
        number += 1
    aside.mkdir(parents=True)
    for part in parts:
        if part.is_dir():
            part.rename(aside / part.name)
        else:
            copy2(part, aside / part.name)
            sync(aside / part.name)
    sync(aside)
    for part in parts:
        if part != path:
            part.unlink(missing_ok=True)
    return aside


def _check(path: Path) -> None:
    """Raises `StoreError` where the file is no whole database of ours."""
    with (
        faults(path),
        closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro&immutable=1", uri=True)) as connection,
    ):
        application = connection.execute("PRAGMA application_id").fetchone()[0]
        version = connection.execute("PRAGMA user_version").fetchone()[0]
        whole = connection.execute("PRAGMA integrity_check(1)").fetchone()[0] == "ok"
    if application != schema.APPLICATION_ID or not 0 < version <= len(schema.MIGRATIONS) or not whole:
        raise StoreError("this copy cannot be used", fix="choose another one", place=Place(str(path)))
