"""A plan is chosen on the first screen of which a piece is under way already."""

from __future__ import annotations

from pathlib import Path

import pytest

from stitchalong.plan.library import glance
from stitchalong.screens.begun import Begun
from stitchalong.screens.home import Begin, GoOn, HomeScreen
from stitchalong.store import Store
from tests.screens.acting import COVE, Clock, begin
from tests.screens.test_home import PLANS, home

DOWN = "\x1b[B"


@pytest.mark.parametrize(("key", "chosen"), [("\r", "on"), ("b", "another"), ("\x1b", "neither")])
async def test_going_on_is_offered_before_another_is_begun(store: Store, clock: Clock, key: str, chosen: str) -> None:
    begun = begin(store, name="for Ash")
    begun.press(40)
    async with home(store, clock) as stage:
        await stage.type(DOWN + "\r")
        assert isinstance(stage.app.screen, Begun)
        assert "You have “for Ash” of this plan begun already" in stage.text
        assert " %, at the beginning, today at 15:06" in stage.text
        await stage.type(key)
        if chosen == "neither":
            assert isinstance(stage.app.screen, HomeScreen)
            assert stage.app.return_value is None
        else:
            assert stage.app.return_value == (GoOn(begun.piece.id) if chosen == "on" else Begin(PLANS[0].path))


async def test_a_long_title_is_known_again(store: Store, clock: Clock, tmp_path: Path) -> None:
    path = tmp_path / "long.toml"
    path.write_text(COVE.replace("Otter cove", "A  cove with a long title " * 5), encoding="utf-8")
    begin(store, path.read_text(encoding="utf-8"))
    async with home(store, clock, plans=(glance(path),)) as stage:
        await stage.type(DOWN + "\r")
        assert isinstance(stage.app.screen, Begun)


@pytest.mark.parametrize("state", ["finished", "put away", "of another plan"])
async def test_a_piece_that_is_not_under_way_hinders_nothing(store: Store, clock: Clock, state: str) -> None:
    begun = begin(store)
    if state == "finished":
        begun.press(1000)
        while begun.outlook.decision is not None:
            begun.choose(more=False)
            begun.press(1000)
    elif state == "put away":
        store.put_away(begun.piece.id)
    async with home(store, clock) as stage:
        await stage.type("\x1b[H" + DOWN * (state != "put away"))
        if state == "of another plan":
            await stage.type(DOWN)
        await stage.type("\r")
        assert isinstance(stage.app.return_value, Begin)
