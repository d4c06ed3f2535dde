"""Netting: loops of an odd number of beads, each hung from the tips of the loops below.

The rule. The base ring holds s anchors, each followed by k beads, s(k + 1) in all; the thread comes out of the first
anchor. A stitch picks up k beads and passes through the next anchor, in later rounds through the tip, the middle bead,
of the next loop; s stitches, s * k beads in a round. The last stitch passes through the anchor or tip where the round
began; the step-up goes on through half a loop, (k + 1) / 2 beads, and comes out of the tip of this round's first loop:
each round begins half a loop further on. With k = 1 this is peyote.

Forty beads for ten loops of three, thirty in each round, and a step-up of two beads are printed in
angelfire.com/co2/beltana/net.html.
"""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.fabric.moves import Move, Phrase, Phrases
from stitchalong.fabric.stitch import Kind, Make
from stitchalong.values import value

LEAST = 3
"""loops of a round"""


@value
class Tips:
    """The edge, as the next round meets it."""

    beads: tuple[int, ...]
    """numbers of anchors or tips; the thread comes out of the first"""
    loop: int
    """beads of a loop of the base ring"""


def ring(codes: Sequence[str], first: int, loop: int) -> tuple[list[Move], Tips]:
    """The base ring, an anchor first. Raises ValueError for a count that does not divide."""
    if len(codes) % (loop + 1):
        raise ValueError(f"{len(codes)} beads for loops of {loop}")
    moves = [Move(Kind.STRING, (code,), (), (0,)) for code in codes]
    moves.append(Move(Kind.JOIN, through=(first,), detail="ring"))
    return moves, Tips(tuple(range(first, first + len(codes), loop + 1)), loop)


def round_(tips: Tips, makes: Sequence[Make], first: int, *, steps_up: bool) -> tuple[list[Move], Tips]:
    """The next round. Raises ValueError for another number of loops, or loops of an even number of beads."""
    loops = len(tips.beads)
    if len(makes) != loops or any(len(make.beads) % 2 == 0 for make in makes):
        raise ValueError(f"{len(makes)} loops on {loops}")
    moves: list[Move] = []
    after: list[int] = []
    half = len(makes[0].beads) // 2 + 1
    number = first
    for nth, make in enumerate(makes):
        detail = "last" if nth == loops - 1 else ""
        moves.append(
            Move(Kind.GROUP, make.beads, (tips.beads[(nth + 1) % loops],), (len(make.beads) // 2,), detail=detail)
        )
        after.append(number + len(make.beads) // 2)
        number += len(make.beads)
    if steps_up:
        moves.append(Move(Kind.STEP_UP, through=tuple(range(first, first + half)), detail=str(half + 1)))
    return moves, Tips(tuple(after), tips.loop)


SAY: Phrases = {
    "": Phrase("pass through the tip of the next loop, the bead in its middle, {last}"),
    "last": Phrase("pass through the tip where the round began, {last}"),
    "ring": Phrase("pass through the first bead strung, the first anchor: the ring is closed"),
}
