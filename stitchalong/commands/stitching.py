"""Begin a piece, or go on with one: full screen where there is a full terminal, else line by line."""

from __future__ import annotations

import gc
from argparse import Namespace
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, cast

from stitchalong.commands.hearing import means_asked, outlet, sound_settings
from stitchalong.commands.hearing_words import TALKS
from stitchalong.commands.world import World
from stitchalong.course.words import counted
from stitchalong.cues.cue import Outlet
from stitchalong.errors import Exit, StoreError
from stitchalong.measure.units import Units
from stitchalong.session import Session
from stitchalong.session.under_way import under_way
from stitchalong.settings.file import read_settings
from stitchalong.settings.use import sound as sound_of
from stitchalong.store import PieceRow, Store
from stitchalong.values import value

if TYPE_CHECKING:
    from stitchalong.commands.reading import Read
    from stitchalong.cues.sound.settings import SoundSettings
    from stitchalong.cues.spoken import Talk
    from stitchalong.screens.preferences import Preferences
    from stitchalong.settings.settings import Settings
    from stitchalong.store.locks import FileLock

VOICE_LIMIT = 2.0
"""seconds that the first line waits for a voice, so that it is heard"""

LINE_LIMIT = 10_000
"""characters of a typed line that are looked at"""

ENDED_BY = 128
"""what shells add to the number of the signal that ended a program (POSIX, Shell Command Language, 2.8.2)"""


@value
class Telling:
    """How a person wants to be told."""

    lines: bool
    """line by line, though there be a full terminal"""
    warn: int
    """beads ahead; 0: never"""
    remarks: bool
    talk: Talk
    sound: SoundSettings
    asked_for_sound: bool
    """in so many words: then also where nobody is at a terminal"""
    settings: Settings
    file: Path
    """where those are kept"""

    @classmethod
    def of(cls, asked: Namespace, world: World) -> Telling:
        """As the command line says, else as it is set. Raises UsageError."""
        settings = read_settings(world.paths.settings)
        lines = asked.lines or getattr(asked, "plain", False) or not world.full_screen
        warn = getattr(asked, "warn", None)
        voice = getattr(asked, "voice", None)
        usual = sound_of(settings)
        if lines and voice is None:
            # Who reads lines has them read aloud, mostly: two voices would talk over each other.
            usual = replace(usual, speak=False)
        return cls(
            lines,
            settings.counting.warn if warn is None else warn,
            settings.counting.remarks and getattr(asked, "remarks", True),
            cast("Talk", TALKS.get(getattr(asked, "talk", None) or "", settings.sound.talkative)),
            sound_settings(asked, usual, world.environ),
            voice is not None or bool(means_asked(asked, world.environ)),
            settings,
            world.paths.settings,
        )


def run(asked: Namespace, world: World) -> int:
    """`start` or `go-on`."""
    telling = Telling.of(asked, world)
    if asked.command == "start":
        from stitchalong.commands.reading import read

        found = read(asked.plan, asked.units, asked.sides)
        with opened(world) as store:
            begun = None if asked.name else under_way(store.pieces(), found.plan.title)
            if begun is not None:
                from stitchalong.commands.begun import another

                wanted = another(begun, world)
                if wanted is None:
                    return Exit.OK
                if not wanted:
                    return go_on(store, store.piece(begun.id), world, telling)
            return begin(store, found, world, telling, name=asked.name)
    with opened(world) as store:
        return go_on(store, _piece(store, asked.piece), world, telling, take_over=asked.take_over)


@contextmanager
def opened(world: World) -> Iterator[Store]:
    """The pieces, closed at the end."""
    store = world.store()
    try:
        yield store
    finally:
        store.close()


def begin(store: Store, found: Read, world: World, telling: Telling, *, name: str | None = None) -> int:
    """Begin a piece of this plan, and stitch."""
    from stitchalong.commands.reading import located

    with located(found.loaded):
        session = Session.begin(
            store,
            plan=found.plan,
            plan_text=found.loaded.text,
            plan_data=found.data,
            plan_name=found.name,
            name=name,
            warn=telling.warn,
        )
    session.came_from(found.path)
    with held(store, session.piece):
        beads = counted(session.course.beads, "bead")
        return stitch(session, world, telling, first=f"begun: {session.piece.name}, {session.piece.title}, {beads}")


def go_on(store: Store, piece: PieceRow, world: World, telling: Telling, *, take_over: bool = False) -> int:
    """Go on with a piece.

    Where another window has it and it is not to be taken over, the full screen offers to watch it or to take it over;
    line by line a StoreError is raised.
    """
    claim = store.hold(piece.id)
    if claim is None and not take_over and not telling.lines:
        return follow(store, piece, world, telling, unasked=True)
    with _claimed(store, piece, claim, take_over=take_over):
        session = Session.resume(store, piece.id, warn=telling.warn)
        if piece.state == "put away" or (piece.state == "finished" and not session.outlook.done):
            store.go_on(piece.id)
        session.look_at_plan_file()
        return stitch(session, world, telling, first=f"going on with {piece.name}, {piece.title}")


def _piece(store: Store, word: str | None) -> PieceRow:
    """The piece that is named, or the last one worked on that is not done."""
    if word is not None:
        return store.find(word)
    for piece in store.pieces():
        if piece.state == "going":
            return store.piece(piece.id)
    raise StoreError("there is no piece to go on with", fix="`stitchalong start first-try` begins one")


def follow(store: Store, piece: PieceRow, world: World, telling: Telling, *, unasked: bool = False) -> int:
    """Watch on the full screen what another window does. `unasked`: somebody meant to go on with the piece."""
    watching = Session.watch(store, piece.id)
    watching.warn, watching.unasked = telling.warn, unasked
    try:
        return stitch(watching, world, telling, first="")
    finally:
        if watching.claim is not None:
            watching.claim.release()


@contextmanager
def held(store: Store, piece: PieceRow) -> Iterator[None]:
    """Claim a piece for this window. Raises StoreError where another has it."""
    with _claimed(store, piece, store.hold(piece.id), take_over=False):
        yield


@contextmanager
def _claimed(store: Store, piece: PieceRow, claim: FileLock | None, *, take_over: bool) -> Iterator[None]:
    """To take it over, a mark is left in its journal, by which the other window's next press is refused."""
    if claim is None:
        if not take_over:
            raise StoreError(
                f"{piece.name} is open in another window",
                fix="go on there, watch it with `stitchalong watch`, or take it over with `go-on --take-over`",
            )
        claim = Session.watch(store, piece.id).take_over().claim
    try:
        yield
    finally:
        if claim is not None:
            claim.release()


# ---- the front ends -----------------------------------------------------------------------------


def stitch(session: Session, world: World, telling: Telling, *, first: str) -> int:
    """Stitch until the person leaves; the exit status. `first`: said before all else where it goes line by line."""
    session.talk = telling.talk
    session.remarks = telling.remarks
    session.hold_needle(left=telling.settings.words.hand == "left")
    if not telling.lines:
        return _full_screen(session, world, telling)
    from stitchalong.plain.front import Front

    gc.enable()
    heard: Outlet | None = None
    if world.stdout.isatty() or telling.asked_for_sound:
        ring = world.ring if world.stdout.isatty() else _nothing
        heard = outlet(telling.sound, world, ring=ring, patience=VOICE_LIMIT if telling.sound.speak else 0.0)
    try:
        units = Units(telling.settings.words.units)
        front = Front(session, world.say, outlet=heard, units=units)
        world.say(first)
        if world.stdin.isatty():
            world.say("an empty line counts one bead, a number so many; help lists the words, quit leaves")
        front.open(world.clock())
        front.run(_lines(world), attended=world.stdin.isatty())
        front.close()
    finally:
        if heard is not None:
            heard.close()
    return Exit.OK


def _nothing() -> None:
    """Where there is no bell."""


def preferences_of(telling: Telling) -> Preferences:
    """How the screens are wanted."""
    from stitchalong.screens.preferences import Preferences

    return replace(Preferences.of(telling.settings, telling.file), remarks=telling.remarks)


def _full_screen(session: Session, world: World, telling: Telling) -> int:
    from stitchalong.screens.app import run_stitching

    def heard(ring: Callable[[], object], on_change: Callable[[], object]) -> Outlet:
        return outlet(telling.sound, world, ring=ring, on_change=on_change)

    ended_by = run_stitching(session, outlet=heard, preferences=preferences_of(telling), clock=world.clock)
    if ended_by:
        return ENDED_BY + ended_by
    from stitchalong.plain.telling import kept

    world.say(kept(session.newest().outlook))
    return Exit.OK


def _lines(world: World) -> Iterator[str]:
    """What is typed. Of a line without end only the beginning is looked at; the rest is a line of its own."""
    while line := world.stdin.readline(LINE_LIMIT):
        yield line.rstrip("\r\n")
