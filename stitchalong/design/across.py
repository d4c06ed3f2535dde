"""How wide a ring in the making is, before it is known how large: what a finger's size has to allow for."""

from __future__ import annotations

from functools import lru_cache

from stitchalong.course.compile import compile_plan
from stitchalong.design.wanted import Colour, Kind, Wanted, plan_text
from stitchalong.measure.beads import BeadSize
from stitchalong.measure.extents import width
from stitchalong.plan.read import read_text

_COLOURS = (Colour("a", "black"), Colour("b", "white"))
_LEAST = {True: (8, 2), False: (6, 1)}
"""units and sides of a small ring with fins, beads and sides of a small tube: the width is the same in all"""


@lru_cache(maxsize=64)
def width_of(kind: Kind, bead: BeadSize, rounds: int) -> float | None:
    """Millimetres without the fins; None for what is no ring, or beads whose measures are not known."""
    if not (kind.finned or kind is Kind.TUBE):
        return None
    count, sides = _LEAST[kind.finned]
    small = Wanted(kind, "a ring", bead.size, bead.shape, _COLOURS, ("A",), count, sides, rounds)
    plan = read_text(plan_text(small)).plan
    across = width(compile_plan(plan), plan)
    return across.value if across is not None else None
