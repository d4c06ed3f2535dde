"""A stitcher's own words, pinned to positions. Functions run inside a transaction that the caller opened."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from pathlib import Path

from stitchalong.errors import StoreError
from stitchalong.store.faults import damaged
from stitchalong.store.journal import seal, summary, write
from stitchalong.store.rows import Note, clean
from stitchalong.values import changed

NOTE_LIMIT = 2000
"""characters of a note"""


def add(connection: sqlite3.Connection, path: Path, piece_id: int, position: int, text: str, at: float) -> Note:
    """Raises `StoreError` where the note says nothing, or there is no such piece."""
    words = clean(text, NOTE_LIMIT)
    if not words:
        raise StoreError("the note says nothing", fix="write what to remember here")
    state = summary(connection, path, piece_id)
    row = (piece_id, position, words, at)
    added = connection.execute(
        "INSERT INTO note (piece, position, text, at, seal) VALUES (?, ?, ?, ?, ?)", (*row, seal(*row))
    )
    write(connection, changed(state, notes=state.notes + 1))
    return Note(int(added.lastrowid or 0), position, words, at)


def every(connection: sqlite3.Connection, path: Path, piece_id: int) -> list[Note]:
    """The notes of a piece in the order of their positions, each checked against its seal; checked to be all."""
    state = summary(connection, path, piece_id)
    found = []
    for note_id, *row, crc in connection.execute(
        "SELECT id, position, text, at, seal FROM note WHERE piece = ? ORDER BY position, id", (piece_id,)
    ):
        if crc != seal(piece_id, *row):
            raise damaged(path, f"note {note_id} does not read as it was kept")
        found.append(Note(note_id, *row))
    if len(found) != state.notes:
        raise damaged(path, f"notes of piece {piece_id} are missing")
    return found


def move(connection: sqlite3.Connection, path: Path, places: Iterable[tuple[int, int]]) -> None:
    """Pin notes, by their ids, to other positions. Raises `StoreError` where there is no such note."""
    for note_id, position in places:
        found = connection.execute("SELECT piece, text, at FROM note WHERE id = ?", (note_id,)).fetchone()
        if found is None:
            raise StoreError(f"there is no note {note_id}", fix="it was removed before")
        piece_id, words, at = found
        crc = seal(piece_id, position, words, at)
        connection.execute("UPDATE note SET position = ?, seal = ? WHERE id = ?", (position, crc, note_id))


def remove(connection: sqlite3.Connection, path: Path, note_id: int) -> None:
    """Raises `StoreError` where there is no such note."""
    found = connection.execute("SELECT piece FROM note WHERE id = ?", (note_id,)).fetchone()
    if found is None:
        raise StoreError(f"there is no note {note_id}", fix="it was removed before")
    state = summary(connection, path, found[0])
    connection.execute("DELETE FROM note WHERE id = ?", (note_id,))
    write(connection, changed(state, notes=state.notes - 1))
