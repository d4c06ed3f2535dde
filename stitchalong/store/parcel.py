"""One piece as one file, to keep or to carry to another computer.

A parcel is gzip over lines of JSON in UTF-8: a head with the format and its version, the piece, its work
(plan and choices), its notes, its events in order, and at last the SHA-256 digest over all lines before. The
same piece always makes the same bytes. `unpack` reads it.
"""

from __future__ import annotations

import gzip
import hashlib
import json
from collections.abc import Generator
from contextlib import closing
from dataclasses import fields
from pathlib import Path
from typing import Any

from stitchalong.errors import Place, StoreError
from stitchalong.store import journal, notes
from stitchalong.store.database import Database
from stitchalong.store.files import beside
from stitchalong.store.rows import PieceSummary

FORMAT = "stitchalong piece"
VERSION = 1

PIECE_KEYS = tuple(field.name for field in fields(PieceSummary) if field.name not in ("id", "told", "notes"))
WORK_KEYS = ("plan_text", "plan_data", "plan_name", "compiler", "choices")


def pack(database: Database, piece_id: int, target: Path, *, overwrite: bool = False) -> None:
    """Write the parcel of a piece. Raises `StoreError`; then the target is as it was."""
    place = Place(str(target))
    try:
        if target.exists() and not overwrite:
            raise StoreError("there is a file already", fix="choose another name", place=place)
        with beside(target) as fresh, closing(_lines(database, piece_id)) as lines, fresh.open("wb") as file:
            digest = hashlib.sha256()
            with gzip.GzipFile("", "wb", 6, file, mtime=0) as packed:
                for line in lines:
                    digest.update(line)
                    packed.write(line)
                packed.write(_line({"sha256": digest.hexdigest()}))
    except OSError as error:
        fix = "look at the folder's permissions and the disk's room"
        raise StoreError(f"cannot be written: {error.strerror}", fix=fix, place=place) from error


def _line(value: dict[str, Any]) -> bytes:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode() + b"\n"


def _lines(database: Database, piece_id: int) -> Generator[bytes, None, None]:
    with database.reading() as connection:
        row = journal.whole(connection, database.path, piece_id)
        yield _line({"format": FORMAT, "version": VERSION})
        yield _line({"piece": {name: getattr(row, name) for name in PIECE_KEYS}})
        yield _line({"work": {name: getattr(row, name) for name in WORK_KEYS}})
        for note in notes.every(connection, database.path, piece_id):
            yield _line({"note": [note.position, note.text, note.at]})
        for seq, at, event in journal.events(connection, database.path, piece_id):
            parts = [event.kind, event.amount, event.position, event.redo_to, event.data]
            yield _line({"press": [seq, at, *parts]})
