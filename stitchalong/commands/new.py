"""`new`: a plan made by answering questions, line by line."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from stitchalong.commands.world import NAME, World
from stitchalong.course.compile import compile_plan
from stitchalong.course.words import counted
from stitchalong.design.questions import Question, wanted_by
from stitchalong.design.wanted import plan_text
from stitchalong.errors import Exit, StitchalongError, StoreError, UsageError
from stitchalong.measure.book import Book
from stitchalong.measure.doubts import doubts
from stitchalong.measure.need import beads_of, thread_of
from stitchalong.measure.size import size_of
from stitchalong.measure.units import Units
from stitchalong.measure.words import bead_lines, size_lines, thread_lines
from stitchalong.plan.library import SUFFIX
from stitchalong.plan.model import Plan
from stitchalong.plan.read import read_text
from stitchalong.plan.text import shown
from stitchalong.settings.file import read_settings

T = TypeVar("T")

_LONGEST = 1_000
"""characters of an answer"""


def run(asked: Namespace, world: World) -> int:
    """Ask, show what it comes to, write it."""
    units = Units(read_settings(world.paths.settings).words.units)
    store = world.store()
    try:
        book = Book(store.measured())
    finally:
        store.close()
    talk = _Talk(world)
    world.say("An empty answer takes what stands in brackets. Ctrl-C leaves without writing anything.")
    while True:
        text = plan_text(wanted_by(talk, book, units))
        plan = read_text(text).plan
        world.say()
        _show(plan, book, units, world)
        world.say()
        if talk(Question("Write it?", "yes"), _yes_or_no):
            break
        world.say("Then once more from the beginning.")
    path = _path(asked, plan, talk)
    _write(path, text, talk)
    world.say(f"written: {shown(str(path), 200)}")
    world.say(f"begin it with: {NAME} start {shown(str(path), 200)}")
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


def _show(plan: Plan, book: Book, units: Units, world: World) -> None:
    """Counts, size, beads and thread of what was chosen."""
    course = compile_plan(plan)
    world.say(f"{plan.title}: {counted(course.beads, 'bead')} in {counted(len(course.rounds), 'round')}")
    world.say_all(size_lines(size_of(course, plan, book), units, sources=False))
    world.say_all(bead_lines(beads_of(course, plan), {bead.code: bead.name for bead in plan.beads}, units))
    try:
        world.say_all(thread_lines(thread_of(course, plan, book), (), units, rounds=False))
    except UsageError as error:
        world.say(str(error))
    for problem in doubts(course, plan):
        world.say(f"a doubt: {problem}")


def _path(asked: Namespace, plan: Plan, talk: _Talk) -> Path:
    if asked.file:
        return Path(asked.file)
    words = "".join(char if char.isalnum() else " " for char in plan.title.casefold()).split()
    usual = "-".join(words)[:60].strip("-") or "plan"
    return Path(talk(Question("Into which file?", f"{usual}{SUFFIX}"), lambda word: word))


def _write(path: Path, text: str, talk: _Talk) -> None:
    """Never writes over a file without asking. Raises StoreError where it cannot be written."""
    try:
        try:
            with path.open("x", encoding="utf-8") as file:
                file.write(text)
        except FileExistsError:
            if not talk(Question(f"There is {shown(str(path), 200)} already. Write over it?", "no"), _yes_or_no):
                raise StoreError(
                    f"{shown(str(path), 200)} stays as it is; nothing was written", fix="name another file"
                ) from None
            path.write_text(text, encoding="utf-8")
    except StitchalongError:
        raise
    except (OSError, ValueError) as error:
        reason = (error.strerror if isinstance(error, OSError) else None) or "the name cannot be used"
        raise StoreError(f"{shown(str(path), 200)} cannot be written: {shown(reason, 80).lower()}") from None
