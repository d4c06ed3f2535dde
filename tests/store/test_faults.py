"""What can befall the file and its folder: one clear line each, a way out, and the old file as it was."""

from __future__ import annotations

import os
import random
import re
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import textwrap
from contextlib import closing
from pathlib import Path

import pytest

from stitchalong.errors import Exit, StoreError
from stitchalong.store import Missing, Store, schema
from stitchalong.store import database as database_module
from stitchalong.store.faults import MEANINGS
from stitchalong.store.folder import ready

TOP = Path(__file__).parents[2]


def told(error: BaseException, *words: str) -> None:
    """The error is one line, with these words, and with a fix."""
    assert isinstance(error, StoreError)
    text = str(error)
    assert text.isprintable()
    assert len(text) < 400
    assert len(error.problems) == 1
    assert error.problems[0].fix
    assert error.status is Exit.STORE
    for word in words:
        assert word in text, text


@pytest.fixture
def filled(folder, begin, press, clock) -> Path:
    """A folder with two pieces and some events, closed, with no copy."""
    store = Store.open(folder, clock=clock)
    for _ in range(2):
        piece = begin(store, plan_text="# " + "long " * 3000)
        for number in range(40):
            data = '{"rounds": 5}' if number % 13 == 0 else ""
            store.record(piece.id, number, [press(number + 1, data=data)], place=f'{{"stitch": {number}}}')
        store.add_note(piece.id, 20, "new thread here")
    store._database.close()
    assert sorted(path.name for path in folder.iterdir()) == ["pieces.db", "pieces.lock"]
    return folder


def everything(folder: Path, clock) -> object:
    """All that a store tells; opening and reading may raise."""
    store = Store.open(folder, clock=clock)
    try:
        return [
            (piece, store.piece(piece.id), store.tail(piece.id, 99), store.told(piece.id), store.notes(piece.id))
            for piece in store.pieces(include_away=True)
        ]
    finally:
        store._database.close()


@pytest.mark.parametrize("content", [b"x", b"Dear diary\n" * 900, b"SQLite format 3\0", b"\0" * 4096, b"\xff" * 8192])
def test_a_file_that_is_no_database_is_left_as_it_is(folder, clock, content):
    folder.mkdir()
    file = folder / "pieces.db"
    file.write_bytes(content)
    with pytest.raises(StoreError) as error:
        Store.open(folder, clock=clock)
    told(error.value, str(file))
    assert file.read_bytes() == content
    assert not list(folder.glob("pieces.db-*"))


def test_a_database_of_something_else_is_left_as_it_is(folder, clock):
    folder.mkdir()
    file = folder / "pieces.db"
    with closing(sqlite3.connect(file)) as other:
        other.execute("CREATE TABLE recipe (name TEXT)")
    before = file.read_bytes()
    with pytest.raises(StoreError) as error:
        Store.open(folder, clock=clock)
    told(error.value, str(file), "something else")
    assert file.read_bytes() == before


def test_a_file_from_a_newer_program_is_left_as_it_is(filled, clock):
    file = filled / "pieces.db"
    with closing(sqlite3.connect(file)) as newer:
        newer.execute(f"PRAGMA user_version = {len(schema.MIGRATIONS) + 1}")
        newer.execute("PRAGMA journal_mode = DELETE")
    before = file.read_bytes()
    with pytest.raises(StoreError) as error:
        Store.open(filled, clock=clock)
    told(error.value, str(file), "newer program")
    assert file.read_bytes() == before


def test_a_folder_in_the_place_of_the_file(folder, clock):
    (folder / "pieces.db").mkdir(parents=True)
    with pytest.raises(StoreError) as error:
        Store.open(folder, clock=clock)
    told(error.value, str(folder / "pieces.db"), "a folder")


@pytest.mark.parametrize("below", ["", "below"])
def test_a_file_in_the_place_of_the_folder(folder, clock, below):
    folder.write_text("x")
    with pytest.raises(StoreError) as error:
        Store.open(folder / below, clock=clock)
    told(error.value, str(folder), "a file where the folder", "STITCHALONG_HOME")


def test_a_missing_folder_is_made(tmp_path, clock):
    Store.open(tmp_path / "a" / "b" / "c", clock=clock).close()
    assert (tmp_path / "a" / "b" / "c" / "pieces.db").is_file()


@pytest.mark.parametrize("size", [0, None])
def test_pieces_that_vanished_are_not_taken_for_a_first_start(filled, clock, size):
    store = Store.open(filled, clock=clock)
    store.copy()
    store.close()
    file = filled / "pieces.db"
    if size is None:
        file.unlink()
    else:
        os.truncate(file, size)
    with pytest.raises(StoreError) as error:
        Store.open(filled, clock=clock)
    told(error.value, str(file), "empty or gone", "stitchalong restore")
    assert file.exists() == (size is not None)


def test_a_log_whose_database_vanished_is_left_as_it_is(folder, clock):
    folder.mkdir()
    log = folder / "pieces.db-wal"
    log.write_bytes(b"presses")
    with pytest.raises(StoreError) as error:
        Store.open(folder, clock=clock)
    told(error.value, "its log is there", "there is no copy yet")
    assert log.read_bytes() == b"presses"


def test_a_file_cut_short_anywhere_is_told_and_left_as_it_is(filled, clock, tmp_path):
    whole = (filled / "pieces.db").read_bytes()
    for size in range(512, len(whole), 512):
        folder = tmp_path / "cut"
        folder.mkdir()
        (folder / "pieces.db").write_bytes(whole[:size])
        with pytest.raises(StoreError) as error:
            everything(folder, clock)
        told(error.value, str(folder / "pieces.db"))
        assert (folder / "pieces.db").read_bytes() == whole[:size], size
        shutil.rmtree(folder)


def test_a_flipped_bit_is_told_or_does_no_harm(filled, clock, tmp_path):
    whole = (filled / "pieces.db").read_bytes()
    right = everything(filled, clock)
    chance = random.Random(8)
    flips = 400
    found = 0
    for _ in range(flips):
        at, bit = chance.randrange(len(whole)), chance.randrange(8)
        folder = tmp_path / "flipped"
        folder.mkdir()
        flipped = bytearray(whole)
        flipped[at] ^= 1 << bit
        (folder / "pieces.db").write_bytes(flipped)
        try:
            assert everything(folder, clock) == right, f"bit {bit} of byte {at} changed what is told"
        except StoreError as error:
            told(error, str(folder / "pieces.db"))
            found += 1
        assert (folder / "pieces.db").read_bytes() == flipped
        shutil.rmtree(folder)
    assert found > flips / 4, "most of the file is what people wrote"


def test_a_database_locked_by_another_program(store, begin, press, monkeypatch, folder, clock):
    piece = begin(store)
    store._database.execute("PRAGMA busy_timeout = 20")
    monkeypatch.setattr(database_module, "OPEN_BUSY_SECONDS", 0.02)
    with closing(sqlite3.connect(folder / "pieces.db", isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(StoreError) as error:
            store.record(piece.id, 0, [press(1)], place="{}")
        told(error.value, str(folder / "pieces.db"), "locked", "close the other")
        assert store.piece(piece.id) == piece, "reading goes on"
        other.execute("ROLLBACK")
        assert store.record(piece.id, 0, [press(1)], place="{}") == 1


def test_a_database_locked_while_it_is_made(folder, monkeypatch, clock):
    folder.mkdir()
    monkeypatch.setattr(database_module, "OPEN_BUSY_SECONDS", 0.02)
    with closing(sqlite3.connect(folder / "pieces.db", isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(StoreError) as error:
            Store.open(folder, clock=clock)
        told(error.value, "locked")


def test_no_room_in_the_database_keeps_what_was_kept(store, begin, press, folder):
    piece = begin(store)
    pages = store._database.rows("PRAGMA page_count")[0][0]
    store._database.execute(f"PRAGMA max_page_count = {pages}")
    seq = 0
    with pytest.raises(StoreError) as error:  # noqa: PT012 - which of them fails is not foreseen
        while seq < 10_000:
            seq = store.record(piece.id, seq, [press(seq + 1, data="x" * 500)], place="{}")
    told(error.value, str(folder / "pieces.db"), "disk is full", "make room")
    assert store.seq(piece.id) == seq == len(store.tail(piece.id, 10_000))
    store._database.execute("PRAGMA max_page_count = 100000")
    assert store.record(piece.id, seq, [press(seq + 1)], place="{}") == seq + 1


def run(script: str, *words: str, before: tuple[str, ...] = ()) -> str:
    """What a process of its own prints."""
    code = "import sys\nfrom pathlib import Path\nfrom stitchalong.store import Event, Store\n"
    code += textwrap.dedent(script)
    ran = subprocess.run(
        [*before, sys.executable, "-c", code, *words],
        cwd=TOP,
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert ran.returncode == 0, ran.stderr
    return ran.stdout


RECORD_UNTIL_IT_FAILS = """
    store = Store.open(Path(sys.argv[1]), clock=lambda: 1e9)
    seq = store.pieces()[0].seq
    try:
        while seq < 3000:
            seq = store.record(1, seq, [Event("press", 1, seq + 1, seq + 1, "x" * 300)], place="{}")
    except Exception as error:
        print(type(error).__name__, error, seq, store.seq(1), len(store.tail(1, 9999)), sep="|")
"""


def test_a_file_that_may_not_grow_keeps_what_was_kept(filled, clock):
    """A limit of the system on the size of files stands for a disk that takes no more."""
    limit = 1_500_000
    script = f"import resource\nresource.setrlimit(resource.RLIMIT_FSIZE, ({limit}, {limit}))" + textwrap.dedent(
        RECORD_UNTIL_IT_FAILS
    )
    name, text, seq, *kept = run(script, str(filled)).strip().split("|")
    assert (name, kept) == ("StoreError", [seq, seq])
    assert int(seq) > 40
    assert str(filled / "pieces.db") in text
    assert "what was kept is safe" in text
    again = Store.open(filled, clock=clock)
    assert again.seq(1) == int(seq)
    assert again.record(1, int(seq), [], place="{}") == int(seq)
    again.close()


@pytest.mark.skipif(shutil.which("strace") is None, reason="needs strace")
@pytest.mark.parametrize(
    ("call", "number", "words"),
    [("pwrite64", "ENOSPC", "the disk is full"), ("fdatasync", "EIO", "cannot be read or written")],
)
def test_a_disk_that_fails_in_the_middle_keeps_what_was_kept(filled, clock, call, number, words):
    """strace lets the system call fail as the kernel would."""
    before = ("strace", "-f", "-qq", "-o", "/dev/null", "-e", f"inject={call}:error={number}:when=300+")
    name, text, seq, *_ = run(RECORD_UNTIL_IT_FAILS, str(filled), before=before).strip().split("|")
    assert name == "StoreError"
    assert words in text
    assert int(seq) > 40
    again = Store.open(filled, clock=clock)
    try:
        assert again.seq(1) >= int(seq)
        assert len(again.tail(1, 9999)) == again.seq(1)
    finally:
        again.close()


@pytest.mark.skipif(sys.platform == "win32", reason="permissions of Unix")
@pytest.mark.parametrize(
    ("what", "mode", "words"),
    [
        ("", 0o555, "the folder cannot be written"),
        ("pieces.db", 0o444, "the file cannot be written"),
        ("..", 0o555, "the folder cannot be made"),
    ],
)
def test_what_cannot_be_written_is_told(filled, what, mode, words):
    """As an ordinary user, because the rights of root are not bounded by these."""
    with tempfile.TemporaryDirectory() as top:
        folder = Path(top) / "own" / "data"
        shutil.copytree(filled, folder)
        for path in (Path(top), *Path(top).rglob("*")):
            path.chmod(0o777)
        if what == "..":
            shutil.rmtree(folder)
        before = (folder / "pieces.db").read_bytes() if folder.exists() else None
        barred = folder.parent if what == ".." else folder / what
        barred.chmod(mode)
        script = """
            import os
            if os.geteuid() == 0:
                os.setuid(65534)
            try:
                Store.open(Path(sys.argv[1]), clock=lambda: 1e9)
            except Exception as error:
                print(type(error).__name__, error, sep="|")
        """
        try:
            name, text = run(script, str(folder)).strip().split("|")
        finally:
            barred.chmod(0o777)
        assert name == "StoreError"
        assert words in text
        assert str(folder) in text
        assert "STITCHALONG_HOME" in text
        if before is not None:
            assert (folder / "pieces.db").read_bytes() == before


@pytest.mark.skipif(sys.platform == "win32", reason="an open file stays where it is there")
@pytest.mark.parametrize("how", ["removed", "replaced", "folder moved"])
def test_a_file_that_goes_while_it_is_open_takes_no_more_presses(store, begin, press, folder, how):
    piece = begin(store)
    if how == "removed":
        (folder / "pieces.db").unlink()
    elif how == "replaced":
        (folder / "other").write_bytes(b"x")
        (folder / "other").replace(folder / "pieces.db")
    else:
        folder.rename(folder.with_name("elsewhere"))
    with pytest.raises(Missing) as error:
        store.record(piece.id, 0, [press(1)], place="{}")
    told(error.value, str(folder / "pieces.db"), "moved, removed or replaced")


MOUNTS = """\
21 1 8:1 / / rw,relatime shared:1 - ext4 /dev/root rw
36 21 0:33 / {home} rw - {kind} server:/export rw
37 36 8:2 / {home}/local rw - ext4 /dev/disk rw
not a line of this table
"""


@pytest.mark.parametrize("kind", ["nfs4", "cifs", "fuse.sshfs"])
def test_a_folder_on_a_network_is_refused(tmp_path, kind):
    """The table is made up in the form of proc(5), section /proc/pid/mountinfo; blanks stand there as \\040."""
    home = tmp_path / "my home"
    table = tmp_path / "mounts"
    table.write_text(MOUNTS.format(home=str(home).replace(" ", "\\040"), kind=kind))
    with pytest.raises(StoreError) as error:
        ready(home / "data", table)
    told(error.value, str(home / "data"), f"network file system ({kind})", "a disk of this computer")
    ready(home / "local" / "data", table)
    ready(tmp_path / "my home too", table)
    ready(home / "data", tmp_path / "no table")


@pytest.mark.skipif(sys.platform == "win32", reason="a way of Unix to open files")
def test_a_disk_that_has_no_log_is_refused(folder, clock, monkeypatch):
    """`unix-none` has no shared memory, like such a disk: https://www.sqlite.org/vfs.html, section 2.1"""
    connect = sqlite3.connect

    def without_log(path, *more, **named):
        return connect(f"{path.as_uri()}?vfs=unix-none", *more, uri=True, **named)

    monkeypatch.setattr(sqlite3, "connect", without_log)
    with pytest.raises(StoreError) as error:
        Store.open(folder, clock=clock)
    told(error.value, "write-ahead log", "STITCHALONG_HOME")


def test_an_old_sqlite_is_told(folder, clock, monkeypatch):
    monkeypatch.setattr(sqlite3, "sqlite_version_info", (3, 36, 0))
    with pytest.raises(StoreError) as error:
        Store.open(folder, clock=clock)
    told(error.value, "3.37")


def test_what_is_kept_cannot_be_changed_behind_the_stores_back(store, begin, press, folder):
    piece = begin(store)
    store.record(piece.id, 0, [press(1), press(2)], place="{}")
    with closing(sqlite3.connect(folder / "pieces.db")) as other:
        for statement in ("UPDATE press SET position = 1", "DELETE FROM press"):
            with pytest.raises(sqlite3.IntegrityError, match=r"a kept press is never"):
                other.execute(statement)
        other.execute("UPDATE piece SET position = 1")
        other.commit()
    with pytest.raises(StoreError) as error:
        store.piece(piece.id)
    told(error.value, "does not read as it was kept")


def test_every_meaning_names_an_error_of_sqlite():
    names = {name for name in dir(sqlite3) if name.startswith("SQLITE_")}
    for start, what, fix in MEANINGS:
        assert start in names
        assert re.fullmatch("[^\n]+", what + fix)
