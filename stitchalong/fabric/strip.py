"""Modified right-angle weave as an open strip: units with spacers between them, not joined.

The rule. The first unit is a ring of four: top, side, bottom, side. Each further unit picks up a spacer and three beads
(top, side, bottom), passes up through the side bead that it shares, by-passing the spacer, and through its own top
bead. n units have 3n + 1 frame beads and n - 1 spacers, 4n in all. The thread comes out of the last top bead.

The upper edge is open: n top beads, and upon them, in between, the n - 1 spacers, which are its up beads. That is an
edge of flat peyote with an odd count: 2n - 1 columns. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.fabric.flat_peyote import Strip
from stitchalong.fabric.moves import Move, Phrase, Phrases
from stitchalong.fabric.stitch import Kind

LEAST = 3
"""units"""
_ROW = 4
"""what the upper edge counts as for turns: past the strand, for there is thread along its ends to turn under"""


def strip(frame: str, spacers: Sequence[str], first: int) -> tuple[list[Move], Strip]:
    """A strip of one unit more than there are spacers, the first bead having the number `first`."""
    moves = [Move(Kind.UNIT, (frame,) * 4, (first,), detail="circle")]
    top, shared = first, first + 1
    tops, ups = [top], list[int]()
    for nth, spacer in enumerate(spacers):
        carried = first + 4 + 4 * nth
        top = carried + 1
        moves.append(Move(Kind.UNIT, (spacer, frame, frame, frame), (shared, top), (0,)))
        shared = carried + 2
        tops.append(top)
        ups.append(carried)
    return moves, Strip(tuple((up,) for up in ups), tuple((bead,) for bead in reversed(tops)), _ROW)


SAY: Phrases = {
    "circle": Phrase(
        "join them into a circle: pass through the first, the top bead, {last}, "
        "so that tail and thread leave on opposite sides"
    ),
    "": Phrase("pass up through the shared side bead, {first}, past the spacer, and through the new top bead, {last}"),
}
