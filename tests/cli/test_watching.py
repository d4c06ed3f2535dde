"""`check --watch` looks again when the file is saved. The clock of the test is its sleep: each sleep is a save."""

from __future__ import annotations

import io
import os
from collections.abc import Callable
from pathlib import Path

from stitchalong.cli import INTERRUPTED, run
from stitchalong.commands.world import World
from tests.cli.running import RING


def watched(tmp_path: Path, *saves: Callable[[Path], object]) -> tuple[int, str, str]:
    """Watch a plan; at each look one of the saves happens, after the last Ctrl-C."""
    path = tmp_path / "ring.toml"
    path.write_text(RING)
    left = list(saves)

    def sleep(seconds: float) -> None:
        assert 0 < seconds <= 1
        if not left:
            raise KeyboardInterrupt
        left.pop(0)(path)
        if path.exists():
            # a save within the grain of the file system's clock must not hide in the test
            os.utime(path, ns=(len(left) * 10**9, 10**18 - len(left) * 10**9))

    out, err = io.StringIO(), io.StringIO()
    world = World({"STITCHALONG_HOME": str(tmp_path / "home")}, lambda: 0.0, io.StringIO(), out, err, sleep)
    return run(["check", str(path), "--watch"], world), out.getvalue(), err.getvalue()


def saved(old: str, new: str) -> Callable[[Path], object]:
    return lambda path: path.write_text(path.read_text().replace(old, new))


def test_a_change_is_told_and_an_error_at_once(tmp_path: Path) -> None:
    status, out, err = watched(
        tmp_path,
        saved("height = 4", "height = 5"),
        saved('"A", "B"]', '"A", "B)"]'),
        saved('"B)"', '"B"'),
        saved("height = 5", "height = 4"),
    )
    assert status == INTERRUPTED
    assert "other work from round 4, top edge on; 14 beads more in all" in out
    assert "other work from round 4, top edge on; 14 beads fewer in all" in out
    assert "the work is the same as before" in out
    assert "bracket" in err
    assert out.count("watching") == 5


def test_nothing_is_said_while_nothing_is_saved(tmp_path: Path) -> None:
    _, out, err = watched(tmp_path)
    assert out.count("Sorrel ring") == 1
    assert not err


def test_a_file_that_is_gone_for_a_while_is_waited_for(tmp_path: Path) -> None:
    status, out, err = watched(tmp_path, lambda path: path.unlink(), lambda path: path.write_text(RING))
    assert status == INTERRUPTED
    assert "no such" in err
    assert "the work is the same as before" in out
