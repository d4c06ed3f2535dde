"""The store: pieces, their presses, choices and notes, in one file of the user's data folder."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from stitchalong.errors import StoreError
from stitchalong.measure.measured import Measured
from stitchalong.store import gauges, journal, notes
from stitchalong.store.database import Database
from stitchalong.store.faults import faults
from stitchalong.store.folder import ready
from stitchalong.store.journal import Kept
from stitchalong.store.layout import COURSES, HELD, PLAN_FILES
from stitchalong.store.locks import FileLock
from stitchalong.store.names import NAME_LIMIT, good_name, new_name, pick
from stitchalong.store.rows import Event, Note, PieceRow, PieceSummary, Record, State, clean, name_key
from stitchalong.values import changed

if TYPE_CHECKING:
    from stitchalong.store import copies
    from stitchalong.store.unpack import Unpacked


class Store:
    """One window's way to the pieces; used by one thread. Every fault is a `StoreError` of one line."""

    def __init__(self, database: Database, clock: Callable[[], float]) -> None:
        self._database = database
        self.clock = clock

    @classmethod
    def open(cls, folder: Path, *, clock: Callable[[], float]) -> Store:
        """The store in `folder`, which is made where it is missing. `clock` gives epoch seconds, UTC."""
        ready(folder)
        return cls(Database.open(folder, clock=clock, before=lambda old: _copy(old, clock())), clock)

    @property
    def path(self) -> Path:
        """The database file."""
        return self._database.path

    def close(self) -> None:
        """Close; once a day a copy is made first. What was recorded is kept without this too."""
        from stitchalong.store import copies

        with suppress(StoreError):  # the pieces are safe, and whoever closes cannot mend the copy
            copies.make_if_due(self._database, self.clock())
        self._database.close()

    # ---- pieces -------------------------------------------------------------------------------------

    def begin(
        self,
        *,
        title: str,
        plan_text: str,
        plan_data: str,
        plan_name: str,
        compiler: int,
        steps: int,
        place: str,
        choices: str = "[]",
        name: str | None = None,
    ) -> PieceRow:
        """A new piece at position 0 with its own copy of the plan.

        Without a name it gets one of the title's words, with a number where that is taken; a name that
        is taken raises `StoreError`.
        """
        now = float(self.clock())
        with self._database.transaction() as connection:
            taken = self._names()
            state = PieceSummary(
                id=0,
                uid=os.urandom(16).hex(),
                name=new_name(title, taken) if name is None else good_name(name, taken),
                title=clean(title, NAME_LIMIT),
                begun=now,
                touched=now,
                position=0,
                redo_to=0,
                seq=0,
                steps=steps,
                place=place,
                state="going",
                seconds=0.0,
                told=0,
                notes=0,
            )
            piece_id = journal.add(connection, state)
            journal.write_work(connection, piece_id, plan_text, plan_data, plan_name, compiler, choices)
            return journal.whole(connection, self.path, piece_id)

    def pieces(self, include_away: bool = False) -> list[PieceSummary]:
        """All pieces, the last touched first; those put away only where asked for."""
        where = "" if include_away else "WHERE state <> 'put away' "
        with self._database.reading() as connection:
            return journal.summaries(connection, self.path, where + "ORDER BY touched DESC, id DESC")

    def piece(self, piece_id: int) -> PieceRow:
        with self._database.reading() as connection:
            return journal.whole(connection, self.path, piece_id)

    def summary(self, piece_id: int) -> PieceSummary:
        """One piece as lists show it. Raises `StoreError` where there is none."""
        with self._database.reading() as connection:
            return journal.summary(connection, self.path, piece_id)

    def find(self, word: str) -> PieceRow:
        """A piece by its number, its name, or the beginning of its name, put away or not.

        Raises `StoreError` that names what is like it, or all that the beginning fits.
        """
        return self.piece(pick(word, self.pieces(include_away=True)).id)

    def rename(self, piece_id: int, name: str) -> None:
        with self._database.transaction() as connection:
            state = journal.summary(connection, self.path, piece_id)
            taken = self._names() - {name_key(state.name)}
            journal.write(connection, changed(state, name=good_name(name, taken)))

    def finish(self, piece_id: int) -> None:
        """The last bead is laid."""
        self._set_state(piece_id, "finished")

    def put_away(self, piece_id: int) -> None:
        """Out of the listing; nothing of it is lost."""
        self._set_state(piece_id, "put away")

    def go_on(self, piece_id: int) -> None:
        """Finished or put away no longer."""
        self._set_state(piece_id, "going")

    def remove(self, piece_id: int) -> None:
        """The piece and all that belongs to it, for good."""
        with self._database.transaction() as connection:
            uid = journal.summary(connection, self.path, piece_id).uid
            connection.execute("DELETE FROM piece WHERE id = ?", (piece_id,))
        for folder in (HELD, COURSES, PLAN_FILES):
            with suppress(OSError):
                (self.path.parent / folder / uid).unlink()

    def _set_state(self, piece_id: int, state: State) -> None:
        with self._database.transaction() as connection:
            journal.write(connection, changed(journal.summary(connection, self.path, piece_id), state=state))

    def _names(self) -> set[str]:
        return {key for (key,) in self._database.rows("SELECT name_key FROM piece")}

    # ---- the journal --------------------------------------------------------------------------------

    def record(
        self,
        piece_id: int,
        expected_seq: int,
        events: Sequence[Event],
        *,
        place: str,
        choices: str | None = None,
        steps: int | None = None,
        state: State | None = None,
        moved: Iterable[tuple[int, int]] = (),
    ) -> int:
        """Keep events and the state after them, in one transaction, durable when this returns.

        `moved`: notes that are pinned elsewhere from now on, by their ids, each with its position.
        The new number of the piece: `expected_seq` and one more for each event. Raises `Conflict` where
        another window has recorded since, `StoreError` where a note is not there; then nothing is kept.
        """
        record = Record(piece_id, expected_seq, tuple(events), place, choices, steps, state)
        with self._database.transaction() as connection:
            seq = journal.apply(connection, self.path, record, float(self.clock()))
            notes.move(connection, self.path, moved)
            return seq

    def replace_plan(
        self,
        piece_id: int,
        expected_seq: int,
        events: Sequence[Event],
        *,
        plan_text: str,
        plan_data: str,
        plan_name: str,
        compiler: int,
        choices: str,
        place: str,
        steps: int,
        title: str | None = None,
        state: State | None = None,
    ) -> int:
        """Take over another plan, or another compiler's work, and record events with it, as one.

        The new number of the piece; raises as `record` does.
        """
        record = Record(piece_id, expected_seq, tuple(events), place, None, steps, state)
        with self._database.transaction() as connection:
            seq = journal.apply(connection, self.path, record, float(self.clock()))
            journal.write_work(connection, piece_id, plan_text, plan_data, plan_name, compiler, choices)
            if title is not None:
                row = journal.summary(connection, self.path, piece_id)
                journal.write(connection, changed(row, title=clean(title, NAME_LIMIT)))
            return seq

    def tail(self, piece_id: int, n: int) -> list[Kept]:
        """The last `n` events, oldest first."""
        with self._database.reading() as connection:
            return journal.tail(connection, self.path, piece_id, n)

    def told(self, piece_id: int) -> list[Kept]:
        """The events that carry data (choices, marks and the like), oldest first."""
        with self._database.reading() as connection:
            return journal.told(connection, self.path, piece_id)

    def seq(self, piece_id: int) -> int:
        """The number of the last event, for a window that watches; cheap."""
        with self._database.reading() as connection:
            return journal.summary(connection, self.path, piece_id).seq

    # ---- notes --------------------------------------------------------------------------------------

    def add_note(self, piece_id: int, position: int, text: str) -> Note:
        """Pin a note to a position. Raises `StoreError` where it says nothing."""
        with self._database.transaction() as connection:
            return notes.add(connection, self.path, piece_id, position, text, float(self.clock()))

    def notes(self, piece_id: int) -> list[Note]:
        """In the order of their positions."""
        with self._database.reading() as connection:
            return notes.every(connection, self.path, piece_id)

    def remove_note(self, note_id: int) -> None:
        """Raises `StoreError` where there is no such note."""
        with self._database.transaction() as connection:
            notes.remove(connection, self.path, note_id)

    # ---- gauges -------------------------------------------------------------------------------------

    def add_measured(self, one: Measured) -> int:
        """Keep what the stitcher measured; its number. Of a piece, a stitch's measurement before is replaced."""
        with self._database.transaction() as connection:
            return gauges.add(connection, one, float(self.clock()))

    def measured(self) -> list[Measured]:
        """All that was measured, the oldest first."""
        with self._database.reading() as connection:
            return gauges.every(connection, self.path)

    def remove_measured(self, number: int) -> None:
        """Raises `StoreError` where there is no such measurement."""
        with self._database.transaction() as connection:
            gauges.remove(connection, number)

    # ---- courses ------------------------------------------------------------------------------------

    def kept_course(self, uid: str) -> bytes | None:
        """What `keep_course` kept last for the piece of this uid; None where there is nothing, or it cannot be read."""
        with suppress(OSError):
            return (self.path.parent / COURSES / uid).read_bytes()
        return None

    def keep_course(self, uid: str, data: bytes) -> None:
        """Keep bytes that can be made again. Nothing is told where that fails, and nothing waits for the disk."""
        folder = self.path.parent / COURSES
        fresh = folder / f".{uid}.{os.urandom(4).hex()}"
        try:
            folder.mkdir(exist_ok=True)
            fresh.write_bytes(data)
            fresh.replace(folder / uid)
        except OSError:
            with suppress(OSError):
                fresh.unlink()

    # ---- keeping it safe ----------------------------------------------------------------------------

    def hold(self, piece_id: int, *, take_over: bool = False) -> FileLock | None:
        """Claim a piece for this window; None where another window has it.

        To take the claim over, the file it lies on is made anew, where the system allows that: then a third window is
        told of this one, and the first one's claim is on a file that nobody looks at any more.
        The claim ends with `release` or with the process. It is a courtesy: to take a piece over from a
        window that has it, record an event (a `mark`), and the other window's next record is a `Conflict`.
        """
        with self._database.reading() as connection:
            uid = journal.summary(connection, self.path, piece_id).uid
        folder = self.path.parent / HELD
        with faults(folder):
            folder.mkdir(exist_ok=True)
            claim = FileLock.take(folder / uid)
            if claim is None and take_over:
                with suppress(OSError):  # Windows keeps a file that is open
                    (folder / uid).unlink()
                claim = FileLock.take(folder / uid)
            return claim

    def copy(self) -> copies.Copy:
        """Copy all pieces now."""
        from stitchalong.store import copies

        return copies.make(self._database, copies.ASKED, self.clock())

    def pack(self, piece_id: int, target: Path, *, overwrite: bool = False) -> None:
        """Write one piece, all of it, into one file."""
        from stitchalong.store.parcel import pack

        pack(self._database, piece_id, target, overwrite=overwrite)

    def unpack(
        self, source: Path, *, as_new: bool = False, check: Callable[[PieceRow], object] | None = None
    ) -> Unpacked:
        """Take in the piece of a file that `pack` made; see `stitchalong.store.unpack`."""
        from stitchalong.store.unpack import unpack

        return unpack(self._database, source, as_new=as_new, check=check)


def _copy(database: Database, now: float) -> None:
    """What is done before a migration."""
    from stitchalong.store.copies import copy_before

    copy_before(database, now)
