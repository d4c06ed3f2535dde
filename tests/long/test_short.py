"""A short share of the long runs that have no share elsewhere: the soak, and the table of results."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from tests.long.results import Row, read, written
from tests.long.soak import soak


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux tells what a process holds now")
@pytest.mark.parametrize("seed", [1, 2])
def test_a_driven_session_stands_where_plain_reckoning_says(tmp_path: Path, seed: int) -> None:
    figures = soak(tmp_path, 7_000, seed, restart_every=150, more=0.9)
    assert 3_000 < figures.beads <= 7_000
    assert figures.choices
    assert figures.restarts > 5
    assert all(figures.acts[act] for act in ("press", "burst", "redo", "goto", "undo"))


def test_a_new_result_takes_the_place_of_the_old_one_and_leaves_the_others(tmp_path: Path) -> None:
    path = tmp_path / "results.md"
    assert read(path) == {}
    path.write_text(written({"soak": Row("soak", "2026-01-02", "a | b", "1 s"), "cuts": Row("cuts", "d", "e", "f")}))
    rows = read(path)
    assert rows["soak"] == Row("soak", "2026-01-02", "a / b", "1 s")
    rows["soak"] = Row("soak", "2026-02-03", "c", "2 s")
    path.write_text(written(rows))
    assert read(path) == rows
    assert list(read(path)) == ["soak", "cuts"]
