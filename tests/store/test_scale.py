"""Going on costs the same however much was pressed: counted in SQLite's own steps, not in seconds."""

from __future__ import annotations

import pytest

from stitchalong.store import Store, journal
from stitchalong.store.journal import Kept
from tests.store.stitcher import event

FEW, MANY = 100, 20_000


@pytest.fixture
def counted(store, begin):
    """Two pieces, one with few events and one with many, and a counter of what a call costs."""
    pieces = {}
    for count in (FEW, MANY):
        piece = begin(store)
        with store._database.transaction() as connection:
            state = journal.summary(connection, store.path, piece.id)
            journal.write_events(connection, piece.id, (Kept(n, 1e9, event(n)) for n in range(1, count + 1)))
            last = event(count)
            values = (last.position, last.redo_to, count)
            connection.execute("UPDATE piece SET position = ?, redo_to = ?, seq = ? WHERE id = ?", (*values, piece.id))
            row = connection.execute(
                f"SELECT {', '.join(name for name in journal._FIELDS)} FROM piece WHERE id = ?", (piece.id,)
            ).fetchone()
            connection.execute("UPDATE piece SET seal = ? WHERE id = ?", (journal.seal(*row), piece.id))
            assert state.seq == 0
        pieces[count] = piece.id
    connection = store._database._connection

    def cost(call) -> int:
        ticks = 0

        def tick() -> int:
            nonlocal ticks
            ticks += 1
            return 0

        connection.set_progress_handler(tick, 1)
        try:
            call()
        finally:
            connection.set_progress_handler(None, 0)
        return ticks

    return pieces, cost


@pytest.mark.parametrize(
    "call",
    [
        lambda store, piece_id: store.piece(piece_id),
        lambda store, piece_id: store.tail(piece_id, 20),
        lambda store, piece_id: store.told(piece_id),
        lambda store, piece_id: store.notes(piece_id),
        lambda store, piece_id: store.find(str(piece_id)),
        lambda store, piece_id: store.record(piece_id, store.seq(piece_id), [event(1)], place="{}"),
    ],
    ids=["piece", "tail", "told", "notes", "find", "record"],
)
def test_a_long_journal_costs_no_more_than_a_short_one(store, counted, call):
    pieces, cost = counted
    few = cost(lambda: call(store, pieces[FEW]))
    many = cost(lambda: call(store, pieces[MANY]))
    assert 0 < many <= few + 5, "steps of SQLite's machine"


def test_the_counter_sees_a_walk_through_the_journal(store, counted):
    pieces, cost = counted
    walk = cost(lambda: store.tail(pieces[MANY], MANY))
    assert walk > MANY


def test_a_press_does_not_write_the_plan_anew(folder, begin, clock, press):
    """A plan of a megabyte, and a log that grows by a few pages a press."""
    store = Store.open(folder, clock=clock)
    piece = begin(store, plan_text="#" * 2**20)
    log = folder / "pieces.db-wal"
    store._database.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    for number in range(10):
        store.record(piece.id, number, [press(number + 1)], place="{}")
    assert 0 < log.stat().st_size < 10 * 5 * 4200
    store.close()
