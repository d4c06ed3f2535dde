"""`new` on the command line: questions line by line, what it comes to, and a file that is never lost."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.running import here, ok
from tests.cli.terminal import Terminal

TUBE = "3\nReed\n\nash, bone\nA B\n20\n6\n"
"""all questions of a tube: 20 beads strung, 6 rounds of 10"""


def test_what_it_comes_to_is_shown_and_the_plan_is_written(home: Path, tmp_path: Path) -> None:
    path = tmp_path / "reed.toml"
    ran = ok(here(home, "new", str(path), typed=TUBE.replace("ash", "silver").replace("bone", "navy") + "yes\n"))
    assert "Reed: 60 beads" in ran.out
    assert "A silver: 30 beads" in ran.out
    assert "thread:" in ran.out
    assert ok(here(home, "check", str(path))).out.splitlines()[-1] == "in all 60 beads: 30 A (silver), 30 B (navy)"
    ok(here(home, "start", str(path), typed="60\n"))


def test_a_wrong_answer_is_told_and_asked_again(home: Path, tmp_path: Path) -> None:
    path = tmp_path / "reed.toml"
    ran = ok(
        here(home, "new", str(path), typed="9\n" + TUBE.replace("ash, bone", "ashy\nsilver, navy") + "maybe\nyes\n")
    )
    assert "“9” is none of them" in ran.out
    assert "is no colour the program knows" in ran.out
    assert "neither yes nor no" in ran.out
    assert path.exists()


def test_no_begins_again_and_the_file_can_be_named_at_the_end(
    home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    typed = TUBE.replace("ash, bone", "silver, navy")
    ran = ok(here(home, "new", typed=typed + "no\n" + typed.replace("Reed", "Wide Reed!") + "yes\n\n"))
    assert "once more" in ran.out
    assert [path.name for path in tmp_path.glob("*.toml")] == ["wide-reed.toml"]


@pytest.mark.parametrize(("answer", "status"), [("no", 4), ("", 4), ("yes", 0)])
def test_a_file_is_written_over_only_where_that_is_wanted(home: Path, tmp_path: Path, answer: str, status: int) -> None:
    path = tmp_path / "reed.toml"
    path.write_text("a letter to a friend")
    typed = TUBE.replace("ash, bone", "silver, navy") + f"yes\n{answer}\n"
    assert here(home, "new", str(path), typed=typed).status == status
    assert (path.read_text() == "a letter to a friend") == (status != 0)


def test_where_the_answers_end_nothing_is_written(home: Path, tmp_path: Path) -> None:
    path = tmp_path / "reed.toml"
    ran = here(home, "new", str(path), typed="3\nReed\n")
    assert ran.status == 2
    assert "nothing was written" in ran.err
    assert not path.exists()


def test_on_a_full_terminal_it_is_a_screen_that_writes_and_begins(home: Path, tmp_path: Path) -> None:
    """A triangle of eight rounds: 3 · 8 · 9 / 2 beads."""
    path = tmp_path / "gull.toml"
    with Terminal(home, "new", str(path)) as terminal:
        terminal.until("348 beads in 8 rounds")
        terminal.type("\x1b[C\x1b[C\x1b[C")
        terminal.until("108 beads in 8 rounds")
        terminal.type("\x1b[BGull\x1b[F\r")
        terminal.until("begin it now")
        assert path.exists()
        terminal.type("\r")
        terminal.until("0 of 108 beads")
        terminal.type("q")
        assert terminal.ends() == 0
    assert here(home, "pieces", "--json").data["pieces"][0]["title"] == "Gull"


def test_a_question_tells_more_where_that_is_asked(home: Path, tmp_path: Path) -> None:
    ran = ok(
        here(
            home, "new", str(tmp_path / "reed.toml"), typed="?\n" + TUBE.replace("ash, bone", "silver, navy") + "yes\n"
        )
    )
    assert "so that fins rise" in ran.out
