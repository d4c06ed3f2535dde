"""The plan file changed since the piece was begun: the piece stays as it was until the new plan is taken over."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stitchalong.errors import PlanError
from stitchalong.plan.another_size import data_in_size
from stitchalong.plan.read import Loaded, read_text
from stitchalong.plan.sizes import resized
from stitchalong.session import Session
from stitchalong.store import Conflict
from stitchalong.store.pieces import Store
from tests.writing import band, peyote, plan_text

START = band("*3S, M* 3 times")
RISING = 'increase = { over = "M", from_round = 2 }'


def changed(*work: str, title: str = "A piece", **others: str) -> Loaded:
    text = plan_text(*(work or (START, peyote('["A", "B", "A", "B"]', RISING))), title=title)
    for old, new in others.items():
        text = text.replace(f'"bead {old}"', f'"{new}"')
    return read_text(text, "ring.toml")


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    opened = Store.open(tmp_path, clock=lambda: 1_700_000_000.0)
    yield opened
    opened.close()


def begun(store: Store, loaded: Loaded, presses: int = 0) -> Session:
    session = Session.begin(store, plan=loaded.plan, plan_text=loaded.text, plan_data=loaded.data, plan_name="ring")
    if presses:
        session.press(presses)
    return session


def until(session: Session, title: str, presses: int = 0) -> Session:
    while session.outlook.title != title:
        session.press()
    if presses:
        session.press(presses)
    return session


def test_later_rounds_in_other_colours_are_taken_over_at_the_same_place(store: Store) -> None:
    session = until(begun(store, changed()), "round 3, top edge", 5)
    old = session.course
    new = changed(START, peyote('["A", "B", "A", "C"]', RISING), title="A piece, mended")
    meant = session.what_new_plan_means(new)
    assert meant.keeps_place
    assert meant.words == ("the new plan differs from round 4, top edge on",)
    assert session.course is old, "asking changes nothing"
    told = session.take_over_plan(new, "mended")
    assert told.message == "Taken over. The new plan differs from round 4, top edge on."
    again = Session.resume(store, session.piece.id)
    for here in (session, again):
        assert here.plan == new.plan
        assert here.position == session.position
        assert (here.piece.title, here.piece.plan_name, here.piece.plan_text) == ("A piece, mended", "mended", new.text)
        assert "C" in dict(here.lookout.at(here.course.steps - 1).codes_left)
    assert again.outlook == session.outlook
    mark = store.told(session.piece.id)[-1].event
    assert (mark.kind, json.loads(mark.data)["mark"]) == ("mark", "new plan")
    again.press(10_000)
    assert again.outlook.done


def test_what_is_done_already_is_not_made_other_work(store: Store) -> None:
    session = until(begun(store, changed()), "round 3, top edge", 5)
    before = store.piece(session.piece.id), store.tail(session.piece.id, 99), session.outlook
    new = changed(START, peyote('["A", "B", "2A, C, 12A", "B"]', RISING))
    with pytest.raises(PlanError) as caught:
        session.take_over_plan(new, "mended")
    (problem,) = caught.value.problems
    assert problem.what == (
        "the new plan differs from round 3, top edge, stitch 3 on, and that is before your place (round 3, top edge)"
    )
    assert problem.fix == "go back 3 steps first, or begin another piece"
    assert (store.piece(session.piece.id), store.tail(session.piece.id, 99), session.outlook) == before
    session.press()
    session.undo(times=4)
    session.take_over_plan(new, "mended")
    assert session.redo_all().message == "There is nothing to do again.", "what was undone would be other work now"
    session.press()
    assert session.course.stitch_of(session.course.run_of(session.position - 1)).beads == ("C",)


def test_another_start_fits_only_as_long_as_it_begins_alike(store: Store) -> None:
    new = changed(band("*4S, M* 3 times"), peyote('["A"]'))
    session = begun(store, changed(), 1)
    session.press(15)
    assert session.what_new_plan_means(new).words == ("the new plan differs from the band, stitch 5 on",)
    session.press()
    with pytest.raises(PlanError, match="differs from the band, stitch 5 on, and that is before your place"):
        session.take_over_plan(new, "other")
    session.undo()
    session.take_over_plan(new, "other")
    assert session.course.rounds[0].spaces == 15


def test_the_same_work_in_other_words_is_taken_over_anywhere(store: Store) -> None:
    session = begun(store, changed(START, peyote('["A", "B", "A"]')), 70)
    written = changed(START, peyote('["12A", "*B; repeat from * around"]'), peyote('["A"]'), title="Other words")
    told = session.take_over_plan(written, "ring")
    assert told.message == "Taken over. The new plan asks for the same work."
    assert (session.position, session.piece.title) == (70, "Other words")


def test_a_bead_that_is_another_now_is_told(store: Store) -> None:
    session = begun(store, changed(), 70)
    told = session.take_over_plan(changed(a="slate"), "ring")
    assert "bead A is called slate now, not bead a" in told.message
    assert session.names["A"] == "slate"


def test_a_piece_begun_in_a_size_of_its_own_keeps_it(store: Store) -> None:
    loaded = changed()
    plan = resized(loaded.plan, 20)
    data = data_in_size(loaded.data, plan)
    session = Session.begin(store, plan=plan, plan_text=loaded.text, plan_data=data, plan_name="ring")
    session.press(90)
    new = changed(START, peyote('["A", "B", "C", "B"]', RISING))
    assert session.what_new_plan_means(new).words == ("the new plan differs from round 3, top edge on",)
    session.take_over_plan(new, "ring")
    assert session.plan == resized(new.plan, 20)
    assert json.loads(store.piece(session.piece.id).plan_data)["work"][0]["units"] == 20


def test_choices_stay_and_questions_that_the_work_has_answered_are_not_asked(store: Store) -> None:
    fixed = changed(START, peyote('["A"]', "height = 4"), peyote('["B"]', edge="bottom"))
    opened = changed(START, peyote('["A"]', 'height = "2 to 6"', "usual = 4"), peyote('["B"]', edge="bottom"))
    session = until(begun(store, fixed), "round 4, top edge", 2)
    session.take_over_plan(opened, "ring")
    assert [made.more for made in session.choices] == [True, True], "after rounds 2 and 3 one more was worked"  # type: ignore[union-attr]
    again = Session.resume(store, session.piece.id)
    assert again.outlook == session.outlook
    again.press(10_000)
    assert again.outlook.decision is not None
    assert again.outlook.decision.done == 4
    again.choose(more=True)
    again.press(3)
    # and back: the choices made are those that the work has
    with pytest.raises(PlanError, match="differs from the end of round 4, top edge on"):
        again.take_over_plan(fixed, "ring")
    seven = changed(START, peyote('["A"]', "height = 5"), peyote('["B"]', edge="bottom"))
    again.take_over_plan(seven, "ring")
    assert again.outlook.title == "round 5, top edge"
    again.press(10_000)
    assert again.outlook.done


def test_a_finished_piece_that_goes_on_is_finished_no_more_and_the_other_way_round(store: Store) -> None:
    short, long = changed(START, peyote('["A", "B"]')), changed(START, peyote('["A", "B", "C"]'))
    session = begun(store, short, 10_000)
    assert store.piece(session.piece.id).state == "finished"
    session.take_over_plan(long, "ring")
    assert store.piece(session.piece.id).state == "going"
    assert not session.outlook.done
    session.take_over_plan(short, "ring")
    assert store.piece(session.piece.id).state == "finished"
    assert session.outlook.done


def test_a_plan_that_cannot_be_stitched_with_the_choices_made_changes_nothing(store: Store) -> None:
    session = begun(store, changed(), 70)
    before = store.piece(session.piece.id)
    with pytest.raises(PlanError, match=r"has no bead|have no bead"):
        session.take_over_plan(changed(START, peyote('["11A"]')), "ring")
    assert store.piece(session.piece.id) == before


def test_the_other_window_is_told(store: Store, tmp_path: Path) -> None:
    session = begun(store, changed(), 70)
    window = Store.open(tmp_path, clock=lambda: 1_700_000_000.0)
    other = Session.resume(window, session.piece.id)
    session.take_over_plan(changed(title="Mended"), "ring")
    with pytest.raises(Conflict):
        other.press()
    with pytest.raises(Conflict):
        other.take_over_plan(changed(title="Mended otherwise"), "ring")
    assert other.plan.title == "A piece"
    assert other.anew().plan.title == "Mended"
    window.close()


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.sampled_from("AB"), min_size=1, max_size=4),
    st.lists(st.sampled_from("AB"), min_size=1, max_size=4),
    st.integers(0, 60),
)
def test_a_place_is_kept_just_where_all_before_it_is_the_same(
    tmp_path_factory: pytest.TempPathFactory, one: list[str], other: list[str], presses: int
) -> None:
    def ring(codes: list[str]) -> Loaded:
        return changed('start = "ring" ;; beads = "6A"', peyote(json.dumps(codes)))

    def steps(session: Session) -> list[object]:
        course = session.course
        return [(spot.stitch.kind, spot.stitch.beads) for spot in map(course.spot, range(course.steps))]

    store = Store.open(tmp_path_factory.mktemp("new"), clock=lambda: 1.0)
    session = begun(store, ring(one), presses)
    old = steps(session)
    try:
        session.take_over_plan(ring(other), "ring")
    except PlanError:
        assert steps(begun(store, ring(other)))[: session.position] != old[: session.position]
    else:
        assert steps(session)[: session.position] == old[: session.position]
    store.close()
