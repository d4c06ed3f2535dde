"""The screen of a form: keys, what is drawn again, and what is said where there is nothing to draw."""

from __future__ import annotations

import sys
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

import pytest
from textual.app import App
from textual.screen import Screen

from stitchalong.course.compile import compile_plan
from stitchalong.form.view import STEP
from stitchalong.plan.model import Plan
from stitchalong.screens.canvas import Canvas
from stitchalong.screens.drawing import Drawing, ground_of
from stitchalong.screens.form_screen import Foot, FormScreen, Head
from stitchalong.screens.inks import COLOURLESS, EVENING, Look
from stitchalong.screens.lines import text_of
from stitchalong.screens.themes import MORNING
from tests.form.samples import disc, plan_of, tube


class Stage(App[None]):
    def __init__(self, plan: Plan, laid: int, look: Look) -> None:
        super().__init__()
        self.shown = FormScreen(compile_plan(plan), plan, laid, look)

    def get_default_screen(self) -> Screen[None]:
        return Screen()

    def on_mount(self) -> None:
        self.push_screen(self.shown)

    @property
    def drawn(self) -> list[str]:
        return ["".join(run.text for run in row) for row in self.shown.query_one(Drawing)._rows]

    def said(self, kind: type[Canvas]) -> str:
        return " ".join(text_of(some).strip() for some in self.shown.query_one(kind).lines)


@asynccontextmanager
async def shown(
    plan: Plan, laid: int = 0, look: Look = EVENING, size: tuple[int, int] = (60, 22)
) -> AsyncIterator[Stage]:
    app = Stage(plan, laid, look)
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        await app.workers.wait_for_complete()
        await pilot.pause()
        await pilot.pause()
        app.pilot = pilot  # type: ignore[attr-defined]
        yield app


async def press(app: Stage, *keys: str) -> None:
    await app.pilot.press(*keys)  # type: ignore[attr-defined]
    await app.workers.wait_for_complete()
    await app.pilot.pause()  # type: ignore[attr-defined]
    await app.pilot.pause()  # type: ignore[attr-defined]


async def test_the_whole_is_shown_and_turned() -> None:
    async with shown(tube(12, 3)) as app:
        rows = app.shown.query_one(Drawing)._rows
        first = app.drawn
        assert len(first) == 19
        assert all(len(row) == 60 for row in first)
        assert sum(row.count("▀") for row in first) > 50
        assert "as it will be" in app.said(Head)
        await press(app, "right")
        assert app.shown._view.turn == pytest.approx(-30 + STEP)
        assert app.shown.query_one(Drawing)._rows != rows
        await press(app, "left", "up", "i", "home")
        assert app.shown.query_one(Drawing)._rows == rows


async def test_nothing_is_drawn_when_nothing_moves(monkeypatch: pytest.MonkeyPatch) -> None:
    async with shown(tube(12, 3)) as app:
        drawn = app.shown.query_one(Drawing)
        rows = drawn._rows
        asked: list[object] = []
        monkeypatch.setattr(drawn, "refresh", lambda *regions: asked.extend(regions))
        assert drawn.show(rows) == 0
        assert asked == []
        changed = (*rows[:4], rows[3], *rows[5:])
        assert drawn.show(changed) == sum(a != b for a, b in zip(rows, changed, strict=True))
        await press(app, "x", "f3", "tab")
        assert drawn._rows == changed, "keys that mean nothing draw nothing"


async def test_stepping_through_rounds() -> None:
    async with shown(tube(12, 3)) as app:
        await press(app, "p", "p")
        assert app.shown._view.shown == 18
        assert "2 rounds shown" in app.said(Head)
        await press(app, "n", "n", "n")
        assert app.shown._view.shown is None


async def test_as_far_as_it_is_stitched_with_the_next_bead() -> None:
    plan = tube(12, 3)
    async with shown(plan, laid=20, size=(90, 24)) as app:
        assert "with 20 beads of 30" in app.said(Head)
        assert app.shown._forms[False].beads == 21
        assert app.shown._marks().coming == 20
        await press(app, "l")
        letters = set("".join(app.drawn))
        assert letters == {"A", "o", "?", " "}
        await press(app, "w")
        assert app.shown._forms[True].beads == 30
        assert "as it will be" in app.said(Head)
        assert "as far as stitched" in app.said(Foot)


async def test_without_colour_there_are_shades() -> None:
    async with shown(tube(12, 3), look=COLOURLESS) as app:
        assert {"@", "."} <= set("".join(app.drawn)) <= set("@%#*+=-:. ")
        assert "colour" not in app.said(Foot)


async def test_what_is_full_says_that_it_is_one_form_of_several() -> None:
    async with shown(disc(4, (2,), 4), size=(120, 30)) as app:
        assert "one likely form" in app.said(Foot)


async def test_a_doubt_is_not_cut_off() -> None:
    async with shown(disc(4, (2,), 4), size=(40, 14)) as app:
        assert app.said(Foot).startswith("doubts: see the command form")


async def test_what_cannot_be_shown_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("stitchalong.form.derive.MODELLED", frozenset({"tube"}))
    plan = plan_of('start = "ladder" ;; beads = "10A"', 'stitch = "herringbone" ;; rows = ["A"] ;; height = 3')
    async with shown(plan) as app:
        assert "the form of ladder is not known" in " ".join(" ".join(app.drawn).split())


async def test_a_small_window_says_so() -> None:
    async with shown(tube(12, 3), size=(23, 12)) as app:
        assert "too small" in " ".join(" ".join(app.drawn).split())


async def test_without_numpy_it_says_how_to_get_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "numpy", None)
    for name in ("stitchalong.form.cells", "stitchalong.form.render"):
        monkeypatch.delitem(sys.modules, name, raising=False)
    async with shown(tube(12, 3)) as app:
        assert "pip install '.[form]'" in " ".join(" ".join(app.drawn).split())


@pytest.mark.parametrize("key", ["escape", "enter", "q"])
async def test_it_is_closed(key: str) -> None:
    async with shown(tube(12, 3)) as app:
        await press(app, key)
        assert app.screen is not app.shown


@pytest.mark.parametrize("size", [(120, 40), (80, 24), (40, 12)])
async def test_nothing_is_cut_off_and_every_line_fits(size: tuple[int, int]) -> None:
    async with shown(tube(12, 3), laid=15, size=size) as app:
        assert "…" not in app.said(Head)
        for kind in (Head, Foot):
            for some in app.shown.query_one(kind).lines:
                assert len(text_of(some)) == size[0]
        assert "Escape close" in app.said(Foot)
        assert len(app.drawn) == size[1] - 3


@pytest.mark.parametrize("look", [EVENING, MORNING])
async def test_the_ground_is_that_of_the_look(look: Look) -> None:
    async with shown(tube(12, 3), look=look) as app:
        (row, *_) = app.screen.query_one(Drawing).rows
        assert row[0].paper == ground_of(look)
        assert "#{:02x}{:02x}{:02x}".format(*ground_of(look)) == look.pens["text"].back
