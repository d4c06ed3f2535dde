"""A click or a tap counts a bead: as the bytes of a terminal (SGR mouse reports, xterm's control sequences)."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual import events

from stitchalong.screens.beside.screen import SheetScreen
from stitchalong.screens.guarding import FRONT
from stitchalong.screens.preferences import Preferences
from stitchalong.store import Store
from tests.cli.running import RING, here
from tests.cli.terminal import Terminal
from tests.screens.acting import Stage, begin, playing

CLICK = "\x1b[<0;12;6M"
RELEASE = "\x1b[<0;12;6m"


async def test_a_click_is_one_bead_and_its_release_none(store: Store) -> None:
    async with playing(begin(store)) as stage:
        for wanted in (1, 2, 3):
            await stage.type(CLICK)
            await stage.type(RELEASE)
            assert stage.session.position == wanted
        assert "3 of 156 beads" in stage.text
        await stage.type(" ")
        assert stage.session.position == 4


@pytest.mark.parametrize("data", ["\x1b[<64;9;9M", "\x1b[<65;9;9M", "\x1b[<2;9;9M", "\x1b[<1;9;9M", "\x1b[<35;9;9M"])
async def test_the_wheel_other_buttons_and_moves_count_nothing(store: Store, data: str) -> None:
    async with playing(begin(store)) as stage:
        before = stage.lines
        await stage.type(data)
        assert stage.session.position == 0
        assert stage.lines == before


async def test_clicks_that_follow_each_other_like_a_held_key_count_once(store: Store) -> None:
    async with playing(begin(store)) as stage:
        await stage.type(CLICK)
        await stage.type(CLICK * 5, gap=0.05)
        assert stage.session.position == 1
        await stage.type(CLICK)
        assert stage.session.position == 2


async def focused(stage: Stage, event: events.AppBlur | events.AppFocus) -> None:
    stage.at += 0.4
    event.time = stage.at
    await stage.send(event)


async def test_the_click_that_brings_the_window_to_the_front_is_not_counted(store: Store) -> None:
    """Terminals tell of the focus before the click or after it."""
    async with playing(begin(store)) as stage:
        await focused(stage, events.AppBlur())
        assert "Not listening" in stage.text
        await focused(stage, events.AppFocus())
        await stage.type(CLICK, gap=FRONT / 2)
        assert stage.session.position == 0
        assert "it is not counted" in stage.text
        await stage.type(CLICK)
        assert stage.session.position == 1
        await focused(stage, events.AppBlur())
        await stage.type(CLICK)
        assert stage.session.position == 1
        await focused(stage, events.AppFocus())
        await stage.type(CLICK, gap=FRONT * 2)
        assert stage.session.position == 2


async def test_a_click_does_no_harm_where_something_is_asked(store: Store) -> None:
    session = begin(store)
    session.press(60)
    session.came_back = None
    async with playing(session) as stage:
        await stage.type("r")
        assert "Take back?" in stage.text
        await stage.type(CLICK)
        assert "Take back?" in stage.text
        await stage.type("\x1b")
        await stage.type("g")
        before = stage.lines
        await stage.type(CLICK)
        assert stage.lines == before
        await stage.type("\x1b")
        await stage.type("x")
        assert isinstance(stage.app.screen, SheetScreen)
        before = stage.lines
        await stage.type(CLICK)
        assert stage.lines == before
        await stage.type("\x1b")
        assert session.position == 60
        await stage.type("7")
        await stage.type(CLICK)
        assert session.position == 60
        assert "7 × which key?" in stage.text
        await stage.type(" ")
        assert session.position == 67


async def test_the_first_click_only_closes_where_one_stopped(store: Store) -> None:
    session = begin(store)
    session.press(3)
    again = type(session).resume(store, session.piece.id)
    async with playing(again) as stage:
        assert "Welcome back" in stage.text
        await stage.type(CLICK)
        assert "Welcome back" not in stage.text
        assert again.position == 3
        await stage.type(CLICK)
        assert again.position == 4


async def test_clicks_can_be_left_to_the_terminal(store: Store) -> None:
    async with playing(begin(store), preferences=Preferences(tap=False)) as stage:
        await stage.type(CLICK)
        assert stage.session.position == 0


@pytest.mark.parametrize("tap", ["on", "off"])
def test_only_clicks_are_asked_of_a_terminal_and_given_back_at_the_end(tmp_path: Path, tap: str) -> None:
    """Modes 1000 and 1006 alone: 32 bytes in all, and no report of a move ever."""
    plan = tmp_path / "ring.toml"
    plan.write_text(RING)
    home = tmp_path / "home"
    here(home, "settings", "counting.tap", tap)
    with Terminal(home, "start", str(plan)) as terminal:
        terminal.until("Space bead")
        terminal.type(CLICK + RELEASE)
        if tap == "on":
            terminal.until(r"1 of \d+ beads")
        terminal.type("\x1bOS")
        terminal.until("Counting along")
        terminal.type("\x1b[B\x1b[B\x1b[C\x1b")
        terminal.until(lambda text: "Space bead" in text and "Counting along" not in text)
        terminal.type("q")
        assert terminal.ends() == 0
        assert terminal.in_order
    raw = bytes(terminal.raw)
    on, off = b"\x1b[?1000h\x1b[?1006h", b"\x1b[?1000l\x1b[?1006l"
    assert on in raw
    assert off in raw
    assert raw.rindex(off) > raw.rindex(on)
    for mode in (b"1002", b"1003", b"1015", b"1016"):
        assert b"\x1b[?" + mode + b"h" not in raw
    assert f"counting.tap = {'false' if tap == 'on' else 'true'}" in here(home, "settings", "counting.tap").out
