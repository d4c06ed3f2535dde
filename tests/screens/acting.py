"""A piece on the screen without a terminal: bytes go in by the toolkit's own parser, frames come out as text."""

from __future__ import annotations

from collections.abc import AsyncIterator, Iterable
from contextlib import asynccontextmanager
from datetime import UTC
from pathlib import Path

from textual import events
from textual._xterm_parser import XTermParser
from textual.pilot import Pilot

from stitchalong.cues.cue import Cue
from stitchalong.plan.read import read_text
from stitchalong.screens.app import ScreensApp, stitching_app
from stitchalong.screens.canvas import Canvas
from stitchalong.screens.lines import Line, text_of
from stitchalong.screens.preferences import Preferences
from stitchalong.screens.stitching import StitchingScreen
from stitchalong.session import Session
from stitchalong.store import Store

NOON = 1_750_000_000.0
"""Sunday 15 June 2025, 15:06:40 UTC (`date -u -d @1750000000`)"""

COVE = """
title = "Otter cove"

[beads.C]
name = "charcoal"
colour = "#3a3d40"

[beads.S]
name = "sea glass"
colour = "#7fb8ad"

[beads.M]
name = "gorse"
colour = "#e0b020"
marker = true

[[work]]
start = "MRAW band"
frame = "C"
spacers = "*3S, M* 4 times"

[[work]]
stitch = "peyote"
rounds = ["S"]
height = "2 to 4"
usual = 3
increase = { over = "M", with = "MM", from_round = 2 }

[[work]]
stitch = "peyote"
edge = "bottom"
rounds = ["C"]

[[remarks]]
say = "Lay the first three beads beside each other and look whether they are of one size."
edge = "top"
round = 1
"""
"""16 units: a band of 64 beads, a rise left to the stitcher, and another edge"""

SHORT = """
title = "Puddle"

[beads.W]
name = "slate"
colour = "#4a5a66"

[[work]]
start = "ring"
beads = "4W"

[[work]]
stitch = "peyote"
rounds = ["W"]
"""
"""eight beads"""


class Clock:
    """Epoch seconds that stand still until they are moved."""

    def __init__(self, now: float = NOON) -> None:
        self.now = now

    def __call__(self) -> float:
        return self.now


def begin(store: Store, text: str = COVE, *, name: str | None = None) -> Session:
    loaded = read_text(text, "cove.toml")
    return Session.begin(
        store, plan=loaded.plan, plan_text=text, plan_data=loaded.data, plan_name="cove.toml", name=name
    )


def open_store(folder: Path, clock: Clock) -> Store:
    return Store.open(folder, clock=clock)


class Ear:
    """An outlet that remembers."""

    def __init__(self) -> None:
        self.heard: list[Cue] = []
        self.closed = self.muted = False

    def deliver(self, cue: Cue) -> None:
        self.heard.append(cue)

    def mute(self) -> bool:
        self.muted = not self.muted
        return self.muted

    def describe(self) -> str:
        return "muted" if self.muted else "a listening test"

    def close(self) -> None:
        self.closed = True


class Stage:
    """A running app and the way its keys and frames go."""

    def __init__(self, app: ScreensApp, pilot: Pilot[object], ear: Ear | None = None) -> None:
        self.app = app
        self.pilot = pilot
        self.ear = ear or Ear()
        self.at = 1000.0
        """when the next key arrives, in seconds"""

    @property
    def screen(self) -> StitchingScreen:
        found = self.app.screen
        assert isinstance(found, StitchingScreen)
        return found

    @property
    def session(self) -> Session:
        return self.screen.session

    async def type(self, data: str, *, gap: float = 0.4) -> None:
        """Bytes as a terminal sends them; each key arrives `gap` seconds after the one before."""
        parser = XTermParser()
        for message in [*parser.feed(data), *parser.feed("")]:
            self.at += gap
            message.time = self.at
            self.app.post_message(message)
        await self.pilot.pause()

    async def send(self, *some: events.Event) -> None:
        for event in some:
            self.app.post_message(event)
        await self.pilot.pause()

    @property
    def lines(self) -> list[str]:
        return texts(self.app.screen.query_one(Canvas).lines)

    @property
    def text(self) -> str:
        """All that is shown, blanks evened out, so that a sentence broken over lines is found."""
        return flat(self.lines)


def texts(lines: Iterable[Line]) -> list[str]:
    return [text_of(line) for line in lines]


def flat(lines: Iterable[str]) -> str:
    return " ".join(" ".join(lines).split())


@asynccontextmanager
async def playing(
    session: Session,
    size: tuple[int, int] = (80, 24),
    *,
    preferences: Preferences | None = None,
    clock: Clock | None = None,
) -> AsyncIterator[Stage]:
    """The stitching screen of a session, at a size."""
    ear = Ear()
    app, _ = stitching_app(
        session,
        outlet=lambda bell, changed: ear,
        preferences=preferences,
        clock=clock or Clock(),
        zone=UTC,
    )
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        yield Stage(app, pilot, ear)
