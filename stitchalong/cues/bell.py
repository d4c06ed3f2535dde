"""Cues by the terminal's bell alone, for where nothing else sounds them."""

from __future__ import annotations

from collections.abc import Callable

from stitchalong.cues.cue import Cue


class Bell:
    """An `Outlet` that rings for what must not go unnoticed, and for nothing else."""

    def __init__(self, ring: Callable[[], object] | None) -> None:
        """`ring` rings the terminal's bell; None: not even that."""
        self._ring = ring
        self._muted = False

    def deliver(self, cue: Cue) -> None:
        """Ring for a warning, a change that is due, and a question."""
        if self._ring is not None and cue.urgent and not self._muted:
            self._ring()

    def mute(self) -> bool:
        self._muted = not self._muted
        return self._muted

    def describe(self) -> str:
        return "muted" if self._muted else "sound off" if self._ring is None else "bell"

    def close(self) -> None:
        self._ring = None
