"""Clicks from the terminal, and nothing else of the mouse: neither its moves nor its wheel wake the program.

The toolkit asks a terminal for every move of the mouse. Here it is asked for presses of buttons alone, with their
places in decimal (DEC private modes 1000 and 1006, as xterm's control sequences have them).
"""

from __future__ import annotations

from typing import Protocol, cast

from textual import events
from textual.driver import Driver
from textual.message import Message

ON = "\x1b[?1000h\x1b[?1006h"
OFF = "\x1b[?1000l\x1b[?1006l"


class Clicked(Message, bubble=False):
    """A button of the mouse went down at `at`, when its bytes arrived, in seconds of the clock of events."""

    def __init__(self, button: int, at: float) -> None:
        super().__init__()
        self.button = button
        self.at = at

    @classmethod
    def of(cls, event: events.MouseDown) -> Clicked:
        return cls(event.button, event.time)


class _Taps(Protocol):
    _mouse: bool

    def write(self, data: str) -> None: ...
    def flush(self) -> None: ...


def _say(driver: _Taps, code: str) -> None:
    if driver._mouse:
        driver.write(code)
        driver.flush()


def _nothing(driver: _Taps) -> None:
    """Places in pixels are of no use here."""


def for_taps(usual: type[Driver]) -> type[Driver]:
    """The toolkit's driver for this system, asking for presses alone."""
    ways = {
        "_enable_mouse_support": lambda self: _say(self, ON),
        "_disable_mouse_support": lambda self: _say(self, OFF),
        "_enable_mouse_pixels": _nothing,
    }
    return cast("type[Driver]", type("TapDriver", (usual,), ways))


def switch(driver: Driver | None, on: bool) -> None:
    """Take clicks from now on, or leave them to the terminal."""
    if driver is None or driver.is_headless or driver._mouse == on:
        return
    taps = cast("_Taps", driver)
    taps._mouse = True
    _say(taps, ON if on else OFF)
    taps._mouse = on
