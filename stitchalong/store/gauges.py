"""What a stitcher measured. Functions run inside a transaction that the caller opened."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from stitchalong.errors import StoreError
from stitchalong.measure.measured import Measured
from stitchalong.store.faults import damaged
from stitchalong.store.journal import seal
from stitchalong.store.rows import clean

WORD_LIMIT = 40
"""characters of a word for a tension"""

_COLUMNS = "size, shape, stitch, per, tension, count, length, error, piece, at"


def add(connection: sqlite3.Connection, one: Measured, at: float) -> int:
    """Keep a measurement; its id. What was measured of the same stitch in the same piece before is replaced."""
    tension = clean(one.tension, WORD_LIMIT)
    row = (
        one.size, one.shape, one.stitch, one.per, tension, one.count, float(one.length), float(one.error), one.piece, at
    )  # fmt: skip
    if one.piece:
        connection.execute("DELETE FROM measured WHERE piece = ? AND stitch = ?", (one.piece, one.stitch))
    marks = ", ".join("?" * (len(row) + 1))
    added = connection.execute(f"INSERT INTO measured ({_COLUMNS}, seal) VALUES ({marks})", (*row, seal(*row)))
    return int(added.lastrowid or 0)


def every(connection: sqlite3.Connection, path: Path) -> list[Measured]:
    """All of them, the oldest first, each checked against its seal."""
    found = []
    for row in connection.execute(f"SELECT id, {_COLUMNS}, seal FROM measured ORDER BY id"):
        number, size, shape, stitch, per, tension, count, length, error, piece, at, crc = row
        if crc != seal(*row[1:-1]):
            raise damaged(path, f"measurement {number} does not read as it was kept")
        found.append(Measured(size, shape, stitch, per, tension, count, length, error, piece, number, at))
    return found


def remove(connection: sqlite3.Connection, number: int) -> None:
    """Raises `StoreError` where there is no such measurement."""
    if not connection.execute("DELETE FROM measured WHERE id = ?", (number,)).rowcount:
        raise StoreError(f"there is no measurement {number}", fix="`stitchalong gauge list` tells their numbers")
