"""Two windows on one piece: the second is told at once, may take over, and no bead of either is counted twice."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from stitchalong.session import Session
from stitchalong.store import Conflict, Store
from stitchalong.store.locks import FileLock
from tests.cli.running import NOW, RING, ROOT, environment, here


@pytest.fixture
def home(tmp_path: Path) -> Path:
    (tmp_path / "ring.toml").write_text(RING)
    home = tmp_path / "home"
    assert here(home, "start", str(tmp_path / "ring.toml"), typed="5\n").status == 0
    return home


@pytest.fixture
def window(home: Path) -> Iterator[subprocess.Popen[str]]:
    """Another window that has the piece open, three beads on."""
    with subprocess.Popen(
        [sys.executable, "-m", "stitchalong", "go-on"],
        cwd=ROOT,
        env=environment(home),
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as running:
        assert running.stdin is not None
        assert running.stdout is not None
        running.stdin.write("3\nleft\n")
        running.stdin.flush()
        while not running.stdout.readline().rstrip().endswith("left in the piece of 60"):
            assert running.poll() is None
        yield running


def finish(window: subprocess.Popen[str], typed: str) -> tuple[str, str]:
    return window.communicate(typed, timeout=30)


def position(home: Path) -> int:
    (piece,) = here(home, "pieces", "--json").data["pieces"]
    return int(piece["position"])


def test_a_second_window_is_told_at_once(home: Path, window: subprocess.Popen[str]) -> None:
    ran = here(home, "go-on", typed="4\n")
    assert (ran.status, ran.out) == (4, "")
    assert ran.err == (
        "stitchalong: sorrel-ring is open in another window (go on there, watch it with `stitchalong watch`, "
        "or take it over with `go-on --take-over`)\n"
    )
    assert here(home, "remove", "sorrel-ring", "--yes").status == 4
    finish(window, "2\n")
    assert (window.returncode, position(home)) == (0, 10)
    assert here(home, "go-on", typed="4\n").status == 0


def test_the_window_that_was_taken_over_from_is_told_and_counts_nothing(
    home: Path, window: subprocess.Popen[str]
) -> None:
    ran = here(home, "go-on", "--take-over", typed="4\n")
    assert (ran.status, ran.err) == (0, "")
    assert position(home) == 12
    _, told = finish(window, "2\n2\n")
    assert window.returncode == 4
    assert told.startswith("stitchalong: ")
    assert told.count("\n") == 1
    assert "another window" in told
    assert position(home) == 12


def test_a_press_that_comes_in_between_does_not_hinder_taking_over(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    there = Store.open(home / "data", clock=lambda: NOW)
    session = Session.resume(there, there.find("sorrel-ring").id)
    claim = there.hold(session.piece.id)
    assert claim is not None
    real = Store.hold

    def hold(self: Store, piece_id: int, *, take_over: bool = False) -> FileLock | None:
        found = real(self, piece_id, take_over=take_over)
        if not take_over:
            session.press()
        return found

    monkeypatch.setattr(Store, "hold", hold)
    ran = here(home, "go-on", "--take-over", typed="4\n")
    assert (ran.status, ran.err) == (0, "")
    assert position(home) == 10
    with pytest.raises(Conflict):
        session.press()
    claim.release()
    there.close()


def test_taking_over_what_nobody_has_is_only_going_on(home: Path) -> None:
    assert here(home, "go-on", "--take-over", typed="4\n").status == 0
    assert position(home) == 9


def test_two_pieces_at_once_are_free(home: Path, window: subprocess.Popen[str], tmp_path: Path) -> None:
    assert here(home, "start", str(tmp_path / "ring.toml"), "--name", "other", typed="4\n").status == 0
    assert here(home, "go-on", "other", typed="4\n").status == 0
    finish(window, "")
    found = here(home, "pieces", "--json").data["pieces"]
    assert {piece["name"]: piece["position"] for piece in found} == {"sorrel-ring": 8, "other": 8}
