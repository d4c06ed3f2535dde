"""Pieces in files of their own, and copies of all of them."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

from stitchalong.commands.listings import FORMAT
from stitchalong.commands.table import columns
from stitchalong.commands.world import World
from stitchalong.errors import Exit, Place, StoreError, UsageError
from stitchalong.session import Session
from stitchalong.settings.when import spoken
from stitchalong.store.copies import Copy, copies, restore

_WHY = {
    "daily": "made by itself",
    "before-migration": "made before the file was brought up to date",
    "asked": "asked for",
}
_HOW = {
    "new": "is taken in",
    "gone on": "went on to where the file stands",
    "here already": "is here already; nothing changed",
}


def run(asked: Namespace, world: World) -> int:
    """`export`, `import`, `copies` or `restore`."""
    match asked.command:
        case "export":
            _export(asked, world)
        case "import":
            _import(asked, world)
        case "copies":
            _copies(asked, world)
        case _:
            _restore(asked, world)
    return Exit.OK


def _export(asked: Namespace, world: World) -> None:
    store = world.store()
    try:
        piece = store.find(asked.piece)
        if not asked.replace and Path(asked.file).exists():
            raise StoreError(
                "there is a file already", fix="choose another name, or add --replace", place=Place(asked.file)
            )
        store.pack(piece.id, Path(asked.file), overwrite=asked.replace)
    finally:
        store.close()
    world.say(f"{piece.name} is written into {asked.file}")


def _import(asked: Namespace, world: World) -> None:
    store = world.store()
    try:
        taken = Session.take_in(store, Path(asked.file), as_new=asked.as_new)
        piece = store.piece(taken.piece_id)
    finally:
        store.close()
    world.say(f"{piece.name} {_HOW[taken.how]}")


def _copies(asked: Namespace, world: World) -> None:
    if asked.now:
        store = world.store()
        try:
            store.copy()
        finally:
            store.close()
    found = copies(world.paths.data)
    if asked.json:
        rows = [
            {"number": number, "path": str(copy.path), "at": copy.at, "why": copy.why, "bytes": copy.size}
            for number, copy in enumerate(found, start=1)
        ]
        world.say_data({"format": FORMAT, "copies": rows})
    elif found:
        now = world.clock()
        world.say_all(
            columns(
                [
                    (
                        str(number),
                        spoken(copy.at, now),
                        _WHY.get(copy.why, copy.why),
                        f"{copy.size:,} bytes",
                        copy.path.name,
                    )
                    for number, copy in enumerate(found, start=1)
                ],
                right=frozenset((0, 3)),
            )
        )
    else:
        world.say("no copies yet; `stitchalong copies --now` makes one")


def _restore(asked: Namespace, world: World) -> None:
    folder = world.paths.data
    copy = _named(copies(folder), asked.copy) if asked.copy is not None else None
    if not asked.yes:
        newest = copy or next(iter(copies(folder)), None)
        if newest is not None:
            if not world.somebody_answers:
                raise UsageError("nothing was brought back: nobody is there to be asked", fix="add --yes to be sure")
            at = spoken(newest.at, world.clock())
            if not world.ask(f"Bring back all pieces as they were {at}? What is there now is set aside."):
                world.say("all stays as it is")
                return
            copy = newest
    done = restore(folder, now=world.clock(), copy=copy)
    world.say(f"the pieces are as they were {spoken(done.copy.at, world.clock())}")
    if done.aside is not None:
        world.say(f"what was there before lies in {done.aside}")


def _named(found: list[Copy], word: str) -> Copy:
    """The copy of this number in the list, newest first, or of this name."""
    if word.isascii() and word.isdigit() and 1 <= int(word[:6]) <= len(found):
        return found[int(word[:6]) - 1]
    for copy in found:
        if copy.path.name == word:
            return copy
    raise StoreError(f"there is no copy “{word[:60]}”", fix="`stitchalong copies` lists them")
