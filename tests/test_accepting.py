"""A piece that differs from its plan: accepted, kept, taken back."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from stitchalong.course.checkpoints import Checkpoint
from stitchalong.course.recount import Slip
from stitchalong.course.walker import Unit
from stitchalong.plan.read import read_text
from stitchalong.session import Session
from stitchalong.store.pieces import Store
from tests.writing import band, peyote, plan_text, rounds_of

RING = plan_text(
    band("*3S, M* 4 times"),
    peyote('"A"', "height = 6", 'increase = { over = "M", from_round = 2 }'),
    peyote('["A"]', edge="bottom"),
)
WRITTEN = plan_text(
    band("*3S, M* 4 times"),
    peyote('"A"', "height = 3", 'increase = { over = "M", with = "MM", from_round = 2 }'),
    peyote('"*5B, MM; repeat from * around"'),
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


def _to(session: Session, title: str, left: int) -> None:
    """On until so many beads are left in this round."""
    looks = map(session.lookout.at, range(session.position, session.course.steps))
    there = next(look for look in looks if (look.title, look.left_round) == (title, left))
    session.press(there.position - session.position)


def _side(session: Session) -> Checkpoint:
    return next(one for one in session.checkpoints() if one.side is not None)


def test_a_side_with_one_bead_more_is_accepted_and_stays_longer(store: Store) -> None:
    session = _begin(store)
    _to(session, "round 3, top edge", 12)
    side = _side(session)
    assert (side.label, side.expected) == ("side 2 of 4", 4)
    before, place, left = session.outlook, session.position, session.outlook.left_round
    told = session.accept(session.recount(side, 5))
    more = session.outlook.beads - before.beads
    said = f"The piece comes to {session.outlook.beads} beads, {more} more."
    assert told.message == f"Accepted: round 3, top edge: 2 beads (AA) in about the fifth space. {said}"
    assert more == 4, "one in each of the rounds 3 to 6"
    assert session.differs == ("round 3, top edge: 2 beads (AA) in about the fifth space",)
    assert (session.outlook.now, session.outlook.title) == (before.now, before.title)
    assert (session.position, session.outlook.left_round) == (place + 1, left)
    assert session.outlook.beads_done == before.beads_done + 1
    sides = [rounds_of(session.course)["top", number]["sides"] for number in (2, 3, 4, 5)]
    assert sides == [[3, 3, 3, 3], [4, 4, 4, 4], [5, 6, 5, 5], [6, 7, 6, 6]]
    _to(session, "round 4, top edge", 12)
    again = Session.resume(store, session.piece.id)
    assert (again.outlook, again.differs, again.choices) == (session.outlook, session.differs, session.choices)


def test_it_is_worked_to_the_last_bead(store: Store) -> None:
    plain = _begin(store)
    session = _begin(store)
    _to(session, "round 3, top edge", 12)
    session.accept(session.recount(_side(session), 3))
    session.press(session.course.steps)
    # one bead fewer in each of the four rounds from here on
    assert session.outlook.beads == plain.outlook.beads - 4
    assert store.piece(session.piece.id).state == "finished"


def test_going_back_past_it_takes_it_back(store: Store) -> None:
    session = _begin(store)
    plain = _begin(store)
    _to(session, "round 3, top edge", 12)
    at = session.position
    session.accept(session.recount(_side(session), 5))
    session.press(6)
    told = session.undo(Unit.BEAD, 6)
    assert session.differs, "going back to where it was accepted leaves it"
    told = session.undo()
    assert "choice made here is taken back" in told.message
    assert (session.differs, session.position) == ((), at)
    session.accept(session.recount(_side(session), 5))
    session.press(6)
    told = session.undo(Unit.BEAD, 9)
    assert "taken back with it" in told.message
    assert session.differs == ()
    plain.press(session.position)
    assert session.outlook == plain.outlook
    assert session.outlook.title == "round 3, top edge"


@pytest.mark.parametrize("behind", range(1, 30))
def test_going_back_to_any_place_leads_to_the_same_bead(store: Store, behind: int) -> None:
    """The steps behind the changed space count one less without it; the place by round and stitch is the same."""
    session = _begin(store)
    plain = _begin(store)
    _to(session, "round 3, top edge", 12)
    session.accept(session.recount(_side(session), 5))
    target = session.position - behind
    there = session.lookout.at(target)
    session.go_to(target)
    plain.press(session.position)
    assert session.outlook == plain.outlook
    if behind <= 3:  # behind the changed space
        assert (session.outlook.title, session.outlook.left_round) == (there.title, there.left_round)


def test_notes_and_thread_behind_the_changed_space_keep_their_beads(store: Store) -> None:
    session = _begin(store)
    session.press(10)
    session.pin_note("early")
    _to(session, "round 3, top edge", 12)
    end = session.position
    session.go_to(end - 1)
    session.pin_note("teal from here")
    session.new_thread(2000.0)
    session.press(1)
    looks = [session.lookout.at(note.position) for note in session.notes]
    session.accept(session.recount(_side(session), 5))
    assert session.position == end + 1
    for one in (session, Session.resume(store, session.piece.id)):
        assert [note.position for note in one.notes] == [10, end]
        for note, look in zip(one.notes, looks, strict=True):
            here = one.lookout.at(note.position)
            assert (here.title, here.left_round, here.comes_out) == (look.title, look.left_round, look.comes_out)
        assert [(entry.position, entry.length, entry.new) for entry in one.thread_entries()] == [(end, 2000.0, True)]
    session.undo()
    assert session.differs == ()
    for one in (session, Session.resume(store, session.piece.id)):
        assert [note.position for note in one.notes] == [10, end - 1]
        assert [entry.position for entry in one.thread_entries()] == [end - 1]


@pytest.mark.parametrize(("left", "later"), [(14, 0), (12, 1)])
def test_earlier_choices_are_carried_over(store: Store, left: int, later: int) -> None:
    """A wish made before the changed space stays where it was made, one made behind it moves with its stitch."""
    session = _begin(store)
    _to(session, "round 3, top edge", left)
    session.step_up_elsewhere(3)
    wish = session._made[0].at
    _to(session, "round 3, top edge", 6)
    session.accept(session.recount(session.checkpoints()[0], 5))
    assert [made.at for made in session._made] == [wish + later, session.position]
    assert len(session.choices) == 2
    back = Session.resume(store, session.piece.id)
    assert back.outlook == session.outlook


def test_what_no_longer_fits_is_refused_with_the_round_that_does_not(store: Store) -> None:
    session = _begin(store, WRITTEN)
    _to(session, "round 3, top edge", 12)
    before, choices = session.outlook, session.choices
    told = session.accept(session.recount(_side(session), 5))
    assert "the rest no longer fits" in told.message
    assert "fits: Round 4 on the top edge: " in told.message
    assert told.message.endswith("(pull back and mend it)")
    assert "work[" not in told.message
    assert ".toml" not in told.message
    assert (session.outlook, session.choices, session.differs) == (before, choices, ())
    assert Session.resume(store, session.piece.id).outlook == before


def test_only_what_lies_under_the_needle_is_accepted(store: Store) -> None:
    session = _begin(store)
    _to(session, "round 3, top edge", 12)
    found = session.recount(_side(session), 5)
    _to(session, "round 4, top edge", 20)
    assert "further back" in session.accept(found).message
    right = session.recount(_side(session), _side(session).expected)
    assert "nothing to accept" in session.accept(right).message
    flank = session.recount(session.checkpoints()[-1], session.checkpoints()[-1].expected - 1).faults[1]
    assert flank.slip is Slip.FLANK


def test_two_spaces_accepted_in_one_are_taken_back_in_one(store: Store) -> None:
    session = _begin(store)
    _to(session, "round 4, top edge", 12)
    before, at = session.outlook, session.position
    for again in (False, True):
        session.accept(session.recount(_side(session), _side(session).expected - 2))
        assert len(session.differs) == 2
        one = Session.resume(store, session.piece.id) if again else session
        told = one.undo()
        assert told.message == f"The choice made here is taken back. The piece comes to {before.beads} beads, 6 more."
        assert (one.differs, one.position, one.outlook) == ((), at, before)


def test_what_was_accepted_in_two_goes_is_taken_back_in_two(store: Store) -> None:
    session = _begin(store)
    _to(session, "round 4, top edge", 12)
    for _ in range(2):
        session.accept(session.recount(_side(session), _side(session).expected - 1))
    assert len(session.differs) == 2
    session.undo()
    assert len(session.differs) == 1
    session.undo()
    assert session.differs == ()


def test_a_fault_that_was_seen_is_accepted_where_it_is(store: Store) -> None:
    session = _begin(store)
    _to(session, "round 3, top edge", 0)
    whole = session.checkpoints()[-1]
    found = session.recount(whole, whole.expected - 1)
    presses, fault = found.faults[:2]
    assert "cannot be accepted" in session.accept(found, presses, presses.places[0]).message
    told = session.accept(found, fault, fault.places[1])
    assert told.message.startswith("Accepted: round 3, top edge: no bead in the ")
    assert session.checkpoints()[-1].expected == whole.expected - 1
    assert session.outlook.special is not None
    assert session.outlook.special.words == "step-up"
