"""Tubular peyote from an odd ring: one spiral.

The rule. A ring of 2n + 1 beads; the needle comes out of the first. A stitch picks up one bead, skips one and passes
through the next up bead. After the first lap the next up bead is the first bead added: there is no step-up, and from
then on each stitch passes through the bead laid n stitches before. After s stitches the total is 2n + 1 + s.

A lap is n + 1/2 stitches, so laps take n and n + 1 by turns. The ring's own beads are laps 1 and 2: those that the
first lap lies over, and those that it passes through with the first of the ring.

That the fourth bead added to a ring of seven goes through the first bead added is printed in a magazine's
column on an easy tube (beadingmag.info/circular-peyote/easy-peyote-tube.html).
"""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.fabric.moves import Move, Phrase, Phrases
from stitchalong.fabric.stitch import Kind, Make
from stitchalong.values import value

LEAST = 7
"""beads of the ring"""


@value
class Spiral:
    """The edge. The needle comes out of the up bead before the first of the queue."""

    queue: tuple[int, ...]
    """bead numbers of the next n up beads"""
    under: tuple[int, ...]
    """bead numbers that the next n + 1 stitches will lie over"""
    lap: int
    """number of the lap just worked"""

    @property
    def spaces(self) -> int:
        """Stitches of the next lap."""
        return len(self.queue) + self.lap % 2


def ring(codes: Sequence[str], first: int) -> tuple[list[Move], Spiral]:
    """Beads strung and closed into a ring. Raises ValueError for an even number."""
    if len(codes) % 2 == 0:
        raise ValueError(f"a ring of {len(codes)} is even")
    moves = [Move(Kind.STRING, (code,), (), (0,)) for code in codes]
    moves.append(Move(Kind.JOIN, through=(first,), detail="ring"))
    beads = list(range(first, first + len(codes)))
    return moves, Spiral(tuple(beads[2::2]), (*beads[1::2], beads[0]), 2)


def lap(spiral: Spiral, makes: Sequence[Make], first: int) -> tuple[list[Move], Spiral]:
    """The next lap. Raises ValueError for another number of stitches."""
    if len(makes) != spiral.spaces:
        raise ValueError(f"{len(makes)} stitches for {spiral.spaces} spaces")
    beads = list(range(first, first + len(makes)))
    ups = [*spiral.queue, *beads]
    below = [*spiral.under, *spiral.queue, *beads]
    moves = [Move(make.kind, make.beads, (ups[nth],), make.ups) for nth, make in enumerate(makes)]
    n = len(spiral.queue)
    return moves, Spiral(tuple(ups[len(makes) :]), tuple(below[len(makes) : len(makes) + n + 1]), spiral.lap + 1)


SAY: Phrases = {
    "": Phrase("pass through the next up bead, {last}"),
    "ring": Phrase("pass through the first bead strung: the ring is closed"),
}
