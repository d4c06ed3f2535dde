"""A piece being stitched: every press is kept, and coming back changes nothing."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from stitchalong.course.walker import Unit
from stitchalong.plan.read import read_text
from stitchalong.session import Session
from stitchalong.store.pieces import Store
from tests.writing import band, peyote, plan_text

RING = plan_text(
    band("*3S, M* 3 times"),
    peyote('"A"', 'height = "2 to 4"', "usual = 3", 'increase = { over = "M", from_round = 2 }'),
    peyote('["A"]', edge="bottom"),
)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    ticks = iter(range(1, 10**9))
    opened = Store.open(tmp_path, clock=lambda: float(next(ticks)))
    yield opened
    opened.close()


def _begin(store: Store, text: str = RING) -> Session:
    loaded = read_text(text, "ring.toml")
    return Session.begin(store, plan=loaded.plan, plan_text=text, plan_data=loaded.data, plan_name="ring.toml")


def test_quitting_and_resuming_at_every_position_changes_nothing(store: Store) -> None:
    session = _begin(store)
    piece = session.piece.id
    seen = []
    while not session.outlook.done:
        session = Session.resume(store, piece)
        if session.outlook.decision is not None:
            session.choose(more=session.outlook.decision.done < 3)
            session = Session.resume(store, piece)
        seen.append(session.outlook)
        session.press()
    straight = _begin(store)
    for look in seen:
        if straight.outlook.decision is not None:
            straight.choose(more=straight.outlook.decision.done < 3)
        assert straight.outlook == look
        straight.press()
    assert straight.outlook == session.outlook
    assert store.piece(piece).state == "finished"


def test_a_press_is_kept_before_it_is_told(store: Store) -> None:
    session = _begin(store)
    for presses in (1, 1, 5, 1):
        session.press(presses)
        row = store.piece(session.piece.id)
        assert (row.position, row.redo_to) == (session.position, session.redo_to)
    session.undo(Unit.STITCH)
    row = store.piece(session.piece.id)
    assert (row.position, row.redo_to) == (4, 8)
    place = json.loads(row.place)
    assert place == {"part": "main", "edge": "top", "round": 0, "stitch": 1, "step": 0, "laid": ""}


def test_an_open_question_stops_a_press_and_says_why(store: Store) -> None:
    session = _begin(store)
    told = session.press(10_000)
    assert told.outlook.decision is not None
    assert "a choice comes first" in told.message
    stopped = session.position
    assert "First choose" in session.press().message
    assert session.position == stopped
    beads, sides = session.what_choosing_means(more=True)
    assert (beads, sides) == (18, (4, 4, 4))
    assert session.what_choosing_means(more=False)[0] == 12, "on to the fill round"


def test_undoing_past_a_choice_takes_it_back(store: Store) -> None:
    session = _begin(store)
    session.press(10_000)
    at = session.position
    session.choose(more=False)
    total = session.course.steps
    session.press(3)
    told = session.undo(Unit.BEAD, 3)
    assert session.position == at
    assert session.choices, "undoing to the place of the choice leaves it"
    told = session.undo()
    assert "choice made here is taken back" in told.message
    assert (session.position, session.choices) == (at, ())
    assert session.outlook.decision is not None
    session.choose(more=True)
    assert session.course.steps != total
    session.undo(Unit.ROUND)
    assert session.choices == ()
    assert json.loads(store.piece(session.piece.id).choices) == []


def test_redo_goes_as_far_as_the_undoing_began(store: Store) -> None:
    session = _begin(store)
    session.press(30)
    session.undo(Unit.BEAD, 7)
    session.undo(Unit.STITCH)
    assert session.redo_all().outlook.position == 30
    assert "nothing to do again" in session.redo().message
    session.undo(Unit.BEAD, 7)
    session.press()
    assert "nothing to do again" in session.redo().message


def test_a_large_undo_says_first_what_it_takes(store: Store) -> None:
    session = _begin(store)
    session.press(10_000)
    target = session.undo_target(Unit.ROUND, 1)
    assert session.undo_takes(target) == "back to round 2, top edge: takes back 15 beads"


def test_stepping_up_elsewhere_is_kept_until_the_end_of_the_round(store: Store) -> None:
    session = _begin(store)
    assert session.can_step_up_elsewhere() == 0, "not in the band"
    session.press(60)
    assert session.outlook.title == "round 1, top edge"
    assert "Kept until the end" in session.step_up_elsewhere(3).message
    assert "0 to 11" in session.step_up_elsewhere(12).message
    again = Session.resume(store, session.piece.id)
    assert again.choices == session.choices
    while again.outlook.title == "round 1, top edge":
        last = again.outlook.now
        before = again.course.spot(again.position).stitch.kind
        again.press()
    assert before == "step-up"
    assert "Step up" in last
    assert again.course.spot(again.position - 2).stitch.kind == "walk along"
    again.step_up_elsewhere(0)
    assert "Walk along" not in "".join(again.lookout.at(at).now for at in range(again.position, again.course.steps))


def test_going_to_a_place_and_back(store: Store) -> None:
    session = _begin(store)
    session.go_to(40)
    assert session.position == 40
    assert "A choice comes first" in session.go_to(session.course.steps).message
    there = session.position
    session.go_to(3)
    assert (session.position, session.redo_to) == (3, there), "redo leads back to where one came from"
    assert "no such place" in session.go_to(10**7).message


def test_on_coming_back_it_is_told_when_and_where_one_stopped(store: Store) -> None:
    session = _begin(store)
    session.press(59)
    kept = store.piece(session.piece.id)
    back = Session.resume(store, session.piece.id).came_back
    assert back is not None
    assert back.when == kept.touched
    assert back.where.startswith("round 1, top edge, side 2 of 3, 1 left on this side")
    assert back.last_beads[-1] == "A"
    assert len(back.last_beads) == 12
    assert "the thread comes out of" in back.comes_out


def test_a_piece_keeps_its_own_copy_of_the_plan(store: Store) -> None:
    session = _begin(store)
    row = store.piece(session.piece.id)
    assert row.plan_text == RING
    assert Session.resume(store, row.id).plan == session.plan


def test_two_pieces_of_one_plan_are_two(store: Store) -> None:
    one, two = _begin(store), _begin(store)
    one.press(5)
    assert (store.piece(one.piece.id).position, store.piece(two.piece.id).position) == (5, 0)
    assert one.piece.name != two.piece.name


def test_in_the_other_hand_words_of_direction_are_mirrored_and_counts_are_not(store: Store) -> None:
    text = plan_text('start = "strung row" ;; beads = "8A"', 'stitch = "flat peyote" ;; rows = ["A", "A"]')
    session = _begin(store, text)
    right = [session.lookout.at(at) for at in range(session.course.steps + 1)]
    session.hold_needle(left=True)
    left = [session.lookout.at(at) for at in range(session.course.steps + 1)]
    words = [[remark.text for remark in look.remarks] + [look.now, look.comes_out] for look in (*right, *left)]
    assert words[: len(right)] != words[len(right) :]
    assert [(look.big, look.codes_left, look.left_piece) for look in left] == [
        (look.big, look.codes_left, look.left_piece) for look in right
    ]
    assert session.outlook == left[0]
