"""How much deriving one plan may take."""

from __future__ import annotations

from stitchalong.errors import Place, PlanError

MOST_CARRIED = 4_000_000


class Effort:
    """Bounds what one plan may cost: each column is carried on from round to round, and traced back when it begins."""

    def __init__(self) -> None:
        self._left = MOST_CARRIED

    def spend(self, columns: int, place: Place) -> None:
        """Raises PlanError when all is spent; no plan of a million beads whose ribs are stacked comes near it."""
        self._left -= columns
        if self._left < 0:
            raise PlanError(
                "too many increases and empty spaces begin at places of their own",
                fix="lay them over each other, round after round, or work fewer rounds",
                place=place,
            )
