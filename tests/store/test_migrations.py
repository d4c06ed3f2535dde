"""Old databases are brought forward, each step whole or not at all, after a copy was made."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from stitchalong.errors import StoreError
from stitchalong.store import Store, schema
from stitchalong.store.copies import copies, restore
from tests.store.make_stored import MEASURED

STORED = sorted(Path(__file__).with_name("data").glob("schema-*.db"))
NEXT = """
-- Something that a later version might want; with a semicolon in it.
ALTER TABLE note ADD COLUMN colour TEXT NOT NULL DEFAULT 'a;b';
CREATE TRIGGER note_is_long BEFORE INSERT ON note WHEN length(NEW.text) > 9999
BEGIN
    SELECT raise(ABORT, 'too long');
END;
"""


def version_of(folder: Path) -> int:
    with closing(sqlite3.connect(folder / "pieces.db")) as connection:
        return int(connection.execute("PRAGMA user_version").fetchone()[0])


@pytest.fixture(params=STORED, ids=lambda path: path.stem)
def stored(request, folder) -> Path:
    folder.mkdir()
    shutil.copyfile(request.param, folder / "pieces.db")
    return folder


def test_there_is_a_stored_file_of_every_version():
    assert [path.stem for path in STORED] == [f"schema-{n}" for n in range(1, len(schema.MIGRATIONS) + 1)]


def test_a_stored_file_of_every_version_opens_with_all_in_it(stored, clock):
    version = version_of(stored)
    store = Store.open(stored, clock=clock)
    try:
        ring, bell = sorted(store.pieces(include_away=True), key=lambda piece: piece.id)
        assert (ring.name, ring.title, ring.state) == ("heather-ring", "Heather ring", "going")
        assert (ring.position, ring.redo_to, ring.seq, ring.steps) == (100, 100, 6, 480)
        assert (bell.name, bell.title, bell.state, bell.seq) == ("für Ella", "Bell", "put away", 0)
        assert ring.begun == 1_700_000_000 + 2
        assert ring.seconds == ring.touched - ring.begun == 4
        row = store.piece(ring.id)
        assert (row.plan_text, row.plan_name) == ('title = "Heather ring"\n', "heather-ring.toml")
        assert row.choices == '[{"rounds": 6}]'
        assert [(kept.seq, kept.event.kind, kept.event.position) for kept in store.tail(ring.id, 9)] == [
            (1, "press", 1),
            (2, "press", 5),
            (3, "undo", 4),
            (4, "redo", 5),
            (5, "choice", 5),
            (6, "goto", 100),
        ]
        assert [kept.event.data for kept in store.told(ring.id)] == ['{"rounds": 6}']
        assert [(note.position, note.text) for note in store.notes(ring.id)] == [
            (12, "new thread"),
            (60, "blue ran out, teal from here"),
        ]
        assert store.record(ring.id, 6, [], place="{}") == 6
        measured = [replace(one, id=0, at=0.0) for one in store.measured()]
        assert measured == ([] if version == 1 else [MEASURED])
    finally:
        store.close()


def layout(file: Path) -> list[tuple[str, str]]:
    with closing(sqlite3.connect(file)) as connection:
        return connection.execute("SELECT name, sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY name").fetchall()


def test_an_old_file_ends_with_the_layout_of_a_new_one(stored, tmp_path, clock):
    Store.open(stored, clock=clock).close()
    Store.open(tmp_path / "new", clock=clock).close()
    assert layout(stored / "pieces.db") == layout(tmp_path / "new" / "pieces.db")


def test_a_migration_runs_after_a_copy_and_says_that_it_ran(stored, clock, monkeypatch):
    newest, version = len(schema.MIGRATIONS), version_of(stored)
    monkeypatch.setattr(schema, "MIGRATIONS", (*schema.MIGRATIONS, NEXT))
    clock.now += 1000
    store = Store.open(stored, clock=clock)
    try:
        assert store._database.rows("SELECT * FROM migration")[-1] == (newest + 1, clock.now)
        assert store._database.rows("PRAGMA user_version") == [(newest + 1,)]
        assert store.notes(1)[0].text == "new thread"
        assert store._database.rows("SELECT DISTINCT colour FROM note") == [("a;b",)]
    finally:
        store._database.close()
    [copy] = copies(stored)
    assert (copy.why, copy.at) == ("before-migration", clock.now)
    with closing(sqlite3.connect(copy.path)) as old:
        assert old.execute("PRAGMA user_version").fetchone() == (version,)
        assert old.execute("SELECT count(*) FROM note").fetchone() == (2,)


def test_a_migration_that_fails_leaves_the_file_as_it_was(stored, clock, monkeypatch):
    Store.open(stored, clock=clock)._database.close()
    before = layout(stored / "pieces.db")
    version = len(schema.MIGRATIONS)
    broken = "CREATE TABLE half (a TEXT);\nINSERT INTO half VALUES ('x');\nINSERT INTO nowhere VALUES (1);\n"
    with monkeypatch.context() as patch:
        patch.setattr(schema, "MIGRATIONS", (*schema.MIGRATIONS, broken))
        with pytest.raises(StoreError, match="nowhere"):
            Store.open(stored, clock=clock)
    assert layout(stored / "pieces.db") == before
    store = Store.open(stored, clock=clock)
    try:
        assert store._database.rows("PRAGMA user_version") == [(version,)]
        assert store.seq(1) == 6
    finally:
        store._database.close()


def test_what_was_migrated_can_be_brought_back_for_the_older_program(stored, clock, monkeypatch):
    with monkeypatch.context() as patch:
        patch.setattr(schema, "MIGRATIONS", (*schema.MIGRATIONS, NEXT))
        Store.open(stored, clock=clock)._database.close()
    with pytest.raises(StoreError, match="newer program"):
        Store.open(stored, clock=clock)
    restored = restore(stored, now=clock.now)
    assert restored.copy.why == "before-migration"
    store = Store.open(stored, clock=clock)
    assert store.seq(1) == 6
    store.close()


def test_two_programs_that_open_an_old_file_migrate_it_once(stored, clock, monkeypatch):
    """The second comes while the first is at its copy."""
    monkeypatch.setattr(schema, "MIGRATIONS", (*schema.MIGRATIONS, NEXT))
    first: list[Store] = []

    def late() -> float:
        if not first:
            first.append(None)  # type: ignore[arg-type]
            first[0] = Store.open(stored, clock=clock)
        return clock.now

    second = Store.open(stored, clock=late)
    try:
        assert second.notes(1) == first[0].notes(1) != []
        versions = second._database.rows("SELECT version FROM migration ORDER BY version")
        assert versions == [(n,) for n in range(1, len(schema.MIGRATIONS) + 1)]
    finally:
        second._database.close()
        first[0]._database.close()


def test_a_text_is_cut_into_its_statements():
    found = list(schema.statements(NEXT))
    assert len(found) == 2
    assert found[1].endswith("END;")
    with pytest.raises(ValueError, match="unfinished"):
        list(schema.statements("CREATE TABLE x (a TEXT"))
