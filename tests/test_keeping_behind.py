"""A disk that is slow or full: presses go behind, what is not kept is known, and nothing is lost or made up."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from stitchalong.errors import StoreError
from stitchalong.session import Session
from stitchalong.session import behind as behind_module
from stitchalong.store import Conflict, Store
from tests.commits import at_each_commit
from tests.test_session import RING, _begin


class Disk:
    """Commits of the writer's thread wait while it is stopped, or fail with `fault`."""

    def __init__(self) -> None:
        self.going = threading.Event()
        self.going.set()
        self.commits = 0
        self.fault: Exception | None = None
        self.settled = threading.Event()

    def told(self) -> None:
        self.settled.set()

    def commit(self) -> None:
        if threading.current_thread().name != "stitchalong-writer":
            return
        assert self.going.wait(20)
        if self.fault is not None:
            raise self.fault
        self.commits += 1


@pytest.fixture
def disk(monkeypatch: pytest.MonkeyPatch) -> Disk:
    made = Disk()
    at_each_commit(monkeypatch, made.commit)
    return made


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    ticks = iter(range(1, 10**9))
    opened = Store.open(tmp_path, clock=lambda: float(next(ticks)))
    yield opened
    opened.close()


@pytest.fixture
def session(store: Store, disk: Disk) -> Iterator[Session]:
    begun = _begin(store, RING)
    behind = begun.keep_behind(disk.told)
    assert behind is not None
    yield begun
    disk.going.set()
    behind.close()


def kept(store: Store, session: Session) -> list[int]:
    """The positions that the store has, in order."""
    return [one.event.position for one in store.tail(session.piece.id, 10_000)]


def wait(disk: Disk, session: Session) -> Exception | None:
    """Until all is settled."""
    assert session._behind is not None
    session._behind.flush()
    return session.settle()


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Any disk is quick enough to be waited for, and no hand too fast."""
    monkeypatch.setattr(behind_module, "AT_ONCE", 20.0)
    monkeypatch.setattr(behind_module, "HURRIED", 0.0)


@pytest.mark.usefixtures("quick")
def test_a_quick_disk_is_waited_for(session: Session, store: Store, disk: Disk) -> None:
    for number in range(1, 30):
        session.press()
        assert not session.unkept
        assert kept(store, session) == list(range(1, number + 1))


def test_on_a_slow_disk_the_hands_go_on_and_few_commits_keep_all(session: Session, store: Store, disk: Disk) -> None:
    disk.going.clear()
    for _ in range(60):
        session.press()
    assert (session.position, session.unkept, kept(store, session)) == (60, True, [])
    disk.going.set()
    assert wait(disk, session) is None
    assert not session.unkept
    assert kept(store, session) == list(range(1, 61))
    assert disk.commits <= 2


def test_undo_and_redo_go_behind_too(session: Session, store: Store, disk: Disk) -> None:
    disk.going.clear()
    session.press(5)
    session.undo()
    session.redo()
    session.go_to(2)
    assert kept(store, session) == []
    disk.going.set()
    assert wait(disk, session) is None
    assert kept(store, session) == [5, 4, 5, 2]
    again = Session.resume(store, session.piece.id)
    assert (again.position, again.redo_to, again.outlook) == (session.position, session.redo_to, session.outlook)


def test_what_the_disk_refuses_is_taken_back_and_the_next_press_counts(
    session: Session, store: Store, disk: Disk
) -> None:
    session.press(3)
    assert wait(disk, session) is None
    shown = session.outlook
    disk.going.clear()
    for _ in range(4):
        session.press()
    disk.fault = sqlite3.OperationalError("disk I/O error")
    disk.going.set()
    fault = wait(disk, session)
    assert isinstance(fault, StoreError)
    assert (session.outlook, session.position, session.unkept) == (shown, 3, False)
    disk.fault = None
    session.press()
    assert wait(disk, session) is None
    assert kept(store, session) == [3, 4]


@pytest.mark.usefixtures("quick")
def test_a_fault_that_is_known_at_once_is_raised_at_once(session: Session, store: Store, disk: Disk) -> None:
    session.press()
    Session.resume(store, session.piece.id).press()
    with pytest.raises(Conflict):
        session.press()
    assert (session.position, session.unkept) == (1, False)
    assert session.anew().position == 2


def test_a_choice_waits_until_all_before_it_is_kept(session: Session, store: Store, disk: Disk) -> None:
    decision = session.course.decisions[0].step
    session.go_to(decision - 4)
    for _ in range(4):
        session.press()
    session.choose(True)
    assert not session.unkept
    again = Session.resume(store, session.piece.id)
    assert (again.choices, again.position) == (session.choices, session.position)


def test_a_choice_on_what_was_not_kept_is_refused(session: Session, store: Store, disk: Disk) -> None:
    session.go_to(session.course.decisions[0].step - 1)
    assert wait(disk, session) is None
    before = session.position
    disk.going.clear()
    session.press()
    disk.fault = sqlite3.OperationalError("disk I/O error")
    disk.going.set()
    with pytest.raises(StoreError):
        session.choose(True)
    assert (session.position, session.choices) == (before, ())


@pytest.mark.parametrize(
    "asked",
    [
        lambda session: session.pin_note("teal from here"),
        lambda session: session.new_thread(2000.0),
        lambda session: session.thread_entries(),
        lambda session: session.burst(),
        lambda session: session.newest(),
        lambda session: session.anew(),
        lambda session: session.taken_back(),
        lambda session: session.followed(),
        lambda session: session.time_told(),
    ],
    ids=["note", "new thread", "thread", "burst", "newest", "anew", "taken back", "followed", "time"],
)
def test_nothing_is_read_or_pinned_to_beads_that_were_not_kept(
    session: Session, store: Store, disk: Disk, asked: Callable[[Session], object]
) -> None:
    session.press(3)
    assert wait(disk, session) is None
    disk.going.clear()
    for _ in range(4):
        session.press()
    disk.fault = sqlite3.OperationalError("disk I/O error")
    disk.going.set()
    with pytest.raises(StoreError, match="disk"):
        asked(session)
    assert (session.position, session.unkept) == (3, False)
    assert "disk" in str(session.settle()), "whoever tells of presses learns of it too"
    assert session.settle() is None
    assert (store.notes(session.piece.id), store.told(session.piece.id), kept(store, session)) == ([], [], [3])


def test_the_end_is_told_when_all_is_kept(session: Session, store: Store, disk: Disk) -> None:
    session.go_to(session.course.decisions[0].step)
    session.choose(False)
    session.go_to(session.course.steps - 1)
    assert session.press().outlook.done
    assert not session.unkept
    assert store.piece(session.piece.id).state == "finished"


def test_closing_keeps_what_is_on_its_way(store: Store, disk: Disk) -> None:
    session = _begin(store, RING)
    behind = session.keep_behind(disk.told)
    assert behind is not None
    disk.going.clear()
    for _ in range(9):
        session.press()
    closing = threading.Thread(target=behind.close)
    closing.start()
    assert kept(store, session) == []
    disk.going.set()
    closing.join(20)
    assert not closing.is_alive()
    assert session.settle() is None
    assert kept(store, session) == list(range(1, 10))
    assert session.newest() is session
