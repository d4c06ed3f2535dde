"""`new`: a plan made by answering questions, on the full screen or line by line."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from stitchalong.commands.world import NAME, World
from stitchalong.design.file import AlreadyThere, usual_name, write_plan
from stitchalong.design.outcome import outcome_of
from stitchalong.design.questions import Question, wanted_by
from stitchalong.errors import Exit, StoreError, UsageError
from stitchalong.measure.book import Book
from stitchalong.measure.units import Units
from stitchalong.plan.text import shown
from stitchalong.settings.file import read_settings

T = TypeVar("T")

_LONGEST = 1_000
"""characters of an answer"""


def run(asked: Namespace, world: World) -> int:
    """Ask, show what it comes to, write it."""
    if world.full_screen and not asked.lines:
        return _full_screen(asked, world)
    units = Units(read_settings(world.paths.settings).words.units)
    store = world.store()
    try:
        book = Book(store.measured())
    finally:
        store.close()
    talk = _Talk(world)
    world.say("An empty answer takes what stands in brackets; ? tells more. Ctrl-C leaves without writing anything.")
    while True:
        made = outcome_of(wanted_by(talk, book, units), book, units)
        world.say()
        world.say_all(made.lines())
        world.say()
        if talk(Question("Write it?", "yes"), _yes_or_no):
            break
        world.say("Then once more from the beginning.")
    path = Path(asked.file or talk(Question("Into which file?", usual_name(made.plan.title)), lambda word: word))
    _write(path, made.text, talk)
    world.say(f"written: {shown(str(path), 200)}")
    world.say(f"begin it with: {NAME} start {shown(str(path), 200)}")
    return Exit.OK


def _full_screen(asked: Namespace, world: World) -> int:
    from stitchalong.commands.reading import read
    from stitchalong.commands.stitching import Telling, begin, opened, preferences_of
    from stitchalong.screens.making.run import run_making

    telling = Telling.of(asked, world)
    with opened(world) as store:
        made = run_making(store, Path(), asked.file or "", preferences=preferences_of(telling))
        if made is None:
            world.say("nothing was written")
            return Exit.OK
        world.say(f"written: {shown(str(made.path), 200)}")
        if made.begin:
            return begin(store, read(str(made.path), None, None), world, telling)
        world.say(f"begin it with: {NAME} start {shown(str(made.path), 200)}")
    return Exit.OK


class _Talk:
    """Asks on the output and reads a line."""

    def __init__(self, world: World) -> None:
        self.world = world

    def __call__(self, question: Question, read: Callable[[str], T]) -> T:
        for nth, choice in enumerate(question.choices, start=1):
            self.world.say(f"  {nth}  {choice}")
        while True:
            self.world.say(f"{question.text} [{question.usual}]")
            line = self.world.stdin.readline(_LONGEST)
            if not line:
                raise UsageError("the answers end here, so nothing was written", fix="answer each question")
            if line.strip() == "?" and question.help:
                self.world.say(f"  {question.help}")
                continue
            try:
                return read(line.strip() or question.usual)
            except UsageError as error:
                for problem in error.problems:
                    self.world.say(f"  {problem}")


def _yes_or_no(word: str) -> bool:
    plain = word.strip().casefold()
    if plain in ("yes", "y", "no", "n"):
        return plain.startswith("y")
    raise UsageError(f"“{shown(word)}” is neither yes nor no")


def _write(path: Path, text: str, talk: _Talk) -> None:
    """Never writes over a file without asking. Raises StoreError where it cannot be written."""
    try:
        write_plan(path, text)
    except AlreadyThere:
        name = shown(str(path), 200)
        if not talk(Question(f"There is {name} already. Write over it?", "no"), _yes_or_no):
            raise StoreError(f"{name} stays as it is; nothing was written", fix="name another file") from None
        write_plan(path, text, over=True)
