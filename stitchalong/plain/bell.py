"""The terminal's bell, for a front end that has no other sound."""

from __future__ import annotations

from collections.abc import Callable

from stitchalong.cues.cue import Cue


class Bell:
    """An `Outlet` that rings for what must not go unnoticed, and for nothing else."""

    def __init__(self, ring: Callable[[], object]) -> None:
        """`ring` rings the terminal's bell."""
        self._ring = ring

    def deliver(self, cue: Cue) -> None:
        if cue.urgent:
            self._ring()

    def describe(self) -> str:
        return "bell"

    def close(self) -> None:
        """Nothing to let go of."""
