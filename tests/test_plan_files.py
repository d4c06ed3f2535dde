"""Which file a plan came from is remembered on this computer, looked at when one comes back, and told once."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from stitchalong.errors import PlanError, UsageError
from stitchalong.plan.library import find_plan
from stitchalong.plan.read import read_plan
from stitchalong.session import Session
from stitchalong.store import Store, plan_files
from stitchalong.store.layout import PLAN_FILES
from tests.cli.running import RING


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    opened = Store.open(tmp_path / "data", clock=lambda: 1_700_000_000.0)
    yield opened
    opened.close()


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "ring.toml"
    path.write_text(RING)
    return path


def begun(store: Store, path: Path) -> Session:
    loaded = read_plan(path)
    session = Session.begin(store, plan=loaded.plan, plan_text=loaded.text, plan_data=loaded.data, plan_name=path.stem)
    session.came_from(path)
    return session


def told(store: Store, session: Session) -> bool:
    back = Session.resume(store, session.piece.id)
    back.look_at_plan_file()
    return back.plan_changed


def test_a_changed_file_is_told_once_for_each_change(store: Store, path: Path) -> None:
    session = begun(store, path)
    assert not told(store, session)
    path.write_text(RING.replace("Sorrel", "Sorrel and"))
    assert told(store, session)
    assert not told(store, session)
    path.write_text(RING.replace("Sorrel", "Clover"))
    assert told(store, session)
    path.write_text(RING)
    assert not told(store, session), "it is again as it was"


@pytest.mark.parametrize("harm", ["gone", "folder", "not text", "no plan"])
def test_a_file_that_is_no_plan_any_more_is_no_hindrance(store: Store, path: Path, harm: str) -> None:
    session = begun(store, path)
    path.unlink()
    if harm == "folder":
        path.mkdir()
    elif harm == "not text":
        path.write_bytes(b"\xff\x00")
    elif harm == "no plan":
        path.write_text("title = ")
    assert told(store, session) == (harm == "no plan")
    with pytest.raises(PlanError):
        session.new_plan()


@pytest.mark.parametrize(
    "note",
    [
        b"",
        b"{",
        b"[]",
        b'{"word": 3, "ships": false, "told": ""}',
        b'{"word": "x"}',
        b"\xff",
        b"[" * 19_000,
        b"9" * 9_000,
    ],
    ids=range(8),
)
def test_a_note_that_cannot_be_read_is_none(store: Store, path: Path, note: bytes) -> None:
    session = begun(store, path)
    (store.path.parent / PLAN_FILES / session.piece.uid).write_bytes(note)
    assert plan_files.known(store.path.parent, session.piece.uid) is None
    assert not told(store, session)
    with pytest.raises(UsageError, match="not known on this computer"):
        session.new_plan()


def test_where_it_cannot_be_noted_the_piece_is_begun_all_the_same(store: Store, path: Path) -> None:
    (store.path.parent / PLAN_FILES).write_text("a file where a folder should be")
    session = begun(store, path)
    session.press(3)
    assert not told(store, session)


def test_the_new_plan_is_read_and_taken_over(store: Store, path: Path) -> None:
    session = begun(store, path)
    session.press(30)
    with pytest.raises(UsageError, match="there is no new plan"):
        session.new_plan()
    path.write_text(RING.replace("height = 4", "height = 6"))
    loaded, found = session.new_plan()
    assert found == path
    new = session.what_new_plan_means(loaded)
    assert (new.keeps_place, new.hindered) == (True, "")
    session.take_over_plan(loaded, found.stem)
    with pytest.raises(UsageError, match="there is no new plan"):
        session.new_plan()
    path.write_text(RING.replace('frame = "A"', 'frame = "B"'))
    new = session.what_new_plan_means(session.new_plan()[0])
    assert new.hindered == "that is before your place; go back 30 steps first, or begin another piece"


def test_a_plan_that_ships_is_remembered_by_its_name(store: Store) -> None:
    session = begun(store, find_plan("first-try"))
    note = json.loads((store.path.parent / PLAN_FILES / session.piece.uid).read_bytes())
    assert note == {"word": "first-try", "ships": True, "told": ""}
    assert not told(store, session)


def test_what_is_exported_says_nothing_of_folders_and_a_removed_piece_leaves_nothing(
    store: Store, path: Path, tmp_path: Path
) -> None:
    session = begun(store, path)
    store.pack(session.piece.id, tmp_path / "piece.file")
    assert str(tmp_path).encode() not in (tmp_path / "piece.file").read_bytes()
    assert list((store.path.parent / PLAN_FILES).iterdir())
    store.remove(session.piece.id)
    assert not list((store.path.parent / PLAN_FILES).iterdir())
