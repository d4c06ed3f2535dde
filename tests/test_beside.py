"""What lies beside the work: places found, beads on the tray, notes, thread, time, beads taken out."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from stitchalong.course.find import Clues
from stitchalong.course.walker import Unit
from stitchalong.errors import StoreError, UsageError
from stitchalong.measure.book import measured_thread
from stitchalong.measure.pace import estimate
from stitchalong.measure.spool import ROOM, State
from stitchalong.measure.thread import TAIL, WEAVING
from stitchalong.plan.read import read_text
from stitchalong.session import Session
from stitchalong.store.pieces import Store
from stitchalong.store.rows import Event
from tests.writing import band, peyote, plan_text

RING = plan_text(
    band("*3S, M* 4 times"),
    peyote('["A", "B"]', 'height = "4 to 6"', "usual = 5", 'increase = { over = "M", from_round = 2 }'),
    peyote('["A"]', edge="bottom"),
)
SIZED = RING.replace('colour = "', 'size = "11/0"\nshape = "cylinder"\ncolour = "')


class Clock:
    """Stands still until it is moved on."""

    def __init__(self) -> None:
        self.now = 1000.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def begin(tmp_path: Path, clock: Clock) -> Iterator[Callable[..., Session]]:
    store = Store.open(tmp_path, clock=clock)

    def begun(text: str = SIZED) -> Session:
        loaded = read_text(text, "ring.toml")
        return Session.begin(store, plan=loaded.plan, plan_text=text, plan_data=loaded.data, plan_name="ring.toml")

    yield begun
    store.close()


def _again(session: Session) -> Session:
    return Session.resume(session._store, session.piece.id)


# ---- finding ------------------------------------------------------------------------------------


def test_a_place_that_was_lost_is_found_and_gone_on_from(begin: Callable[..., Session]) -> None:
    session = begin()
    session.press(100)
    seen = _again(session).came_back
    assert seen is not None
    session.go_to(20)
    found = session.find(Clues(seen.last_beads, either_way=False))
    fit = next(fit for fit in found.fits if fit.position == 100)
    session.go_to(fit.position)
    assert session.position == 100
    assert session.outlook.now == fit.now
    with pytest.raises(UsageError):
        session.find(Clues(("Q",)))


def test_the_finder_follows_a_choice(begin: Callable[..., Session]) -> None:
    session = begin()
    assert {fit.off for fit in session.find(Clues(round=6)).fits} == {1}, "there is no round 6 yet"
    session.press(10_000)
    session.choose(more=True)
    session.press(10_000)
    session.choose(more=True)
    assert session.find(Clues(round=6)).fits[0].title == "round 6, top edge"


# ---- the tray -----------------------------------------------------------------------------------


def test_the_tray_is_that_of_the_place(begin: Callable[..., Session]) -> None:
    session = begin()
    session.press(70)
    assert session.tray().round.left == session.outlook.codes_left
    assert len(session.tray(2).ahead) == 2
    end = session.course.rounds[1].stop_step
    session.press(end - session.position)
    assert [found.difference for found in session.left_over({"A": 1})] == [-1], "of the round that was just finished"
    with pytest.raises(UsageError, match="no B was counted out"):
        session.left_over({"B": 1})


# ---- notes --------------------------------------------------------------------------------------


def test_a_note_is_shown_when_its_place_is_passed_again(begin: Callable[..., Session]) -> None:
    session = begin()
    session.press(30)
    note = session.pin_note("added thread\n here")
    assert note.text == "added thread here"
    assert [(one.text, one.position) for one in session.notes] == [(note.text, 30)]
    assert session.press().notes == ()
    assert session.undo().notes == ("added thread here",)
    session.undo(Unit.BEAD, 12)
    assert session.press(3).notes == ()
    assert session.press(20).notes == ("added thread here",)
    again = _again(session)
    assert again.notes == session.notes
    assert again.undo(Unit.BEAD, 11).notes == ("added thread here",)
    again.unpin_note(note)
    assert again.notes == ()
    assert again.press(3).notes == ()
    with pytest.raises(StoreError):
        again.unpin_note(note)
    with pytest.raises(StoreError, match="says nothing"):
        again.pin_note(" \x07 ")


def test_of_many_notes_passed_at_once_the_nearest_are_told(begin: Callable[..., Session]) -> None:
    session = begin()
    for nth in range(6):
        session.press(2)
        session.pin_note(f"note {nth}")
    session.go_to(0)
    assert session.go_to(40).notes == ("note 3", "note 4", "note 5")


# ---- thread -------------------------------------------------------------------------------------


def test_the_thread_at_hand_is_kept_and_shortens(begin: Callable[..., Session]) -> None:
    session = begin()
    assert session.thread() is None
    assert session.thread_words() == ""
    told = session.new_thread(1500)
    assert told.message == "A new thread of 1.5 m."
    reach = session.thread()
    assert reach is not None
    assert reach.left.value == 1500 - TAIL
    session.press(120)
    later = session.thread()
    assert later is not None
    assert later.left.value < 1500 - TAIL - 120
    assert "left" in session.thread_words()
    assert _again(session).thread() == later
    session.undo(Unit.BEAD, 120)
    assert session.thread() == reach
    session.redo_all()
    session.thread_left(ROOM + 1)
    here = session.thread()
    assert here is not None
    assert here.left.value == ROOM + 1
    assert here.state is State.NOW
    session.new_thread(2000)
    assert session.thread_words().startswith("about 1.9 m left")
    new = session.thread()
    assert new is not None
    assert new.left.value == 2000 - WEAVING


def test_the_thread_that_finished_pieces_took_is_reckoned_with(begin: Callable[..., Session]) -> None:
    usual, hers = begin(), begin()
    for session in (usual, hers):
        session.new_thread(1500)
        session.press(100)
    plain = usual.thread()
    hers._store.add_measured(measured_thread(100_000.0, 150_000.0, 0))
    own = hers.thread()
    assert plain is not None
    assert own is not None
    assert own.left.value < plain.left.value, "her pieces took more than is usual"


def test_where_the_beads_have_no_size_nothing_is_made_up(begin: Callable[..., Session]) -> None:
    session = begin(RING)
    session.new_thread(1500)
    assert session.thread() is None
    assert session.thread_words() == ""


@pytest.mark.parametrize("length", [0.0, -1.0, float("nan"), 1e9])
def test_a_length_that_cannot_be_changes_nothing(begin: Callable[..., Session], length: float) -> None:
    session = begin()
    with pytest.raises(UsageError):
        session.new_thread(length)
    assert session.thread_entries() == []


@pytest.mark.parametrize(
    "data", ["{}", "[]", '{"length": "a"}', '{"length": -1, "new": true}', '{"length": NaN, "new": true}', '{"length":']
)
def test_kept_data_that_says_nothing_of_a_thread_is_passed_over(begin: Callable[..., Session], data: str) -> None:
    session = begin()
    event = Event("thread", 0, 0, 0, data)
    session._store.record(session.piece.id, 0, [event], place=session.piece.place)
    again = _again(session)
    assert again.thread() is None
    again.new_thread(900)
    assert len(_again(again).thread_entries()) == 1


# ---- time ---------------------------------------------------------------------------------------


def test_her_own_pace_says_how_long_the_rest_takes(begin: Callable[..., Session], clock: Clock) -> None:
    session = begin()
    assert session.pace() is None
    assert session.time_left() is None
    beads = session.outlook.left_piece
    guess = f"about {estimate(beads)} left, an estimate at 20 s a bead"
    assert session.time_told() == f"0 s in this piece; {guess}: your pace is known after some twenty beads"
    figures = dict(session.in_figures())["Time"]
    assert figures[0].endswith(f": {estimate(beads)}")
    assert figures[-1].startswith("an estimate at 20 s a bead")
    for nth in range(60):
        clock.now += 4 if nth % 2 else 6
        session.press()
        if nth == 30:
            clock.now += 3000
    pace = session.pace()
    assert pace is not None
    assert pace.each.value == pytest.approx(5, abs=0.1)
    assert session.seconds_spent() == pytest.approx(300, abs=10)
    assert session.time_told().startswith("5 min in this piece; 12 beads a minute, so about ")
    left = session.time_left()
    assert left is not None
    assert left.value == pytest.approx(session.outlook.left_piece * 5, rel=0.05)
    assert left.low <= left.value <= left.high


def test_keys_tried_out_are_no_pace(begin: Callable[..., Session], clock: Clock) -> None:
    """Seconds a bead below which nobody stitches: common practice, no source."""
    session = begin()
    for nth in range(60):
        # read, then try some keys
        clock.now += 1.7 if nth % 5 else 8
        session.press(1 if nth % 7 else 3)
    assert session.pace() is None


def test_presses_in_a_burst_share_the_time_before_them(begin: Callable[..., Session], clock: Clock) -> None:
    """Four beads sewn in 40 s, then four presses: 40.9 s by the clock for each four."""
    session = begin()
    for _ in range(15):
        clock.now += 40
        session.press()
        for _ in range(3):
            clock.now += 0.3
            session.press()
    pace = session.pace()
    assert pace is not None
    assert pace.each.value == pytest.approx(40.9 / 4)


def test_beads_counted_at_once_share_their_time_and_jumps_are_no_stitching(
    begin: Callable[..., Session], clock: Clock
) -> None:
    session = begin()
    for _ in range(12):
        clock.now += 12
        session.press(3)
    pace = session.pace()
    assert pace is not None
    assert pace.each.value == pytest.approx(4)
    clock.now += 2
    session.press(50)
    clock.now += 5
    session.go_to(session.position + 4)
    assert session.pace() == pace, "nobody lays fifty beads in two seconds"


# ---- taking out ---------------------------------------------------------------------------------


def test_beads_taken_out_take_the_passes_behind_them_along(begin: Callable[..., Session]) -> None:
    session = begin()
    item = session.course.rounds[1]
    session.press(item.stop_step)
    assert session.course.spot(session.position - 1).stitch.kind == "step-up"
    told = session.unpick(1)
    assert session.position == item.stop_step - 2, "the step-up and the last bead"
    assert told.message == "1 bead taken out."
    beads = session.outlook.beads_done
    session.unpick(12)
    assert session.outlook.beads_done == beads - 12
    assert "Only" in session.unpick(10_000).message
    assert "How many" in session.unpick(0).message
    session.unpick(session.outlook.beads_done)
    assert session.position == 0


def test_taking_out_goes_past_a_choice_and_says_so(begin: Callable[..., Session]) -> None:
    session = begin()
    session.press(10_000)
    session.choose(more=True)
    session.press(5)
    told = session.unpick(8)
    assert told.message.startswith("8 beads taken out. ")
    assert "taken back with it" in told.message
    assert session.choices == ()


def test_a_burst_is_taken_back_in_one_go(begin: Callable[..., Session], clock: Clock) -> None:
    session = begin()
    for _ in range(5):
        clock.now += 3
        session.press()
    clock.now += 20
    for _ in range(25):
        session.press()
        clock.now += 0.04
    burst = session.burst()
    assert burst is not None
    assert (burst.presses, burst.target) == (25, 5)
    assert burst.words == "25 presses in 1 s"
    told = session.take_back_burst()
    assert session.position == 5
    assert told.message == "Taken back: 25 presses in 1 s."
    assert session.burst() is None
    assert "one by one" in session.take_back_burst().message
    assert session.redo_to == 30


def test_steady_stitching_is_no_burst(begin: Callable[..., Session], clock: Clock) -> None:
    session = begin()
    for _ in range(5):
        clock.now += 3
        session.press()
    assert session.burst() is None


# ---- the start of a part ------------------------------------------------------------------------


def test_going_back_to_the_start_of_the_part(begin: Callable[..., Session]) -> None:
    """The band, the rounds of the top edge, those of the bottom edge."""
    session = begin()
    session.press(10_000)
    session.choose(more=False)
    session.press(10_000)
    assert session.outlook.done
    starts = []
    while session.position:
        session.undo(Unit.PART)
        starts.append(session.outlook.title)
    assert starts == ["fill round, bottom edge", "round 1, top edge", "the band"]


def test_data_of_the_thread_is_plain(begin: Callable[..., Session]) -> None:
    session = begin()
    session.new_thread(1500)
    kept = session._store.told(session.piece.id)
    assert [json.loads(one.event.data) for one in kept] == [{"length": 1500, "new": True}]
