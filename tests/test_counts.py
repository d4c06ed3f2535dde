"""Beads of plans for a list: reckoned once, and anew only where a file has changed."""

from __future__ import annotations

import json
import threading
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


def test_two_lists_at_once_lose_nothing_of_each_other(
    tmp_path: Path, plan: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = tmp_path / "pond.toml"
    other.write_text(SHORT.replace('"4W"', '"5W"'))
    beads, reckon = PlanBeads(tmp_path), counts._beads
    at_work, go_on, at_once = threading.Event(), threading.Event(), []

    def slow(path: Path) -> int:
        at_once.append(path)
        at_work.set()
        assert go_on.wait(10)
        return reckon(path)

    monkeypatch.setattr(counts, "_beads", slow)
    first, second = (threading.Thread(target=beads.reckon, args=([path], lambda: True)) for path in (plan, other))
    first.start()
    assert at_work.wait(10)
    second.start()
    second.join(0.2)
    assert at_once == [plan], "the second waits"
    go_on.set()
    first.join()
    second.join()
    for known in (beads, PlanBeads(tmp_path)):
        assert (known.of(plan), known.of(other)) == (8, 10)


def test_a_plan_that_nests_too_deep_comes_to_nothing(
    tmp_path: Path, plan: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def deep(*given: object) -> None:
        raise RecursionError

    monkeypatch.setattr("stitchalong.plan.read.read_plan", deep)
    beads = PlanBeads(tmp_path)
    beads.reckon([plan], lambda: True)
    assert beads.of(plan) == 0


@pytest.mark.parametrize(
    "text", ["", "[]", "nonsense", '{"a": "b"}', '{"a": -1}', "\x00", pytest.param("[" * 100_000, id="deep")]
)
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
