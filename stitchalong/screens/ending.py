"""Signals that end the program: heeded by its loop, and remembered before there is one and when it is gone.

Their usual effect, an end at once, would leave the terminal as a full screen needs it.
"""

from __future__ import annotations

import signal
from asyncio import AbstractEventLoop
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from typing import Any

ENDING = tuple(getattr(signal, name) for name in ("SIGTERM", "SIGHUP", "SIGINT") if hasattr(signal, name))

Heeded = dict[int, Any]
"""what was done about each signal before"""


@contextmanager
def remembered(note: Callable[[int], object]) -> Iterator[None]:
    """Where no loop heeds such a signal, `note` is called with its number and nothing else is done."""
    before: Heeded = {}

    def remember(number: int, _frame: object) -> None:
        note(number)

    for number in ENDING:
        with suppress(ValueError):  # not in every thread
            before[number] = signal.signal(number, remember)
    try:
        yield
    finally:
        for number, usual in before.items():
            signal.signal(number, signal.SIG_DFL if usual is None else usual)


def heed(loop: AbstractEventLoop, end: Callable[[int], object]) -> Heeded:
    """From now on the loop calls `end` with the number of each such signal."""
    before: Heeded = {}
    for number in ENDING:
        usual = signal.getsignal(number)
        with suppress(NotImplementedError, RuntimeError, ValueError):  # not everywhere, not in every thread
            loop.add_signal_handler(number, end, int(number))
            before[number] = usual
    return before


def unheed(loop: AbstractEventLoop, before: Heeded) -> None:
    """The loop heeds them no more, and what was done before is done again."""
    for number, usual in before.items():
        with suppress(NotImplementedError, RuntimeError, ValueError):
            loop.remove_signal_handler(number)
            signal.signal(number, signal.SIG_DFL if usual is None else usual)
