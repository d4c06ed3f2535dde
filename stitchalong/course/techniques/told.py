"""Told edges: found, left behind, and handed on to closed peyote."""

from __future__ import annotations

from collections.abc import Iterable

from stitchalong.course.bench import Bench
from stitchalong.course.edges import ToldEdge, WorkingEdge
from stitchalong.errors import PlanError
from stitchalong.fabric.moves import Move


def emit(bench: Bench, moves: Iterable[Move]) -> None:
    """Append moves to the open round, marker beads noted."""
    bench.out.add_told(moves, bench.markers)


def as_closed(bench: Bench, told: ToldEdge) -> WorkingEdge:
    """The edge for rounds of closed peyote. Raises PlanError for an open one."""
    if not told.closed:
        raise PlanError(
            f"peyote goes round and round, and the {told.name} edge left by {told.technique} is open",
            fix='stitch = "flat peyote" goes to and fro',
            place=bench.place(bench.index, key="stitch"),
        )
    return bench.give_birth(
        told.name,
        [bench.out.code(bead) for bead in told.beads],
        [""] * len(told.beads),
        first=0,
        number=told.number,
        last_round=told.last_round,
        begin=0,
        columns={},
    )
