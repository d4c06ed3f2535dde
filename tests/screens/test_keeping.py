"""A slow disk on the screen: the hands are answered, nothing is shown as kept before it is, and a refusal is told."""

from __future__ import annotations

import asyncio
import sqlite3
from collections.abc import Callable, Sequence
from typing import cast

import pytest

from stitchalong.screens.canvas import Canvas
from stitchalong.screens.keeping import Keeping
from stitchalong.screens.lines import Line
from stitchalong.screens.parts import NOT_KEPT
from stitchalong.screens.stitching import StitchingScreen
from stitchalong.store import Store
from tests.screens.acting import Stage, begin, flat, playing, texts
from tests.test_keeping_behind import Disk
from tests.test_keeping_behind import disk as disk
from tests.test_keeping_behind import quick as quick

SIZES = [(120, 40), (40, 12)]


async def until(stage: Stage, wanted: str, *, gone: bool = False) -> None:
    """Until the screen shows this, or no longer does."""
    for _ in range(400):
        if (wanted in stage.text) is not gone:
            return
        await asyncio.sleep(0.01)
        await stage.pilot.pause()
    raise AssertionError(f"{'still' if gone else 'never'} shown: {wanted}\n{stage.text}")


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("large", [False, True])
async def test_what_is_not_kept_is_held_back_then_marked_then_shown(
    store: Store, disk: Disk, size: tuple[int, int], large: bool
) -> None:
    async with playing(begin(store), size) as stage:
        if large:
            await stage.type("l")
        stage.screen.keeping.begin()
        before = stage.text
        disk.going.clear()
        await stage.type(" ")
        assert stage.session.position == 1
        assert stage.text == before or NOT_KEPT in stage.text
        assert stage.ear.heard == []
        await until(stage, NOT_KEPT)
        await stage.type(" " * 20)
        assert stage.session.position == 21
        assert NOT_KEPT in stage.text
        assert store.piece(stage.session.piece.id).position == 0
        disk.going.set()
        await until(stage, NOT_KEPT, gone=True)
        assert store.piece(stage.session.piece.id).position == 21
        assert len(stage.ear.heard) == 21
        stage.screen.keeping.finish()


@pytest.mark.usefixtures("quick")
async def test_a_quick_disk_shows_no_mark(store: Store, disk: Disk, monkeypatch: pytest.MonkeyPatch) -> None:
    frames: list[str] = []
    real = Canvas.show

    def show(self: Canvas, lines: Sequence[Line]) -> None:
        frames.append(flat(texts(lines)))
        real(self, lines)

    monkeypatch.setattr(Canvas, "show", show)
    async with playing(begin(store)) as stage:
        stage.screen.keeping.begin()
        await stage.type(" " * 30)
        await until(stage, "30 of")
        assert not stage.session.unkept
        assert stage.screen.keeping._timer is None, "and no mark is to come"
        assert frames
        assert not [frame for frame in frames if NOT_KEPT in frame]
        stage.screen.keeping.finish()


async def test_a_refusal_that_comes_late_takes_back_and_is_told(store: Store, disk: Disk) -> None:
    async with playing(begin(store)) as stage:
        stage.screen.keeping.begin()
        await stage.type("   ")
        await until(stage, "3 of")
        disk.going.clear()
        await stage.type("    ")
        disk.fault = sqlite3.OperationalError("disk I/O error")
        disk.going.set()
        await until(stage, "was not kept")
        disk.fault = None
        assert stage.session.position == 3
        await stage.type("\r ")
        await until(stage, "4 of")
        assert store.piece(stage.session.piece.id).position == 4
        assert stage.screen.keeping.finish() is None


class Drawn:
    """A screen as far as its picture goes."""

    def __init__(self) -> None:
        self.later: list[Callable[[], None]] = []
        self.shown = 0

    def call_later(self, act: Callable[[], None]) -> None:
        self.later.append(act)

    def show(self) -> None:
        self.shown += 1


def test_a_screen_that_goes_before_its_picture_is_drawn_leaves_the_next_ones_be() -> None:
    gone, there = Drawn(), Drawn()
    keeping = Keeping(cast(StitchingScreen, gone))
    keeping.show_soon()
    keeping.go_to(cast(StitchingScreen, there))
    keeping.show_soon()
    assert [len(screen.later) for screen in (gone, there)] == [1, 1]
    there.later[0]()
    assert there.shown == 1


async def test_leaving_tells_what_could_not_be_kept(store: Store, disk: Disk) -> None:
    async with playing(begin(store)) as stage:
        stage.screen.keeping.begin()
        disk.going.clear()
        await stage.type("  ")
        disk.fault = sqlite3.OperationalError("disk I/O error")
        disk.going.set()
        assert "disk" in str(stage.screen.keeping.finish())
        assert stage.session.position == 0
