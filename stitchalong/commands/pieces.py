"""Commands on one piece that change no bead: rename, finish, put away, remove."""

from __future__ import annotations

from argparse import Namespace

from stitchalong.commands.listings import how_far
from stitchalong.commands.world import World
from stitchalong.errors import Exit, StoreError, UsageError
from stitchalong.store import PieceRow, Store


def run(asked: Namespace, world: World) -> int:
    """`rename`, `finish`, `put-away` or `remove`."""
    store = world.store()
    try:
        piece = store.find(asked.piece)
        match asked.command:
            case "rename":
                store.rename(piece.id, asked.name)
                world.say(f"{piece.name} is now called {store.piece(piece.id).name}")
            case "finish":
                from stitchalong.session.finishing import finish

                told = finish(store, piece.id, size=asked.size, thread=asked.thread, tension=asked.tension)
                world.say(f"{piece.name} is finished")
                world.say_all(told)
            case "put-away":
                store.put_away(piece.id)
                world.say(f"{piece.name} is put away; `stitchalong go-on {piece.id}` brings it back")
            case _:
                _remove(store, piece, world, sure=asked.yes)
    finally:
        store.close()
    return Exit.OK


def _remove(store: Store, piece: PieceRow, world: World, *, sure: bool) -> None:
    claim = store.hold(piece.id)
    if claim is None:
        raise StoreError(f"{piece.name} is open in another window", fix="close that one first")
    try:
        if not sure:
            if not world.somebody_answers:
                raise UsageError(
                    f"{piece.name} was not removed: nobody is there to be asked", fix="add --yes to be sure"
                )
            if not world.ask(f"Remove {piece.name} ({piece.title}, {how_far(piece)}) for good?"):
                world.say(f"{piece.name} stays")
                return
        store.remove(piece.id)
    finally:
        claim.release()
    world.say(f"{piece.name} is removed")
