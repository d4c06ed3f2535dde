"""Kept means on the disk: settings, system calls, cut logs, killed processes.

How SQLite's settings bear on durability: https://www.sqlite.org/pragma.html#pragma_synchronous ("FULL ... WAL
mode ... sync after each transaction") and https://www.sqlite.org/wal.html.

`STITCHALONG_KILLS` sets how many processes are killed of each sort (10). `STITCHALONG_CUTS=all` cuts the log
at every byte of the last three commits, and opens the whole store at every byte of the last one, not at a share.
"""

from __future__ import annotations

import os
import random
import re
import shutil
import signal
import sqlite3
import struct
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path

import pytest

from stitchalong.store import Store
from stitchalong.store.writer import Writer
from tests.store.stitcher import event, place

TOP = Path(__file__).parents[2]
KILLS = int(os.environ.get("STITCHALONG_KILLS", "10"))
ALL_CUTS = os.environ.get("STITCHALONG_CUTS") == "all"

WANTED = {"journal_mode": "wal", "synchronous": 2, "fullfsync": 1, "checkpoint_fullfsync": 1, "foreign_keys": 1}


def command(folder: Path, way: str, count: int, *more: str) -> list[str]:
    return [sys.executable, "-m", "tests.store.stitcher", str(folder), way, str(count), *more]


@pytest.fixture
def begun(folder, begin, clock) -> Path:
    """A folder with one piece, closed."""
    store = Store.open(folder, clock=clock)
    begin(store, steps=10**9)
    store.close()
    return folder


def settings(database) -> dict[str, object]:
    return {name: database.rows(f"PRAGMA {name}")[0][0] for name in WANTED}


def test_the_connections_that_write_report_a_log_that_is_synced_at_each_commit(store, folder, clock):
    writer = Writer(folder, clock=clock, told=lambda tickets: None)
    try:
        assert settings(store._database) == WANTED
        assert settings(writer._database) == WANTED
        assert store._database.rows("PRAGMA application_id") == [(0x73746368,)]
        assert 100 <= store._database.rows("PRAGMA busy_timeout")[0][0] <= 1000
    finally:
        writer.close()


@pytest.mark.skipif(shutil.which("strace") is None, reason="needs strace")
@pytest.mark.parametrize("way", ["store", "writer"])
def test_every_press_is_synced_before_it_is_said_to_be_kept(begun, tmp_path, way):
    synced = unsynced_presses(begun, tmp_path, way, 40)
    assert synced == []
    if way == "store":
        assert len(unsynced_presses(begun, tmp_path, way, 40, "weak")) == 40, "the watcher sees what is missing"


def unsynced_presses(folder: Path, tmp_path: Path, way: str, count: int, *more: str) -> list[int]:
    """The presses said to be kept although nothing of the log was synced after it was last written."""
    log = tmp_path / "calls"
    watch = ["strace", "-f", "-y", "-o", str(log), "-e", "trace=write,pwrite64,pwritev,fdatasync,fsync"]
    ran = subprocess.run([*watch, *command(folder, way, count, *more)], cwd=TOP, capture_output=True, timeout=120)
    said = [int(word) for word in ran.stdout.split()]
    assert len(said) == count, ran.stderr.decode()
    clean, written, bad, seen = True, False, [], 0
    for line in log.read_text(errors="replace").splitlines():
        if "pieces.db-wal>" in line and re.search(r"\bpwrite", line):
            clean, written = False, True
        elif "pieces.db-wal>" in line and re.search(r"\bf(data)?sync\(", line):
            clean = True
        elif re.search(r"\bwrite\(1<", line):
            seen += 1
            if not (clean and written):
                bad.append(seen)
            if way == "store":
                written = False
    assert seen == count
    return bad


def frames(log: bytes) -> list[tuple[int, bool]]:
    """(end of the frame in the log, whether it ends a commit), by https://www.sqlite.org/fileformat2.html#walformat"""
    size = struct.unpack(">I", log[8:12])[0]
    found, at = [], 32
    while at + 24 + size <= len(log):
        committed = struct.unpack(">I", log[at + 4 : at + 8])[0] != 0
        at += 24 + size
        found.append((at, committed))
    return found


@pytest.mark.timeout(0 if ALL_CUTS else 120)
def test_a_log_cut_at_any_byte_of_the_last_commits_gives_every_press_kept_before(begun, tmp_path, clock):
    subprocess.run(command(begun, "store", 12), cwd=TOP, capture_output=True, timeout=60, check=True)
    log = (begun / "pieces.db-wal").read_bytes()
    commits = [end for end, committed in frames(log) if committed]
    assert len(commits) == 12, "one commit a press"
    before = commits[-4 if ALL_CUTS else -2]
    assert len(log) == commits[-1]

    # every byte, with SQLite itself
    bare = tmp_path / "bare"
    bare.mkdir()
    shutil.copy(begun / "pieces.db", bare)
    (bare / "pieces.db-wal").write_bytes(log)
    address = f"{(bare / 'pieces.db').as_uri()}?mode=ro"
    for cut in range(len(log), before - 1, -1):
        os.truncate(bare / "pieces.db-wal", cut)
        with closing(sqlite3.connect(address, uri=True)) as connection:
            seq, position = connection.execute("SELECT seq, position FROM piece").fetchone()
            last = connection.execute("SELECT max(seq) FROM press").fetchone()[0]
        assert seq == last == sum(end <= cut for end in commits), cut
        assert position == place(seq)

    # around every frame and here and there, with the store, which goes on from there
    last = range(commits[-2], len(log) + 1)
    near = {end + by for end, _ in frames(log) for by in (-1, 0, 1, 23, 24, 25)} & set(last)
    for cut in last if ALL_CUTS else sorted(near | set(last[::997])):
        # what is lost is not there, or there but never written
        for lost in [b"", bytes(len(log) - cut)] if cut in near else [b""]:
            folder = tmp_path / "cut"
            folder.mkdir()
            shutil.copy(begun / "pieces.db", folder)
            (folder / "pieces.db-wal").write_bytes(log[:cut] + lost)
            check_whole(folder, sum(end <= cut for end in commits), clock)
            shutil.rmtree(folder)


def check_whole(folder: Path, least: int, clock) -> int:
    """The piece holds at least so many events, all as they were made, and can be gone on with. Their number."""
    store = Store.open(folder, clock=clock)
    try:
        [summary] = store.pieces()
        piece = store.piece(summary.id)
        assert piece.seq >= least
        assert (piece.position, piece.redo_to) == (
            (event(piece.seq).position, event(piece.seq).redo_to) if piece.seq else (0, 0)
        )
        assert piece.place == (f'{{"stitch": {piece.seq}}}' if piece.seq else "{}")
        kept = store.tail(piece.id, piece.seq)
        assert [(one.seq, one.event) for one in kept] == [(n, event(n)) for n in range(1, piece.seq + 1)]
        assert store._database.rows("PRAGMA integrity_check") == [("ok",)]
        seq = store.record(piece.id, piece.seq, [event(piece.seq + 1)], place=f'{{"stitch": {piece.seq + 1}}}')
        assert store.seq(piece.id) == seq
        return seq
    finally:
        store.close()


@pytest.mark.timeout(30 + 5 * KILLS)
@pytest.mark.parametrize("way", ["store", "writer"])
def test_a_killed_process_loses_no_press_that_was_said_to_be_kept(begun, clock, way):
    chance = random.Random(20)
    kept = 0
    for _ in range(KILLS):
        process = subprocess.Popen(command(begun, way, 0), cwd=TOP, stdout=subprocess.PIPE)
        with process:
            assert process.stdout is not None
            said = [process.stdout.readline()]  # it is at work
            time.sleep(chance.uniform(0, 0.05))
            process.send_signal(signal.SIGKILL)
            said += process.stdout.read().splitlines(keepends=True)
        numbers = [int(line) for line in said if line.endswith(b"\n")]
        assert numbers == list(range(kept + 1, numbers[-1] + 1)), "said in order, each once"
        # of what was in flight one commit at most can be there too
        found = check_whole(begun, numbers[-1], clock) - 1
        assert found <= numbers[-1] + (1 if way == "store" else 20)
        kept = found + 1
    assert kept > KILLS


BEGINNER = """
import sys, time
from pathlib import Path
from stitchalong.store import Store
print("ready", flush=True)
store = Store.open(Path(sys.argv[1]), clock=time.time)
store.begin(title="Bell", plan_text="", plan_data="{}", plan_name="", compiler=1, steps=9, place="{}")
print("begun", flush=True)
"""


@pytest.mark.timeout(30 + 5 * KILLS)
def test_a_process_killed_at_its_very_first_start_leaves_nothing_broken(tmp_path, clock):
    chance = random.Random(3)
    early = 0
    for number in range(KILLS):
        folder = tmp_path / str(number)
        process = subprocess.Popen([sys.executable, "-c", BEGINNER, str(folder)], cwd=TOP, stdout=subprocess.PIPE)
        with process:
            assert process.stdout is not None
            assert process.stdout.readline() == b"ready\n"
            time.sleep(chance.uniform(0, 0.005))
            process.send_signal(signal.SIGKILL)
            begun = process.stdout.read() == b"begun\n"
        early += not begun
        store = Store.open(folder, clock=clock)
        assert len(store.pieces()) == 1 or not begun
        store.close()
    assert early > KILLS / 10, "some were killed before they were done"
