"""A parcel is taken in: read within bounds, checked whole, and joined with what is here.

The digest finds damage and careless edits; a place that the events do not lead to is refused too. Nothing
of a parcel is ever run, and no path in it is followed.
"""

from __future__ import annotations

import gzip
import hashlib
import json
import math
import os
import re
import sqlite3
import zlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, Literal

from stitchalong.errors import Place, StitchalongError, StoreError
from stitchalong.store import journal, notes
from stitchalong.store.database import Database
from stitchalong.store.journal import Kept
from stitchalong.store.names import NAME_LIMIT, free_name, new_name
from stitchalong.store.parcel import FORMAT, PIECE_KEYS, VERSION, WORK_KEYS
from stitchalong.store.rows import STATES, Event, PieceRow, PieceSummary, clean

FILE_LIMIT = 64 * 2**20
"""bytes of a parcel"""
TEXT_LIMIT = 1024 * 2**20
"""bytes of all its lines; they are never in memory together"""
LINE_LIMIT = 32 * 2**20
"""bytes of one line"""
NOTES_LIMIT = 10_000

_LAST_INTEGER = 2**62


@dataclass(frozen=True, slots=True)
class Unpacked:
    piece_id: int
    how: Literal["new", "gone on", "here already"]
    """`gone on`: the piece was here, and the parcel brought events that were not"""


def unpack(
    database: Database, source: Path, *, as_new: bool = False, check: Callable[[PieceRow], object] | None = None
) -> Unpacked:
    """Take the piece of a parcel in, all of it or nothing.

    A piece that is here already gets the events it lacks; what is here is never taken back, and the
    same parcel twice changes nothing. Where both went on in their own way it is refused; `as_new` makes
    another piece of the parcel then. `check` looks at the piece as it would be and raises a `StitchalongError`
    for one that cannot be gone on with. Raises `StoreError`.
    """
    try:
        with database.transaction() as connection:
            taken = _take_in(connection, database.path, source, as_new)
            if check is not None and taken.how != "here already":
                _hold(check, journal.whole(connection, database.path, taken.piece_id), source)
            return taken
    except (ValueError, TypeError, KeyError, AttributeError, OverflowError, RecursionError) as error:
        raise _refused(source, "this is no parcel of a piece, or it was changed") from error


def _refused(source: Path, why: str, fix: str = "nothing was taken from it") -> StoreError:
    return StoreError(why, fix=fix, place=Place(str(source)))


def _hold(check: Callable[[PieceRow], object], row: PieceRow, source: Path) -> None:
    try:
        check(row)
    except StitchalongError as error:
        raise _refused(source, f"the piece in it cannot be gone on with: {error.problems[0].what}") from error


def _take_in(connection: sqlite3.Connection, path: Path, source: Path, as_new: bool) -> Unpacked:
    values = _values(source)
    state = _piece(_next(values, "piece"))
    work = _work(_next(values, "work"))
    here: PieceSummary | None = None
    if as_new:
        state = replace(state, uid=os.urandom(16).hex())
    else:
        here = next(iter(journal.summaries(connection, path, "WHERE uid = ?", (state.uid,))), None)
    if here is None:
        taken = {key for (key,) in connection.execute("SELECT name_key FROM piece")}
        name = clean(state.name, NAME_LIMIT)
        usable = any(char.isalpha() for char in name)
        state = replace(state, name=free_name(name, taken) if usable else new_name(state.title, taken))
        state = replace(state, id=journal.add(connection, state))
    else:
        state = replace(state, id=here.id, name=here.name)
    seen = _Seen()
    journal.write_events(connection, state.id, _lacking(connection, path, source, values, here, state.id, seen))
    if (seen.count, seen.position, seen.redo_to) != (state.seq, state.position, state.redo_to):
        raise ValueError("the events do not lead to the place")
    if here is None or state.seq > here.seq:
        journal.write(connection, replace(state, told=seen.told, notes=here.notes if here else 0))
        journal.write_work(connection, state.id, *work)
    known = {(note.position, note.text, note.at) for note in notes.every(connection, path, state.id)}
    for note in seen.notes:
        if note not in known:
            notes.add(connection, path, state.id, *note)
            known.add(note)
    if here is None:
        return Unpacked(state.id, "new")
    return Unpacked(state.id, "gone on" if state.seq > here.seq else "here already")


@dataclass(slots=True)
class _Seen:
    """What the lines after the first told."""

    notes: list[tuple[int, str, float]] = field(default_factory=list)
    count: int = 0
    told: int = 0
    position: int = 0
    redo_to: int = 0


def _lacking(
    connection: sqlite3.Connection,
    path: Path,
    source: Path,
    values: Iterator[tuple[str, Any]],
    here: PieceSummary | None,
    piece_id: int,
    seen: _Seen,
) -> Iterator[Kept]:
    """The events that are not here yet; those that are must be the same."""
    known = iter(journal.events(connection, path, piece_id))
    for key, value in values:
        if key == "note" and not seen.count and len(seen.notes) < NOTES_LIMIT:
            where, text, at = value
            seen.notes.append((_count(where), clean(_text(text), notes.NOTE_LIMIT), _time(at)))
            continue
        if key != "press":
            raise ValueError(key)
        seq, at, kind, amount, position, redo_to, data = value
        event = Event(kind, _integer(amount), _count(position), _count(redo_to), _text(data))
        kept = Kept(_count(seq), _time(at), event)
        seen.count += 1
        seen.told += bool(event.data)
        seen.position, seen.redo_to = event.position, event.redo_to
        if kept.seq != seen.count:
            raise ValueError("an event is missing")
        if here is None or kept.seq > here.seq:
            yield kept
        elif next(known, None) != kept:
            raise _refused(
                source,
                f"“{here.name}” is here already and went on in another way",
                "take it in as another piece, or leave it",
            )


# ---- reading ----------------------------------------------------------------------------------------


def _values(source: Path) -> Iterator[tuple[str, Any]]:
    """What the lines hold, without the head; the digest is checked before this ends."""
    digest = hashlib.sha256()
    try:
        if source.stat().st_size > FILE_LIMIT:
            raise _refused(source, f"it is larger than {FILE_LIMIT // 2**20} MB")
        with gzip.open(source, "rb") as file:
            left = TEXT_LIMIT
            first = True
            while line := file.readline(LINE_LIMIT + 1):
                left -= len(line)
                if len(line) > LINE_LIMIT or left < 0:
                    raise _refused(source, "there is more in it than a piece can hold")
                value = json.loads(line)
                if first:
                    _head(source, value)
                    first = False
                else:
                    [(key, held)] = value.items()
                    if key == "sha256":
                        if held != digest.hexdigest() or file.read(1):
                            raise _refused(source, "it was changed since it was made")
                        return
                    yield key, held
                digest.update(line)
    except gzip.BadGzipFile as error:
        raise ValueError("not gzip, or damaged") from error
    except OSError as error:
        raise _refused(source, f"cannot be read: {error.strerror or error}") from error
    except (EOFError, zlib.error, AttributeError, UnicodeDecodeError) as error:
        raise ValueError("cut off, or damaged") from error
    raise ValueError("no digest at the end")


def _head(source: Path, value: Any) -> None:
    if value["format"] != FORMAT:
        raise ValueError(value["format"])
    if _count(value["version"]) > VERSION:
        raise _refused(source, "it was made by a newer program", "bring stitchalong up to date")


def _next(values: Iterator[tuple[str, Any]], wanted: str) -> dict[str, Any]:
    key, value = next(values, ("", None))
    if key != wanted or not isinstance(value, dict):
        raise ValueError(f"no {wanted}")
    return value


def _piece(value: dict[str, Any]) -> PieceSummary:
    if set(value) != set(PIECE_KEYS) or value["state"] not in STATES:
        raise ValueError("a piece of another shape")
    if not re.fullmatch("[0-9a-f]{32}", value["uid"]):
        raise ValueError(value["uid"])
    state = PieceSummary(
        id=0,
        uid=value["uid"],
        name=_text(value["name"]),
        title=clean(_text(value["title"]), NAME_LIMIT),
        begun=_time(value["begun"]),
        touched=_time(value["touched"]),
        position=_count(value["position"]),
        redo_to=_count(value["redo_to"]),
        seq=_count(value["seq"]),
        steps=_count(value["steps"]),
        place=_json(value["place"]),
        state=value["state"],
        seconds=_time(value["seconds"]),
        told=0,
        notes=0,
    )
    if state.redo_to < state.position:
        raise ValueError("redo before the place")
    return state


def _work(value: dict[str, Any]) -> tuple[str, str, str, int, str]:
    if set(value) != set(WORK_KEYS):
        raise ValueError("work of another shape")
    return (
        _text(value["plan_text"]),
        _json(value["plan_data"]),
        clean(_text(value["plan_name"]), NAME_LIMIT),
        _count(value["compiler"]),
        _json(value["choices"]),
    )


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise ValueError("no text")
    value.encode()  # half a surrogate pair cannot be kept
    return value


def _json(value: Any) -> str:
    json.loads(_text(value))
    return str(value)


def _integer(value: Any) -> int:
    if type(value) is not int or abs(value) > _LAST_INTEGER:
        raise ValueError("no whole number")
    return value


def _count(value: Any) -> int:
    if _integer(value) < 0:
        raise ValueError("below nought")
    return int(value)


def _time(value: Any) -> float:
    if type(value) not in (int, float) or not math.isfinite(value) or not 0 <= value < 1e11:
        raise ValueError("no time")
    return float(value)
