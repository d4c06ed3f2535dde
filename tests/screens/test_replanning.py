"""The plan's file was changed since the piece was begun: told once, shown and taken over by a command."""

from __future__ import annotations

from pathlib import Path

import pytest

from stitchalong.screens.canvas import Canvas
from stitchalong.screens.palette import found
from stitchalong.session import Session
from stitchalong.store import Store
from tests.screens.acting import COVE, Stage, begin, flat, playing

ON = 90
"""steps into the first rounds"""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "cove.toml"
    path.write_text(COVE)
    return path


def back(store: Store, path: Path, presses: int, changed: str) -> Session:
    """A piece begun from the file, left after so many presses, come back to when the file was changed."""
    session = begin(store)
    session.came_from(path)
    if presses:
        session.press(presses)
    path.write_text(changed)
    again = Session.resume(store, session.piece.id)
    again.look_at_plan_file()
    return again


async def ask(stage: Stage) -> None:
    await stage.type("\x10")
    await stage.type("new plan\r")


@pytest.mark.parametrize("size", [(120, 40), (80, 24), (40, 12)])
@pytest.mark.parametrize("presses", [0, ON])
async def test_it_is_told_on_coming_back(store: Store, path: Path, size: tuple[int, int], presses: int) -> None:
    session = back(store, path, presses, COVE.replace("2 to 4", "2 to 5"))
    async with playing(session, size) as stage:
        assert "The plan's file was changed since this piece was begun" in stage.text
        stage.screen.means_changed()
        assert "file was changed" in stage.ear.heard[-1].words
        await stage.type(" ")
        await stage.type(" ")
        assert "file was changed" not in stage.text


async def test_it_is_shown_from_where_on_it_differs_and_taken_over(store: Store, path: Path) -> None:
    changed = COVE.replace("usual = 3", "usual = 4").replace("#7fb8ad", "#102030").replace("sea glass", "ink")
    session = back(store, path, ON, changed)
    async with playing(session) as stage:
        await stage.type(" ")
        await ask(stage)
        assert "Take over the new plan?" in stage.text
        assert "The new plan differs from fill round, bottom edge on" in stage.text
        assert "Bead S is called ink now, not sea glass" in stage.text
        await stage.type("\x1b")
        assert "Nothing was changed." in stage.text
        assert session.plan.title == "Otter cove"
        await ask(stage)
        await stage.type("\r")
        assert "Taken over." in stage.text
        assert session.position == ON
        assert "ink" in stage.text
        assert stage.app.screen.query_one(Canvas)._colours["S"] == "#102030"
        await stage.type(" ")
        assert session.position == ON + 1
        await ask(stage)
        assert "there is no new plan" in flat(stage.lines).casefold()


async def test_why_it_cannot_be_taken_over_is_told(store: Store, path: Path) -> None:
    session = back(store, path, ON, COVE.replace("*3S, M* 4 times", "*4S, M* 4 times"))
    async with playing(session) as stage:
        await stage.type(" ")
        await ask(stage)
        assert "The new plan cannot be taken over here" in stage.text
        assert "That is before your place; go back" in stage.text
        await stage.type("\r")
        assert session.position == ON


async def test_faults_of_the_new_plan_are_told_with_their_lines(store: Store, path: Path) -> None:
    session = back(store, path, ON, COVE.replace('rounds = ["S"]', 'rounds = ["7Q"]'))
    async with playing(session) as stage:
        await stage.type(" ")
        await ask(stage)
        assert "line 24" in stage.text
        assert "bead `Q` is not in the palette" in stage.text


def test_the_command_is_found() -> None:
    assert found("stitching", "new plan")[0].id == "new_plan"
