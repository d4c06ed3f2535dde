"""What a command has to do with: folders, clock, environment, and the three streams."""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from typing import TYPE_CHECKING, TextIO

from stitchalong.errors import StitchalongError, StoreError, UsageError
from stitchalong.settings.paths import HOME_VARIABLE, Paths
from stitchalong.values import value

if TYPE_CHECKING:
    from stitchalong.store import Store

NAME = "stitchalong"
PLAIN_VARIABLE = "STITCHALONG_PLAIN"
"""set to anything but 0: never full screen"""


class OutputError(StoreError):
    """What a command has to say cannot be written."""


@value
class World:
    """All that lies outside of a command. Text for people or scripts goes out through it alone."""

    environ: Mapping[str, str]
    clock: Callable[[], float]
    """epoch seconds, UTC"""
    stdin: TextIO
    stdout: TextIO
    stderr: TextIO
    sleep: Callable[[float], None] = time.sleep
    """seconds"""

    @property
    def paths(self) -> Paths:
        """Where files lie. Not asked for by what only tells about the program itself: it takes a while.

        Raises UsageError where the environment names a folder that cannot be.
        """
        try:
            return Paths.of(self.environ)
        except RuntimeError as error:
            raise UsageError(f"{HOME_VARIABLE} names no folder: {error}", fix="name another one") from error

    def say(self, line: str = "") -> None:
        """A line of data or of talk, at once."""
        self._write(harmless(line) + "\n")

    def say_all(self, lines: Iterable[str]) -> None:
        """Lines of data."""
        self._write("".join(harmless(line) + "\n" for line in lines))

    def say_data(self, document: object) -> None:
        """A document for scripts: JSON in plain ASCII, which no terminal can take amiss."""
        import json

        self._write(json.dumps(document, ensure_ascii=True, indent=1) + "\n")

    def _write(self, text: str) -> None:
        """Raises BrokenPipeError where nobody reads any more, OutputError where it cannot be written."""
        try:
            self.stdout.write(text)
            self.stdout.flush()
        except BrokenPipeError:
            raise
        except OSError as error:
            raise OutputError(
                f"the output cannot be written: {error.strerror}", fix="what was counted is kept"
            ) from error

    def ring(self) -> None:
        """The terminal's bell. Only where stdout is a terminal."""
        self._write("\a")

    def tell(self, line: str) -> None:
        """A line on stderr; where that leads nowhere any more, nobody is there to be told."""
        with suppress(OSError, ValueError):
            self.stderr.write(harmless(line) + "\n")
            self.stderr.flush()

    def tell_faults(self, error: StitchalongError) -> None:
        """One line for each thing that is wrong."""
        for problem in error.problems:
            self.tell(f"{NAME}: {' '.join(str(problem).split())}")

    def draw(self, lines: Iterable[str]) -> None:
        """Lines that carry colours of the program's own making. Only where `shows_colour`."""
        self._write("".join(line + "\n" for line in lines))

    @property
    def shows_colour(self) -> bool:
        """Whether stdout is a terminal of 24-bit colour, and nothing asks for none."""
        told = self.environ.get("COLORTERM", "").strip().lower()
        return self.stdout.isatty() and told in ("truecolor", "24bit") and not self.environ.get("NO_COLOR")

    @property
    def terminal_size(self) -> tuple[int, int]:
        """Columns and lines; 80 and 24 where stdout is no terminal."""
        try:
            size = os.get_terminal_size(self.stdout.fileno())
        except (OSError, ValueError):
            return 80, 24
        return max(size.columns, 20), max(size.lines, 8)

    @property
    def somebody_answers(self) -> bool:
        """Whether a question would be seen and could be answered."""
        return self.stdin.isatty() and self.stdout.isatty()

    @property
    def full_screen(self) -> bool:
        """Whether there is a full terminal, and nothing asks for lines."""
        if self.environ.get(PLAIN_VARIABLE, "0").strip() not in ("", "0"):
            return False
        streams = (self.stdin, self.stdout, self.stderr)
        return all(stream.isatty() for stream in streams) and self.environ.get("TERM", "") not in ("dumb", "unknown")

    def ask(self, question: str) -> bool:
        """Ask for a yes. Only where `somebody_answers`."""
        self._write(harmless(question) + " Type yes to do it: ")
        return self.stdin.readline(100).strip().casefold() in ("yes", "y")

    def store(self) -> Store:
        """The pieces, opened. Raises StoreError."""
        from stitchalong.store import Store

        return Store.open(self.paths.data, clock=self.clock)


def harmless(line: str) -> str:
    """The line without anything that would steer a terminal; its blanks at the left stay."""
    if line.isprintable():
        return line
    from stitchalong.plan.text import clean

    text = line.lstrip(" ")
    return " " * (len(line) - len(text)) + clean(text)
