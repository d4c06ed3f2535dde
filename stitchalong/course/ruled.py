"""Lays a round by rule: a fill, and what goes at places."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stitchalong.course.ground import Ground, check_total, make_of, runs_from, stretches
from stitchalong.fabric.peyote import Run
from stitchalong.fabric.stitch import Kind, Make
from stitchalong.plan.model import Ruled


def lay_ruled(ground: Ground, rule: Ruled, claimed: dict[int, Make]) -> list[Run]:
    """A fill, and what goes at places. `claimed` are the spaces that an increase or a decrease takes."""
    size = ground.edge.size
    fill = make_of(rule.fill)
    special: dict[int, Make] = {}
    if rule.over:
        wanted = {code: make_of(lay) for code, lay in rule.over}
        special.update((space, wanted[code]) for space, code in enumerate(ground.below()) if code in wanted)
    _, halves = ground.anchors()
    rib_spaces = [at >> 1 for at in halves if at & 1]
    points = sorted({*rib_spaces, *claimed})
    if rule.middle is not None:
        for space in _middles(halves, points, size):
            special[space] = make_of(rule.middle)
    for lay, steps in ((rule.beside, (-1, 1)), (rule.before, (-1,)), (rule.after, (1,))):
        if lay is not None:
            for point in points:
                special.update(((point + step) % size, make_of(lay)) for step in steps)
    if rule.ribs is not None:
        if not points:
            raise ground.refuse(
                f"no rib or marker has a space in this {ground.word}",
                "leave out `ribs`, or begin the increase earlier",
                text=rule.text,
            )
        special.update((point, make_of(rule.ribs)) for point in points)
        claimed = {space: make for space, make in claimed.items() if make.kind is Kind.SKIP}
    special.update(claimed)
    runs = runs_from(fill, size, special)
    check_total(ground, rule.total, runs, rule.text)
    return runs


def _middles(halves: Sequence[int], points: Sequence[int], size: int) -> Iterator[int]:
    """The middle space of each side; the middle two where a side has an even number."""
    bounds = sorted({*halves, *(2 * point + 1 for point in points)})
    for first, count in stretches(bounds or [0], size):
        if count > 0:
            yield (first + (count - 1) // 2) % size
            yield (first + count // 2) % size
