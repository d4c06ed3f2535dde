"""A second `start` of a plan of which a piece is under way."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.running import RING, here
from tests.cli.terminal import Terminal


@pytest.fixture
def home(tmp_path: Path, plan: str) -> Path:
    """With a piece of seven beads."""
    home = tmp_path / "home"
    assert here(home, "start", plan, typed="7\n").status == 0
    return home


def positions(home: Path) -> list[int]:
    return sorted(piece["position"] for piece in here(home, "pieces", "--json").data["pieces"])


def test_a_script_is_told_and_never_asked(home: Path, plan: str) -> None:
    ran = here(home, "start", plan, typed="3\n")
    assert ran.status == 0
    assert "ring of this plan is begun already, touched today at" in ran.out.splitlines()[0]
    assert positions(home) == [3, 7]


def test_a_long_title_is_known_again(home: Path, tmp_path: Path) -> None:
    path = tmp_path / "long.toml"
    path.write_text(RING.replace("Sorrel ring", "A  ring with a long title " * 5))
    for said in (0, 1):
        assert here(home, "start", str(path), typed="3\n").out.count("is begun already") == said


def test_with_a_name_or_when_the_first_is_done_nothing_is_said(home: Path, plan: str) -> None:
    assert "already" not in here(home, "start", plan, "--name", "for Ash", typed="3\n").out
    here(home, "remove", "for Ash", "--yes")
    here(home, "finish", "sorrel-ring")
    assert "already" not in here(home, "start", plan, typed="4\n").out


@pytest.mark.parametrize(
    ("answer", "after"), [("\n2\n", [9]), ("maybe\ngo on\n2\n", [9]), ("another\n2\n", [2, 7]), ("", [7])]
)
def test_at_a_terminal_it_is_asked(home: Path, plan: str, answer: str, after: list[int]) -> None:
    ran = here(home, "start", plan, typed=answer, terminal=True)
    assert ran.status == 0
    assert ran.out.count("Go on with it?") == 1 + answer.count("maybe")
    assert positions(home) == after


def test_the_full_screen_opens_with_the_piece_that_is_meant(home: Path, plan: str) -> None:
    for answer, shown in (("\r", "only closes this"), ("another\r", "0 of 60 beads")):
        with Terminal(home, "start", plan) as terminal:
            terminal.until("Go on with it?")
            terminal.type(answer)
            terminal.until(shown)
    assert positions(home) == [0, 7]
