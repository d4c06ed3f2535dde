"""What changes under a piece: `replan`, its plan file was changed; `watch`, another window works on it."""

from __future__ import annotations

from argparse import Namespace

from stitchalong.commands.reading import located
from stitchalong.commands.stitching import Telling, follow, held, opened
from stitchalong.commands.world import World
from stitchalong.course.words import sentence
from stitchalong.errors import Exit, UsageError
from stitchalong.plain.telling import line
from stitchalong.plan.library import find_plan
from stitchalong.plan.read import read_plan
from stitchalong.session import Session
from stitchalong.store import PieceRow, Store

EVERY = 0.25
"""seconds between two looks at the other window's work"""


def run(asked: Namespace, world: World) -> int:
    """`replan` or `watch`."""
    with opened(world) as store:
        piece = store.find(asked.piece)
        if asked.command == "replan":
            _replan(store, piece, asked.plan, world, sure=asked.yes)
        elif world.full_screen and not asked.lines:
            return follow(store, piece, world, Telling.of(asked, world))
        else:
            _watch(store, piece, world)
    return Exit.OK


def _replan(store: Store, piece: PieceRow, word: str, world: World, *, sure: bool) -> None:
    """Take a changed plan over, after telling from where on it differs. Raises PlanError where it cannot be."""
    path = find_plan(word)
    loaded = read_plan(path)
    with held(store, piece):
        session = Session.resume(store, piece.id)
        with located(loaded):
            new = session.what_new_plan_means(loaded)
            if new.keeps_place:
                world.say_all(sentence(words) for words in new.words)
                if not sure and not _agreed(piece, world):
                    world.say(f"{piece.name} stays with the plan it was begun with")
                    return
            session.take_over_plan(loaded, path.stem)
            session.came_from(path)
    world.say(f"{piece.name} goes on by the new plan, at the same place: {line(session.outlook, whole=False)}")


def _agreed(piece: PieceRow, world: World) -> bool:
    if not world.somebody_answers:
        raise UsageError("the new plan was not taken over: nobody is there to be asked", fix="add --yes to be sure")
    return world.ask(f"Go on with {piece.name} by the new plan?")


def _watch(store: Store, piece: PieceRow, world: World) -> None:
    """Tell each step of another window, until the piece is done or this is interrupted."""
    watching = Session.watch(store, piece.id)
    world.say(f"watching {piece.name}; Ctrl-C ends it, `stitchalong go-on {piece.id} --take-over` goes on with it here")
    world.say(line(watching.outlook))
    while not watching.outlook.done:
        world.sleep(EVERY)
        if watching.look():
            world.say(line(watching.outlook))
