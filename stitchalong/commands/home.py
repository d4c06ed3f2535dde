"""Without a command: what is being stitched, and plans to start from."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator, Sequence

from stitchalong.commands.listings import every_plan, piece_lines, plan_lines
from stitchalong.commands.world import World
from stitchalong.errors import Exit
from stitchalong.store import PieceSummary


def run(asked: Namespace, world: World) -> int:
    """The home screen, or the same as lines."""
    if world.full_screen and not asked.lines:
        return _full_screen(asked, world)
    store = world.store()
    try:
        pieces = store.pieces()
    finally:
        store.close()
    world.say_all(lines(pieces, world))
    return Exit.OK


def _full_screen(asked: Namespace, world: World) -> int:
    from stitchalong.commands.reading import read
    from stitchalong.commands.stitching import Telling, begin, go_on, opened, preferences_of
    from stitchalong.screens.app import run_home
    from stitchalong.screens.home import Begin, GoOn

    telling = Telling.of(asked, world)
    with opened(world) as store:
        ship, own = every_plan(world)
        chosen = run_home(
            store, [*ship, *own], preferences=preferences_of(telling), clock=world.clock, folder=world.paths.plans
        )
        telling = Telling.of(asked, world)  # it may have been set otherwise in there
        match chosen:
            case GoOn(piece_id):
                return go_on(store, store.piece(piece_id), world, telling)
            case Begin(plan, units, sides):
                return begin(store, read(str(plan), units, sides), world, telling)
    return Exit.OK


def lines(pieces: Sequence[PieceSummary], world: World) -> Iterator[str]:
    """What there is, with what to type."""
    going = next((piece for piece in pieces if piece.state == "going"), None)
    if going is not None:
        yield f"to go on with {going.name}, type: stitchalong go-on"
        yield ""
    if pieces:
        yield "your pieces (stitchalong go-on NAME)"
        yield from ("  " + line for line in piece_lines(pieces, world.clock()))
        yield ""
    yield "plans (stitchalong start NAME)"
    yield from ("  " + line for line in plan_lines(*every_plan(world)))
