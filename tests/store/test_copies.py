"""Copies: made by themselves, few, whole, and brought back with what was there set aside."""

from __future__ import annotations

import os
import shutil
import sqlite3
from contextlib import closing

import pytest

from stitchalong.errors import StoreError
from stitchalong.store import Store
from stitchalong.store.copies import KEPT_OF_EACH, copies, restore
from stitchalong.store.writer import Writer

DAY = 86_400


def evening(folder, clock, press, presses: int = 3) -> None:
    """Open, go on with the first piece, close."""
    store = Store.open(folder, clock=clock)
    piece = store.pieces()[0]
    for number in range(piece.seq, piece.seq + presses):
        clock.now += 5
        store.record(piece.id, number, [press(number + 1)], place="{}")
    store.close()


@pytest.fixture
def begun(folder, begin, clock):
    store = Store.open(folder, clock=clock)
    begin(store)
    store.close()
    return folder


def test_a_copy_is_made_once_a_day_when_there_is_something_new(begun, clock, press):
    assert [copy.why for copy in copies(begun)] == ["daily"]
    evening(begun, clock, press)
    assert len(copies(begun)) == 1, "the same evening"
    clock.now += DAY
    Store.open(begun, clock=clock).close()
    newest = copies(begun)[0]
    assert newest.at == int(clock.now), "the events since the last copy"
    clock.now += DAY
    Store.open(begun, clock=clock).close()
    assert copies(begun)[0] == newest, "nothing new"
    clock.now += DAY
    evening(begun, clock, press)
    assert copies(begun)[0].at == int(clock.now)


def test_a_note_is_something_new(begun, clock):
    clock.now += DAY
    store = Store.open(begun, clock=clock)
    store.add_note(1, 5, "new thread")
    store.close()
    assert len(copies(begun)) == 2


def test_few_copies_of_each_sort_are_kept(begun, clock, press):
    for _ in range(6):
        clock.now += DAY
        evening(begun, clock, press)
    store = Store.open(begun, clock=clock)
    asked = [store.copy() for _ in range(5)]
    store.close()
    found = copies(begun)
    assert [copy.why for copy in found] == ["asked"] * KEPT_OF_EACH + ["daily"] * KEPT_OF_EACH
    assert found[:KEPT_OF_EACH] == asked[: -KEPT_OF_EACH - 1 : -1], "the newest, in their order"
    assert sorted(begun.joinpath("copies").iterdir()) == sorted(copy.path for copy in found)


def test_a_copy_is_a_whole_database_at_that_moment(begun, clock, press):
    store = Store.open(begun, clock=clock)
    store.record(1, 0, [press(1)], place="{}")
    copy = store.copy()
    store.record(1, 1, [press(2)], place="{}")
    store.close()
    with closing(sqlite3.connect(copy.path)) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert connection.execute("SELECT seq FROM piece").fetchone() == (1,)
        assert connection.execute("SELECT count(*) FROM press").fetchone() == (1,)
    assert copy.size == copy.path.stat().st_size


def damage(folder) -> bytes:
    """Overwrite the page that holds the table of events; what the file is then."""
    file = folder / "pieces.db"
    with closing(sqlite3.connect(file)) as connection:
        page = connection.execute("SELECT rootpage FROM sqlite_schema WHERE name = 'press'").fetchone()[0]
    content = bytearray(file.read_bytes())
    content[(page - 1) * 4096 : page * 4096] = b"\x5a" * 4096
    file.write_bytes(content)
    return bytes(content)


def test_a_damaged_database_does_not_push_good_copies_out(begun, clock, press):
    evening(begun, clock, press)
    good = copies(begun)
    content = damage(begun)
    clock.now += 5 * DAY
    store = Store.open(begun, clock=clock)
    with pytest.raises(StoreError, match="damaged"):
        store.copy()
    store.close()
    assert copies(begun) == good
    assert (begun / "pieces.db").read_bytes() == content


def test_a_copy_is_brought_back_and_the_old_file_set_aside_whole(begun, clock, press):
    evening(begun, clock, press, 7)
    clock.now += DAY
    evening(begun, clock, press, 2)
    content = damage(begun)
    restored = restore(begun, now=clock.now)
    assert restored.copy == copies(begun)[0]
    assert restored.aside is not None
    assert (restored.aside / "pieces.db").read_bytes() == content
    store = Store.open(begun, clock=clock)
    assert store.seq(1) == 9
    assert len(store.tail(1, 99)) == 9
    assert store.record(1, 9, [press(10)], place="{}") == 10
    store.close()


def test_an_older_copy_can_be_named(begun, clock, press):
    oldest = copies(begun)[0]
    clock.now += DAY
    evening(begun, clock, press)
    restore(begun, now=clock.now, copy=oldest)
    store = Store.open(begun, clock=clock)
    assert store.seq(1) == 0
    store.close()


@pytest.mark.parametrize("what", ["nothing", "empty", "text", "folder", "log"])
def test_whatever_lies_there_is_set_aside(begun, clock, what):
    file = begun / "pieces.db"
    file.unlink()
    if what == "empty":
        file.touch()
    elif what == "text":
        file.write_text("Dear diary")
    elif what == "folder":
        file.mkdir()
        (file / "inside").write_text("x")
    elif what == "log":
        (begun / "pieces.db-wal").write_bytes(b"presses")
    with pytest.raises(StoreError):
        Store.open(begun, clock=clock)
    aside = restore(begun, now=clock.now).aside
    if what == "nothing":
        assert aside is None
    else:
        assert aside is not None
        held = {path.relative_to(aside).as_posix(): path.read_bytes() for path in aside.rglob("*") if path.is_file()}
        assert (
            held
            == {
                "empty": {"pieces.db": b""},
                "text": {"pieces.db": b"Dear diary"},
                "folder": {"pieces.db/inside": b"x"},
                "log": {"pieces.db-wal": b"presses"},
            }[what]
        )
    store = Store.open(begun, clock=clock)
    assert store.seq(1) == 0
    store.close()


def test_twice_in_the_same_second_sets_aside_twice(begun, clock):
    asides = [restore(begun, now=clock.now).aside for _ in range(2)]
    assert None not in asides
    assert len(set(asides)) == 2


@pytest.mark.parametrize("by", ["store", "writer"])
def test_nothing_is_brought_back_while_the_pieces_are_open(begun, clock, by):
    before = (begun / "pieces.db").read_bytes()
    if by == "store":
        window = Store.open(begun, clock=clock)
    else:
        window = Writer(begun, clock=clock, told=lambda tickets: None)
    with pytest.raises(StoreError, match="open in another window"):
        restore(begun, now=clock.now)
    window.close()
    assert (begun / "pieces.db").read_bytes() == before
    restore(begun, now=clock.now)


@pytest.mark.parametrize("fault", ["none", "cut", "other", "newer"])
def test_what_is_no_good_copy_is_refused_and_nothing_changes(begun, clock, fault):
    [copy] = copies(begun)
    if fault == "none":
        copy.path.unlink()
    elif fault == "cut":
        os.truncate(copy.path, copy.size - 4096)
    else:
        name = "application_id" if fault == "other" else "user_version"
        with closing(sqlite3.connect(copy.path)) as connection:
            connection.execute(f"PRAGMA {name} = 77")
    before = (begun / "pieces.db").read_bytes()
    with pytest.raises(StoreError) as error:
        restore(begun, now=clock.now)
    assert "\n" not in str(error.value)
    assert str(begun / "copies") in str(error.value)
    assert (begun / "pieces.db").read_bytes() == before
    assert not (begun / "set-aside").exists()


def test_other_files_among_the_copies_are_let_be(begun, clock, press):
    folder = begun / "copies"
    for name in ("pieces-mine.db", "letter.txt", ".pieces-20990101T000000Z-1-daily.db.0123"):
        (folder / name).write_text("x")
    for _ in range(5):
        clock.now += DAY
        evening(begun, clock, press)
    assert len(copies(begun)) == KEPT_OF_EACH
    names = {path.name for path in folder.iterdir() if path not in [copy.path for copy in copies(begun)]}
    assert names == {"pieces-mine.db", "letter.txt"}, "what was broken off is cleared away"


def test_a_failed_copy_does_not_keep_the_store_from_closing(begun, clock, press):
    shutil.rmtree(begun / "copies")
    (begun / "copies").write_text("in the way")
    evening(begun, clock, press)
    store = Store.open(begun, clock=clock)
    with pytest.raises(StoreError):
        store.copy()
    assert store.seq(1) == 3
    store.close()
