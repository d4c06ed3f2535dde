"""What typed lines mean."""

from __future__ import annotations

import unicodedata
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stitchalong.errors import UsageError
from stitchalong.plain.asked import Asked, Goal, asked
from stitchalong.settings.commands import commands


@pytest.mark.parametrize(
    ("line", "meant"),
    [
        ("", Asked("bead")),
        ("  \t ", Asked("bead")),
        ("7", Asked("bead", 7)),
        ("1,000", Asked("bead", 1000)),
        ("bead", Asked("bead")),
        ("3 beads", Asked("bead", 3)),
        ("stitch", Asked("stitch")),
        ("stitch 2", Asked("stitch", 2)),
        ("back", Asked("back")),
        ("BACK 12", Asked("back", 12)),
        ("12 back", Asked("back", 12)),
        ("back  stitch", Asked("back_stitch")),
        ("back side", Asked("back_side")),
        ("2 back round", Asked("back_round", 2)),
        ("again", Asked("again")),
        ("all again", Asked("all_again")),
        ("step up 5", Asked("step_up", 5)),
        ("step up 0", Asked("step_up", 0)),
        ("another", Asked("another")),
        ("on", Asked("on")),
        ("warn 0", Asked("warn", 0)),
        ("quit", Asked("quit")),
        ("find A A B b", Asked("find", text="A A B b")),
        ("Note Blue  ran OUT", Asked("note", text="Blue ran OUT")),
        ("note", Asked("note")),
        ("count 15", Asked("recount", 15)),
        ("count round 15", Asked("recount", text="round 15")),
        ("thread left 40", Asked("thread", text="left 40")),
        ("take out 9", Asked("take_out", 9)),
        ("go to round 5", Asked("go_to", goal=Goal(round=5))),
        ("go to 5 2 3", Asked("go_to", goal=Goal(round=5, side=2, bead=3))),
        ("Go to round 5, side 2, bead 3", Asked("go_to", goal=Goal(round=5, side=2, bead=3))),
        ("go to bottom edge round 0", Asked("go_to", goal=Goal("bottom", 0))),
        ("go to bottom", Asked("go_to", goal=Goal("bottom"))),
        ("go to band", Asked("go_to", goal=Goal(band=True))),
        ("goto side 2", Asked("go_to", goal=Goal(side=2))),
        ("go to bead 4", Asked("go_to", goal=Goal(bead=4))),
    ],
)
def test_a_line_means_what_it_reads_like(line: str, meant: Asked) -> None:
    assert asked(line) == meant


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("bcak", "did you mean `back`?"),
        ("forward", "“forward” is not understood (`help` lists the words)"),
        ("7 7", "is not understood"),
        ("-3", "is not understood"),
        ("3.5", "is not understood"),
        ("٣", "is not understood"),
        ("0", "0 counts nothing"),
        ("back 0", "0 counts nothing"),
        ("9999999", "more than any piece has"),
        ("9" * 9000, "more than any piece has"),
        ("quit 3", "`quit` takes no number"),
        ("another 2", "`another` takes no number"),
        ("go to", "where to?"),
        ("go to the moon", "names no place"),
        ("go to 1 2 3 4", "names no place"),
        ("go to round", "`round` needs its number"),
        ("go to side 0", "counted from 1"),
        ("\x1b[A", "“[A” is not understood"),
    ],
)
def test_a_line_that_cannot_be_meant_is_told_in_one_line(line: str, said: str) -> None:
    with pytest.raises(UsageError) as refused:
        asked(line)
    assert said in str(refused.value)
    assert str(refused.value).isprintable()
    assert len(str(refused.value)) < 200


def test_every_command_that_has_a_word_here_is_understood_by_it() -> None:
    for command in commands("plain"):
        if command.word and command.id != "go_to":
            assert asked(command.word).id == command.id
            if command.counts:
                assert asked(f"{command.word} 4") == asked(f"4 {command.word}") == Asked(command.id, 4)


@given(st.text(max_size=60))
def test_no_line_breaks_it(line: str) -> None:
    with suppress(UsageError):
        asked(line)


@given(st.text(min_size=1, max_size=60).map(lambda text: f"x{text}"))
def test_what_is_not_understood_is_shown_without_signs_that_steer_a_terminal(line: str) -> None:
    with pytest.raises(UsageError) as refused:
        asked(line)
    assert not {unicodedata.category(char) for char in str(refused.value)} & {"Cc", "Cs"}
