"""A disk that cannot be read just then is told on the screen; nobody is thrown out of the work for it."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from stitchalong.errors import StoreError
from stitchalong.screens.stitching import StitchingScreen
from stitchalong.settings.commands import command
from stitchalong.store import Store
from stitchalong.store.database import Database
from tests.screens.acting import Clock, begin, playing
from tests.screens.test_home import home
from tests.screens.test_keeping import until
from tests.test_keeping_behind import Disk
from tests.test_keeping_behind import disk as disk


class Reading:
    """Works, until it is told to fail."""

    fails = False


@pytest.fixture
def reading(monkeypatch: pytest.MonkeyPatch) -> Reading:
    made, real = Reading(), Database.reading

    @contextmanager
    def read(self: Database) -> Iterator[sqlite3.Connection]:
        if made.fails:
            raise StoreError("the disk cannot be read just now")
        with real(self) as connection:
            yield connection

    monkeypatch.setattr(Database, "reading", read)
    return made


@pytest.mark.parametrize("wanted", ["time", "figures", "thread", "note", "take_out"])
async def test_what_cannot_be_read_is_told_and_counting_goes_on(store: Store, reading: Reading, wanted: str) -> None:
    session = begin(store)
    reading.fails = True
    async with playing(session) as stage:
        await stage.type("\x10")
        await stage.type(f"{command(wanted).title}\r")
        assert stage.app.is_running
        assert isinstance(stage.app.screen, StitchingScreen)
        assert "That cannot be shown: the disk cannot be read just now." in stage.text
        reading.fails = False
        await stage.type("  ")
        assert store.piece(session.piece.id).position == stage.session.position == 2


async def test_pieces_put_away_that_cannot_be_read_leave_the_list_as_it_was(
    store: Store, clock: Clock, reading: Reading
) -> None:
    session = begin(store)
    async with home(store, clock) as stage:
        reading.fails = True
        await stage.type("\x10")
        await stage.type(f"{command('show_away').title}\r")
        assert stage.app.is_running
        assert "the disk cannot be read just now." in stage.text
        assert session.piece.title in stage.text


async def test_a_refusal_that_a_reader_meets_first_is_told_as_one(store: Store, disk: Disk) -> None:
    async with playing(begin(store)) as stage:
        stage.screen.keeping.begin()
        await stage.type("   ")
        await until(stage, "3 of")
        heard = len(stage.ear.heard)
        disk.going.clear()
        await stage.type("    ")
        disk.fault = sqlite3.OperationalError("disk I/O error")
        disk.going.set()
        stage.screen._came_back("time")
        await until(stage, "was not kept")
        assert stage.session.position == 3
        assert [cue.earcon for cue in stage.ear.heard[heard:]] == ["error"], "told once, and no bead that is not kept"
        disk.fault = None
        await stage.type("\r ")
        await until(stage, "4 of")
        assert stage.screen.keeping.finish() is None


async def test_a_refusal_that_a_sheet_meets_first_is_told_too(store: Store, disk: Disk) -> None:
    async with playing(begin(store)) as stage:
        stage.screen.keeping.begin()
        stage.session.notes  # noqa: B018 - read before anything is on its way
        await stage.type("\x10")
        await stage.type(f"{command('note').title}\r")
        await stage.type("teal from here")
        work = stage.app.screen_stack[-2]
        assert isinstance(work, StitchingScreen)
        disk.going.clear()
        work.session.press()
        disk.fault = sqlite3.OperationalError("disk I/O error")
        disk.going.set()
        await stage.type("\r")
        assert store.notes(work.session.piece.id) == []
        await stage.type("\x1b")
        await until(stage, "was not kept")
        assert stage.session.position == 0
        assert stage.screen.keeping.finish() is None
