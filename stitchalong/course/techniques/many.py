"""Stitches of several beads each: notation read stitch by stitch, one code standing for all beads of its stitch."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from stitchalong.course.bench import Bench
from stitchalong.course.ground import Ground, check_total
from stitchalong.course.techniques.row_work import laid_out
from stitchalong.course.words import counted
from stitchalong.errors import Place, PlanError
from stitchalong.fabric.edge import Edge
from stitchalong.fabric.stitch import Kind, Make
from stitchalong.plan.model import Round as PlanRound


def many(
    bench: Bench,
    spec: PlanRound,
    sizes: Sequence[int],
    place: Place,
    number: int,
    word: str,
    what: str,
    under: Sequence[int] = (),
) -> list[Make]:
    """A stitch for each of `sizes`, of so many beads: `A` all in A, `AB together` told bead by bead.

    `what` is one stitch in messages: `unit`. Raises PlanError.
    """
    makes = laid_out(bench, replace(spec, total=None), len(sizes), place, number, word, under)
    found = [_filled(make, size, nth, place, what) for nth, (make, size) in enumerate(zip(makes, sizes, strict=True))]
    nothing: frozenset[int] = frozenset()
    ground = Ground(Edge(len(sizes)), nothing, nothing, nothing, list, place, number, word)
    check_total(ground, spec.total, [(make, 1) for make in found], spec.text)
    return found


def _filled(make: Make, size: int, nth: int, place: Place, what: str) -> Make:
    if make.kind is Kind.SINGLE:
        return Make(Kind.GROUP, make.beads * size)
    if make.kind not in (Kind.PAIR, Kind.PICOT) or len(make.beads) != size:
        raise PlanError(
            f"{what} {nth + 1} takes {counted(size, 'bead')}",
            fix=f"`A` for all of them, or told one by one: `{'A' * size}{' together' if size > 2 else ''}`"
            if size > 1
            else "`A`",
            place=place,
        )
    return Make(Kind.GROUP, make.beads)


def split(codes: Sequence[str], sizes: Sequence[int]) -> list[Make]:
    """Codes in the order picked up, as stitches of so many beads each."""
    found: list[Make] = []
    at = 0
    for size in sizes:
        found.append(Make(Kind.GROUP, tuple(codes[at : at + size])))
        at += size
    return found


def refuse_count(bench: Bench, what: str, near: Sequence[int], least: int) -> PlanError:
    """For beads whose count cannot be worked: `what` says the rule, `near` are counts around it that would do."""
    do = [count for count in near if count >= least] or [least]
    return PlanError(
        f"{what}; {' and '.join(f'{count:,}' for count in do)} {'does' if len(do) == 1 else 'do'}",
        place=bench.place(bench.index, key="beads"),
    )
