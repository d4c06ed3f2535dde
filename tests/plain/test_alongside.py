"""Line by line: finding the place, counting, the tray, the thread, notes, beads taken out."""

from __future__ import annotations

import pytest

from stitchalong.errors import UsageError
from stitchalong.session import Session
from tests.plain.conftest import Begin
from tests.plain.test_front import Talk


@pytest.fixture
def talk(ring: Session) -> Talk:
    return Talk(ring)


def test_a_place_is_found_and_gone_to(talk: Talk) -> None:
    talk.type("45")
    talk.type("go to band", "yes")
    said = talk.type("find A A A A B")
    assert "place" in said[0]
    assert said[1].startswith("1: ")
    assert said[-1] == "`place 1` goes there"
    numbers = [line.partition(":")[0] for line in said[1:-1]]
    assert numbers == [str(nth) for nth in range(1, len(numbers) + 1)]
    positions = [fit.position for fit in talk.front._alongside._found.fits]  # type: ignore[union-attr]
    talk.type("place 2")
    assert talk.session.position == positions[1]
    assert "place" in talk.type("find round 3 edge top colour b since 1")[0]


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("find", "nothing to go by"),
        ("find Q", "there is no bead Q"),
        ("find A since many", "“many” is no number"),
        ("find A edge left", "there is no left edge"),
        ("place 3", "no places were found"),
        ("count", "how many did you count?"),
        ("count twenty", "how many did you count?"),
        ("accept", "nothing was counted"),
        ("thread long", "how long is it?"),
        ("thread 99999", "more than anybody stitches with"),
        ("tray 1Q", "no Q was counted out"),
        ("tray *", "names no beads"),
        ("take out", "how many beads did you take out?"),
    ],
)
def test_what_cannot_be_meant_is_told_in_one_line(talk: Talk, line: str, said: str) -> None:
    talk.type("10")
    with pytest.raises(UsageError) as refused:
        talk.type(line)
    assert said in str(refused.value)
    assert str(refused.value).isprintable()


def test_a_count_is_held_against_the_plan_and_accepted(talk: Talk) -> None:
    session = talk.session
    session.press(session.course.rounds[1].stop_step)
    assert talk.type("count round 7") == ["this round, round 1, top edge: 7 beads, as it should be"]
    said = talk.type("count round 6")
    assert said[0] == "this round, round 1, top edge: 1 bead fewer than the plan's 7 beads"
    assert said[1].startswith("perhaps the work is right, the count is not: set it to 6 (`back 2`). See whether every")
    assert said[2].startswith("perhaps the last space was left out")
    assert said[-1].startswith("`accept` keeps the work and changes the plan")
    assert talk.type("recount round 6") == said, "the screen's name for it is understood, too"
    told = talk.type("accept")
    assert "On which side is it?" in " ".join(told)
    talk.type(f"count side {session.checkpoints()[0].expected + 1}")
    assert talk.type("accept")[0].startswith("Accepted: round 1, top edge:")
    assert session.differs


@pytest.mark.parametrize(("laid", "counted"), [(4, 6), (4, 3), (5, 1)])
def test_what_is_said_to_set_the_count_does_so(talk: Talk, laid: int, counted: int) -> None:
    session = talk.session
    talk.type(str(session.course.rounds[1].first_step + laid))
    before = session.course.beads_before(session.course.rounds[1].first_step)
    wish = talk.type(f"count round {counted}")[1].partition("`")[2].partition("`")[0]
    talk.type(wish)
    assert session.outlook.beads_done == before + counted
    assert not session.differs


def test_of_a_band_it_is_said_what_to_see(talk: Talk) -> None:
    talk.type(str(talk.session.course.rounds[0].stop_step - 1))
    for said in talk.type("count round 3")[1:-1]:
        assert "See whether count" not in said
        assert "See whether there is a spacer" in said or "See whether every space" in said


def test_the_tray_is_told_and_what_is_left_over_means(talk: Talk) -> None:
    talk.session.press(talk.session.course.rounds[0].stop_step + 1)
    said = talk.type("tray")
    assert said[0].startswith("this side: ")
    assert any(line.startswith("round 1, top edge: 6 A, 1 used") for line in said)
    assert said[-1].startswith("all together: ")
    assert talk.type("tray 1A")[0].startswith("1 A left over: 1 space of this round missed")


def test_the_thread_is_entered_and_told(begin: Begin) -> None:
    talk = Talk(begin("height = 3"))
    assert talk.type("thread")[0].startswith("nothing is known of it")
    assert talk.type("thread 150") == ["A new thread of 1.5 m."], "its beads have no size"
    assert talk.type("thread left 40") == ["The thread: 40 cm."]
    assert [entry.length for entry in talk.session.thread_entries()] == [1500, 400]


def test_notes_are_pinned_listed_and_told_when_they_are_passed(talk: Talk) -> None:
    talk.type("12")
    assert talk.type("note") == ["no notes; `note added thread here` pins one to this place"]
    assert talk.type("note  Blue ran out, used TEAL") == ["pinned here: Blue ran out, used TEAL"]
    assert talk.type("note") == ["the band: Blue ran out, used TEAL"]
    talk.type("back 3")
    assert "your note here: Blue ran out, used TEAL" in talk.type("5")


def test_beads_taken_out_go_back_a_large_number_asks_first(talk: Talk) -> None:
    talk.type("20")
    assert talk.type("take out 4")[0] == "4 beads taken out."
    assert "Type yes to do it" in talk.type("take out 12")[0]
    talk.type("yes")
    assert talk.session.outlook.beads_done == 4
    assert talk.type("take out 9") == ["Only 4 beads are laid."]


def test_a_burst_is_offered(talk: Talk) -> None:
    talk.type(*[""] * 6)
    assert "burst: 6 presses in 0 s" in talk.type("take out")[0]
    talk.type("yes")
    assert talk.session.position == 0
