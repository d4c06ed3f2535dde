"""A piece begun with another version of the program: what was laid stays, and where the two disagree it is told.

That another version derives another course is played by exchanging the plan under a piece, its place left as it was.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from stitchalong.course.course import COMPILER
from stitchalong.errors import StoreError
from stitchalong.plain import telling
from stitchalong.plan.read import read_text
from stitchalong.session import Session
from stitchalong.store import Event
from stitchalong.store.pieces import Store
from tests.writing import band, peyote, plan_text

START = band("*3S, M* 3 times")
RISING = 'increase = { over = "M", from_round = 2 }'
RING = plan_text(START, peyote('["A", "B", "A", "B"]', RISING))


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    opened = Store.open(tmp_path, clock=lambda: 1_700_000_000.0)
    yield opened
    opened.close()


def begun(store: Store, title: str) -> Session:
    """A piece that stands in the middle of a round."""
    loaded = read_text(RING, "ring.toml")
    session = Session.begin(store, plan=loaded.plan, plan_text=RING, plan_data=loaded.data, plan_name="ring")
    while session.outlook.title != title:
        session.press()
    session.press(4)
    session.press(2)
    session.undo()
    return session


def derived_otherwise(store: Store, session: Session, text: str, *, compiler: int = COMPILER - 1) -> None:

    row = store.piece(session.piece.id)
    store.replace_plan(
        row.id, row.seq, [Event("mark", 0, row.position, row.redo_to)], plan_text=text, plan_name="ring",
        plan_data=json.dumps(read_text(text, "ring.toml").data), compiler=compiler, choices=row.choices,
        place=row.place, steps=row.steps,
    )  # fmt: skip


def test_a_version_that_derives_the_same_goes_on_as_if_nothing_were(store: Store) -> None:
    session = begun(store, "round 3, top edge")
    derived_otherwise(store, session, RING)
    again = Session.resume(store, session.piece.id)
    assert (again.position, again.redo_to) == (session.position, session.redo_to)
    assert again.came_back is not None
    assert not again.came_back.differs


def test_what_only_later_rounds_have_otherwise_is_no_matter(store: Store) -> None:
    session = begun(store, "round 3, top edge")
    derived_otherwise(store, session, plan_text(START, peyote('["A", "B", "A", "C"]', RISING)))
    again = Session.resume(store, session.piece.id)
    assert again.position == session.position
    assert again.came_back is not None
    assert not again.came_back.differs


@pytest.mark.parametrize(
    ("text", "compiler"),
    [
        (plan_text(START, peyote('["A", "C", "A", "B"]', RISING)), COMPILER - 1),
        # a version that says it is the same and is not
        (plan_text(START, peyote('["A", "C", "A", "B"]', RISING)), COMPILER),
        (plan_text(START, "walk = 3", peyote('["A", "B", "A", "B"]', RISING)), COMPILER - 1),
    ],
)
def test_what_earlier_rounds_have_otherwise_is_told_and_the_place_is_kept_by_its_stitch(
    store: Store, text: str, compiler: int
) -> None:
    session = begun(store, "round 3, top edge")
    derived_otherwise(store, session, text, compiler=compiler)
    again = Session.resume(store, session.piece.id)
    assert again.came_back is not None
    assert "otherwise than they were laid" in again.came_back.differs
    assert again.outlook.title == session.outlook.title
    assert again.outlook.left_round == session.outlook.left_round
    assert any("mind: this program" in line for line in telling.came_back(again, 1_700_000_100.0))
    again.press()
    assert Session.resume(store, session.piece.id).position == again.position


def test_steps_put_in_before_the_place_do_not_shift_it(store: Store) -> None:
    session = begun(store, "round 3, top edge")
    derived_otherwise(store, session, plan_text(START, 'reinforce = "top"', peyote('["A", "B", "A", "B"]', RISING)))
    again = Session.resume(store, session.piece.id)
    assert again.position == session.position + 1
    assert again.came_back is not None
    assert again.came_back.differs
    assert again.outlook.left_round == session.outlook.left_round


def test_a_place_kept_without_a_digest_is_taken_as_it_is(store: Store) -> None:
    session = begun(store, "round 3, top edge")
    row = store.piece(session.piece.id)
    place = {key: value for key, value in json.loads(row.place).items() if key != "laid"}
    event = Event("mark", 0, row.position, row.redo_to)
    store.record(row.id, row.seq, [event], place=json.dumps(place))
    again = Session.resume(store, session.piece.id)
    assert again.outlook == session.outlook
    assert again.came_back is not None
    assert not again.came_back.differs
    again.press()
    assert "laid" in json.loads(store.piece(row.id).place)


@pytest.mark.parametrize("place", ["{}", "[]", "7", "null", '{"part": 1}', "[" * 50_000])
def test_a_place_that_cannot_be_read_is_told(store: Store, place: str) -> None:
    session = begun(store, "round 3, top edge")
    row = store.piece(session.piece.id)
    store.record(row.id, row.seq, [Event("mark", 0, row.position, row.redo_to)], place=place)
    with pytest.raises(StoreError, match="cannot be read"):
        Session.resume(store, session.piece.id)


def test_a_place_that_is_no_more_is_told_and_nothing_is_lost(store: Store) -> None:
    session = begun(store, "round 4, top edge")
    derived_otherwise(store, session, plan_text(START, peyote('["A", "B"]', RISING)))
    before = store.piece(session.piece.id)
    with pytest.raises(StoreError, match="stands in round 4 on the top edge, which its plan does not give"):
        Session.resume(store, session.piece.id)
    assert store.piece(session.piece.id) == before
