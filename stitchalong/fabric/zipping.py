"""Zipping two edges, whose up beads stand in each other's gaps: the thread goes to and fro, and no bead is added.

The rule. Lay the edges together so that the up beads of one sit in the gaps of the other; pass through an up bead of
the one, then of the other, and so on; pass through the seam once more.

A strip of flat peyote is rolled up, and its first row meets its last: they stand in each other's gaps if the number of
rows is even. Two closed edges need as many up beads. Where both have ribs, a rib that shows a gap (after a pair round)
must meet one that shows an up bead (after a plain round); and as the faces of the two parts look away from each other,
the other edge is met against the direction in which it was worked.

The zigzag is printed in Beading Basics: Stitches (2006), the even number of rows in spotidoc.com/doc/94900. The closed
edges: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

from stitchalong.fabric.moves import Move, Phrase, Phrases
from stitchalong.fabric.stitch import Kind

Group = tuple[int, ...]
"""bead numbers of one up bead (several with a drop)"""


def ends(first_row: Sequence[Group], last_row: Sequence[Group]) -> list[Move]:
    """The ends of a strip: first row, last row, and so on; rows told from where the thread comes out, each group in the
    direction in which it is met. The first row may have one group more."""
    moves = [
        Move(Kind.JOIN, through=one + other, detail="ends") for one, other in zip(first_row, last_row, strict=False)
    ]
    if len(first_row) > len(last_row):
        moves.append(Move(Kind.JOIN, through=first_row[-1], detail="end"))
    way = [bead for move in moves for bead in move.through]
    return [*moves, Move(Kind.REINFORCE, through=tuple(way[-2::-1]), detail="back")]


def closed(here: Sequence[Group], there: Sequence[Group], space: int) -> list[Move]:
    """Two closed edges. `here` begins with the up bead that the thread comes out of; up bead `space` of `there` stands
    in the gap behind it. Each group is told in the direction in which its own edge was worked."""
    size = len(here)
    moves: list[Move] = []
    for nth in range(size):
        other = there[(space - nth) % size][::-1]
        moves.append(Move(Kind.JOIN, through=other + here[(nth + 1) % size], detail="gap"))
    way = tuple(bead for move in moves for bead in move.through)
    return [*moves, Move(Kind.REINFORCE, through=way, detail="seam")]


def meeting(here: Collection[int], there: Collection[int], size: int) -> int | None:
    """The up bead of the other edge that stands in the gap behind up bead 0 of this one, so that ribs meet ribs.

    Ribs are told in halves from up bead 0 of their own edge. None where no place does; 0 where an edge has no ribs.
    """
    if not here or not there:
        return 0
    return next((place // 2 for place in _turns(here, there, size) if not place % 2), None)


def alike(here: Collection[int], there: Collection[int], size: int) -> bool:
    """Whether the sides match, but ribs meet in the same state: up bead against up bead, gap against gap."""
    return any(place % 2 for place in _turns(here, there, size))


def _turns(here: Collection[int], there: Collection[int], size: int) -> list[int]:
    """Places of the other edge, in halves, that may lie at the gap behind up bead 0 so that all ribs meet."""
    whole = 2 * size
    mine, first = {at % whole for at in here}, min(there)
    # the other edge runs backwards: its place `at` comes to lie at 1 + place - at
    places = sorted((at + first - 1) % whole for at in mine)
    return [place for place in places if {(1 + place - at) % whole for at in there} == mine]


def sides(ribs: Collection[int], size: int) -> list[int]:
    """Up beads from rib to rib, a rib's own counted once."""
    order = sorted(ribs)
    return [
        (after - before) % (2 * size) // 2
        for before, after in zip(order, [*order[1:], order[0] + 2 * size], strict=True)
    ]


SAY: Phrases = {
    "ends": Phrase("zip: pass through the next bead of the first row and the next of the last row, {way}", "the seam"),
    "end": Phrase("zip: pass through the last bead of the first row, {last}", "the seam"),
    "back": Phrase("pass back through the whole seam, {number}, to square it", "a pass through the seam"),
    "gap": Phrase(
        "zip: pass through the next up bead of the other edge and the next up bead of this one, {way}", "the seam"
    ),
    "seam": Phrase("pass round the whole seam once more, {number}, to close it up", "a pass through the seam"),
}
