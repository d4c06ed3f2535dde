"""What is said: numbers, parts, and whole pieces from the first bead to the last."""

from __future__ import annotations

import os
import re
from collections.abc import Iterable
from dataclasses import replace
from itertools import groupby
from pathlib import Path

import pytest

from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.course.outlook import Lookout
from stitchalong.cues.cue import Cue
from stitchalong.cues.spoken import TALKS, Speech, Talk, number
from stitchalong.cues.words import USUAL_WARNING, arrived, chosen, cue_of, taken_back, warning
from stitchalong.fabric.stitch import Kind, Note
from stitchalong.plan.library import shipped
from stitchalong.plan.read import read_text

GOLDEN = Path(__file__).parent / "golden"
WRITE = "WRITE_GOLDEN"
"""set to 1: what is said is written, to be read through; the tests fail then, so that it is not left on"""


class Piece:
    """A plan's course, told from its first bead to its last."""

    def __init__(self, text: str, talk: Talk = "changes") -> None:
        loaded = read_text(text)
        names = {bead.code: bead.name for bead in loaded.plan.beads}
        self.course: Course = compile_plan(loaded.plan)
        self.lookout = Lookout(self.course, names)
        self.speech = Speech(names, talk)

    def cue(self, position: int, since: int | None = None, *, early: int = USUAL_WARNING) -> Cue:
        """The cue of the press that leads to this position (of a count, that began at `since`)."""
        before = self.lookout.at(position - 1 if since is None else since)
        return cue_of(before, self.lookout.at(position), early, self.speech)

    def cues(self, *, early: int = USUAL_WARNING) -> list[tuple[int, Cue]]:
        """Each press of the whole piece, with the position it leads to."""
        return [(at, self.cue(at, early=early)) for at in range(1, self.course.steps + 1)]

    def told(self) -> list[str]:
        """All that is said: the position, the tone, the words."""
        return [f"{at:>4}  {cue.earcon:<9} {cue.words}".rstrip() for at, cue in self.cues() if cue.words]


def shipped_text(name: str) -> str:
    (path,) = (path for path in shipped() if path.stem == name)
    return path.read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def gorse() -> Piece:
    return Piece(shipped_text("gorse-ring"))


# ---- numbers ------------------------------------------------------------------------------------


# Source: the English cardinal numbers as any dictionary has them.
@pytest.mark.parametrize(
    ("count", "words"),
    [
        (0, "zero"),
        (1, "one"),
        (4, "four"),
        (12, "twelve"),
        (13, "thirteen"),
        (15, "fifteen"),
        (19, "nineteen"),
        (20, "twenty"),
        (21, "twenty-one"),
        (40, "forty"),
        (58, "fifty-eight"),
        (99, "ninety-nine"),
        (100, "100"),
        (1000, "1000"),
        (-3, "-3"),
    ],
)
def test_numbers_are_said_in_words_as_far_as_they_are_short(count: int, words: str) -> None:
    assert number(count) == words


def test_numbers_to_a_hundred_are_all_different() -> None:
    assert len({number(count) for count in range(101)}) == 101


# ---- names --------------------------------------------------------------------------------------


def test_beads_are_called_as_the_plan_calls_them_and_by_their_codes_where_they_have_no_name() -> None:
    speech = Speech({"C": "charcoal 2", "M": "", "AB": "C (odd)"})
    assert speech.beads("CCM") == "two charcoal 2, one M"
    assert speech.beads(["X"]) == "one X"
    assert speech.plainly("Pass 3 beads on, into C (charcoal 2) and AB (C (odd)), 1,024 in all.") == (
        "pass three beads on, into charcoal 2 and C (odd), 1024 in all"
    )
    assert speech.plainly("Through C, C, AB of C, Q.") == f"through {speech.beads(('C', 'C', 'AB'))} of C, Q"
    assert Speech().plainly("Through C, C.") == "through C, C"


# ---- the order heads-up, now, through a whole ring ----------------------------------------------


def special_places() -> list[int]:
    """Positions of all pairs, step-ups and passes of the ring on its upper edge, by the trade's own arithmetic.

    A band of n units has 4n beads (3n of the frames, n spacers); its join takes three passes and its edge a
    reinforcing pass and a step through a spacer. Round 1 holds 28 singles. While pairs are laid from round 2 on over
    four markers of 28, the singles lie 5 | 6 6 6 | 1, then 5 | 7 7 7 | 2, and so on: each side grows by one a
    round, all of it at the far end of the round (common practice, no source).
    """
    found = []
    at = 4 * 28 + 3 + 2 + 28
    found.append(at)  # the step-up of round 1
    at += 1
    for nth in range(4):
        for singles in (5, 6 + nth, 6 + nth, 6 + nth):
            at += singles
            found.append(at)
            at += 2
        at += 1 + nth
        found.append(at)  # step-up
        at += 1
    return found


def test_a_warning_comes_two_beads_before_and_once_more_when_it_is_now(gorse: Piece) -> None:
    wanted = special_places()
    first, last = wanted[0] - 5, wanted[-1]
    cues = [(at, cue.earcon) for at, cue in gorse.cues() if first <= at <= last]
    assert [at for at, earcon in cues if earcon == "now"] == wanted
    # Where fewer than two beads lie before it, the warning comes with the action before it, or not at all.
    heads_up = [at for at, earcon in cues if earcon == "heads-up"]
    apart = [here - 2 for before, here in zip([0, *wanted], wanted, strict=False) if here - before > 3]
    assert set(apart) <= set(heads_up)
    assert all(any(at < here <= at + 2 for here in wanted) for at in heads_up)


@pytest.mark.parametrize("early", [1, 2, 3, 5])
@pytest.mark.parametrize("name", sorted(path.stem for path in shipped()))
def test_a_heads_up_comes_before_its_now_and_both_once_in_every_plan(name: str, early: int) -> None:
    piece = Piece(shipped_text(name))
    warned: set[int] = set()
    for at, cue in piece.cues(early=early):
        here = piece.lookout.at(at)
        if cue.earcon == "heads-up":
            near = here.next
            assert near is not None
            assert 0 < near.away <= early
            assert near.position not in warned
            warned.add(near.position)
        elif cue.earcon == "now":
            assert here.special is not None
            assert here.special.position == at
    assert warned or not piece.course.special_runs


def test_warnings_that_are_off_sound_for_nothing(gorse: Piece) -> None:
    assert not {cue.earcon for _, cue in gorse.cues(early=0)} & {"heads-up", "now"}


# ---- whole pieces -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "talk"),
    [("gorse-ring", "changes"), ("kite-pendant", "changes"), *(("first-try", talk) for talk in TALKS)],
)
def test_what_is_said_over_a_whole_plan_is_as_it_was_read_through(name: str, talk: Talk) -> None:
    path = GOLDEN / f"{name}, {talk}.txt"
    told = "\n".join(Piece(shipped_text(name), talk).told()) + "\n"
    if os.environ.get(WRITE) == "1":
        path.write_text(told, encoding="utf-8")
        pytest.fail(f"{path.name} is written: read it through, then run again without {WRITE}")
    assert told == path.read_text(encoding="utf-8")


class Listener:
    """Somebody who never looks up: hears which beads to pick up and how often, and then counts down."""

    def __init__(self, names: Iterable[str]) -> None:
        numbers = "|".join(number(count) for count in range(99, 0, -1))
        called = "|".join(re.escape(name) for name in sorted(names, key=len, reverse=True))
        self._beads = re.compile(rf"\b({numbers}) ({called})\b")
        self._times = re.compile(rf", (?:({numbers}) times|twice|once)\b")
        self._by_word = {number(count): count for count in range(100)}
        self.beads: list[tuple[int, str]] = []
        self.times = 0

    def hear(self, words: str) -> None:
        words = words.partition("remark: ")[0]
        found = [(self._by_word[count], name) for count, name in self._beads.findall(words)]
        if not found:
            return
        times = self._times.search(words)
        self.beads, self.times = found, 1
        if times is not None:
            self.times = self._by_word[times[1]] if times[1] else 2 if "twice" in words else 1
        elif len(found) == 1 and not re.search("together|picot|corner", words):
            self.beads, self.times = [(1, found[0][1])], found[0][0]


@pytest.mark.parametrize("name", sorted(path.stem for path in shipped()))
def test_by_ear_alone_every_bead_of_every_plan_is_known(name: str) -> None:
    piece = Piece(shipped_text(name))
    course, speech = piece.course, piece.speech
    listener = Listener(filter(None, speech.names.values()))
    listener.hear(speech.again(piece.lookout.at(0)))
    for at in range(course.steps):
        here = piece.lookout.at(at)
        if at:
            listener.hear(piece.cue(at).words)
        if here.decision is not None:
            listener.hear(speech.stands(replace(here, decision=None)))
        if here.stitch is None or here.step or not here.stitch.beads or here.stitch.kind is Kind.JOIN:
            continue
        laid = [(len(list(same)), speech.bead(code)) for code, same in groupby(here.stitch.beads)]
        assert listener.beads == laid, at
        assert listener.times > 0, at
        listener.times -= 1


def test_in_quiet_only_questions_and_the_end_are_said() -> None:
    ending = [cue.words for _, cue in Piece(shipped_text("gorse-ring"), "quiet").cues() if cue.words]
    assert ending == ["the piece is done"]
    asking = [cue.words for _, cue in Piece(shipped_text("harbour-ring"), "quiet").cues() if cue.words]
    assert len(asking) > 2
    assert all(words.endswith("done: another round, or on") for words in asking)


def test_remarks_are_said_last_where_they_stand_unless_they_are_off(gorse: Piece) -> None:
    (remark,) = (remark for remark in gorse.course.remarks if remark.text.startswith("The first pair"))
    said = "remark: the first pair sits right over the gorse spacer; if it does not, count back to the step-up"
    assert gorse.cue(remark.step).words == f"round one done, round two, five sea glass. {said}"
    before, here = gorse.lookout.at(remark.step - 1), gorse.lookout.at(remark.step)
    speech = replace(gorse.speech, remarks=False)
    assert cue_of(before, here, speech=speech).words == "round one done, round two, five sea glass"
    assert cue_of(before, here, speech=replace(gorse.speech, talk="quiet")).words == ""
    gone_by = gorse.lookout.at(remark.step + 1)
    assert "remark" not in cue_of(here, gone_by, speech=gorse.speech).words


def test_each_stitch_is_said_where_that_is_wanted() -> None:
    piece = Piece(shipped_text("gorse-ring"), "every stitch")
    for at, cue in piece.cues():
        here = piece.lookout.at(at)
        assert bool(cue.words) == (here.step == 0 or cue.earcon != "bead"), at


# ---- parts --------------------------------------------------------------------------------------


def at_round(piece: Piece, edge: str, number_: int) -> int:
    (item,) = (item for item in piece.course.rounds if item.edge == edge and number_ in item.numbers)
    return item.first_step


def test_the_number_comes_first_where_one_asks(gorse: Piece) -> None:
    at = at_round(gorse, "top", 3) + 8
    here = gorse.lookout.at(at)
    assert gorse.speech.where(here) == (
        "six left on this side, side two of four, round three, top edge, "
        "the thread comes out of sea glass, on the top edge, in the direction of work"
    )
    assert gorse.speech.again(here) == "six sea glass, increase in six"


def test_the_words_of_a_pair(gorse: Piece) -> None:
    start = at_round(gorse, "top", 2)
    assert gorse.cue(start + 3).words == "increase in two"
    assert gorse.cue(start + 4).words == ""
    assert gorse.cue(start + 5).words == ("side done, two gorse together, then one in the small space beside it")
    assert gorse.cue(start + 6).words == ""
    assert gorse.speech.again(gorse.lookout.at(start + 6)) == "one gorse more, increase in seven"
    assert gorse.cue(start + 7).words == "six sea glass"


def test_other_edges_are_named_when_they_come(gorse: Piece) -> None:
    words = gorse.cue(at_round(gorse, "bottom", 0)).words
    assert words.startswith("round six done, fill round, bottom edge, cross over: ")
    assert "(" not in words


def test_a_count_that_goes_far_tells_where_it_leads(gorse: Piece) -> None:
    start = at_round(gorse, "top", 2)
    assert gorse.cue(start + 1, start).words == ""
    assert gorse.cue(start + 2, start).words == "three sea glass"
    assert gorse.cue(start + 6, start).words == "side done, one gorse more"


def test_taking_back_and_going_elsewhere_tell_what_stands_there(gorse: Piece) -> None:
    here = gorse.lookout.at(at_round(gorse, "top", 2) + 2)
    assert taken_back(here, gorse.speech).words == "back, three left on this side, three sea glass"
    assert arrived(here, gorse.speech).words == "round two, top edge, three left on this side, three sea glass"


def test_coming_back_tells_the_place_and_the_last_beads(gorse: Piece) -> None:
    here = gorse.lookout.at(at_round(gorse, "top", 2) + 7)
    words = gorse.speech.came_back(here, ["S", "S", "S", "M", "M"])
    assert words == (
        "round two, top edge, six left on this side, the last beads, the latest last: three sea glass, two gorse"
    )
    assert gorse.speech.came_back(here, []).endswith("no bead is laid yet")


def test_many_beads_in_a_space_are_said_as_one_stitch() -> None:
    piece = Piece(shipped_text("first-try"))
    picots = next(at for at in range(piece.course.steps) if piece.course.spot(at).stitch.kind is Kind.PICOT)
    assert piece.cue(picots).words.endswith("three dew, a picot, six times")
    assert piece.speech.to_do(piece.lookout.at(picots + 1)) == "two dew more"
    assert piece.speech.to_do(piece.lookout.at(picots + 12)) == "three dew, a picot, twice"


@pytest.mark.parametrize("name", ["acorn-cap", "folded-leaf", "gorse-ring", "harbour-ring", "twin-rain-cuff"])
def test_how_many_are_alike_ends_at_ribs_sides_and_warnings(name: str) -> None:
    piece = Piece(shipped_text(name))
    for at in range(piece.course.steps):
        here = piece.lookout.at(at)
        spot = piece.course.spot(at)
        bounded = spot.stitch.kind is not Kind.STRING  # a strand has no sides yet
        # Counted bead by bead, the long way.
        count, step = 0, at - spot.step
        while step < piece.course.rounds[spot.round].stop_step:
            there = piece.course.spot(step)
            other = (there.stitch.kind, there.stitch.beads) != (spot.stitch.kind, spot.stitch.beads)
            rib = bounded and there.stitch.has(Note.RIB)
            warned = rib or piece.lookout.at(step).special is not None
            if count and (other or warned):
                break
            count += 1
            if warned or (bounded and there.stitch.has(Note.ENDS_SIDE)):
                break
            step += there.stitch.steps
        assert here.alike == count, at


def test_a_warning_on_the_screen_stands_while_its_words_were_said_once(gorse: Piece) -> None:
    at = at_round(gorse, "top", 2) + 4
    assert gorse.cue(at).earcon == "bead"
    shown = warning(gorse.lookout.at(at))
    assert shown is not None
    assert shown.text.startswith("2-bead increase (MM) in 1 bead, then one in the small space beside it")


def test_a_choice_tells_what_it_leads_to() -> None:
    piece = Piece(shipped_text("harbour-ring"))
    (at, *_) = (decision.step for decision in piece.course.decisions)
    asked = piece.lookout.at(at)
    assert piece.cue(at).words == "round four, top edge done: another round, or on"
    told = chosen("Another round.", replace(asked, decision=None), piece.speech)
    assert told.words == "another round, step up through two beads"
    ended = Piece(shipped_text("first-try"))
    end = ended.lookout.at(ended.course.steps)
    assert chosen("On to what follows.", end, ended.speech).words == "on to what follows, the piece is done"
