"""Beads of plans for a list: reckoned once, and anew only where a file has changed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from stitchalong.session import counts
from stitchalong.session.counts import PlanBeads
from stitchalong.store.layout import PLAN_BEADS
from tests.screens.acting import SHORT


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "puddle.toml"
    path.write_text(SHORT)
    return path


def test_they_are_reckoned_once_and_kept(tmp_path: Path, plan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Eight beads: a ring of four and a round of four in its four spaces."""
    bad = tmp_path / "bad.toml"
    bad.write_text("title = 3")
    first = PlanBeads(tmp_path)
    assert first.of(plan) is None
    first.reckon([plan, bad, tmp_path / "gone.toml"], lambda: True)
    assert (first.of(plan), first.of(bad), first.of(tmp_path / "gone.toml")) == (8, 0, None)

    def never(path: Path) -> int:
        raise AssertionError("reckoned again")

    monkeypatch.setattr(counts, "_beads", never)
    again = PlanBeads(tmp_path)
    assert again.of(plan) == 8
    again.reckon([plan, bad], lambda: True)


def test_a_changed_file_is_reckoned_anew(tmp_path: Path, plan: Path) -> None:
    beads = PlanBeads(tmp_path)
    beads.reckon([plan], lambda: True)
    plan.write_text(SHORT.replace('"4W"', '"5W"'))
    assert beads.of(plan) is None
    beads.reckon([plan], lambda: True)
    assert beads.of(plan) == 10


def test_nothing_is_reckoned_that_nobody_wants(tmp_path: Path, plan: Path) -> None:
    beads = PlanBeads(tmp_path)
    beads.reckon([plan], lambda: False)
    assert beads.of(plan) is None
    assert not (tmp_path / PLAN_BEADS).exists()


@pytest.mark.parametrize("text", ["", "[]", "nonsense", '{"a": "b"}', '{"a": -1}', "\x00"])
def test_what_is_kept_may_be_lost_or_damaged(tmp_path: Path, plan: Path, text: str) -> None:
    (tmp_path / PLAN_BEADS).write_text(text)
    beads = PlanBeads(tmp_path)
    assert beads.of(plan) is None
    beads.reckon([plan], lambda: True)
    assert PlanBeads(tmp_path).of(plan) == 8
    assert 8 in json.loads((tmp_path / PLAN_BEADS).read_text()).values()


def test_a_folder_that_cannot_be_written_changes_nothing(tmp_path: Path, plan: Path) -> None:
    beads = PlanBeads(tmp_path / "no such folder")
    beads.reckon([plan], lambda: True)
    assert beads.of(plan) == 8
