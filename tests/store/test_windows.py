"""Windows that claim a piece: the second is told at once, and a claim ends with its process."""

from __future__ import annotations

import signal
import subprocess
import sys
from pathlib import Path

import pytest

from stitchalong.store import Conflict, Event, Store
from stitchalong.store.locks import FileLock

TOP = Path(__file__).parents[2]
HOLDER = """
import sys, time
from pathlib import Path
from stitchalong.store import Store
store = Store.open(Path(sys.argv[1]), clock=time.time)
held = store.hold(int(sys.argv[2]))
print("held" if held else "taken", flush=True)
sys.stdin.read()
"""


def holder(folder: Path, piece_id: int) -> subprocess.Popen[str]:
    """A process that claims a piece and stays."""
    return subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(folder), str(piece_id)],
        cwd=TOP,
        text=True,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
    )


def test_a_second_window_is_told_and_a_second_piece_is_free(store, begin, folder, clock):
    one, two = begin(store), begin(store)
    other = Store.open(folder, clock=clock)
    held = store.hold(one.id)
    assert held is not None
    assert other.hold(one.id) is None
    free = other.hold(two.id)
    assert free is not None
    held.release()
    held.release()
    again = other.hold(one.id)
    assert again is not None
    for lock in (free, again):
        lock.release()
    other.close()


def test_a_claim_ends_with_its_process_however_it_ends(store, begin, folder):
    piece = begin(store)
    with holder(folder, piece.id) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "held\n"
        assert store.hold(piece.id) is None
        process.send_signal(signal.SIGKILL)
        process.wait(20)
    held = store.hold(piece.id)
    assert held is not None
    with holder(folder, piece.id) as process:
        assert process.communicate(timeout=20)[0] == "taken\n"
    held.release()


def test_a_piece_is_taken_over_with_a_mark(store, begin, press, folder, clock):
    """The window that had it learns of it at its next press, which is not kept."""
    piece = begin(store)
    held = store.hold(piece.id)
    assert held is not None
    store.record(piece.id, 0, [press(1)], place="{}")
    other = Store.open(folder, clock=clock)
    assert other.hold(piece.id) is None
    row = other.piece(piece.id)
    mark = Event("mark", 0, row.position, row.redo_to, '{"taken over": true}')
    assert other.record(piece.id, row.seq, [mark], place=row.place) == 2
    with pytest.raises(Conflict):
        store.record(piece.id, 1, [press(2)], place="{}")
    assert other.record(piece.id, 2, [press(2)], place="{}") == 3
    held.release()
    other.close()


@pytest.mark.skipif(sys.platform == "win32", reason="Windows keeps a file that is open")
def test_a_third_window_is_told_of_the_one_that_took_over(store, begin, folder):
    piece = begin(store)
    first = store.hold(piece.id)
    second = store.hold(piece.id, take_over=True)
    assert first is not None
    assert second is not None
    assert store.hold(piece.id) is None
    first.release()
    assert store.hold(piece.id) is None, "the one that took over has it still"
    back = store.hold(piece.id, take_over=True)
    assert back is not None
    second.release()
    assert store.hold(piece.id) is None
    back.release()
    last = store.hold(piece.id)
    assert last is not None
    last.release()


def test_a_removed_piece_leaves_no_claim_behind(store, begin, folder):
    piece = begin(store)
    held = store.hold(piece.id)
    assert held is not None
    held.release()
    assert list((folder / "held").iterdir())
    store.remove(piece.id)
    assert not list((folder / "held").iterdir())


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no shared locks")
def test_shared_locks_keep_only_an_unshared_one_out(tmp_path):
    path = tmp_path / "lock"
    first, second = FileLock.take(path, shared=True), FileLock.take(path, shared=True)
    assert first is not None
    assert second is not None
    assert FileLock.take(path) is None
    first.release()
    assert FileLock.take(path) is None
    second.release()
    whole = FileLock.take(path)
    assert whole is not None
    assert FileLock.take(path, shared=True) is None
    whole.release()
