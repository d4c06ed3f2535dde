"""Two windows on one piece: one works, the other watches or takes over; no press is lost or counted twice."""

from __future__ import annotations

import random
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from stitchalong.errors import StoreError
from stitchalong.plan.read import read_text
from stitchalong.session import Session
from stitchalong.session.watching import Watching
from stitchalong.store import Conflict
from stitchalong.store.pieces import Store
from tests.writing import band, peyote, plan_text

RING = plan_text(
    band("*3S, M* 3 times"),
    peyote('"A"', 'height = "2 to 4"', 'increase = { over = "M", from_round = 2 }'),
    peyote('["B"]', edge="bottom"),
)
Windows = tuple[Session, Watching]


@pytest.fixture
def windows(tmp_path: Path) -> Iterator[Windows]:
    """The window that works and the one that watches, each with a store of its own."""
    first, second = (Store.open(tmp_path, clock=lambda: 1_700_000_000.0) for _ in range(2))
    loaded = read_text(RING, "ring.toml")
    session = Session.begin(first, plan=loaded.plan, plan_text=RING, plan_data=loaded.data, plan_name="ring")
    session.press(3)
    yield session, Session.watch(second, session.piece.id)
    first.close()
    second.close()


def test_what_is_done_in_one_window_is_seen_in_the_other(windows: Windows) -> None:
    session, watching = windows
    assert watching.outlook == session.outlook
    assert not watching.look()
    for act in (session.press, session.press, session.undo, session.redo, lambda: session.go_to(40), session.undo):
        act()
        assert watching.look()
        assert not watching.look()
        assert (watching.outlook, watching.redo_to) == (session.outlook, session.redo_to)


def test_choices_are_seen_too_and_the_course_is_made_anew_only_for_them(windows: Windows) -> None:
    session, watching = windows
    session.press(10_000)
    before = watching.course
    watching.look()
    assert watching.course is before
    assert watching.outlook.decision is not None
    session.choose(more=False)
    assert watching.look()
    assert watching.course.steps == session.course.steps != before.steps
    assert watching.outlook == session.outlook


def test_a_new_plan_is_seen_too(windows: Windows) -> None:
    session, watching = windows
    session.take_over_plan(read_text(RING.replace("bead b", "slate"), "ring.toml"), "ring")
    assert watching.look()
    assert watching.names["B"] == "slate"


def test_a_new_plan_that_cannot_be_read_yet_is_asked_for_again(
    windows: Windows, monkeypatch: pytest.MonkeyPatch
) -> None:
    session, watching = windows
    stood = dict(vars(watching))
    with monkeypatch.context() as broken:
        session.take_over_plan(read_text(RING.replace("bead b", "slate"), "ring.toml"), "ring")

        def unread(*given: object) -> None:
            raise StoreError("it cannot be read")

        broken.setattr("stitchalong.session.courses.fetch", unread)
        for _ in range(2):
            with pytest.raises(StoreError, match="cannot be read"):
                watching.look()
            assert vars(watching) == stood
    assert watching.look()
    assert watching.names["B"] == "slate"
    assert not watching.look()


def test_a_window_that_watches_keeps_nothing(windows: Windows) -> None:
    session, watching = windows
    before = watching.outlook, watching.redo_to
    for act in (
        watching.press,
        watching.undo,
        lambda: watching.go_to(9),
        lambda: watching.mark("mine"),
        lambda: watching.pin_note("x"),
        lambda: watching.take_over_plan(read_text(RING, "ring.toml"), "x"),
    ):
        with pytest.raises(StoreError, match="only watches"):
            act()
    assert (watching.outlook, watching.redo_to) == before
    session.press()


def test_taking_over_leaves_the_other_window_its_last_press_and_no_further_one(windows: Windows) -> None:
    session, watching = windows
    session.press(2)
    held = session._store.hold(session.piece.id)
    mine = watching.take_over()
    assert mine.position == 5
    assert held is not None
    held.release()
    if sys.platform != "win32":
        assert session._store.hold(session.piece.id) is None, "a third window is told"
    with pytest.raises(Conflict, match="worked on in another window"):
        session.press()
    assert session.position == 5, "what was not kept is not shown"
    mine.press(4)
    assert session.anew().position == 9
    there = Session.watch(session._store, session.piece.id)
    mine.press()
    assert there.look()
    assert there.position == 10
    back = there.take_over()
    back.press()
    with pytest.raises(Conflict):
        mine.press()
    kinds = [kept.event.kind for kept in back._store.tail(session.piece.id, 6)]
    assert kinds == ["press", "mark", "press", "press", "mark", "press"]


def test_a_press_that_comes_in_between_does_not_hinder_taking_over(
    windows: Windows, monkeypatch: pytest.MonkeyPatch
) -> None:
    session, watching = windows
    resume = Session.resume.__func__  # type: ignore[attr-defined]
    late = iter((1, 1, 1))

    def slow(cls: type[Session], store: Store, piece_id: int, *, warn: int = 3) -> Session:
        found: Session = resume(cls, store, piece_id, warn=warn)
        if next(late, 0):
            session.press()
        return found

    monkeypatch.setattr(Session, "resume", classmethod(slow))
    mine = watching.take_over()
    assert mine.position == 6, "all three presses were seen"
    with pytest.raises(Conflict):
        session.press()


def test_a_piece_that_is_gone_is_told(windows: Windows) -> None:
    session, watching = windows
    session._store.remove(session.piece.id)
    with pytest.raises(StoreError, match="there is no piece"):
        watching.look()
    with pytest.raises(StoreError, match="there is no piece"):
        watching.take_over()


def test_whoever_takes_over_whenever_no_press_is_lost_or_counted_twice(tmp_path: Path) -> None:
    stores = [Store.open(tmp_path, clock=lambda: 1_700_000_000.0) for _ in range(2)]
    text = plan_text('start = "ring" ;; beads = "900A"')
    loaded = read_text(text, "ring.toml")
    piece = Session.begin(stores[0], plan=loaded.plan, plan_text=text, plan_data=loaded.data, plan_name="ring").piece.id
    windows = [Session.resume(store, piece) for store in stores]
    chance, pressed, refused = random.Random(4), 0, 0
    for _ in range(400):
        at = chance.randrange(2)
        if chance.random() < 0.2:
            windows[at] = Session.watch(stores[at], piece).take_over()
        try:
            windows[at].press()
            pressed += 1
        except Conflict:
            refused += 1
    assert Session.resume(stores[0], piece).position == pressed
    assert refused > 50
    presses = [kept.event for kept in stores[1].tail(piece, 10_000) if kept.event.kind == "press"]
    assert [event.position for event in presses] == list(range(1, pressed + 1))
    for store in stores:
        store.close()
