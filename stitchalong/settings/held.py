"""A key that is held down counts once, not twenty times.

A terminal does not mark repeats, so they are told by time alone: the repeats of a held key follow each other
faster than anybody taps. Times are those at which the keys arrived, in seconds of any steady clock, never
those at which they are worked on: a queue of presses drains in no time. Figures measured with usual repeat
rates; repeats slower than `FASTEST` are not seen.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto

FASTEST = 0.110
"""seconds between two presses of one key, below which the second is a repeat"""

HELD_AFTER = 3
"""so many repeats in a row, and the key is taken to be held"""

FIRST_REPEAT = (0.18, 1.2)
"""seconds, least and most, that keyboards wait before a held key begins to repeat"""


class Verdict(Enum):
    """What to do with a press."""

    COUNT = auto()
    IGNORE = auto()
    TAKE_BACK = auto()
    """ignore it, and take back what this key counted last: that was the held key's first repeat"""


@dataclass(slots=True)
class HeldKeys:
    """Watches presses as they come."""

    on: bool = True
    fastest: float = FASTEST
    held_after: int = HELD_AFTER
    first_repeat: tuple[float, float] = FIRST_REPEAT
    _key: str = ""
    _last: float = 0.0
    """when the last press of this key arrived, counted or not"""
    _gap: float | None = None
    """how long the last counted press came after a press of the same key"""
    _ignored: int = 0

    def pressed(self, key: str, at: float) -> Verdict:
        """Judge a press of `key` that arrived at `at`."""
        if key != self._key:
            self._key, self._last, self._gap, self._ignored = key, at, None, 0
            return Verdict.COUNT
        gap, self._last = at - self._last, at
        if not self.on or gap >= self.fastest or gap < 0:
            self._gap, self._ignored = gap, 0
            return Verdict.COUNT
        self._ignored += 1
        if self._ignored == self.held_after and self._gap is not None:
            least, most = self.first_repeat
            if least <= self._gap <= most:
                return Verdict.TAKE_BACK
        return Verdict.IGNORE
