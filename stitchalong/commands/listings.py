"""Lists: plans, pieces, where files are kept.

With `--json` each is one object with `format` (1, raised when it changes) and

- `plans`: a list of `name`, `title`, `about`, `path`, `ships` (false: one's own);
- `pieces`: a list, the last touched first, of `id`, `uid`, `name`, `title`, `state` (`going`, `finished`, `put away`),
  `begun` and `touched` (epoch seconds), `position` and `steps` (presses done, and of the whole), `place` (`part`,
  `edge`, `round`, `stitch`, `step`), `seconds` (spent on it);
- of `where`: the paths `pieces`, `settings`, `log`, `plans`, `shipped_plans` (null where there are none).
"""

from __future__ import annotations

import json
from argparse import Namespace
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from stitchalong.commands.table import columns, cut
from stitchalong.commands.world import World
from stitchalong.errors import Exit
from stitchalong.settings.when import spoken

if TYPE_CHECKING:
    from stitchalong.plan.library import Listed
    from stitchalong.store import PieceSummary

FORMAT = 1
"""of the JSON documents; raised when one changes"""

_ABOUT_CELLS = 72


def run(asked: Namespace, world: World) -> int:
    """`plans`, `pieces` or `where`."""
    match asked.command:
        case "plans":
            _plans(world, as_json=asked.json)
        case "pieces":
            _pieces(world, as_json=asked.json, away=asked.all)
        case _:
            _where(world, as_json=asked.json)
    return Exit.OK


# ---- plans --------------------------------------------------------------------------------------


def every_plan(world: World) -> tuple[list[Listed], list[Listed]]:
    """Those that ship, and those in the user's own folder."""
    from stitchalong.plan.library import glance, plans_in, shipped

    return [glance(path) for path in shipped()], [glance(path) for path in plans_in(world.paths.plans)]


def _plans(world: World, *, as_json: bool) -> None:
    ship, own = every_plan(world)
    if as_json:
        plans = [
            {"name": plan.name, "title": plan.title, "about": plan.about, "path": str(plan.path), "ships": ships}
            for ships, some in ((True, ship), (False, own))
            for plan in some
        ]
        world.say_data({"format": FORMAT, "plans": plans})
        return
    world.say_all(plan_lines(ship, own))


def plan_lines(ship: Sequence[Listed], own: Sequence[Listed]) -> Iterator[str]:
    """One line a plan: what it is called by, title, and what it says of itself."""
    rows = [(plan.name, plan.title) for plan in ship] + [(str(plan.path), plan.title) for plan in own]
    if not rows:
        yield "no plans"
        return
    for line, plan in zip(columns([(cut(a, 60), cut(b, 40)) for a, b in rows]), [*ship, *own], strict=True):
        yield line
        if plan.about:
            yield "    " + cut(plan.about, _ABOUT_CELLS)


# ---- pieces -------------------------------------------------------------------------------------


def _pieces(world: World, *, as_json: bool, away: bool) -> None:
    store = world.store()
    try:
        pieces = store.pieces(include_away=away)
    finally:
        store.close()
    if as_json:
        world.say_data({"format": FORMAT, "pieces": [_data(piece) for piece in pieces]})
        return
    world.say_all(piece_lines(pieces, world.clock()))


def _data(piece: PieceSummary) -> dict[str, object]:
    return {
        "id": piece.id,
        "uid": piece.uid,
        "name": piece.name,
        "title": piece.title,
        "state": piece.state,
        "begun": piece.begun,
        "touched": piece.touched,
        "position": piece.position,
        "steps": piece.steps,
        "place": json.loads(piece.place),
        "seconds": round(piece.seconds),
    }


def piece_lines(pieces: Sequence[PieceSummary], now: float) -> Iterator[str]:
    """One line a piece: number, name, plan, how far it is, where one stopped, and when."""
    if not pieces:
        yield "no pieces yet"
        return
    rows = [
        (
            str(piece.id),
            cut(piece.name, 32),
            cut(piece.title, 32),
            how_far(piece),
            where(piece),
            spoken(piece.touched, now),
        )
        for piece in pieces
    ]
    yield from columns(rows, right=frozenset((0,)))


def how_far(piece: PieceSummary) -> str:
    """`finished`, `put away, 40 %`, `40 %`; never 100 % before the last bead."""
    if piece.state == "finished":
        return "finished"
    share = f"{100 * piece.position // piece.steps if piece.steps else 0} %"
    return f"put away, {share}" if piece.state == "put away" else share


def where(piece: PieceSummary) -> str:
    """`round 5, top edge`."""
    place = json.loads(piece.place)
    if not piece.position:
        return "not begun"
    part = "" if place["part"] == "main" else f"{place['part']}: "
    return f"{part}round {place['round']}, {place['edge']} edge"


# ---- files --------------------------------------------------------------------------------------


def _where(world: World, *, as_json: bool) -> None:
    from stitchalong.plan.library import shipped_folder

    paths = world.paths
    kept = {
        "pieces": paths.data,
        "settings": paths.settings,
        "log": paths.log,
        "plans": paths.plans,
        "shipped_plans": shipped_folder(),
    }
    if as_json:
        world.say_data({"format": FORMAT} | {name: str(path) if path else None for name, path in kept.items()})
        return
    words = ("your pieces", "settings", "reports", "your own plans", "plans that ship")
    world.say_all(columns([(word, str(path or "")) for word, path in zip(words, kept.values(), strict=True)]))
