"""A piece that another window has, on the full screen: told at once, watched, taken over."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

import pytest
from rich.cells import cell_len

from stitchalong.plan.read import read_text
from stitchalong.screens.help_text import help_page
from stitchalong.screens.palette import found
from stitchalong.screens.parts import NOT_KEPT
from stitchalong.screens.stitching import StitchingScreen
from stitchalong.screens.watching import ONLY, WatchingScreen
from stitchalong.session import Session
from stitchalong.session.watching import Watching
from stitchalong.store import Conflict, Store
from tests.screens.acting import COVE, Clock, Stage, begin, open_store, playing
from tests.screens.test_keeping import until
from tests.test_keeping_behind import Disk
from tests.test_keeping_behind import disk as disk

Windows = tuple[Session, Watching]


@pytest.fixture
def windows(tmp_path: Path, store: Store, clock: Clock) -> Iterator[Windows]:
    """A session, three beads on, and a second window that meant to go on with its piece."""
    session = begin(store)
    session.press(3)
    second = open_store(tmp_path / "data", clock)
    watching = Session.watch(second, session.piece.id)
    watching.unasked = True
    yield session, watching
    second.close()


async def look(stage: Stage) -> None:
    """As the screen does by itself, several times a second."""
    assert isinstance(stage.app.screen, WatchingScreen)
    stage.app.screen._follow()
    await stage.pilot.pause()


@pytest.mark.parametrize(("keys", "frame"), [("", "open-elsewhere-80x24"), (" ", "watching-80x24")])
async def test_it_is_told_at_once(
    windows: Windows, golden: Callable[[str, Iterable[str]], None], keys: str, frame: str
) -> None:
    async with playing(windows[1]) as stage:
        if keys:
            await stage.type(keys)
        golden(frame, stage.lines)


async def test_any_key_but_two_only_watches(windows: Windows) -> None:
    session, watching = windows
    async with playing(watching) as stage:
        for data in (" ", "\x7f", "7", " ", "s", "w", "o", "g", "x", "\x1b", "e"):
            await stage.type(data)
            assert ONLY in stage.text
        session.press(2)
        await look(stage)
        assert stage.session.outlook == session.outlook
        assert "5 of" in stage.text, "beads laid there"
    assert session.anew().position == 5


@pytest.mark.parametrize("size", [(120, 40), (40, 12), (40, 20)])
async def test_it_is_seen_at_any_size_that_it_only_watches(windows: Windows, size: tuple[int, int]) -> None:
    async with playing(windows[1], size) as stage:
        assert "Enter take over Space watch q leave" in stage.text
        await stage.type(" ")
        assert ONLY in stage.text
        assert {cell_len(line) for line in stage.lines} == {size[0]}


async def test_the_screen_follows_by_itself(windows: Windows) -> None:
    session, watching = windows
    async with playing(watching) as stage:
        await stage.type(" ")
        session.press(4)
        for _ in range(40):
            await stage.pilot.pause(0.05)
            if stage.session.position == 7:
                break
        assert stage.session.position == 7
        assert f"{session.outlook.beads_done} of" in stage.text


async def test_it_is_heard_too_and_the_other_windows_presses_are_not(windows: Windows) -> None:
    session, watching = windows
    async with playing(watching) as stage:
        stage.screen.means_changed()
        assert "open in another window" in stage.ear.heard[-1].words
        await stage.type(" ")
        heard = len(stage.ear.heard)
        session.press(4)
        await look(stage)
        assert len(stage.ear.heard) == heard


@pytest.mark.parametrize("keys", ["t", "\r", " t", " \r"])
async def test_taking_over_goes_on_from_where_it_stands(windows: Windows, keys: str) -> None:
    session, watching = windows
    watching.talk, watching.left_handed = "every stitch", True
    async with playing(watching) as stage:
        session.press(2)
        await stage.type(keys)
        assert type(stage.app.screen) is StitchingScreen
        assert "Welcome back" in stage.text
        assert (stage.session.talk, stage.session.left_handed) == ("every stitch", True)
        await stage.type("  ")
        assert stage.session.position == 6, "the first key only closed the welcome"
        with pytest.raises(Conflict):
            session.press()


async def test_whoever_was_taken_over_from_can_watch_and_take_it_back(windows: Windows) -> None:
    session, watching = windows
    async with playing(session) as stage:
        await stage.type("l")
        mine = watching.take_over()
        mine.press(2)
        await stage.type(" ")
        assert "What you just pressed was not counted" in stage.text
        await stage.type("\x1b")
        assert isinstance(stage.app.screen, WatchingScreen)
        assert ONLY in stage.text
        assert stage.screen.showing.large, "what was switched at the keys stays"
        mine.press()
        await look(stage)
        assert stage.session.position == 6
        await stage.type("t")
        await stage.type("  ")
        assert type(stage.app.screen) is StitchingScreen
        assert stage.session.position == 7
        with pytest.raises(Conflict):
            mine.press()
        mine.anew().press(3)
        await stage.type(" \x1b")
        assert isinstance(stage.app.screen, WatchingScreen)
        assert stage.session.position == 10
        stage.app.means_changed()
        stage.app._listen(False, 0.0)
        assert [screen.showing.listening for screen in stage.app._at_work].count(False) == 1


async def test_one_can_leave_a_piece_to_another_window_by_a_command(store: Store) -> None:
    assert found("stitching", "only watch")[0].id == "watch"
    async with playing(begin(store)) as stage:
        await stage.type("\x10")
        await stage.type("only watch\r")
        assert isinstance(stage.app.screen, WatchingScreen)
        await stage.type("q")
        assert not stage.app.is_running


async def test_what_only_shows_works_while_watching(windows: Windows) -> None:
    async with playing(windows[1]) as stage:
        await stage.type(" h")
        assert "Take it over here" in stage.text
        assert "Take back the last bead" not in stage.text
        await stage.type("\x1bp")
        assert "chart" in stage.text.casefold()
        await stage.type("\x1b")
        await stage.type("\x10")
        await stage.type("take it over\r")
        assert type(stage.app.screen) is StitchingScreen
    assert help_page("watching")


async def test_a_question_of_the_other_window_is_seen_and_answered_there(windows: Windows) -> None:
    session, watching = windows
    session.press(10_000)
    watching.look()
    async with playing(watching) as stage:
        await stage.type(" ")
        assert "Another round:" in stage.text
        await stage.type("m")
        assert ONLY in stage.text
        assert session.anew().outlook.decision is not None
        session.choose(more=False)
        await look(stage)
        assert "Another round:" not in stage.text


async def test_a_new_plan_is_seen_in_its_colours(windows: Windows) -> None:
    session, watching = windows
    async with playing(watching) as stage:
        await stage.type(" ")
        changed = COVE.replace("#3a3d40", "#102030").replace("charcoal", "midnight")
        session.take_over_plan(read_text(changed, "cove.toml"), "cove")
        await look(stage)
        assert "midnight" in stage.text
        canvas = stage.app.screen.query_one("Canvas")
        assert canvas._colours["C"] == "#102030"  # type: ignore[attr-defined]


async def test_going_on_by_a_plan_that_another_window_took_over_shows_its_colours(windows: Windows) -> None:
    session, watching = windows
    async with playing(session) as stage:
        changed = COVE.replace("#3a3d40", "#102030").replace("charcoal", "midnight")
        watching.take_over().take_over_plan(read_text(changed, "cove.toml"), "cove")
        await stage.type(" ")
        assert "What you just pressed was not counted" in stage.text
        await stage.type("\r")
        await stage.type(" ")
        assert "midnight" in stage.text
        canvas = stage.app.screen.query_one("Canvas")
        assert canvas._colours["C"] == "#102030"  # type: ignore[attr-defined]


async def test_a_piece_that_is_gone_is_told(windows: Windows) -> None:
    session, watching = windows
    async with playing(watching) as stage:
        await stage.type(" ")
        session._store.remove(session.piece.id)
        await look(stage)
        assert "there is no piece" in stage.text
        await stage.type("t")
        assert "That could not be done" in stage.text
        await stage.type("q")
        assert not stage.app.is_running


async def test_a_slow_disk_is_seen_by_the_screen_that_took_over(windows: Windows, disk: Disk) -> None:
    session, watching = windows
    async with playing(session) as stage:
        stage.screen.keeping.begin()
        watching.take_over().press()
        await stage.type(" ")
        await stage.type("\x1b")
        assert isinstance(stage.app.screen, WatchingScreen)
        await stage.type("t")
        await stage.type("\x1b")
        disk.going.clear()
        await stage.type("   ")
        await until(stage, NOT_KEPT)
        assert stage.session.position == 7
        disk.going.set()
        await until(stage, NOT_KEPT, gone=True)
        assert stage.session.anew().position == 7
        disk.going.clear()
        await stage.type("  ")
        disk.fault = sqlite3.OperationalError("disk I/O error")
        disk.going.set()
        await until(stage, "was not kept")
        assert stage.session.position == 7
        assert stage.screen.keeping.finish() is None
