"""Which techniques there are."""

from __future__ import annotations

from collections.abc import Callable

from stitchalong.course.bench import Bench
from stitchalong.course.techniques import edgings, flat_peyote, frames, ladders, nets, tubes, weaves
from stitchalong.course.techniques.row_work import Technique, work_rows
from stitchalong.errors import PlanError
from stitchalong.plan.model import Foundation, Rows, Work

Begin = Callable[[Bench, Foundation], None]

_STARTS: dict[str, Begin] = {
    "strung row": flat_peyote.begin,
    "odd tube": tubes.begin_odd,
    "drop tube": tubes.begin_drop,
    "right-angle weave row": weaves.begin_row,
    "right-angle weave ring": weaves.begin_ring,
    "ladder": ladders.begin,
    "strand": nets.begin_line,
    "net ring": nets.begin_net,
    "cube base": frames.begin_base,
    "MRAW strip": frames.begin_strip,
}
"""by the name that `start` holds in a plan"""

_STITCHES: dict[str, type[Technique]] = {
    "flat peyote": flat_peyote.FlatPeyote,
    "spiral peyote": tubes.SpiralPeyote,
    "drop peyote": tubes.DropPeyote,
    "edging": edgings.Edging,
    "fringe": edgings.Fringe,
    "right-angle weave": weaves.RightAngleWeave,
    "tubular right-angle weave": weaves.TubularWeave,
    "herringbone": ladders.Herringbone,
    "tubular herringbone": ladders.TubularHerringbone,
    "brick stitch": ladders.Brick,
    "tubular brick stitch": ladders.TubularBrick,
    "square stitch": nets.Square,
    "netting": nets.Netting,
    "cubic right-angle weave": frames.CubicWeave,
}
"""by the name that `stitch` holds in a plan"""


def begin(bench: Bench, start: Foundation) -> None:
    """Work a start. Raises PlanError where its count cannot be worked."""
    found = _STARTS.get(start.start)
    if found is None:
        raise PlanError(f"this program has no start called {start.start}", place=bench.place(bench.index))
    found(bench, start)


def work(bench: Bench, rows: Rows) -> None:
    """Work rows or rounds. Raises PlanError where they cannot be stitched."""
    found = _STITCHES.get(rows.stitch)
    if found is None:
        raise PlanError(f"this program has no stitch called {rows.stitch}", place=bench.place(bench.index))
    work_rows(bench, rows, found)


def name_of(item: Work) -> str:
    """What a work is called in messages."""
    if isinstance(item, Foundation):
        return f"a {item.start}"
    return item.stitch if isinstance(item, Rows) else "this"
