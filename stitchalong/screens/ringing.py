"""Cues by the terminal's bell alone, for where nothing else sounds them."""

from __future__ import annotations

from collections.abc import Callable

from stitchalong.cues.cue import Cue, Outlet

MakeOutlet = Callable[[Callable[[], object], Callable[[], object]], Outlet]
"""makes an outlet of two callables: one rings the terminal's bell, one shows `describe` anew; both from any thread"""


class Bell:
    """An outlet: rings for what must not be missed, and is silent at each bead."""

    def __init__(self, ring: Callable[[], object]) -> None:
        self._ring: Callable[[], object] | None = ring

    def deliver(self, cue: Cue) -> None:
        """Ring for a warning, a change that is due, and a question."""
        if self._ring is not None and (cue.urgent or cue.earcon in ("heads-up", "now")):
            self._ring()

    def describe(self) -> str:
        return "bell"

    def close(self) -> None:
        self._ring = None
