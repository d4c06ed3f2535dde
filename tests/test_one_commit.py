"""What a step changes is kept in one commit: a disk that fails at any of them leaves all as it was, or all kept."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from stitchalong.errors import StoreError
from stitchalong.plan.read import read_text
from stitchalong.session import Session
from stitchalong.store import Store
from tests.commits import at_each_commit
from tests.test_accepting import RING, _begin, _side, _to
from tests.test_accepting import store as store
from tests.writing import plan_text

SHORT = plan_text('start = "ring" ;; beads = "9A"')


class Disk:
    """Refuses one commit, counted from 0 since it was told to; None: none."""

    def __init__(self) -> None:
        self.left: int | None = None

    def commit(self) -> None:
        if self.left is None:
            return
        self.left -= 1
        if self.left < 0:
            self.left = None
            raise sqlite3.OperationalError("disk I/O error")


@pytest.fixture
def disk(monkeypatch: pytest.MonkeyPatch) -> Disk:
    made = Disk()
    at_each_commit(monkeypatch, made.commit)
    return made


def _stands(session: Session) -> tuple[object, ...]:
    entries = [(one.position, one.length, one.new) for one in session.thread_entries()]
    notes = [note.position for note in session.notes]
    return session.position, session.redo_to, session.outlook, session.differs, session.choices, notes, entries


@pytest.mark.parametrize("nth", range(4))
@pytest.mark.parametrize("back", [False, True], ids=["accepting", "taking it back"])
def test_what_is_accepted_moves_notes_and_thread_with_it_or_not_at_all(
    store: Store, disk: Disk, nth: int, back: bool
) -> None:
    session = _begin(store)
    _to(session, "round 3, top edge", 12)
    session.go_to(session.position - 1)
    session.pin_note("teal from here")
    session.new_thread(2000.0)
    session.press(1)
    if back:
        session.accept(session.recount(_side(session), 5))
    before = _stands(session)
    disk.left = nth
    try:
        if back:
            session.undo()
        else:
            session.accept(session.recount(_side(session), 5))
        after = _stands(session)
        assert after != before
        assert nth > 0, "the disk refused"
    except StoreError:
        after = before
    disk.left = None
    assert _stands(session) == after
    assert _stands(Session.resume(store, session.piece.id)) == after


@pytest.mark.parametrize("nth", range(3))
@pytest.mark.parametrize("back", [False, True], ids=["the last bead", "taking it back"])
def test_the_last_bead_and_that_it_is_the_last_are_kept_as_one(store: Store, disk: Disk, nth: int, back: bool) -> None:
    session = _begin(store, SHORT)
    session.press(session.course.steps - (not back))
    at, was = session.position, store.piece(session.piece.id).state
    disk.left = nth
    try:
        told = session.undo() if back else session.press()
        assert told.outlook.done is not back
        wanted = (at + (-1 if back else 1), "going" if back else "finished")
    except StoreError:
        assert nth == 0
        wanted = (at, was)
    disk.left = None
    row = store.piece(session.piece.id)
    assert (session.position, row.position) == (wanted[0], wanted[0])
    assert row.state == wanted[1]


@pytest.mark.parametrize("nth", range(3))
def test_a_longer_plan_and_that_the_piece_is_going_again_are_kept_as_one(store: Store, disk: Disk, nth: int) -> None:
    short, longer = (RING.replace("height = 6", f"height = {height}") for height in (2, 3))
    short, longer = (text.rsplit("[[work]]", 1)[0] for text in (short, longer))
    session = _begin(store, short)
    session.press(session.course.steps)
    assert session.outlook.done
    disk.left = nth
    try:
        session.take_over_plan(read_text(longer, "ring.toml"), "ring")
        wanted = "going"
    except StoreError:
        assert nth == 0
        wanted = "finished"
    disk.left = None
    assert store.piece(session.piece.id).state == wanted
    assert session.outlook.done is (wanted == "finished")


def test_a_note_that_is_gone_keeps_nothing_of_the_record(store: Store, tmp_path: Path) -> None:
    session = _begin(store)
    session.press(3)
    row = store.piece(session.piece.id)
    with pytest.raises(StoreError, match="no note"):
        store.record(row.id, row.seq, [], place="{}", steps=1, state="finished", moved=[(999, 1)])
    assert store.piece(row.id) == row
