"""A refused word hides no other fault that holds whatever it was meant to be, and makes up none."""

from __future__ import annotations

import pytest

from stitchalong.errors import PlanError
from stitchalong.plan.read import read_text

GOOD = """title = "Two fins"
[beads.C]
name = "charcoal"
colour = "#3a3d40"
[beads.M]
name = "gorse"
colour = "#e0b020"
[[work]]
start = "MRAW band"
units = 28
frame = "C"
spacers = "*6C, M* 4 times"
[[work]]
stitch = "peyote"
edge = "top"
rounds = ["C", "M", "C"]
increase = { over = "M", with = "MM", from_round = 2 }
[[work]]
stitch = "peyote"
edge = "bottom"
fill = "C"
rounds = ["M"]
"""
REFUSED = [
    ('colour = "#e0b020"', 'colour = "gorze"'),
    ("[beads.M]", "[beads.m]"),
    ('title = "Two fins"', 'tilte = "Two fins"'),
    ('edge = "top"', 'edge = "topp"'),
    ("increase = {", "incease = {"),
    ('over = "M"', "over = 7"),
    ("units = 28", 'units = "28"'),
    ('start = "MRAW band"', 'start = "MRAW bond"'),
    ('edge = "bottom"', "walk = true"),
    ('stitch = "peyote"\nedge = "bottom"', 'stitch = "peyotee"\nedge = "bottom"'),
]
ROUNDS = 'rounds = ["C", "M", "C"]'


def faults(text: str) -> set[str]:
    try:
        read_text(text, "fins.toml")
    except PlanError as error:
        told = [str(problem) for problem in error.problems]
    else:
        told = []
    assert len(set(told)) == len(told), "each once"
    return set(told)


@pytest.mark.parametrize(("good", "bad"), REFUSED)
def test_rounds_and_beads_are_checked_beside_a_word_that_is_refused(good: str, bad: str) -> None:
    assert faults(GOOD) == set()
    alone = faults(GOOD.replace(good, bad, 1))
    assert alone
    assert not any("palette" in one for one in alone), "nothing is made up"
    for rounds in ('rounds = ["C", "X", "C"]', 'rounds = ["C", "M", "3CC"]', 'rounds = ["C", "5 tomes M", "Q"]'):
        hidden = faults(GOOD.replace(ROUNDS, rounds))
        assert hidden
        assert faults(GOOD.replace(ROUNDS, rounds).replace(good, bad, 1)) == alone | hidden


@pytest.mark.parametrize(
    "text",
    [
        'title = "x"\nbeads = 3\nwork = [1]\n',
        'title = "x"\nwork = 3\n[beads]\nA = 1\n',
        GOOD.replace("[beads.M]", "[beads.7]").replace("[beads.C]", "[beads.cc]"),
        'title = "x"\n[beads.A]\nname = "a"\ncolour = "red"\n[[work]]\nstart = "rung"\n',
        GOOD.replace('rounds = ["M"]', 'chart = "none"\nspam = 1'),
    ],
)
def test_what_leaves_nothing_to_check_is_refused_all_the_same(text: str) -> None:
    found = faults(text)
    assert found
    assert all("\n" not in one for one in found)


def test_they_stand_in_the_order_of_the_file() -> None:
    text = GOOD.replace("#e0b020", "gorze").replace(ROUNDS, 'rounds = ["X", "M", "C"]').replace("fill =", "fil =")
    with pytest.raises(PlanError) as caught:
        read_text(text, "fins.toml")
    assert [problem.place.line for problem in caught.value.problems] == [7, 16, 21]
