"""The small picture on the home screen: of what is marked, once the mark rests, and only where it is wanted."""

from __future__ import annotations

import asyncio
import sys
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from datetime import UTC
from pathlib import Path
from typing import cast

import pytest
from textual import events

from stitchalong.plan.library import Listed
from stitchalong.screens.app import ScreensApp
from stitchalong.screens.home import HomeScreen
from stitchalong.screens.inks import COLOURLESS, EVENING, Look
from stitchalong.screens.preferences import Preferences
from stitchalong.screens.small_picture import SIZES, SmallPicture, of_piece
from stitchalong.store import Store
from tests.screens.acting import Clock, begin

TUBE = """
title = "Reed"

[beads.A]
name = "reed"
colour = "#f0f0f0"
size = "11/0"
shape = "cylinder"

[[work]]
start = "tube"
beads = "12A"

[[work]]
stitch = "peyote"
rounds = ["A"]
height = 8
"""

pytest.importorskip("numpy")


@asynccontextmanager
async def home(
    store: Store,
    clock: Clock,
    plans: tuple[Listed, ...],
    *,
    size: tuple[int, int] = (120, 40),
    look: Look = EVENING,
    ascii: bool = False,
) -> AsyncIterator[SmallPicture]:
    wanted = Preferences(ascii=ascii)
    app = ScreensApp(lambda app: HomeScreen(store, plans, look=look, preferences=wanted, clock=clock, zone=UTC))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        yield app.screen.query_one(SmallPicture)


async def until(done: Callable[[], bool]) -> None:
    """Wait for it, but not for ever."""
    for _ in range(400):
        if done():
            return
        await asyncio.sleep(0.05)


async def drawn(picture: SmallPicture) -> list[int]:
    """How bright the cells of the picture are, when it is there; none where none came in time."""
    await until(lambda: bool(picture.rows))
    return [max(ink or (0,)) for row in picture.rows for run in row for ink in [run.ink] * len(run.text) if ink]


class Rest:
    """A timer of a picture: it runs down when the test says so."""

    def __init__(self, then: Callable[[], None]) -> None:
        self.then = then
        self.stopped = False

    def stop(self) -> None:
        self.stopped = True


@pytest.fixture
def reed(tmp_path: Path) -> Listed:
    path = tmp_path / "reed.toml"
    path.write_text(TUBE, encoding="utf-8")
    return Listed("reed", path, "Reed", "A tube.")


@pytest.mark.parametrize(("screen", "size"), [((120, 40), SIZES[0][1]), ((80, 24), SIZES[1][1])])
async def test_a_plan_that_is_marked_is_drawn(
    store: Store, clock: Clock, reed: Listed, screen: tuple[int, int], size: tuple[int, int]
) -> None:
    async with home(store, clock, (reed,), size=screen) as picture:
        assert picture.rows == ()
        assert max(await drawn(picture)) > 150
        assert len(picture.rows) == size[1]
        assert {sum(len(run.text) for run in row) for row in picture.rows} == {size[0]}


async def test_what_is_not_stitched_yet_is_faint(store: Store, clock: Clock) -> None:
    session = begin(store, TUBE)
    session.press(12 + 8)
    async with home(store, clock, ()) as picture:
        some = await drawn(picture)
    session.press(40)
    async with home(store, clock, ()) as picture:
        more = await drawn(picture)
    bright = [sum(cell > 120 for cell in cells) for cells in (some, more)]
    assert 0 < bright[0] < bright[1]
    assert len(some) == pytest.approx(len(more), abs=3), "the whole is there, however far it is stitched"


@pytest.mark.parametrize(
    ("size", "look", "ascii"),
    [
        ((40, 12), EVENING, False),
        ((120, 20), EVENING, False),
        ((120, 40), COLOURLESS, False),
        ((120, 40), EVENING, True),
    ],
)
async def test_where_it_is_not_wanted_it_takes_no_room(
    store: Store, clock: Clock, reed: Listed, size: tuple[int, int], look: Look, ascii: bool
) -> None:
    async with home(store, clock, (reed,), size=size, look=look, ascii=ascii) as picture:
        assert not picture.display
        assert picture.place(*size) == 0


async def test_without_numpy_there_is_none(
    store: Store, clock: Clock, reed: Listed, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "numpy", None)
    async with home(store, clock, (reed,)) as picture:
        assert picture.place(120, 40) == 0


async def test_a_plan_that_cannot_be_read_has_none(store: Store, clock: Clock, tmp_path: Path) -> None:
    gone = Listed("gone", tmp_path / "gone.toml", "Gone", "")
    async with home(store, clock, (gone,)) as picture:
        await until(lambda: picture.known(gone))
        assert picture.known(gone)
        assert picture.rows == ()


async def test_what_the_mark_has_left_is_not_drawn(
    store: Store, clock: Clock, reed: Listed, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[Path] = []
    rests: list[Rest] = []

    def of_plan(listed: Listed) -> None:
        asked.append(listed.path)

    def set_timer(self: SmallPicture, delay: float, then: Callable[[], None]) -> Rest:
        rests.append(Rest(then))
        return rests[-1]

    monkeypatch.setattr("stitchalong.screens.home.of_plan", of_plan)
    monkeypatch.setattr(SmallPicture, "set_timer", set_timer)
    others = tuple(Listed(f"other {nth}", reed.path.parent / f"{nth}.toml", "Other", "") for nth in range(6))
    async with home(store, clock, (*others, reed)) as picture:
        for _ in others:
            cast(HomeScreen, picture.screen).on_key(events.Key("down", None))
        assert [rest.stopped for rest in rests] == [True] * len(others) + [False]
        rests[-1].then()
        await until(lambda: picture.known(reed))
        assert asked == [reed.path]


def test_a_very_large_piece_is_not_even_read(store: Store) -> None:
    session = begin(store, TUBE.replace("height = 8", "height = 2000"))
    assert of_piece(session.piece) is None
    small = begin(store, TUBE)
    subject = of_piece(small.piece)
    assert subject is not None
    assert subject.course.beads == 12 + 8 * 6
    assert subject.laid == 0
