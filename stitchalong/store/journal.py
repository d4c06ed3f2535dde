"""Events go in, the state of the piece is folded as they do; every row carries a seal against flipped bits.

Functions here run inside a transaction that the caller opened.
"""

from __future__ import annotations

import sqlite3
import zlib
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from stitchalong.errors import Place, StoreError
from stitchalong.store.faults import damaged
from stitchalong.store.rows import Event, PieceRow, PieceSummary, Record, name_key
from stitchalong.values import changed, names

PAUSE_SECONDS = 300.0
"""a longer gap between two events is a pause, and no time spent"""

_FIELDS = names(PieceSummary)
_SUMMARY = ", ".join(_FIELDS)
_WORK = "plan_text, plan_data, plan_name, compiler, choices"


class Conflict(StoreError):
    """Another window has gone on with the piece: what was to be kept was not."""

    def __init__(self, name: str, expected: int, found: int) -> None:
        self.expected = expected
        self.found = found
        super().__init__(
            f"“{name}” was worked on in another window: event {found} there, {expected} here",
            fix="take the piece over to go on from where it stands, or close this window",
        )


class Kept(NamedTuple):
    """An event with its number within the piece (from 1) and its time (epoch seconds, UTC)."""

    seq: int
    at: float
    event: Event


def seal(*values: str | int | float) -> int:
    """CRC-32 over the values; finds flipped bits, not forgers."""
    return zlib.crc32("\x1f".join(map(str, values)).encode("utf-8", "surrogatepass"))


def summaries(
    connection: sqlite3.Connection, path: Path, where: str, values: tuple[Any, ...] = ()
) -> list[PieceSummary]:
    """The pieces that `where` picks, each checked against its seal."""
    found = connection.execute(f"SELECT {_SUMMARY}, seal FROM piece {where}", values)
    return [_summary(path, row) for row in found]


def _summary(path: Path, row: tuple[Any, ...]) -> PieceSummary:
    if row[-1] != seal(*row[:-1]):
        raise damaged(path, f"piece {row[0]} does not read as it was kept")
    return PieceSummary(*row[:-1])


def summary(connection: sqlite3.Connection, path: Path, piece_id: int) -> PieceSummary:
    """Raises `StoreError` where there is no such piece."""
    found = summaries(connection, path, "WHERE id = ?", (piece_id,))
    if not found:
        raise StoreError(
            f"there is no piece {piece_id}",
            fix="`stitchalong pieces` lists what there is",
            place=Place(str(path)),
        )
    return found[0]


def whole(connection: sqlite3.Connection, path: Path, piece_id: int) -> PieceRow:
    """A piece with its plan."""
    head = summary(connection, path, piece_id)
    row = connection.execute(f"SELECT {_WORK}, seal FROM work WHERE piece = ?", (piece_id,)).fetchone()
    if row is None or row[-1] != seal(piece_id, *row[:-1]):
        raise damaged(path, f"the plan of piece {piece_id} does not read as it was kept")
    return PieceRow(*(getattr(head, name) for name in _FIELDS), *row[:-1])


def add(connection: sqlite3.Connection, state: PieceSummary) -> int:
    """A row for a new piece, whose id the database gives. Its id."""
    row = (*(getattr(state, name) for name in _FIELDS[1:]), name_key(state.name), 0)
    marks = ", ".join("?" * len(row))
    added = connection.execute(f"INSERT INTO piece ({', '.join(_FIELDS[1:])}, name_key, seal) VALUES ({marks})", row)
    piece_id = int(added.lastrowid or 0)
    write(connection, changed(state, id=piece_id))
    return piece_id


def write(connection: sqlite3.Connection, state: PieceSummary) -> None:
    """Write the row of a piece anew."""
    row = tuple(getattr(state, name) for name in _FIELDS)
    marks = ", ".join(f"{name} = ?" for name in _FIELDS[1:])
    connection.execute(
        f"UPDATE piece SET {marks}, name_key = ?, seal = ? WHERE id = ?",
        (*row[1:], name_key(state.name), seal(*row), state.id),
    )


def write_work(
    connection: sqlite3.Connection,
    piece_id: int,
    plan_text: str,
    plan_data: str,
    plan_name: str,
    compiler: int,
    choices: str,
) -> None:
    """Write the plan of a piece, new or in the place of the old one."""
    row = (plan_text, plan_data, plan_name, compiler, choices)
    connection.execute(
        f"INSERT OR REPLACE INTO work (piece, {_WORK}, seal) VALUES (?, ?, ?, ?, ?, ?, ?)",
        (piece_id, *row, seal(piece_id, *row)),
    )


def write_events(connection: sqlite3.Connection, piece_id: int, kept: Iterable[Kept]) -> None:
    """Append events."""
    connection.executemany(
        "INSERT INTO press VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)", (_press(piece_id, one) for one in kept)
    )


def _press(piece_id: int, kept: Kept) -> tuple[str | int | float, ...]:
    event = kept.event
    row = (kept.seq, kept.at, event.kind, event.amount, event.position, event.redo_to, event.data)
    return piece_id, *row, seal(piece_id, *row)


def events(
    connection: sqlite3.Connection,
    path: Path,
    piece_id: int,
    *,
    newest: int | None = None,
    with_data: bool = False,
) -> Iterable[Kept]:
    """Events of a piece, oldest first, each checked against its seal.

    `newest` gives so many of the last ones, newest first; `with_data` those that carry data.
    """
    source = "press INDEXED BY press_with_data" if with_data else "press"
    only = "AND data <> ''" if with_data else ""
    order = "seq" if newest is None else "seq DESC"
    for *row, crc in connection.execute(
        "SELECT seq, at, kind, amount, position, redo_to, data, seal "
        f"FROM {source} WHERE piece = ? {only} ORDER BY {order} LIMIT ?",
        (piece_id, -1 if newest is None else newest),
    ):
        if crc != seal(piece_id, *row):
            raise damaged(path, f"event {row[0]} of piece {piece_id} does not read as it was kept")
        yield Kept(row[0], row[1], Event(*row[2:]))


def tail(connection: sqlite3.Connection, path: Path, piece_id: int, n: int) -> list[Kept]:
    """The last `n` events, oldest first; checked to be the last, and to lead to where the piece stands."""
    state = summary(connection, path, piece_id)
    found = list(events(connection, path, piece_id, newest=max(0, n)))[::-1]
    first = state.seq - min(max(0, n), state.seq) + 1
    if [kept.seq for kept in found] != list(range(first, state.seq + 1)) or (
        found and (found[-1].event.position, found[-1].event.redo_to) != (state.position, state.redo_to)
    ):
        raise damaged(path, f"events of piece {piece_id} are missing")
    return found


def told(connection: sqlite3.Connection, path: Path, piece_id: int) -> list[Kept]:
    """The events that carry data, oldest first; checked to be all of them."""
    state = summary(connection, path, piece_id)
    found = list(events(connection, path, piece_id, with_data=True))
    if len(found) != state.told:
        raise damaged(path, f"events of piece {piece_id} are missing")
    return found


def apply(connection: sqlite3.Connection, path: Path, record: Record, now: float) -> int:
    """Keep a record; the new number of the piece.

    Raises `Conflict`, or another `StoreError`, before anything is written.
    """
    return apply_all(connection, path, [(record, now)])


def apply_all(connection: sqlite3.Connection, path: Path, timed: Sequence[tuple[Record, float]]) -> int:
    """Keep records of one piece, each made on top of the one before, with the time of each: all or none.

    Of several none changes the choices. The new number of the piece; raises as `apply` does.
    """
    state = summary(connection, path, timed[0][0].piece_id)
    seq = state.seq
    for record, _ in timed:
        if record.expected_seq != seq:
            raise Conflict(state.name, record.expected_seq, seq)
        seq += len(record.events)
    first = timed[0][0]
    if first.choices is not None:
        row = whole(connection, path, state.id)
        plan = row.plan_text, row.plan_data, row.plan_name, row.compiler
        write_work(connection, state.id, *plan, first.choices)
    each = [(event, now) for record, now in timed for event in record.events]
    write_events(connection, state.id, (Kept(seq, now, event) for seq, (event, now) in enumerate(each, state.seq + 1)))
    for record, now in timed:
        state = _after(state, record, now)
    write(connection, state)
    return state.seq


def _after(state: PieceSummary, record: Record, now: float) -> PieceSummary:
    """The state of the piece after a record."""
    if record.events:
        last = record.events[-1]
        gap = now - state.touched
        state = changed(
            state,
            seq=state.seq + len(record.events),
            position=last.position,
            redo_to=last.redo_to,
            touched=now,
            told=state.told + sum(1 for event in record.events if event.data),
            seconds=state.seconds + (gap if 0 < gap <= PAUSE_SECONDS else 0),
        )
    return changed(state, **_given(record))


def _given(record: Record) -> dict[str, Any]:
    """What a record says of the piece beside its events."""
    given = {"place": record.place, "steps": record.steps, "state": record.state}
    return {name: said for name, said in given.items() if said is not None}
