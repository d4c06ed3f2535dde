"""What the stitching screen says aloud beside the cues of its presses, and the keys that ask for it."""

from __future__ import annotations

import asyncio
import threading

import pytest
from textual import events

from stitchalong.cues.cue import EARCONS, MEANINGS, Cue
from stitchalong.screens.app import ScreensApp
from stitchalong.session import Session
from stitchalong.store import Store
from tests.screens.acting import SHORT, begin, playing


async def test_asking_where_and_for_the_words_again(store: Store) -> None:
    session = begin(store)
    session.press(90)
    session.came_back = None
    async with playing(session) as stage:
        await stage.type("c")
        assert stage.ear.heard[-1] == Cue(None, session.speech.where(session.outlook))
        assert stage.ear.heard[-1].words.startswith("three left on this side, side two of four, round two, top edge, ")
        assert "side 2 of 4" in stage.text
        await stage.type("v")
        assert stage.ear.heard[-1] == Cue(None, "three sea glass, increase in three")
        assert session.position == 90, "asking counts nothing"
        await stage.type(" ")
        assert session.position == 91
        assert stage.ear.heard[-1].words == "increase in two"


async def test_one_key_mutes_and_brings_back(store: Store) -> None:
    async with playing(begin(store)) as stage:
        await stage.type("z")
        assert stage.ear.muted
        assert "muted · warns 2 ahead" in stage.text
        await stage.type("z")
        assert not stage.ear.muted
        assert "a listening test · warns 2 ahead" in stage.text
        assert "You hear it again." in stage.text


async def test_how_much_is_said_goes_round(store: Store) -> None:
    session = begin(store)
    async with playing(session) as stage:
        await stage.type("y")
        assert session.talk == "every stitch"
        assert stage.ear.heard[-1].words == "aloud: every stitch is said"
        await stage.type("\r")
        assert stage.ear.heard[-1].words == "fifteen left, one sea glass, three charcoal"
        await stage.type("\r")
        assert stage.ear.heard[-1].words == "fourteen left, one sea glass, three charcoal"
        await stage.type("y")
        assert session.talk == "quiet"
        await stage.type("\r")
        assert stage.ear.heard[-1].words == ""
        await stage.type("y")
        assert session.talk == "changes"


async def test_where_one_stands_is_said_once_something_can_be_heard(store: Store) -> None:
    session = begin(store)
    session.press(90)
    session = Session.resume(store, session.piece.id)
    async with playing(session) as stage:
        assert stage.ear.heard == [], "nothing sounds yet"
        for _ in range(2):
            stage.app.means_changed()
            await stage.pilot.pause()
        (cue,) = stage.ear.heard
        assert cue.words.startswith("round two, top edge, three left on this side, the last beads, the latest last: ")
        assert cue.words.endswith("ten sea glass, two gorse")
        await stage.type(" ")
        assert session.position == 90, "the first key closes the welcome"
        assert stage.ear.heard[-1].words == "three left on this side, three sea glass"


async def test_who_begins_before_anything_sounds_is_not_talked_over(store: Store) -> None:
    async with playing(begin(store)) as stage:
        await stage.type(" ")
        told = list(stage.ear.heard)
        stage.app.means_changed()
        await stage.pilot.pause()
        assert stage.ear.heard == told


async def test_a_lost_window_and_a_held_key_are_said(store: Store) -> None:
    async with playing(begin(store)) as stage:
        await stage.send(events.AppBlur())
        assert stage.ear.heard[-1].words == "not listening"
        await stage.send(events.AppFocus())
        assert stage.ear.heard[-1].words == "listening"
        await stage.type(" ")
        await stage.type(" ", gap=0.5)
        await stage.type("   ", gap=0.03)
        assert stage.session.position == 1
        assert stage.ear.heard[-1] == Cue("undone", "that key was held down, it is counted once")


async def test_a_question_before_a_large_step_back_is_said_with_its_answers(store: Store) -> None:
    session = begin(store)
    session.press(85)
    session.came_back = None
    async with playing(session) as stage:
        await stage.type("r")
        assert stage.ear.heard[-1].words == (
            "back to round one, top edge: takes back sixteen beads. Enter takes it back, Escape leaves it"
        )
        await stage.type("\x1b")
        assert stage.ear.heard[-1].words == "nothing was changed"


@pytest.mark.parametrize("size", [(120, 40), (80, 24), (40, 12)])
async def test_each_of_the_sounds_can_be_heard(store: Store, size: tuple[int, int]) -> None:
    async with playing(begin(store, SHORT), size) as stage:
        await stage.type("u")
        assert "Hear the sounds" in stage.text
        assert "Told through: a listening test." in stage.text or size == (40, 12)
        for earcon in EARCONS:
            assert earcon in stage.text
            await stage.type(" ")
            assert stage.ear.heard[-1] == Cue(earcon, MEANINGS[earcon], urgent=True)
            told = len(stage.ear.heard)
            await stage.type("\x1b[B")
            assert len(stage.ear.heard) == told, "moving on sounds nothing"
        await stage.type("\x1b[A\r")
        assert stage.ear.heard[-1].earcon == EARCONS[-1]
        await stage.type("\x1b")
        assert "Hear the sounds" not in stage.text
        assert stage.session.position == 0, "nothing was counted"


async def test_settings_at_the_keys_are_said(store: Store) -> None:
    async with playing(begin(store, SHORT)) as stage:
        for key, words in (
            ("5d", "warnings come five beads ahead"),
            ("0d", "warnings are off"),
            ("i", "remarks are hidden"),
            ("k", "a key held down counts on and on"),
            ("0 ", "zero counts nothing"),
        ):
            await stage.type(key)
            assert stage.ear.heard[-1].words == words


async def test_the_bell_may_be_rung_from_any_thread(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    rung: list[int] = []
    monkeypatch.setattr(ScreensApp, "bell", lambda app: rung.append(threading.get_ident()))
    async with playing(begin(store, SHORT)) as stage:
        stage.app.ring()
        assert rung == [threading.get_ident()], "at once"
        await asyncio.to_thread(stage.app.ring)
        await stage.pilot.pause()
        assert rung == [threading.get_ident()] * 2, "in the thread that draws"
    stage.app.ring()
    assert len(rung) == 2, "it is over"
