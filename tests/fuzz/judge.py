"""What holds for every input: it is taken, or refused in single harmless lines, and never for long."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

from stitchalong.errors import StitchalongError
from tests.plan.harmless import is_harmless

SECOND = float(os.environ.get("STITCHALONG_SECOND", "10"))
"""of processor time, the most that an input may take; the long run asks for one second, the suite only for no hang"""
LARGE_BEADS = 100_000
"""a course of more may take longer"""
LARGE_SECONDS = 8.0 * max(1.0, SECOND / 2)
LONGEST_LINE = 2_000
"""characters of one message"""
MOST_LINES = 102
"""a hundred faults, and two that say how many more there are"""


slower = 1.0
"""by how much all takes longer while it is watched (guided fuzzing sets this)"""


class Hang(BaseException):
    """An input took too long. No `except Exception` can swallow it."""


class Broken(AssertionError):
    """A message, or something told, is not as it must be."""


@contextmanager
def at_most(seconds: float) -> Iterator[None]:
    """Raise `Hang` where the work inside takes more processor time than that.

    Time of this process, so that a busy machine does no harm. Where the system has no such alarm it is found out
    afterwards.
    """

    def ring(_signal: int, _frame: FrameType | None) -> None:
        raise Hang(f"more than {seconds:g} s")

    seconds *= slower
    begun = time.process_time()
    if not hasattr(signal, "setitimer"):
        yield
    else:
        before = signal.signal(signal.SIGPROF, ring)
        signal.setitimer(signal.ITIMER_PROF, seconds)
        try:
            yield
        finally:
            signal.setitimer(signal.ITIMER_PROF, 0)
            signal.signal(signal.SIGPROF, before)
    took = time.process_time() - begun
    if took > seconds:
        raise Hang(f"{took:.1f} s, more than {seconds:g} s")


def hold_refusal(error: StitchalongError) -> None:
    """Each fault on one line, harmless to a terminal, not too long, and not too many of them. Raises `Broken`."""
    if not 1 <= len(error.problems) <= MOST_LINES:
        raise Broken(f"{len(error.problems)} faults told at once")
    if error.status == 0:
        raise Broken("a refusal with the status of a success")
    for problem in error.problems:
        hold_line(str(problem))
        if not problem.what:
            raise Broken("a refusal without a word")
        source, span = problem.place.source, problem.place.span
        if source is not None:
            hold_line(source)
        if span is not None and not 0 <= span[0] <= span[1] <= len(source or ""):
            raise Broken(f"marks {span} outside the text they point into")


def hold_line(line: str) -> None:
    """One line that does nothing to a terminal. Raises `Broken`."""
    if not is_harmless(line):
        raise Broken(f"a control character, or more lines than one: {line!r:.300}")
    if len(line) > LONGEST_LINE:
        raise Broken(f"a message of {len(line)} characters: {line[:300]}")
