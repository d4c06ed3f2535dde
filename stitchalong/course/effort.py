"""How much deriving one plan may take."""

from __future__ import annotations

from stitchalong.errors import Place, PlanError

MOST = 1_500_000
"""microseconds, more or less"""


class Effort:
    """Bounds what one plan may cost beyond its beads: columns carried from round to round and traced back where they
    begin, and turns of rounds tried out. No plan of a million beads whose ribs are stacked comes near it.
    """

    def __init__(self) -> None:
        self._left = MOST

    def spend(self, amount: int, place: Place, fix: str) -> None:
        """Raises PlanError, with this way out, when all is spent."""
        self._left -= amount
        if self._left < 0:
            raise PlanError("up to here this plan takes too long to derive", fix=fix, place=place)
