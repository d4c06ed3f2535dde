"""Work beside a screen: whatever goes wrong in it, the screen stands, and a fault of the program is told."""

from __future__ import annotations

import asyncio
from pathlib import Path

import pytest

from stitchalong.design.draft import Draft
from stitchalong.errors import UsageError
from stitchalong.measure.book import Book
from stitchalong.measure.units import Units
from stitchalong.plan.library import Listed
from stitchalong.screens.app import ScreensApp
from stitchalong.screens.aside import Missing, Tell, worked_out
from stitchalong.screens.canvas import Canvas
from stitchalong.screens.form_screen import FormScreen
from stitchalong.screens.home import HomeScreen
from stitchalong.screens.inks import EVENING
from stitchalong.screens.lines import text_of
from stitchalong.screens.making.board import Board
from stitchalong.screens.making.screen import MakingScreen
from stitchalong.screens.preferences import Preferences
from stitchalong.screens.small_picture import SmallPicture
from stitchalong.session.counts import PlanBeads
from stitchalong.store import Store
from tests.screens.acting import SHORT, Clock, begin, flat

FAULT = "a fault of the program itself (ZeroDivisionError): this cannot be shown"


def broken(*given: object, **more: object) -> None:
    raise ZeroDivisionError


def test_what_comes_of_it() -> None:
    def refused(told: Tell) -> int:
        raise UsageError("there is no such form", fix="choose another")

    shares: list[float] = []

    def half(share: float) -> bool:
        shares.append(share)
        return share < 0.5

    def long(told: Tell) -> int:
        for nth in range(10):
            told(nth / 10)
        return 1

    assert worked_out(lambda told: 7, lambda share: True) == 7
    assert worked_out(lambda told: 7, lambda share: False) == Missing()
    assert worked_out(long, half) == Missing()
    assert shares == [0.0, 0.0, 0.1, 0.2, 0.3, 0.4, 0.5]
    assert worked_out(refused, lambda share: True) == Missing("there is no such form (choose another)")
    assert worked_out(broken, lambda share: True) == Missing(FAULT, fault=True)


async def test_a_new_plan_stays_and_tells_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("numpy")
    monkeypatch.setattr("stitchalong.form.whole.form_of", broken)
    draft = Draft(Book(), Units.METRIC)
    app = ScreensApp(lambda app: MakingScreen(draft, EVENING, Preferences(), folder=tmp_path))
    async with app.run_test(size=(120, 40)) as pilot:
        for _ in range(2):  # figures first, then the form
            await pilot.pause()
            await app.workers.wait_for_complete()
        await pilot.pause()
        shown = [text_of(some)[50:] for some in app.screen.query_one(Board).lines]
        assert FAULT in flat(shown)
        assert "348 beads in 8 rounds" in flat(shown)


async def test_the_screen_of_a_form_tells_it(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("numpy")
    monkeypatch.setattr("stitchalong.form.whole.form_of", broken)
    session = begin(store, SHORT)
    app = ScreensApp(lambda app: FormScreen(session.course, session.plan, 0, EVENING))
    async with app.run_test(size=(120, 30)) as pilot:
        await pilot.pause()
        await app.workers.wait_for_complete()
        await pilot.pause()
        assert app.screen._told == FAULT  # type: ignore[attr-defined]


async def test_the_first_screen_tells_it(
    store: Store, clock: Clock, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    pytest.importorskip("numpy")
    monkeypatch.setattr("stitchalong.screens.home.of_plan", broken)
    monkeypatch.setattr(PlanBeads, "reckon", broken)
    (tmp_path / "puddle.toml").write_text(SHORT)
    plans = (Listed("puddle", tmp_path / "puddle.toml", "Puddle", ""),)
    app = ScreensApp(lambda app: HomeScreen(store, plans, look=EVENING, preferences=Preferences(), clock=clock))
    async with app.run_test(size=(120, 40)) as pilot:
        picture, canvas = app.screen.query_one(SmallPicture), app.screen.query_one(Canvas)
        for _ in range(100):
            await asyncio.sleep(0.05)
            await pilot.pause()
            if picture.rows and FAULT in flat(text_of(some) for some in canvas.lines):
                break
        assert FAULT in flat(text_of(some) for some in canvas.lines)
        assert FAULT in flat("".join(run.text for run in row) for row in picture.rows)
