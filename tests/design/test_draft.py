"""A plan in the making: usual answers, what leans on what, steps from one answer to the next."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stitchalong.design.asked import ASKED
from stitchalong.design.draft import Draft
from stitchalong.design.file import AlreadyThere, usual_name, write_plan
from stitchalong.design.outcome import outcome_of
from stitchalong.design.sized import Offers, size_stepped
from stitchalong.design.wanted import Kind
from stitchalong.errors import StoreError
from stitchalong.measure.book import Book
from stitchalong.measure.fitting import Fitting
from stitchalong.measure.sizes import read_ring_size
from stitchalong.measure.units import Units


def draft(**answers: str) -> Draft:
    found = Draft(Book(), Units.METRIC)
    for key, text in answers.items():
        found = found.answered(key, text)
    return found


@pytest.mark.parametrize("nth", range(1, len(Kind) + 1))
def test_each_question_of_each_kind_has_an_answer_that_can_be_a_name_and_help(nth: int) -> None:
    some = draft(kind=str(nth))
    assert not some.faults()
    for key in some.keys:
        question = some.question(key)
        assert question.name
        assert question.usual
        assert question.help.endswith(".")


def test_a_ring_size_asks_which_count_and_another_size_asks_anew() -> None:
    some = draft(size="US 7")
    size = some.size
    assert isinstance(size, Offers)
    assert "which" in some.keys
    some = some.answered("which", "2")
    assert some.count == size.counts[1]
    assert some.answered("size", "US 9").text("which") == "1"
    assert "which" not in some.answered("size", "24").keys


@pytest.mark.parametrize("kind", ["1", "2", "3"])
@pytest.mark.parametrize("rounds", ["3", "9"])
@pytest.mark.parametrize("finger", ["US 7", "UK P", "ISO 60"])
def test_a_finger_comes_to_what_the_written_plan_is_said_to_fit(kind: str, rounds: str, finger: str) -> None:
    """The count offered first is not too small, and is the one that `fit` finds for the plan, or one step more."""
    some = draft(kind=kind, size=finger, rounds=rounds)
    found = outcome_of(some.wanted(), some.book, some.units)
    asked = read_ring_size(finger)
    fitted = Fitting(found.plan, found.course, some.book).find(asked, finger=True).found
    count = some.count // (1 if some.kind.finned else 2)
    assert count in (fitted.nearest.count, fitted.larger.count)
    chosen = next(choice for choice in (fitted.nearest, fitted.larger) if choice.count == count)
    assert chosen.fits.nominal >= asked.nominal
    size = some.size
    assert isinstance(size, Offers)
    assert size.texts[0].startswith(f"{chosen.fits}: "), "what it comes to is read first"


def test_a_fault_is_told_once_and_not_again_for_what_leans_on_it() -> None:
    assert list(draft(bead="7/0 pebble").faults()) == ["bead"], "the size can only be reckoned from a bead"
    assert list(draft(colours="teal, greenish").faults()) == ["colours"]
    assert list(draft(size="3", rounds="0").faults()) == ["size", "rounds"]


def test_of_another_kind_what_cannot_be_there_is_as_usual() -> None:
    some = draft(size="US 7", rounds="6", colours="red, blue, gold, teal").answered("kind", "6")
    assert (some.text("size"), some.text("rounds")) == ("10", "6")
    assert some.text("colours") == "red, blue, gold, teal"
    assert not some.faults()


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.sampled_from([*ASKED, "colour 0", "colour 1", "colour 9"]), st.sampled_from([1, -1]))))
def test_stepping_leads_from_one_plan_to_another(steps: list[tuple[str, int]]) -> None:
    """Whatever is stepped, the answers can be, but for an order of colours that name more than there are."""
    some = Draft(Book(), Units.METRIC)
    for key, by in steps:
        if key.startswith("colour "):
            some = some.colour_stepped(int(key[-1]), by)
        elif key in some.keys:
            some = some.stepped(key, by)
    assert set(some.faults()) <= {"size"}, "more sides than a count has room for"


def test_steps_go_round_and_back() -> None:
    some = Draft(Book(), Units.METRIC)
    for _ in Kind:
        some = some.stepped("kind", 1)
    assert some.kind is Kind.FINS
    assert some.stepped("bead", 1).stepped("bead", -1).bead == some.bead
    assert some.stepped("sides", 1).sides == 5
    assert some.stepped("rounds", -1).rounds == 3
    assert some.stepped("order", 1).order == ("B", "A")


def test_a_strip_goes_round_a_wrist() -> None:
    """Rows of 11/0 cylinders, 1.6 mm across: each adds half of that. ¾ to 1 in more than the wrist sit
    comfortably (sources beside the tests of `wear`)."""
    rows = draft(kind="6", rounds="wrist 16 cm").rounds
    assert 160 + 0.75 * 25.4 <= rows * 0.8 <= 160 + 25.4
    assert draft(kind="6", rounds="long 16 cm").rounds == 200
    assert list(draft(kind="6", rounds="wrist of Ida").faults()) == ["rounds"]
    assert draft(kind="6", rounds="wrist 16 cm").stepped("rounds", 1).text("rounds") == "wrist 16.5 cm"


@pytest.mark.parametrize(
    ("word", "by", "new"),
    [("28", 1, "30"), ("28", -1, "26"), ("US 7", 1, "US 7.5"), ("iso 54", -1, "iso 53"),
     ("hand 20 cm", 1, "hand 20.5 cm"), ("54.4 mm", 1, "54.9 mm"), ("UK N", 1, "UK N")],
)  # fmt: skip
def test_sizes_become_larger_and_smaller(word: str, by: int, new: str) -> None:
    assert size_stepped(word, by, 2) == new


def test_a_colour_more_stays_before_the_one_that_marks_ribs() -> None:
    some = Draft(Book(), Units.METRIC).with_colour(9, "coral")
    assert [colour.name for colour in some.colours] == ["charcoal", "teal", "coral", "gold"]
    assert [colour.name for colour in some.with_colour(0, "").colours] == ["teal", "coral", "gold"]
    tube = draft(kind="3").with_colour(9, "coral")
    assert tube.colours[-1].name == "coral"


def test_what_it_comes_to_is_of_the_plan() -> None:
    """28 units in 4 sides: 112 beads, 28, then 4 more a round (a pair over each of four markers)."""
    some = draft()
    found = outcome_of(some.wanted(), some.book, some.units)
    assert found.counts == (
        "A new piece: 348 beads in 8 rounds",
        "beads of each round on the top edge: 112 28 32 36 40 44",
        "beads of each round on the bottom edge: 28 28",
    )
    assert found.brief.startswith("348 beads in 8 rounds; ")
    assert found.course.beads == 112 + 28 + 32 + 36 + 40 + 44 + 2 * 28


def test_a_file_is_named_after_the_title_and_never_lost(tmp_path: object) -> None:
    assert usual_name("../Gorse & Heather!") == "gorse-heather.toml"
    assert usual_name("…") == "plan.toml"
    from pathlib import Path

    path = Path(str(tmp_path)) / "ring.toml"
    write_plan(path, "one")
    with pytest.raises(AlreadyThere):
        write_plan(path, "two")
    assert path.read_text() == "one"
    write_plan(path, "two", over=True)
    assert path.read_text() == "two"
    with pytest.raises(StoreError, match="cannot be written"):
        write_plan(path / "below.toml", "three")
