"""The writer: order, groups, what is told when, and what befalls records that stand on a failed one."""

from __future__ import annotations

import sqlite3
import threading
from contextlib import closing

import pytest

from stitchalong.errors import StoreError
from stitchalong.store import Conflict, Event, Record, Store
from stitchalong.store.writer import BATCH, Ticket, Writer


class Listener:
    """Notes what the writer told; can hold the writer at its next word, like a slow disk."""

    def __init__(self) -> None:
        self.batches: list[list[Ticket]] = []
        self.gate = threading.Event()
        self.gate.set()
        self.reached = threading.Event()

    def __call__(self, tickets) -> None:
        self.batches.append(list(tickets))
        self.reached.set()
        assert self.gate.wait(20)

    def hold(self, writer: Writer, record: Record) -> None:
        """Put a record and return when the writer is held after it."""
        self.gate.clear()
        self.reached.clear()
        writer.put(record)
        assert self.reached.wait(20)


@pytest.fixture
def listener() -> Listener:
    return Listener()


@pytest.fixture
def writer(store, folder, clock, listener):
    made = Writer(folder, clock=clock, told=listener)
    yield made
    listener.gate.set()
    made.close()


@pytest.fixture
def piece(store, begin):
    return begin(store)


def record(piece_id: int, number: int, **more) -> Record:
    """The record of press `number`, which stands on the one before."""
    return Record(piece_id, number - 1, (Event("press", 1, number, number),), f'{{"stitch": {number}}}', **more)


def test_a_record_is_kept_and_told(store, piece, writer, listener, clock):
    clock.now += 3
    ticket = writer.put(record(piece.id, 1, choices="[1]", steps=700))
    clock.now += 60
    assert ticket.wait(20) == 1
    assert (ticket.settled, ticket.error) == (True, None)
    after = store.piece(piece.id)
    assert (after.position, after.place, after.choices, after.steps) == (1, '{"stitch": 1}', "[1]", 700)
    assert after.touched == clock.now - 60, "the time of the press, not of the disk"
    assert writer.flush(20)
    assert listener.batches == [[ticket]]


def test_what_comes_while_the_disk_is_busy_shares_one_commit_in_order(store, piece, writer, listener):
    log = store.path.with_name("pieces.db-wal")
    listener.hold(writer, record(piece.id, 1))
    before = log.stat().st_size
    tickets = [writer.put(record(piece.id, number)) for number in range(2, 502)]
    assert not any(ticket.settled for ticket in tickets)
    listener.gate.set()
    assert writer.flush(20)
    assert listener.batches[1:] == [tickets]
    assert [ticket.wait(0) for ticket in tickets] == list(range(2, 502))
    assert [kept.seq for kept in store.tail(piece.id, 600)] == list(range(1, 502))
    assert log.stat().st_size - before < 50 * 4120, "a commit of few pages, not 500 commits"


def test_one_commit_has_a_limit(store, piece, writer, listener):
    listener.hold(writer, record(piece.id, 1))
    for number in range(2, BATCH + 12):
        writer.put(record(piece.id, number))
    listener.gate.set()
    assert writer.flush(20)
    assert [len(batch) for batch in listener.batches] == [1, BATCH, 10]
    assert store.seq(piece.id) == BATCH + 11


def test_putting_never_waits_for_a_locked_disk(store, piece, writer, folder):
    with closing(sqlite3.connect(folder / "pieces.db", isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        ticket = writer.put(record(piece.id, 1))
        assert not ticket.settled
        with pytest.raises(TimeoutError):
            ticket.wait(0.01)
        assert not writer.flush(0.01)
        other.execute("ROLLBACK")
    assert ticket.wait(20) == 1


def test_another_window_is_told_and_nothing_after_it_slips_in(store, piece, writer, listener, press, begin):
    """The second press here would fit the other window's first by its number alone; it must not be kept."""
    free = begin(store)
    listener.hold(writer, record(free.id, 1))
    first, second, third = (writer.put(record(piece.id, number)) for number in (1, 2, 3))
    other = writer.put(record(free.id, 2))
    store.record(piece.id, 0, [press(1)], place='{"by": "the other window"}')
    listener.gate.set()
    assert writer.flush(20)
    assert isinstance(first.error, Conflict)
    assert (first.error.expected, first.error.found) == (0, 1)
    assert first.error is second.error is third.error
    assert (first.seq, other.wait(0)) == (None, 2), "the other piece is free"
    assert store.seq(piece.id) == 1
    late = writer.put(record(piece.id, 2))
    with pytest.raises(Conflict):
        late.wait(20)
    writer.resume(piece.id)
    assert writer.put(record(piece.id, 2)).wait(20) == 2
    assert len(store.tail(piece.id, 9)) == 2


def test_resume_counts_from_where_it_was_said(store, piece, writer, listener, begin):
    """Records put before it fail, although they are still in the queue when it is said."""
    free = begin(store)
    listener.hold(writer, record(free.id, 1))
    wrong = writer.put(record(piece.id, 7))
    stale = writer.put(record(piece.id, 1))
    writer.resume(piece.id)
    right = writer.put(record(piece.id, 1))
    listener.gate.set()
    assert writer.flush(20)
    assert isinstance(wrong.error, Conflict)
    assert stale.error is wrong.error
    assert right.wait(0) == 1
    assert len(store.tail(piece.id, 9)) == 1


def test_a_disk_that_fails_loses_nothing_that_was_told(store, piece, writer, begin):
    free = begin(store)
    assert writer.put(record(piece.id, 1)).wait(20) == 1
    [(pages,)] = writer._database.rows("PRAGMA page_count")
    writer._database.execute(f"PRAGMA max_page_count = {pages}")
    big = Record(piece.id, 1, (Event("mark", 0, 1, 1, "x" * 100_000),), "{}")
    tickets = [writer.put(big), writer.put(record(piece.id, 3))]
    assert writer.flush(20)
    for ticket in tickets:
        with pytest.raises(StoreError, match="disk is full"):
            ticket.wait(0)
    assert store.seq(piece.id) == 1
    writer._database.execute("PRAGMA max_page_count = 100000")
    writer.resume(piece.id)
    assert writer.put(record(piece.id, 2)).wait(20) == 2
    writer.resume(free.id)
    assert writer.put(record(free.id, 1)).wait(20) == 1


def test_a_piece_that_was_removed_is_told(store, piece, writer):
    store.remove(piece.id)
    with pytest.raises(StoreError, match="there is no piece"):
        writer.put(record(piece.id, 1)).wait(20)


def test_a_listener_that_fails_does_not_stop_the_writer(store, piece, folder, clock, caplog):
    def told(tickets):
        raise RuntimeError("the screen is gone")

    writer = Writer(folder, clock=clock, told=told)
    assert writer.put(record(piece.id, 1)).wait(20) == 1
    assert writer.put(record(piece.id, 2)).wait(20) == 2
    writer.close()
    assert "listener" in caplog.text


def test_a_fault_of_the_program_is_delivered_too(store, piece, writer):
    huge = Record(piece.id, 0, (Event("press", 1, 2**70, 2**70),), "{}")
    with pytest.raises(OverflowError):
        writer.put(huge).wait(20)
    writer.resume(piece.id)
    assert writer.put(record(piece.id, 1)).wait(20) == 1


def test_closing_settles_all_that_was_put_and_takes_no_more(store, piece, folder, clock, listener):
    writer = Writer(folder, clock=clock, told=listener)
    tickets = [writer.put(record(piece.id, number)) for number in range(1, 301)]
    writer.close()
    writer.close()
    assert [ticket.wait(0) for ticket in tickets] == list(range(1, 301))
    assert sum(map(len, listener.batches)) == 300
    assert writer.flush(1)
    with pytest.raises(RuntimeError, match="closed"):
        writer.put(record(piece.id, 301))


def test_many_threads_may_put(store, begin, writer):
    pieces = [begin(store) for _ in range(4)]

    def stitch(piece_id: int) -> None:
        for number in range(1, 201):
            writer.put(record(piece_id, number))

    threads = [threading.Thread(target=stitch, args=(piece.id,)) for piece in pieces]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(20)
    assert writer.flush(20)
    for piece in pieces:
        assert [kept.event.position for kept in store.tail(piece.id, 999)] == list(range(1, 201))


def test_where_the_pieces_cannot_be_opened_it_is_told_at_once(folder, clock, listener):
    folder.mkdir()
    (folder / "pieces.db").write_text("Dear diary")
    with pytest.raises(StoreError):
        Writer(folder, clock=clock, told=listener)


def test_reading_and_writing_by_the_side_of_a_store(store, piece, writer, press):
    """The store of the same window goes on reading, and may record where the writer has nothing left."""
    assert writer.put(record(piece.id, 1)).wait(20) == 1
    assert store.record(piece.id, 1, [press(2)], place="{}") == 2
    assert writer.put(record(piece.id, 3)).wait(20) == 3
    assert store.seq(piece.id) == 3
    assert isinstance(store, Store)
