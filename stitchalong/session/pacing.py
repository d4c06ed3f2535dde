"""How fast somebody stitches, from the times of her presses."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from stitchalong.measure.pace import Pace, pace_of

if TYPE_CHECKING:
    from stitchalong.store.journal import Kept
    from stitchalong.store.pieces import Store

PRESSES_TIMED = 600
PIECES_TIMED = 5
QUICKEST = 0.4
"""seconds a bead; what is counted faster was laid before"""


def gaps(kept: list[Kept]) -> list[float]:
    """Seconds a bead from one press to the next; beads counted at once share the time since the press before."""
    found: list[float] = []
    for before, after in pairwise(kept):
        beads = after.event.amount
        if after.event.kind != "press" or not beads:
            continue
        each = (after.at - before.at) / beads
        if each >= QUICKEST:
            found += [each] * beads
    return found


def pace_of_piece(store: Store, piece_id: int) -> Pace | None:
    """The pace in one piece, from the last presses; None where there are too few."""
    return pace_of(gaps(store.tail(piece_id, PRESSES_TIMED)))


def pace_of_pieces(store: Store) -> Pace | None:
    """The pace in the pieces last worked on, all together; None where there are too few presses."""
    newest = store.pieces(include_away=True)[:PIECES_TIMED]
    found: list[float] = []
    for piece in reversed(newest):
        found += gaps(store.tail(piece.id, PRESSES_TIMED))
    return pace_of(found)
