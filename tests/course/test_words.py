"""Words for people: counts, places in a row, sentences."""

from __future__ import annotations

import pytest

from stitchalong.course.words import are, capital, counted, ordinal, sentence


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "."),
        ("a bead", "A bead."),
        ("élan is done", "Élan is done."),
        ("is it so?", "Is it so?"),
        ("mind the bead!", "Mind the bead!"),
        ("It is so.", "It is so."),
        ("3 beads of S (sea Glass)", "3 beads of S (sea Glass)."),
        ("`xyz` is no bead", "`xyz` is no bead."),
    ],
)
def test_a_sentence_has_a_beginning_and_one_end(text: str, told: str) -> None:
    assert sentence(text) == told
    assert capital(text) == told[: len(text)]


@pytest.mark.parametrize(
    ("title", "verb"),
    [
        ("rounds 1 and 2", "are"),
        ("lid: rounds 1 and 2", "are"),
        ("round 5, top edge", "is"),
        ("leg and foot: round 5", "is"),
        ("the band", "is"),
    ],
)
def test_the_verb_agrees_with_the_rounds(title: str, verb: str) -> None:
    assert are(title) == verb


def test_counts_and_ordinals() -> None:
    """1st, 2nd, 3rd, 4th; 11th to 13th; 21st: common English usage, from memory."""
    assert [counted(number, "bead") for number in (0, 1, 2, 1000)] == ["0 beads", "1 bead", "2 beads", "1,000 beads"]
    assert counted(2, "inch", "inches") == "2 inches"
    assert [ordinal(number) for number in (1, 3, 10, 11, 12, 13, 21, 22, 23, 24, 111, 121)] == [
        *("first", "third", "tenth", "11th", "12th", "13th", "21st", "22nd", "23rd", "24th", "111th", "121st")
    ]
