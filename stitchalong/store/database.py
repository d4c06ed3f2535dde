"""One connection to the database file: opened with care, every fault told in one line.

Durability: a write-ahead log with `synchronous=FULL`, so that each commit is synced before it returns
(https://www.sqlite.org/pragma.html#pragma_synchronous); `fullfsync` and `checkpoint_fullfsync` ask macOS
for a real flush and mean nothing elsewhere.

The file is never opened past SQLite while a connection lives: closing any other descriptor of it would drop
the locks of this process (https://www.sqlite.org/howtocorrupt.html, section 2.2).
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

from stitchalong.errors import Place, StoreError
from stitchalong.store import schema
from stitchalong.store.faults import damaged, faults
from stitchalong.store.layout import FILE_NAME, has_copies, in_use_lock
from stitchalong.store.locks import FileLock

BUSY_SECONDS = 1.0
"""how long a statement waits for another program"""
OPEN_BUSY_SECONDS = 5.0
"""another window may be in the middle of a migration"""


class Missing(StoreError):
    """The database is gone, or was put in the place of another, while it was open."""


class Database:
    """A connection of one thread. Every fault it meets is a `StoreError`."""

    def __init__(self, path: Path, connection: sqlite3.Connection, lock: FileLock) -> None:
        self.path = path
        self._connection = connection
        self._lock = lock
        self._identity = _identity(path)

    @classmethod
    def open(
        cls,
        folder: Path,
        *,
        clock: Callable[[], float],
        before: Callable[[Database], object],
        any_thread: bool = False,
    ) -> Database:
        """The database in `folder`, made or brought to the newest version.

        `before` is called before a migration of a database that holds anything, to copy it. `any_thread`
        lets a thread other than this one use it, one at a time. Raises `StoreError`; a file that is refused
        is left as it is.
        """
        path = folder / FILE_NAME
        with faults(path):
            lock = FileLock.take(in_use_lock(folder), shared=True)
        if lock is None:
            raise StoreError("a copy is just being brought back", fix="try again", place=Place(str(path)))
        try:
            _look(path)
            with faults(path):
                connection = sqlite3.connect(
                    path, timeout=OPEN_BUSY_SECONDS, isolation_level=None, check_same_thread=not any_thread
                )
        except BaseException:
            lock.release()
            raise
        database = cls(path, connection, lock)
        try:
            for pragma in _PRAGMAS:
                database.execute(f"PRAGMA {pragma}")
            database._migrate(clock, before)
            database._check()
            database.execute(f"PRAGMA busy_timeout = {int(BUSY_SECONDS * 1000)}")
        except BaseException:
            database.close()
            raise
        return database

    @contextmanager
    def transaction(self, kind: str = "IMMEDIATE") -> Iterator[sqlite3.Connection]:
        """All of it is on the disk when this ends, or nothing of it is there."""
        connection = self._connection
        with faults(self.path):
            if _identity(self.path) != self._identity:
                raise Missing(
                    "the file was moved, removed or replaced while it was open",
                    fix="close this window and begin again",
                    place=Place(str(self.path)),
                )
            connection.execute(f"BEGIN {kind}")
            try:
                yield connection
                connection.execute("COMMIT")
            except BaseException:
                if connection.in_transaction:
                    connection.execute("ROLLBACK")
                raise

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """All statements in it see the same state of the file."""
        connection = self._connection
        if connection.in_transaction:
            yield connection
            return
        with faults(self.path):
            connection.execute("BEGIN")
            try:
                yield connection
            finally:
                if connection.in_transaction:
                    connection.execute("ROLLBACK")

    def rows(self, sql: str, values: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
        """All rows of a reading statement."""
        with faults(self.path):
            return self._connection.execute(sql, values).fetchall()

    def execute(self, sql: str, values: tuple[Any, ...] = ()) -> None:
        """A statement outside a transaction."""
        with faults(self.path):
            self._connection.execute(sql, values)

    def close(self) -> None:
        """Close; nothing waits to be written, so nothing can fail to be kept."""
        self._connection.close()
        self._lock.release()

    def _migrate(self, clock: Callable[[], float], before: Callable[[Database], object]) -> None:
        newest = len(schema.MIGRATIONS)
        version = self._version()
        if 0 < version < newest:
            before(self)
        while version < newest:
            with self.transaction("EXCLUSIVE") as connection:
                version = self._version()
                if version < newest:
                    for statement in schema.statements(schema.MIGRATIONS[version]):
                        connection.execute(statement)
                    version += 1
                    connection.execute(f"PRAGMA application_id = {schema.APPLICATION_ID}")
                    connection.execute(f"PRAGMA user_version = {version}")
                    connection.execute("INSERT INTO migration VALUES (?, ?)", (version, clock()))
        if version > newest:
            raise _newer(self.path, version)

    def _check(self) -> None:
        if self.rows("PRAGMA journal_mode = WAL") != [("wal",)]:
            raise StoreError(
                "this disk cannot keep a write-ahead log",
                fix="set STITCHALONG_HOME to a folder on a disk of this computer",
                place=Place(str(self.path)),
            )
        tables = {name for (name,) in self.rows("SELECT name FROM sqlite_schema WHERE type = 'table'")}
        if not tables >= schema.TABLES:
            raise damaged(self.path, f"no table {min(schema.TABLES - tables)}")
        # a piece that drops out of the table would not be missed otherwise; the table is small
        if self.rows("PRAGMA quick_check(piece)") != [("ok",)]:
            raise damaged(self.path, "the table of pieces")

    def _version(self) -> int:
        return int(self.rows("PRAGMA user_version")[0][0])


_PRAGMAS = (
    "foreign_keys = ON",
    "synchronous = FULL",
    "fullfsync = ON",
    "checkpoint_fullfsync = ON",
    "trusted_schema = OFF",
    "cell_size_check = ON",
)


def _newer(path: Path, version: int) -> StoreError:
    return StoreError(
        f"these pieces were kept by a newer program: version {version} of the file, "
        f"where this program knows {len(schema.MIGRATIONS)}",
        fix="bring stitchalong up to date; the file was left as it is",
        place=Place(str(path)),
    )


def _identity(path: Path) -> tuple[int, int] | None:
    try:
        status = os.stat(path)
    except FileNotFoundError:
        return None
    return status.st_dev, status.st_ino


def _look(path: Path) -> None:
    """Refuse what is no database of ours before anything can change it."""
    if sqlite3.sqlite_version_info < (3, 37):
        raise StoreError(
            f"this Python brings SQLite {sqlite3.sqlite_version}, and 3.37 is needed",
            fix="use a newer Python",
        )
    if path.is_dir():
        raise StoreError("there is a folder where the pieces should be", fix="move it away", place=Place(str(path)))
    if not path.exists() or path.stat().st_size == 0:
        log = path.with_name(path.name + "-wal")
        if log.exists() and log.stat().st_size:
            # SQLite would throw such a log away
            raise damaged(path, "it is empty or gone, though its log is there")
        if has_copies(path.parent):
            raise damaged(path, "it is empty or gone, though there are copies of it")
        return
    if path.with_name(path.name + "-journal").exists():
        return  # broken off while it was made: SQLite puts that right
    with faults(path):
        # immutable: no lock, no log, no change
        peek = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro&immutable=1", uri=True)
        with closing(peek):
            application = peek.execute("PRAGMA application_id").fetchone()[0]
            version = peek.execute("PRAGMA user_version").fetchone()[0]
    if application != schema.APPLICATION_ID:
        raise StoreError("this is a database of something else", fix="move it away", place=Place(str(path)))
    if version > len(schema.MIGRATIONS):
        raise _newer(path, version)
