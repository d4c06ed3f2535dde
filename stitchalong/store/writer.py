"""One thread that keeps records, several in one commit where they come faster than the disk.

A front end puts a record and goes on; it learns of it when it is on the disk. The order is kept. After a
record of a piece failed, the later ones of that piece fail with the same error, because they were made on top
of it, until `resume` says that the front end has begun again from what is kept.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from queue import Empty, SimpleQueue
from sqlite3 import Connection
from threading import Event as Flag
from threading import Lock, Thread

from stitchalong.errors import StoreError
from stitchalong.store import journal
from stitchalong.store.copies import copy_before
from stitchalong.store.database import Database
from stitchalong.store.folder import ready
from stitchalong.store.rows import Record

BATCH = 1000
"""records of one commit at most"""


class Ticket:
    """A record on its way to the disk."""

    __slots__ = ("_settled", "at", "error", "record", "seq")

    def __init__(self, record: Record, at: float) -> None:
        self.record = record
        self.at = at
        """when it was put; the time of its events"""
        self.seq: int | None = None
        """the piece's new number, once it is kept"""
        self.error: Exception | None = None
        """a `StoreError` (a `Conflict` among them), once it is known that it is not kept"""
        self._settled = Flag()

    @property
    def settled(self) -> bool:
        """Kept, or failed."""
        return self._settled.is_set()

    def settle(self, timeout: float) -> bool:
        """Wait so many seconds at most until it is kept or failed; whether it is."""
        return self._settled.wait(timeout)

    def wait(self, timeout: float | None = None) -> int:
        """The piece's new number, when it is kept. Raises what befell it, or TimeoutError."""
        if not self._settled.wait(timeout):
            raise TimeoutError("not kept yet")
        if self.error is not None:
            raise self.error
        assert self.seq is not None
        return self.seq


class Writer:
    """Puts records of any pieces through a connection of its own. Any thread may call it."""

    def __init__(self, folder: Path, *, clock: Callable[[], float], told: Callable[[Sequence[Ticket]], None]) -> None:
        """`told` is called in the writer's thread after each commit, with all its tickets, in order.

        Raises `StoreError` where the pieces cannot be opened.
        """
        ready(folder)
        self._database = Database.open(
            folder, clock=clock, before=lambda old: copy_before(old, clock()), any_thread=True
        )
        self._clock = clock
        self._told = told
        self._queue: SimpleQueue[Ticket | Flag | int | None] = SimpleQueue()
        self._failed: dict[int, Exception] = {}
        self._closed = False
        self._door = Lock()
        self._thread = Thread(target=self._run, name="stitchalong-writer", daemon=True)
        self._thread.start()

    def put(self, record: Record) -> Ticket:
        """Never waits for the disk."""
        ticket = Ticket(record, float(self._clock()))
        with self._door:
            if self._closed:
                raise RuntimeError("the writer is closed")
            self._queue.put(ticket)
        return ticket

    def resume(self, piece_id: int) -> None:
        """Records of this piece that are put from now on stand on what is kept."""
        self._queue.put(piece_id)

    def flush(self, timeout: float | None = None) -> bool:
        """Wait until all that was put is settled; False where that takes longer than `timeout` seconds."""
        reached = Flag()
        with self._door:
            if not self._closed:
                self._queue.put(reached)
        if self._closed:
            self._thread.join(timeout)
            return not self._thread.is_alive()
        return reached.wait(timeout)

    def close(self) -> None:
        """Settle all that was put, then end. A second time does nothing."""
        with self._door:
            if not self._closed:
                self._closed = True
                self._queue.put(None)
        self._thread.join()

    def _run(self) -> None:
        going = True
        while going:
            batch: list[Ticket] = []
            marks: list[Flag] = []
            item = self._queue.get()
            try:
                while True:
                    if item is None:
                        going = False
                        break
                    if isinstance(item, Ticket):
                        batch.append(item)
                    elif isinstance(item, Flag):
                        marks.append(item)
                    else:
                        self._settle(batch)
                        batch = []
                        self._failed.pop(item, None)
                    if len(batch) >= BATCH:
                        break
                    item = self._queue.get_nowait()
            except Empty:
                pass
            self._settle(batch)
            for mark in marks:
                mark.set()
        self._database.close()

    def _settle(self, batch: list[Ticket]) -> None:
        if not batch:
            return
        outcomes: list[int | Exception] = []
        try:
            with self._database.transaction() as connection:
                for group in _groups(batch):
                    outcomes += self._apply(connection, group)
        except Exception as error:
            outcomes = [self._failed.get(ticket.record.piece_id, error) for ticket in batch]
        for ticket, outcome in zip(batch, outcomes, strict=True):
            if isinstance(outcome, int):
                ticket.seq = outcome
            else:
                ticket.error = outcome
                self._failed.setdefault(ticket.record.piece_id, outcome)
            ticket._settled.set()
        try:
            self._told(batch)
        except Exception:
            import logging

            logging.getLogger(__name__).exception("a listener of the writer failed")

    def _apply(self, connection: Connection, group: Sequence[Ticket]) -> list[int] | list[Exception]:
        """What becomes of each ticket of a group, which stands or falls together."""
        piece_id = group[0].record.piece_id
        if piece_id not in self._failed:
            try:
                timed = [(ticket.record, ticket.at) for ticket in group]
                journal.apply_all(connection, self._database.path, timed)
                return [ticket.record.expected_seq + len(ticket.record.events) for ticket in group]
            except StoreError as error:  # raised before anything was written
                self._failed[piece_id] = error
        return [self._failed[piece_id]] * len(group)


def _groups(batch: Sequence[Ticket]) -> Iterator[list[Ticket]]:
    """Neighbours that can be kept in one go: plain moves of one piece, each on top of the one before."""
    group: list[Ticket] = []
    for ticket in batch:
        record = ticket.record
        if group:
            last = group[-1].record
            follows = (record.piece_id, record.expected_seq) == (last.piece_id, last.expected_seq + len(last.events))
            if not follows or record.choices is not None or last.choices is not None:
                yield group
                group = []
        group.append(ticket)
    if group:
        yield group
