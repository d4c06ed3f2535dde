"""The store: pieces, their presses, choices and notes, in one file of the user's data folder."""

from __future__ import annotations

import re
import secrets
import unicodedata
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from pathlib import Path

from stitchalong.errors import StoreError
from stitchalong.store import journal
from stitchalong.store.database import Database
from stitchalong.store.folder import ready
from stitchalong.store.journal import Kept
from stitchalong.store.rows import Event, Note, PieceRow, PieceSummary, Record, State, clean, name_key

NAME_LIMIT = 80
NOTE_LIMIT = 2000
_LIST_FIX = "`stitchalong pieces` lists what there is"


class Store:
    """One window's way to the pieces; used by one thread. Every fault is a `StoreError` of one line."""

    def __init__(self, database: Database, clock: Callable[[], float]) -> None:
        self._database = database
        self._clock = clock

    @classmethod
    def open(cls, folder: Path, *, clock: Callable[[], float]) -> Store:
        """The store in `folder`, which is made where it is missing. `clock` gives epoch seconds, UTC."""
        ready(folder)
        return cls(Database.open(folder, clock=clock, before=lambda database: None), clock)

    @property
    def path(self) -> Path:
        """The database file."""
        return self._database.path

    def close(self) -> None:
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
        now = float(self._clock())
        with self._database.transaction() as connection:
            taken = self._names()
            state = PieceSummary(
                id=0,
                uid=secrets.token_hex(16),
                name=_new_name(title, taken) if name is None else _good_name(name, taken),
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
            )
            piece_id = journal.write(connection, state)
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

    def find(self, word: str) -> PieceRow:
        """A piece by its number, its name, or the beginning of its name, put away or not.

        Raises `StoreError` that names what is like it, or all that the beginning fits.
        """
        every = self.pieces(include_away=True)
        key = name_key(clean(word, NAME_LIMIT))
        if key.isdecimal() and key.isascii():
            fits = [piece for piece in every if piece.id == int(key)]
        else:
            fits = [piece for piece in every if name_key(piece.name) == key]
            fits = fits or [piece for piece in every if key and name_key(piece.name).startswith(key)]
        if len(fits) == 1:
            return self.piece(fits[0].id)
        asked = clean(word, NAME_LIMIT)
        if fits:
            listed = ", ".join(f"{piece.id} {piece.name}" for piece in fits)
            raise StoreError(f"“{asked}” fits several pieces: {listed}", fix="give the number of one")
        raise StoreError(f"there is no piece “{asked}”", fix=_like(asked, every))

    def rename(self, piece_id: int, name: str) -> None:
        with self._database.transaction() as connection:
            state = journal.summary(connection, self.path, piece_id)
            taken = self._names() - {name_key(state.name)}
            journal.write(connection, replace(state, name=_good_name(name, taken)))

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
            journal.summary(connection, self.path, piece_id)
            connection.execute("DELETE FROM piece WHERE id = ?", (piece_id,))

    def _set_state(self, piece_id: int, state: State) -> None:
        with self._database.transaction() as connection:
            journal.write(connection, replace(journal.summary(connection, self.path, piece_id), state=state))

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
    ) -> int:
        """Keep events and the state after them, in one transaction, durable when this returns.

        The new number of the piece: `expected_seq` and one more for each event. Raises `Conflict` where
        another window has recorded since; then nothing is kept.
        """
        record = Record(piece_id, expected_seq, tuple(events), place, choices, steps)
        with self._database.transaction() as connection:
            return journal.apply(connection, self.path, record, float(self._clock()))

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
    ) -> int:
        """Take over another plan, or another compiler's work, and record events with it, as one.

        The new number of the piece; raises as `record` does.
        """
        record = Record(piece_id, expected_seq, tuple(events), place, None, steps)
        with self._database.transaction() as connection:
            seq = journal.apply(connection, self.path, record, float(self._clock()))
            journal.write_work(connection, piece_id, plan_text, plan_data, plan_name, compiler, choices)
            if title is not None:
                state = journal.summary(connection, self.path, piece_id)
                journal.write(connection, replace(state, title=clean(title, NAME_LIMIT)))
            return seq

    def tail(self, piece_id: int, n: int) -> list[Kept]:
        """The last `n` events, oldest first."""
        rest = "ORDER BY seq DESC LIMIT ?"
        with self._database.reading() as connection:
            return list(journal.events(connection, self.path, piece_id, rest, (n,)))[::-1]

    def told(self, piece_id: int) -> list[Kept]:
        """The events that carry data (choices, marks and the like), oldest first."""
        rest = "AND data <> '' ORDER BY seq"
        with self._database.reading() as connection:
            return list(journal.events(connection, self.path, piece_id, rest))

    def seq(self, piece_id: int) -> int:
        """The number of the last event, for a window that watches; cheap."""
        with self._database.reading() as connection:
            return journal.summary(connection, self.path, piece_id).seq

    # ---- notes --------------------------------------------------------------------------------------

    def add_note(self, piece_id: int, position: int, text: str) -> Note:
        """Pin a note to a position. Raises `StoreError` where it says nothing."""
        words = clean(text, NOTE_LIMIT)
        if not words:
            raise StoreError("the note says nothing", fix="write what to remember here")
        now = float(self._clock())
        with self._database.transaction() as connection:
            journal.summary(connection, self.path, piece_id)
            added = connection.execute(
                "INSERT INTO note (piece, position, text, at) VALUES (?, ?, ?, ?)",
                (piece_id, position, words, now),
            )
            return Note(int(added.lastrowid or 0), position, words, now)

    def notes(self, piece_id: int) -> list[Note]:
        """In the order of their positions."""
        found = self._database.rows(
            "SELECT id, position, text, at FROM note WHERE piece = ? ORDER BY position, id", (piece_id,)
        )
        return [Note(*row) for row in found]

    def remove_note(self, note_id: int) -> None:
        """Raises `StoreError` where there is no such note."""
        with self._database.transaction() as connection:
            if connection.execute("DELETE FROM note WHERE id = ?", (note_id,)).rowcount == 0:
                raise StoreError(f"there is no note {note_id}", fix="it was removed before")


def _like(word: str, pieces: Iterable[PieceSummary]) -> str:
    from difflib import get_close_matches

    names = {name_key(piece.name): piece.name for piece in pieces}
    close = get_close_matches(name_key(word), list(names), n=1)
    return f"did you mean “{names[close[0]]}”?" if close else _LIST_FIX


def _good_name(name: str, taken: set[str]) -> str:
    words = clean(name, NAME_LIMIT)
    if not any(char.isalpha() for char in words):
        raise StoreError(
            "a piece's name needs a letter", fix="a number alone would be read as a piece's number"
        )
    if name_key(words) in taken:
        raise StoreError(f"there is a piece “{words}” already", fix="choose another name")
    return words


def _new_name(title: str, taken: set[str]) -> str:
    """Of the title's words: `Gorse ring` becomes `gorse-ring`, then `gorse-ring-2`."""
    words = re.findall(r"\w+", unicodedata.normalize("NFC", clean(title, NAME_LIMIT - 8)).casefold())
    stem = "-".join(words)
    if not any(char.isalpha() for char in stem):
        stem = f"piece-{stem}" if stem else "piece"
    name, number = stem, 1
    while name_key(name) in taken:
        number += 1
        name = f"{stem}-{number}"
    return name
