"""What ends an edge: picots and other stitches between its up beads, and fringe.

The rule. The needle stands in the first up bead. Between two neighbouring up beads goes one stitch, or none; then the
needle passes through the next up bead. An open edge of m up beads has m - 1 places, a closed one m.

A strand of fringe: the beads are picked up from the edge downwards; the last of them (or the last few, the tip) turn
the thread, and the needle goes back up through all the others, then through the next up bead. Where strands are to hang
further apart, the needle goes along the edge, through the bead that lies between two up beads.

Picots of three on every gap are printed on interweave.com (beadwise, beaded picot): 3u beads on a closed edge of u
gaps, 3(u - 1) on an open one. Fringe: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stitchalong.fabric.moves import Move, Phrase, Phrases
from stitchalong.fabric.stitch import Kind, Make
from stitchalong.values import value

Group = tuple[int, ...]


@value
class Standing:
    """An edge as the needle meets it, standing (or about to stand) in the first up bead."""

    ups: tuple[Group, ...]
    """bead numbers of each up bead, several where they are passed as one"""
    between: tuple[Group, ...] | None
    """what lies between each up bead and the next; None where that is not known"""
    closed: bool
    turn: bool = False
    """the needle is outside the edge and has to turn into the first up bead"""

    @property
    def places(self) -> int:
        return len(self.ups) - (not self.closed)

    def behind(self, place: int) -> Group:
        """The up bead that ends a place."""
        return self.ups[(place + 1) % len(self.ups)]


def edging(edge: Standing, makes: Sequence[Make]) -> list[Move]:
    """One stitch or none in each place. Raises ValueError for another number of them."""
    if len(makes) != edge.places:
        raise ValueError(f"{len(makes)} stitches for {edge.places} places")
    moves = list(_into(edge))
    for place, make in enumerate(makes):
        detail = make.kind.value if make.kind in (Kind.PICOT, Kind.SKIP) else ""
        moves.append(Move(make.kind, make.beads, edge.behind(place), make.ups, detail=detail))
    return moves


def fringe(edge: Standing, strands: Sequence[tuple[str, ...]], first: int, *, every: int, tip: int) -> list[Move]:
    """Strands by turns, one in every `every`-th place, the first new bead having the number `first`.

    Raises ValueError for a strand that has no bead to come back through, and for an edge along which the needle
    cannot pass.
    """
    if any(len(strand) <= tip for strand in strands):
        raise ValueError("a strand needs a bead to come back through")
    if every > 1 and edge.between is None:
        raise ValueError("what lies between the up beads is not known")
    moves = list(_into(edge))
    hung = 0
    for place in range(edge.places):
        behind = edge.behind(place)
        if place % every:
            assert edge.between is not None
            moves.append(Move(Kind.WALK, through=edge.between[place] + behind, detail="along"))
            continue
        strand = strands[hung % len(strands)]
        hung += 1
        back = tuple(range(first + len(strand) - tip - 1, first - 1, -1))
        moves.append(Move(Kind.GROUP, strand, back + behind, detail="strand" if tip == 1 else "strand with a tip"))
        first += len(strand)
    return moves


def _into(edge: Standing) -> Iterator[Move]:
    if edge.turn:
        yield Move(Kind.TURN, through=edge.ups[0], detail="into the edge")


SAY: Phrases = {
    "": Phrase("pass through the next up bead, {last}"),
    "picot": Phrase("pass through the next up bead, {last}, so that the middle bead stands out"),
    "no bead": Phrase("pass straight on through the next up bead, {last}"),
    "into the edge": Phrase("turn: back into the last bead added, {last}", "the turn into the edge"),
    "along": Phrase("go along the edge without a bead, through {way}", "along the edge"),
    "strand": Phrase(
        "skip the last bead, which turns the thread; go back up through all the others, "
        "then through the next up bead, {last}"
    ),
    "strand with a tip": Phrase(
        "skip the beads of the tip; go back up through all the others, then through the next up bead, {last}"
    ),
}
