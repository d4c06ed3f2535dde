"""A plan that was changed under a piece, and a piece that another window works on."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path

import pytest

from stitchalong.cli import INTERRUPTED, run
from stitchalong.commands.world import World
from tests.cli.running import RING, Stream, here

BAND = 30
"""steps of the ring's band, to be well within it"""


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "ring.toml"
    path.write_text(RING)
    return path


@pytest.fixture
def home(tmp_path: Path, plan: Path) -> Path:
    assert here(tmp_path / "home", "start", str(plan), typed=f"{BAND}\n").status == 0
    return tmp_path / "home"


def piece(home: Path) -> dict[str, object]:
    (found,) = here(home, "pieces", "--json").data["pieces"]
    return dict(found)


def test_a_changed_plan_is_taken_over_at_the_same_place(home: Path, plan: Path) -> None:
    plan.write_text(RING.replace("height = 4", "height = 6").replace("Sorrel ring", "Sorrel ring, higher"))
    before = piece(home)
    assert here(home, "go-on", typed="1\n").status == 0
    assert piece(home)["steps"] == before["steps"], "a piece stays with the plan it was begun with"
    done = here(home, "replan", "sorrel-ring", str(plan), "--yes")
    assert (done.status, done.err) == (0, "")
    assert done.out.startswith("The new plan differs from the end of round 4, top edge on.\n")
    assert "goes on by the new plan, at the same place" in done.out
    after = piece(home)
    assert (after["position"], after["title"]) == (BAND + 1, "Sorrel ring, higher")
    assert int(str(after["steps"])) > int(str(before["steps"]))
    assert here(home, "go-on", typed="500\n").status == 0
    assert piece(home)["state"] == "finished"


def test_one_that_changes_what_is_done_is_refused_with_the_round(home: Path, plan: Path) -> None:
    plan.write_text(RING.replace('frame = "A"', 'frame = "B"'))
    before = piece(home)
    done = here(home, "replan", "sorrel-ring", str(plan), "--yes")
    assert (done.status, done.out) == (3, "")
    (told,) = done.err.splitlines()
    assert "the new plan differs from the band on, and that is before your place" in told
    assert f"go back {BAND} steps first" in told
    assert piece(home) == before


@pytest.mark.parametrize(("answer", "title"), [("yes", "Other"), ("no", "Sorrel ring"), ("", "Sorrel ring")])
def test_it_asks_first(home: Path, plan: Path, answer: str, title: str) -> None:
    plan.write_text(RING.replace("Sorrel ring", "Other"))
    done = here(home, "replan", "sorrel-ring", str(plan), typed=f"{answer}\n", terminal=True)
    assert done.status == 0
    assert "The new plan asks for the same work." in done.out
    assert piece(home)["title"] == title


def test_nobody_there_to_be_asked_means_no(home: Path, plan: Path) -> None:
    done = here(home, "replan", "sorrel-ring", str(plan))
    assert done.status == 2
    assert "nobody is there to be asked" in done.err


def test_a_plan_with_a_fault_is_told_with_its_line(home: Path, plan: Path) -> None:
    plan.write_text(RING.replace('"A", "B"]', '"A", "7Q"]'))
    done = here(home, "replan", "sorrel-ring", str(plan), "--yes")
    assert done.status == 3
    assert f"{plan}, line " in done.err
    assert piece(home)["position"] == BAND


def watched(home: Path, *acts: Callable[[], object]) -> tuple[int, list[str]]:
    """What a watching window says; at each of its looks one of the acts happens in another, after the last Ctrl-C."""
    left = list(acts)

    def sleep(seconds: float) -> None:
        assert 0 < seconds <= 1
        if not left:
            raise KeyboardInterrupt
        left.pop(0)()

    out = io.StringIO()
    world = World({"STITCHALONG_HOME": str(home)}, lambda: 0.0, Stream(), out, io.StringIO(), sleep)
    return run(["watch", "sorrel-ring"], world), out.getvalue().splitlines()


def test_another_window_is_followed_press_by_press_and_nothing_is_kept(home: Path) -> None:
    def press() -> None:
        assert here(home, "go-on", typed="1\n").status == 0

    status, lines = watched(home, press, lambda: None, press)
    assert status == INTERRUPTED
    assert lines[0].startswith("watching sorrel-ring; Ctrl-C ends it")
    assert len(lines) == 4, "where it stands, and a line for each press"
    assert len(set(lines)) == 4
    assert piece(home)["position"] == BAND + 2


def test_watching_ends_with_the_last_bead(home: Path) -> None:
    status, lines = watched(home, lambda: here(home, "go-on", typed="500\n"))
    assert status == 0
    assert "last bead" in lines[-1]


CHANGED = "the plan's file was changed since this piece was begun"


def test_coming_back_says_once_that_the_plan_was_changed(home: Path, plan: Path) -> None:
    assert CHANGED not in here(home, "go-on", typed="1\n").out
    plan.write_text(RING.replace("height = 4", "height = 6"))
    done = here(home, "go-on", typed="new plan\nyes\n1\n", terminal=True)
    assert done.out.count(CHANGED) == 1
    assert "the new plan differs from the end of round 4, top edge on.\n" in done.out
    assert "Taken over. The new plan differs from" in done.out
    assert piece(home)["position"] == BAND + 2
    done = here(home, "go-on", typed="new plan\n", terminal=True)
    assert CHANGED not in done.out
    assert "there is no new plan" in done.out


def test_a_new_plan_that_changes_what_is_done_is_told_and_not_offered(home: Path, plan: Path) -> None:
    plan.write_text(RING.replace('frame = "A"', 'frame = "B"'))
    done = here(home, "go-on", typed="new plan\nyes\n", terminal=True)
    assert "that is before your place; go back 30 steps first, or begin another piece." in done.out
    assert "“yes” is not understood" in done.out
    assert piece(home)["title"] == "Sorrel ring"


def test_a_plan_taken_over_by_its_file_is_the_one_looked_at_from_then_on(home: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.toml"
    other.write_text(RING.replace("Sorrel ring", "Other"))
    assert here(home, "replan", "sorrel-ring", str(other), "--yes").status == 0
    assert CHANGED not in here(home, "go-on", typed="1\n").out
    other.write_text(RING.replace("Sorrel ring", "Another"))
    assert CHANGED in here(home, "go-on", typed="1\n").out
