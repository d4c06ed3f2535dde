"""One's own gauge: what was measured of swatches and finished pieces, kept and used from then on.

`list --json` gives one object with `format`, `measured` (a list of `number`, `at`, `bead`, `of`, `stitch`, `tension`,
`count`, `length` and `error` in mm, `piece`: a uid or empty) and `gauges` (a list of `bead`, `of`, `stitch`, `tension`,
`each`: a figure in mm, for thread a share, and `usual`: the same without what was measured, or null).
"""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator, Sequence

from stitchalong.commands.figures import data_of
from stitchalong.commands.subject import units_of
from stitchalong.commands.table import columns
from stitchalong.commands.world import World
from stitchalong.errors import Exit
from stitchalong.measure.measured import Measured
from stitchalong.measure.measuring import (
    counted_words,
    gauge_line,
    length_words,
    own_gauges,
    read_measured,
    what_of,
)
from stitchalong.measure.units import Units
from stitchalong.settings.when import spoken


def run(asked: Namespace, world: World) -> int:
    """`gauge add`, `gauge list` or `gauge remove`."""
    units = units_of(asked, world)
    one = None
    if asked.act == "add":
        one = read_measured(asked.bead, asked.of, asked.count, asked.length, asked.tension, asked.stitch or "")
    store = world.store()
    try:
        if one is not None:
            number = store.add_measured(one)
            world.say(f"kept as {number}")
            world.say_all(gauge_line(own, units) for own in own_gauges(store.measured(), only=one))
        elif asked.act == "remove":
            store.remove_measured(asked.number)
            world.say(f"measurement {asked.number} is forgotten")
        else:
            kept = store.measured()
            if asked.json:
                world.say_data(_document(kept))
            else:
                world.say_all(_lines(kept, units, world.clock()))
    finally:
        store.close()
    return Exit.OK


# ---- telling ------------------------------------------------------------------------------------


def _lines(kept: Sequence[Measured], units: Units, now: float) -> Iterator[str]:
    if not kept:
        yield "nothing measured yet: sizes are reckoned from what is usual"
        yield "`stitchalong gauge add` keeps a swatch, `stitchalong finish PIECE --size` a finished piece"
        return
    rows = []
    for one in kept:
        bead = f"{one.size} {one.shape}".strip() or "every bead"
        origin = "a piece" if one.piece else "a swatch"
        what = (one.tension, counted_words(one), length_words(one, units))
        rows.append((str(one.id), bead, *what, origin, spoken(one.at, now)))
    yield from columns(rows, right=frozenset((0,)))
    yield from (gauge_line(own, units) for own in own_gauges(kept))


def _document(kept: Sequence[Measured]) -> dict[str, object]:
    rows = [
        {
            "number": one.id,
            "at": one.at,
            "bead": f"{one.size} {one.shape}".strip(),
            "of": what_of(one),
            "stitch": one.stitch,
            "tension": one.tension,
            "count": one.count,
            "length": one.length,
            "error": one.error,
            "piece": one.piece,
        }
        for one in kept
    ]
    gauges = [
        {
            "bead": own.bead,
            "of": own.of,
            "stitch": own.stitch,
            "tension": own.tension,
            "each": data_of(own.each),
            "usual": data_of(own.usual),
        }
        for own in own_gauges(kept)
    ]
    return {"format": 1, "measured": rows, "gauges": gauges}
