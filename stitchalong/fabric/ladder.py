"""Ladder stitch: beads side by side, each held to its neighbour; the foot of herringbone and brick stitch.

The rule. Two beads are picked up and the thread goes round through both once more; then one bead at a time: through the
bead before, in the direction in which it was strung, and through the new bead. n beads have n - 1 bridges of thread
between them, above and below by turns. With an even count the thread and the tail come out on the same side.

Joined into a ring: through the first bead, through the last, through the first once more; a ladder of an odd count ends
on the other side, and there it is the last bead that the thread comes out of.

The stitch and the join are printed in thealluringbeadboutique.com, tubular-brick-stitch-basics.
"""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.fabric.moves import Move, Phrase, Phrases
from stitchalong.fabric.stitch import Kind
from stitchalong.values import value

LEAST = 2
"""beads of a ladder"""
LEAST_AROUND = 3
"""beads of a ring"""


@value
class Top:
    """Beads standing side by side, their holes upright; the thread comes up out of the first."""

    beads: tuple[int, ...]
    """numbers, as the next row meets them"""
    closed: bool


def ladder(codes: Sequence[str], first: int, *, joined: bool) -> tuple[list[Move], Top]:
    """A ladder of so many beads, the first having the number `first`."""
    beads = tuple(range(first, first + len(codes)))
    moves = [Move(Kind.GROUP, tuple(codes[:2]), beads[:2], detail="pair")]
    moves += [Move(Kind.SINGLE, (codes[at],), beads[at - 1 : at + 1]) for at in range(2, len(codes))]
    if not joined:
        return moves, Top(beads[::-1], False)
    if len(beads) % 2:
        moves.append(Move(Kind.JOIN, through=(beads[0], beads[-1]), detail="odd"))
        return moves, Top((beads[-1], *beads[:-1]), True)
    moves.append(Move(Kind.JOIN, through=(beads[0], beads[-1], beads[0]), detail="even"))
    return moves, Top(beads, True)


SAY: Phrases = {
    "pair": Phrase("pass through both once more, {first} and {last}, so that they lie side by side"),
    "": Phrase("pass through the bead before, {first}, and through the new bead, {last}"),
    "even": Phrase("up through the first bead, down through the last, up through the first: the ladder is a ring"),
    "odd": Phrase("down through the first bead and up through the last: the ladder is a ring"),
}
