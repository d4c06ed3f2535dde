"""What is only doubtful is told where it is, and nothing where nothing is."""

from __future__ import annotations

import pytest

from stitchalong.course.compile import compile_plan
from stitchalong.measure.doubts import doubts
from stitchalong.plan.read import read_text

BEADS = """
title = "A piece"
[beads.A]
name = "ash"
colour = "{a}"
size = "11/0"
shape = "cylinder"
[beads.B]
name = "bone"
colour = "{b}"
size = "{size}"
shape = "cylinder"
"""


def told(work: str, a: str = "#303030", b: str = "#e8e0d0", size: str = "11/0") -> list[str]:
    plan = read_text(BEADS.format(a=a, b=b, size=size) + work).plan
    found = list(doubts(compile_plan(plan), plan))
    assert all(problem.doubtful for problem in found)
    return [str(problem) for problem in found]


def tube(beads: str, rounds: str) -> str:
    return f'[[work]]\nstart = "tube"\nbeads = "{beads}"\n[[work]]\nstitch = "peyote"\nrounds = {rounds}\n'


def test_a_plain_tube_hides_where_its_rounds_begin() -> None:
    (one,) = told(tube("20A", '["A", "A", "A", "B", "B", "A"]'))
    assert "rounds 1 to 5 on the top edge" in one
    assert "work[2]" in one


@pytest.mark.parametrize(
    "work",
    [
        tube("20A", '["A", "B", "A", "B"]'),  # stripes: the step shows
        tube("*A, B* 10 times", '["*A, B* 5 times", "*A, B* 5 times", "*A, B* 5 times"]'),
        '[[work]]\nstart = "ring"\nbeads = "4A"\n[[work]]\nstitch = "peyote"\nrounds = "A"\nheight = 2\n'
        'increase = { at = "every space" }\n',
    ],
)
def test_what_shows_its_rounds_is_in_no_doubt(work: str) -> None:
    assert not [one for one in told(work) if "begins" in one]


def test_colours_that_look_alike_are_told_once_and_not_for_beads_that_the_fingers_tell_apart() -> None:
    stripes = tube("20A", '["A", "B", "A", "B"]')
    (one,) = told(stripes, "#303030", "#323232")
    assert "A (ash) and B (bone) look alike to everybody" in one
    assert "beads.B" in one
    assert not told(stripes, "#303030", "#323232", size="8/0")


@pytest.mark.parametrize("size", ["11/00", "11/8", "5/0", "12 mm"])
def test_a_size_that_nothing_is_known_of_is_told(size: str) -> None:
    """Cylinders are sold in 15/0, 11/0, 10/0 and 8/0: common practice, no source."""
    stripes = tube("20A", '["A", "B", "A", "B"]')
    (one,) = told(stripes, size=size)
    assert f"no measures are known of “{size} cylinder” (B)" in one
    assert "beads.B" in one
    whole = BEADS.format(a="#303030", b="#e8e0d0", size=size)
    measured = whole.replace(f'size = "{size}"', f'size = "{size}"\nlength = 2.0\nwidth = 1.8')
    plan = read_text(measured + stripes).plan
    assert list(doubts(compile_plan(plan), plan)) == []


@pytest.mark.parametrize("size", ["11/0", "11", "11°", "size 8", "15/0"])
def test_a_size_as_people_write_it_is_in_no_doubt(size: str) -> None:
    assert told(tube("20A", '["A", "B", "A", "B"]'), size=size) == []


@pytest.mark.parametrize("line", ['size = "11/0"\n', 'shape = "cylinder"\n'])
def test_a_bead_whose_size_or_shape_nobody_names_may_be_as_the_others(line: str) -> None:
    stripes = tube("20A", '["A", "B", "A", "B"]')
    whole = BEADS.format(a="#303030", b="#323232", size="11/0")
    plan = read_text(whole.replace(line, "", 1) + stripes).plan
    assert any("look alike" in str(one) for one in doubts(compile_plan(plan), plan))


def test_what_grows_too_fast_from_a_ring_is_told() -> None:
    """Pairs inside pairs add a bead, two columns, a round and rib. Beads are 1.3 by 1.6 mm.

    Of six sides 12 · atan(2 · 1.3 / 1.6) are 701 degrees; of three it is half of that, and a triangle of two-bead
    corners is a published flat pattern.
    """

    def polygon(sides: int) -> str:
        rise = 'stitch = "peyote"\nrounds = ["A", "B"]\nheight = 6\nincrease = { at = "every space" }'
        return f'[[work]]\nstart = "ring"\nbeads = "{sides}A"\n[[work]]\n{rise}\n'

    (one,) = told(polygon(6))
    assert "will ruffle: they grow to 701 degrees" in one
    assert not told(polygon(3))
