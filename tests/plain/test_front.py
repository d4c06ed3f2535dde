"""The line-by-line front end: every press told in a line, position first; all commands; coming back."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress

import pytest

from stitchalong.cues.bell import Bell
from stitchalong.cues.cue import Cue
from stitchalong.errors import StitchalongError, UsageError
from stitchalong.plain.front import Front
from stitchalong.session import LARGE_UNDO as LARGE
from stitchalong.session import Session
from stitchalong.store import Store
from tests.plain.conftest import Begin


class Talk:
    """A front end, and what it said."""

    def __init__(self, session: Session, **more: object) -> None:
        self.session = session
        self.said: list[str] = []
        self.front = Front(session, self.said.append, **more)  # type: ignore[arg-type]

    def type(self, *lines: str) -> list[str]:
        """What is said to these lines."""
        self.said.clear()
        for line in lines:
            assert self.front.take(line)
        return list(self.said)


@pytest.fixture
def talk(ring: Session) -> Talk:
    return Talk(ring)


# Modified right-angle weave, n units: a first ring of 4, then spacer and three frame beads for each further unit, the
# join with one spacer, a top bead and a bottom bead, and one last spacer (common practice, no source). So the second
# unit is told after 4 beads, and 7 units have 28.


def test_a_press_is_one_short_line_with_the_position_first(talk: Talk) -> None:
    unit = "; pass up through the shared side bead, past the spacer, and through the new top bead."
    assert talk.type("4") == [f"the band, 6 units left: pick up 4 A (sorrel){unit}"]
    assert talk.type("") == ["the band, 6 units left: then pick up 3 A (sorrel)."]
    assert talk.type("stitch") == ["the band, 5 units left: pick up 4 A (sorrel)."]


def test_a_stitch_like_the_one_before_is_told_in_few_words(talk: Talk) -> None:
    talk.type("go to round 1")
    said = [line for _ in range(5) for line in talk.type("")]
    whole = "; pass through the next up bead, "
    # round 1 has a space between every two spacers: four along the side of three plain ones (common practice, no
    # source: where k plain spacers lie between markers, the first pairs have k singles between them, one round later)
    assert said[1].startswith(f"round 1, top edge, side 2 of 2, 4 left on this side: pick up 1 A (sorrel){whole}")
    assert said[2:4] == [f"round 1, {left} left on this side: pick up 1 A (sorrel)." for left in (3, 2)]
    assert said[4].startswith(
        f"round 1, top edge, side 2 of 2, 1 left on this side: pick up 1 A (sorrel){whole}B (bone)"
    )


def test_a_warning_is_told_in_words_in_the_next_line(talk: Talk) -> None:
    said = [talk.type("") for _ in range(talk.session.course.steps)]
    warnings = [line for lines in said for line in lines if line.startswith("warning: ")]
    assert any("the join in 2 beads" in line for line in warnings)
    assert any("now: the join" in line for line in warnings)
    # an increase on each of two markers, in rounds 2 and 3, told before and when it is due
    assert sum("2-bead increase" in line and "now: " in line for line in warnings) == 4
    assert all(not lines[0].startswith("warning: ") for lines in said)
    assert talk.session.outlook.done


def test_a_count_tells_what_it_went_past(talk: Talk) -> None:
    assert talk.type("11")[0].startswith("the band, 5 units left: ")
    assert talk.type("2")[0] == "passed on the way: marker (B)"
    assert talk.type("20")[0] == "passed on the way: the join; reinforcing pass; step-up"


def test_a_count_past_the_end_stops_there_and_says_so(talk: Talk) -> None:
    steps = talk.session.course.steps
    said = talk.type(str(steps + 5))
    assert said[0] == "5 presses left over: the piece is done"
    assert "round 3, top edge: the last bead is laid. Weave in the ends." in said
    assert talk.type("")[0].startswith("The piece is done")


def test_back_goes_back_by_bead_stitch_side_and_round(talk: Talk) -> None:
    start = talk.session.course.rounds[2].first_step
    talk.session.go_to(start + 6)
    before = talk.session.position
    assert talk.type("back")[0].startswith("taken back to round 2, top edge")
    assert talk.session.position == before - 1
    talk.type("again")
    assert talk.session.position == before
    assert talk.type("back 3")[0].startswith("3 beads taken back to round 2, top edge")
    talk.type("all again")
    assert talk.session.position == before
    talk.type("back stitch")
    assert before - 2 <= talk.session.position < before
    talk.type("all again")
    assert talk.session.position == before
    talk.type("back side")
    assert start <= talk.session.position < before
    talk.type("back round")
    assert talk.session.position == start


def test_a_large_undo_says_first_what_it_takes(talk: Talk) -> None:
    talk.type("20")
    assert talk.type(f"back {LARGE + 1}") == [f"back to the band: takes back {LARGE + 1} beads. Type yes to do it."]
    assert talk.session.position == 20
    assert talk.type("no") == ["left as it was"]
    talk.type(f"back {LARGE + 1}")
    assert talk.type("") == ["left as it was"], "an empty line is no bead here"
    assert talk.session.position == 20
    talk.type(f"back {LARGE + 1}", "yes")
    assert talk.session.position == 20 - LARGE - 1
    with pytest.raises(UsageError):
        talk.front.take("yes")


def test_go_to_finds_rounds_sides_and_beads(talk: Talk) -> None:
    course = talk.session.course
    talk.type("go to round 2")
    assert talk.session.position == course.rounds[2].first_step
    talk.type("go to bead 3")
    assert course.beads_before(talk.session.position) == course.rounds[2].first_bead - 1 + 2
    talk.type("go to round 3 side 2 bead 2")
    assert (talk.session.outlook.round, talk.session.outlook.side) == (3, 1)
    assert "Type yes" in talk.type("go to band")[0]
    talk.type("yes")
    assert talk.session.position == 0
    for line, said in {
        "go to round 9": "there is no round 9 (rounds go from 0 to 3)",
        "go to round 3 side 7": "that round has 2 sides, not 7",
        "go to round 3 side 1 bead 50": "that side has not 50 beads",
        "go to round 1 bead 8": "that round has 7 beads, not 8",
        "go to bottom": "this piece has no bottom edge",
    }.items():
        with pytest.raises(UsageError, match=said.replace("(", r"\(").replace(")", r"\)")):
            talk.front.take(line)
    assert talk.session.position == 0


def test_the_start_of_a_round_can_be_moved(talk: Talk) -> None:
    talk.session.go_to(talk.session.course.rounds[1].first_step)
    with pytest.raises(UsageError, match="the next edge has 7 spaces"):
        talk.front.take("step up")
    assert talk.type("step up 3")[0] == "Kept until the end of this round."
    assert talk.type("step up 9") == ["The next edge has 7 spaces: 0 to 6."]
    said = talk.type("7")
    assert said[-2].startswith("round 1, top edge: walk along: pass along the edge without a bead, 3 spaces on; ")
    assert said[-1] == "warning: now: a walk along the edge"
    talk.type("2")
    assert talk.session.outlook.round == 2


def test_where_last_left_and_say_tell_and_move_nothing(talk: Talk) -> None:
    assert talk.type("last") == ["no bead is laid yet"]
    talk.session.go_to(talk.session.course.rounds[2].first_step + 4)
    before = talk.session.position
    where = talk.type("where")
    assert where[0].startswith("round 2, top edge, side ")
    assert where[-1].startswith("the thread comes out of ")
    assert talk.type("last")[0].startswith("the last beads laid, the latest last: ")
    left = talk.type("left")
    done = talk.session.outlook.beads_done
    # 28 beads of the band, 7 of round 1, 9 and 11 of rounds 2 and 3
    assert left[-1] == f"{55 - done} beads left in the piece of 55"
    assert left[-2].startswith(f"{28 + 7 + 9 - done} beads left in this round: ")
    assert talk.type("say")[-1].startswith("next: ")
    assert talk.session.position == before


def test_help_names_every_word_and_cautions(talk: Talk) -> None:
    from stitchalong.settings.commands import commands

    said = talk.type("help")
    for command in commands("plain"):
        if command.word:
            assert any(line.strip().startswith(f"{command.word}: ") for line in said), command.id
    assert "glass splinters" in " ".join(said)


def test_every_word_is_answered(talk: Talk) -> None:
    from stitchalong.settings.commands import commands

    talk.type("30")
    for command in commands("plain"):
        if command.word and command.id != "quit":
            with suppress(UsageError):  # some want more than their word
                assert talk.type(command.word), command.id


def test_warnings_and_remarks_are_switched(talk: Talk) -> None:
    assert talk.type("warn 4") == ["warned 4 beads ahead"]
    assert any("the join in 4 beads" in line for line in talk.type("20"))
    assert talk.type("warn", "warn") == ["warned 5 beads ahead", "warned 8 beads ahead"]
    assert talk.type("warn") == ["warnings are off"]
    assert talk.type("warn") == ["warned 1 bead ahead"]
    assert talk.type("warn 0") == ["warnings are off"]
    assert not any(line.startswith("warning: ") for line in talk.type(*[""] * 4))
    assert talk.type("remarks") == ["remarks are not told"]
    assert not any(line.startswith("remark: ") for line in talk.type("12"))
    talk.type("remarks", f"back {LARGE}")
    assert any(line == "remark: The first pairs." for line in talk.type("20"))


def test_quit_asks_to_leave_and_close_says_what_is_kept(talk: Talk) -> None:
    talk.type("6")
    assert talk.front.take("quit") is False
    talk.front.close()
    assert talk.said[-1] == "kept: the band, 6 units left; 6 beads of 55 laid"


# ---- an open height ---------------------------------------------------------------------------------


def test_an_open_height_asks_and_tells_what_each_answer_means(begin: Begin) -> None:
    talk = Talk(begin('height = "2 to 4"'))
    said = talk.type("300")
    assert "a choice comes first" in said[0]
    assert any(line.endswith("round 2, top edge: done. Another round, or on?") for line in said)
    # round 3 of seven units with two pairs laid in round 2: nine spaces, two of them pairs
    assert said[-2] == "another: a round of 11 beads, sides of 3, 4"
    assert said[-1] == "on: nothing follows"
    assert talk.type("")[0].startswith("First choose")
    assert talk.type("another")[0] == "Another round."
    talk.type("300")
    assert talk.type("on")[0] == "On to what follows."
    talk.type("300")
    assert talk.session.outlook.done
    assert talk.session.outlook.beads == 28 + 7 + 9 + 11


# ---- faults -----------------------------------------------------------------------------------------


def run(session: Session, lines: Iterable[str], *, attended: bool) -> list[str]:
    said: list[str] = []
    Front(session, said.append).run(lines, attended=attended)
    return said


def test_attended_a_line_that_is_not_understood_is_told_and_the_next_one_read(ring: Session) -> None:
    said = run(ring, ["", "forwards", ""], attended=True)
    assert "is not understood" in said[1]
    assert ring.position == 2


def test_unattended_the_first_line_that_is_not_understood_ends_it(ring: Session) -> None:
    with pytest.raises(UsageError, match="line 2: "):
        run(ring, ["", "forwards", ""], attended=False)
    assert ring.position == 1


@pytest.mark.parametrize("attended", [True, False])
def test_a_piece_gone_on_with_elsewhere_ends_it(store: Store, ring: Session, attended: bool) -> None:
    other = Session.resume(store, ring.piece.id)
    with pytest.raises(StitchalongError, match="window"):
        run(ring, _with_a_press_of(other), attended=attended)
    assert Session.resume(store, ring.piece.id).position == 2


def _with_a_press_of(other: Session) -> Iterable[str]:
    yield "1"
    other_row = other._store.piece(other.piece.id)
    Session(other._store, other_row, other.plan).press()
    yield "1"
    yield "1"


def test_the_bell_rings_for_warnings_alone() -> None:
    rung: list[str] = []
    bell = Bell(lambda: rung.append("ring"))
    for cue in (Cue("bead"), Cue("undone", "taken back"), Cue("heads-up", "soon", urgent=True), Cue("error", "no")):
        bell.deliver(cue)
    bell.close()
    assert rung == ["ring"]


def test_each_press_delivers_one_cue(ring: Session) -> None:
    told: list[Cue] = []

    class Outlet:
        def deliver(self, cue: Cue) -> None:
            told.append(cue)

        def mute(self) -> bool:
            return False

        def describe(self) -> str:
            return "a list"

        def close(self) -> None:
            pass

    talk = Talk(ring, outlet=Outlet())
    talk.type(*[""] * ring.course.steps, "", "back")
    assert len(told) == ring.course.steps + 2
    assert [cue.earcon for cue in told[-3:]] == ["done", "error", "undone"]


# ---- coming back ------------------------------------------------------------------------------------


def test_quitting_and_coming_back_at_every_position_changes_nothing(store: Store, ring: Session) -> None:
    """The line said at each press is said again on coming back there; so are all counts."""
    piece = ring.piece.id
    for _ in range(ring.course.steps):
        session = Session.resume(store, piece)
        pressed = Talk(session)
        pressed.type("")
        pressed.type("where", "left", "last", "say")
        told = list(pressed.said)
        back = Session.resume(store, piece)
        assert back.outlook == session.outlook
        again = Talk(back)
        again.front.open(1_750_000_000.0)
        assert again.said[0].startswith("last worked on today at ")
        assert back.came_back is not None
        assert back.came_back.comes_out in again.said[1]
        again.type("where", "left", "last", "say")
        assert again.said == told
    assert Session.resume(store, piece).outlook.done
    assert store.piece(piece).state == "finished"


# ---- by ear -------------------------------------------------------------------------------------


class Ear:
    """An outlet that remembers."""

    def __init__(self) -> None:
        self.heard: list[Cue] = []
        self.muted = False

    def deliver(self, cue: Cue) -> None:
        self.heard.append(cue)

    def mute(self) -> bool:
        self.muted = not self.muted
        return self.muted

    def describe(self) -> str:
        return "a list"

    def close(self) -> None:
        pass


def test_what_is_asked_for_is_also_said(ring: Session) -> None:
    ear = Ear()
    talk = Talk(ring, outlet=ear)
    talk.front.open(0)
    assert ear.heard == [Cue(None, "seven units left, four sorrel, three times")]
    talk.type("40")
    for word, said in (
        ("where", ring.speech.where(ring.outlook)),
        ("say", ring.speech.again(ring.outlook)),
        ("last", "the last beads, the latest last: four sorrel, one bone, seven sorrel"),
        ("warn 5", "warned five beads ahead"),
        ("remarks", "remarks are not told"),
        ("talk", "aloud: every stitch is said"),
    ):
        talk.type(word)
        assert ear.heard[-1] == Cue(None, said), word
    talk.type("left")
    assert "beads left in this round" in ear.heard[-1].words
    assert ring.talk == "every stitch"
    assert talk.type("mute") == ["muted"]
    assert ear.muted
    assert talk.type("mute") == ["heard again: a list"]
    talk.front.run(["go to nowhere"], attended=True)
    assert ear.heard[-1].earcon == "error"
    talk.type("back round 9")
    assert ear.heard[-1].words.endswith("Type yes to do it")
    talk.type("no")


def test_without_anything_that_sounds_mute_says_so(talk: Talk) -> None:
    with pytest.raises(UsageError, match="nothing sounds"):
        talk.type("mute")


def test_coming_back_is_said_with_the_last_beads(store: Store, ring: Session) -> None:
    ring.press(40)
    ear = Ear()
    Talk(Session.resume(store, ring.piece.id), outlet=ear).front.open(0)
    assert ear.heard[0].words.startswith("round one, top edge, ")
    assert ear.heard[0].words.endswith("the last beads, the latest last: four sorrel, one bone, seven sorrel")


def test_the_bell_can_be_muted() -> None:
    rung: list[str] = []
    bell = Bell(lambda: rung.append("ring"))
    assert bell.mute()
    assert bell.describe() == "muted"
    bell.deliver(Cue("now", urgent=True))
    assert not bell.mute()
    bell.deliver(Cue("now", urgent=True))
    assert rung == ["ring"]
    assert Bell(None).describe() == "sound off"
    Bell(None).deliver(Cue("now", urgent=True))
