"""What a worked piece comes to, in the shape of the program's two documents."""

from __future__ import annotations

from typing import Any

from tests.naive.parts import Column, Round
from tests.naive.piece import Piece
from tests.naive.work import Worker

Dict = dict[str, Any]


def rib_columns(worker: Worker, edge: str) -> list[Column]:
    """Columns that bound sides: of each increase and skip ever made on this edge, and of a top's markers."""
    piece = worker.piece
    ribs = [
        column
        for lap in piece.rounds
        if lap.edge == edge
        for stitch, column, _ in lap.cells
        if stitch.increase or stitch.decrease
    ]
    if edge == "top":
        codes = worker.marker_codes()
        ribs += [bead.column for bead in piece.born if bead.code in codes]
    return ribs


def sides_of(lap: Round, ribs: list[Column]) -> tuple[list[int], list[int | None]]:
    """Stitches of each side, and for each stitch its side (None on a rib), by walking round once."""
    way: list[int | None] = []
    for i, (_, column, after) in enumerate(lap.cells):
        way.append(None if column in ribs else i)
        if after in ribs:
            way.append(None)
    of: list[int | None] = [None] * len(lap.cells)
    if None not in way:
        return [len(lap.cells)], [0] * len(lap.cells)
    # Back from the first stitch to the bound before it; a first stitch on a rib is that bound.
    while way[0] is not None:
        way.insert(0, way.pop())
    sides: list[int] = []
    for step in way:
        if step is None:
            sides.append(0)
        else:
            of[step] = len(sides) - 1
            sides[-1] += 1
    return sides, of


def counted(codes: list[str]) -> dict[str, int]:
    found: dict[str, int] = {}
    for code in codes:
        found[code] = found.get(code, 0) + 1
    return found


def check_record(worker: Worker) -> Dict:
    """As `check --json` tells it."""
    piece = worker.piece
    rows = []
    for lap in piece.rounds:
        stitches = [stitch for stitch, _, _ in lap.cells]
        rows.append(
            {
                "part": "main",
                "edge": lap.edge,
                "round": lap.number,
                "stitches": len(stitches),
                "beads": len(lap.beads),
                "increases": len([s for s in stitches if s.increase]),
                "decreases": len([s for s in stitches if s.decrease]),
                "codes": counted([bead.code for bead in lap.beads]),
                "sides": sides_of(lap, rib_columns(worker, lap.edge))[0],
            }
        )
    told = [work for work in worker.plan["works"] if work.get("open")]
    rises = [{"least": w["open"][0], "usual": w["height"], "most": w["open"][1]} for w in told]
    return {
        **({"open": rises} if rises else {}),
        "format": 1,
        "title": worker.plan["title"],
        "beads": len(piece.beads),
        "totals": counted([bead.code for bead in piece.beads]),
        "rounds": rows,
    }


def course_record(worker: Worker) -> list[Dict]:
    """As `course --json` tells it, one flat list: every stitch and move with its edge and round."""
    piece: Piece = worker.piece
    side: dict[int, int | None] = {}
    for lap in piece.rounds:
        of = sides_of(lap, rib_columns(worker, lap.edge))[1]
        for (stitch, _, _), index in zip(lap.cells, of, strict=True):
            side[id(stitch)] = index
    return [
        {
            "edge": stitch.lap.edge,
            "round": stitch.lap.number,
            "kind": stitch.kind,
            "beads": [bead.code for bead in stitch.beads],
            "ids": [bead.id for bead in stitch.beads],
            "through": [bead.id for bead in stitch.through],
            "side": side.get(id(stitch)),
            "increase": stitch.increase,
            "decrease": stitch.decrease,
            "inside": stitch.inside,
            "flank": stitch.flank,
            "last": stitch.last,
            "step_up": stitch.step_up,
            "any_way": stitch.any_way,
        }
        for stitch in piece.log
    ]
