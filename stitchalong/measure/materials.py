"""How many beads of each code, what they weigh, and what to buy."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from stitchalong.errors import UsageError
from stitchalong.measure.beads import Sized
from stitchalong.measure.figure import Figure

CULLING = 0.10
"""Share of beads more than the count, for odd ones picked out and lost ones. Common practice, no source."""

PACKINGS = (5.0, 10.0, 24.0, 100.0)
"""Grams in a packing. Tubes of 2½ in hold 9 to 12 g, tubes of 5½ in 20 to 28 g
(estherbeadwork.blogspot.com/2013/10); bags of 5 and 100 g: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Packs:
    """So many packings of so many grams."""

    grams: float
    number: int


@dataclass(frozen=True, slots=True)
class Material:
    """What one bead code asks for."""

    code: str
    count: int
    """beads in the work, of everybody together"""
    grams: Figure | None
    """their weight; None where the bead's weight is not known"""
    buy_count: int
    """with the allowance for culling"""
    buy_grams: float | None
    """with the allowance, at the heavy end of the range"""
    packs: tuple[Packs, ...]
    """what to buy, largest first; empty where the weight is not known"""
    note: str = ""


def materials(
    counts: Mapping[str, int],
    beads: Mapping[str, Sized],
    *,
    people: int = 1,
    culling: float = CULLING,
    packings: Sequence[float] = PACKINGS,
) -> tuple[Material, ...]:
    """What to have ready, code by code, in the order of `counts`.

    `counts` are the beads of one piece; `people` in a class each get as many; `culling` is a share. Weights
    from one bead's measures, ± 15 % (see `beads`). Raises UsageError for what cannot be.
    """
    if people < 1:
        raise UsageError(f"a class of {people} needs no beads", fix="one person or more")
    if not 0 <= culling <= 1:
        raise UsageError(f"{culling:.0%} cannot be culled", fix="a share between 0 and 1; 0.1 is usual")
    if not packings or not all(math.isfinite(grams) and grams > 0 for grams in packings):
        raise UsageError("a packing must hold more than 0 g", fix="give the grams of each packing sold")
    return tuple(
        _material(code, count * people, beads.get(code, Sized(None)), culling, packings)
        for code, count in counts.items()
    )


def _material(code: str, count: int, bead: Sized, culling: float, packings: Sequence[float]) -> Material:
    each = bead.size.milligrams() if bead.size else None
    # rounded first, so that 1100.0000000000002 does not ask for one bead more
    buy_count = math.ceil(round(count * (1 + culling), 6))
    if each is None:
        note = bead.note or f"bead {code}: its weight is not known"
        return Material(code, count, None, buy_count, None, (), note)
    grams = each.times(count / 1000)
    buy_grams = each.high * buy_count / 1000
    return Material(code, count, grams, buy_count, buy_grams, packs_for(buy_grams, packings), bead.note)


def packs_for(grams: float, packings: Sequence[float] = PACKINGS) -> tuple[Packs, ...]:
    """Packings that hold at least so many grams, largest first.

    Of all that do, those with the least weight, where each packing counts for half the smallest one besides:
    one of 100 g is better than seven that hold 98 g.
    """
    sizes = sorted(set(packings))
    penalty = sizes[0] / 2
    largest = sizes[-1]
    # What is far above the largest packing is bought in it; the rest, a few packings' worth, is searched.
    bulk = max(0, math.floor(grams / largest) - 2)
    best: dict[int, tuple[float, tuple[float, ...]]] = {0: (0.0, ())}
    need = math.ceil(round((grams - bulk * largest) * 10, 6))
    for tenth in range(1, need + 1):
        options = []
        for size in sizes:
            cost, packs = best[max(0, tenth - round(size * 10))]
            options.append((cost + size + penalty, (*packs, size)))
        best[tenth] = min(options)
    chosen = list(best[max(0, need)][1]) + [largest] * bulk
    return tuple(Packs(size, chosen.count(size)) for size in reversed(sizes) if size in chosen)
