"""The course kept beside a piece: the same as compiled anew, refused when anything differs, and never missed."""

from __future__ import annotations

import gc
import json
from pathlib import Path

import pytest

from stitchalong.course.bench import Bench
from stitchalong.course.builder import Builder
from stitchalong.course.compile import compile_plan
from stitchalong.course.edges import WorkingEdge
from stitchalong.course.kept import KeptCourse, from_bytes, to_bytes
from stitchalong.course.rounds import Rounds
from stitchalong.plan.library import shipped
from stitchalong.plan.read import read_plan
from stitchalong.session import Session
from stitchalong.session.courses import key_of, look_of
from stitchalong.store import Store
from stitchalong.store.layout import COURSES

PLANS = list(shipped())


@pytest.fixture
def store(tmp_path: Path):
    store = Store.open(tmp_path, clock=lambda: 1e9)
    yield store
    store.close()


def begin(store: Store, name: str = "gorse-ring") -> Session:
    loaded = read_plan(next(path for path in PLANS if path.stem == name))
    return Session.begin(store, plan=loaded.plan, plan_text=loaded.text, plan_data=loaded.data, plan_name=name)


def never(*_: object) -> None:
    raise AssertionError("compiled")


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_compiling_leaves_nothing_behind_that_only_a_collector_would_find(path: Path) -> None:
    """The full screen freezes what there is when it opens: circles of the compiler would stay for good."""
    plan = read_plan(path).plan
    gc.collect()
    gc.disable()
    try:
        course = compile_plan(plan)
        assert not [one for one in gc.get_objects() if isinstance(one, Bench | Builder | WorkingEdge)]
    finally:
        gc.enable()
    assert course.beads > 0


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_what_comes_back_is_what_was_kept(path: Path) -> None:
    plan = read_plan(path).plan
    kept = KeptCourse(compile_plan(plan), look_of(plan))
    data = to_bytes("key", kept)
    back = from_bytes("key", data)
    assert back == kept
    assert to_bytes("key", back) == data
    assert from_bytes("another", data) is None


def test_no_byte_can_change_unseen() -> None:
    plan = read_plan(PLANS[0]).plan
    data = to_bytes("key", KeptCourse(compile_plan(plan), look_of(plan)))
    for at in range(0, len(data), 7):
        assert from_bytes("key", data[:at]) is None
        assert from_bytes("key", data[:at] + bytes([data[at] ^ 0x10]) + data[at + 1 :]) is None


def test_going_on_derives_nothing(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    begun = begin(store)
    begun.press(9)
    monkeypatch.setattr("stitchalong.course.compile.compile_plan", never)
    monkeypatch.setattr("stitchalong.plan.checked.build", never)
    session = Session.resume(store, begun.piece.id)
    assert session.course == begun.course
    assert session.outlook == begun.outlook
    assert (session.title, session.names) == (begun.title, begun.names)
    session.press(30)
    session.undo()


@pytest.mark.parametrize("lost", ["removed", "emptied", "cut", "a folder in its place", "of another piece"])
def test_a_course_that_is_lost_is_made_again(store: Store, lost: str) -> None:
    begun = begin(store)
    begun.press(9)
    other = begin(store, "first-try")
    file = store.path.parent / COURSES / begun.piece.uid
    whole = file.read_bytes()
    match lost:
        case "removed":
            file.unlink()
        case "emptied":
            file.write_bytes(b"")
        case "cut":
            file.write_bytes(whole[:-1])
        case "a folder in its place":
            file.unlink()
            file.mkdir()
        case _:
            file.write_bytes((file.parent / other.piece.uid).read_bytes())
    assert Session.resume(store, begun.piece.id).outlook == begun.outlook
    if file.is_file():
        assert file.read_bytes() == whole


def test_a_choice_is_kept_with_the_course(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    begun = begin(store)
    begun.go_to(begun.course.rounds[2].first_step + 3)
    told = begun.step_up_elsewhere(2)
    assert "Kept until" in told.message
    monkeypatch.setattr("stitchalong.course.compile.compile_plan", never)
    session = Session.resume(store, begun.piece.id)
    assert session.course == begun.course
    assert session.choices == begun.choices


def test_the_key_tells_plan_and_choices_apart() -> None:
    data = json.dumps({"title": "one"})
    assert len({key_of(data, "[]"), key_of(data + " ", "[]"), key_of(data, "[1]"), key_of(data + "[]", "")}) == 4


def test_a_changed_program_keeps_courses_of_its_own(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    begun = begin(store)
    monkeypatch.setattr("stitchalong.session.courses.program", lambda: "another program")
    monkeypatch.setattr("stitchalong.course.compile.compile_plan", never)
    with pytest.raises(AssertionError, match="compiled"):
        Session.resume(store, begun.piece.id)


def test_the_course_of_a_removed_piece_goes(store: Store) -> None:
    begun = begin(store)
    assert (store.path.parent / COURSES / begun.piece.uid).exists()
    store.remove(begun.piece.id)
    assert list((store.path.parent / COURSES).iterdir()) == []


def test_rounds_are_a_sequence_of_values() -> None:
    course = compile_plan(read_plan(PLANS[0]).plan)
    rounds, plain = course.rounds, list(course.rounds)
    assert isinstance(rounds, Rounds)
    assert rounds == plain
    assert [rounds[at] for at in range(-len(plain), len(plain))] == plain + plain
    assert rounds[1:-1] == tuple(plain[1:-1])
    for outside in (len(plain), -len(plain) - 1):
        with pytest.raises(IndexError):
            rounds[outside]
    for at, item in enumerate(plain):
        assert all(rounds.index_of(item.part, item.edge, number) == at for number in item.numbers)
    assert rounds.index_of("main", "no such edge", 1) is None


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_rounds_are_found_as_by_looking_through_them(path: Path) -> None:
    rounds = compile_plan(read_plan(path).plan).rounds
    assert isinstance(rounds, Rounds)
    plain = list(rounds)
    for part in {item.part for item in plain}:
        for edge in {item.edge for item in plain}:
            for number in range(-1, max(max(item.numbers) for item in plain) + 2):
                fits = (
                    at for at, one in enumerate(plain) if (one.part, one.edge) == (part, edge) and number in one.numbers
                )
                assert rounds.index_of(part, edge, number) == next(fits, None)
    edges: dict[str, dict[str, None]] = {}
    for item in plain:
        edges.setdefault(item.part, {})[item.edge] = None
    assert {part: list(some) for part, some in edges.items()} == {
        part: list(some) for part, some in rounds.edges().items()
    }
    assert list(edges) == list(rounds.edges())
