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
QUICKEST = 3.0
"""seconds a bead; nobody stitches faster. Common practice, no source"""
STITCH = 4
"""beads; more at once are no press of a burst"""


def gaps(kept: list[Kept]) -> list[float]:
    """Seconds a bead from one press to the next.

    Beads counted at once, or in a burst of presses that follow too quickly, share the time since the
    press before. Where even that share is too short they were laid before, or keys were tried out: it is left out.
    """
    found: list[float] = []
    spent, beads = 0.0, 0
    for before, after in pairwise(kept):
        gap = after.at - before.at
        counts = after.event.kind == "press" and after.event.amount > 0
        if not counts or gap >= QUICKEST or after.event.amount > STITCH:
            found += _shares(spent, beads)
            spent, beads = 0.0, 0
        if counts and after.event.amount > STITCH:
            found += _shares(gap, after.event.amount)
        elif counts:
            spent += max(0.0, gap)
            beads += after.event.amount
    return found + _shares(spent, beads)


def _shares(spent: float, beads: int) -> list[float]:
    return [spent / beads] * beads if beads and spent / beads >= QUICKEST else []


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
