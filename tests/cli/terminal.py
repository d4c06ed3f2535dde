"""A program in a real pseudo-terminal, its screen read as a terminal would show it."""

from __future__ import annotations

import fcntl
import os
import re
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Callable
from pathlib import Path
from types import TracebackType

import pyte

from tests.cli.running import ROOT, environment

ALTERNATE = 1049 << 5
"""xterm's private mode of the alternate screen, as pyte numbers private modes"""

PATIENCE = 30.0
"""seconds; a machine may be busy"""


class Terminal:
    """The command line with this home, in a terminal of so many columns and lines."""

    def __init__(
        self, home: Path, *arguments: str, columns: int = 100, lines: int = 30, code: str = "", **environ: str
    ) -> None:
        """`code` is run instead of the module, if it is given."""
        self.screen = pyte.Screen(columns, lines)
        self._modes = set(self.screen.mode)
        self.raw = bytearray()
        self._stream = pyte.ByteStream(self.screen)
        self._master, self._slave = os.openpty()
        fcntl.ioctl(self._slave, termios.TIOCSWINSZ, struct.pack("HHHH", lines, columns, 0, 0))
        self.before = termios.tcgetattr(self._slave)
        slave = self._slave
        self.child = subprocess.Popen(
            [sys.executable, *(("-c", code) if code else ("-m", "stitchalong")), *arguments],
            cwd=ROOT,
            env=environment(home, **{"TERM": "xterm-256color", "LC_ALL": "C.UTF-8", **environ}),
            stdin=slave,
            stdout=slave,
            stderr=slave,
            preexec_fn=lambda: _own(slave),
            close_fds=True,
        )

    def __enter__(self) -> Terminal:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self.child.poll() is None:
            self.child.kill()
        self.child.wait()
        for descriptor in (self._master, self._slave):
            if descriptor >= 0:
                os.close(descriptor)

    @property
    def text(self) -> str:
        """The screen's lines."""
        return "\n".join(line.rstrip() for line in self.screen.display)

    @property
    def alternate(self) -> bool:
        """Whether the alternate screen is shown."""
        return ALTERNATE in self.screen.mode

    @property
    def in_order(self) -> bool:
        """Whether the terminal is as it was: its settings, the main screen, the cursor, no mode of any sort on."""
        return termios.tcgetattr(self._slave) == self.before and set(self.screen.mode) == self._modes

    def type(self, keys: str) -> None:
        """Send what the keys send."""
        os.write(self._master, keys.encode())

    def until(self, wanted: str | Callable[[str], bool]) -> str:
        """Read on until the screen holds this pattern, or this is true of it. Gives the screen."""
        met = wanted if callable(wanted) else (lambda text: re.search(wanted, text) is not None)
        deadline = time.monotonic() + PATIENCE
        while not met(self.text):
            if not self._read(deadline):
                ended = self.child.poll()
                state = "still runs" if ended is None else f"ended with {ended}"
                raise AssertionError(f"never shown: {wanted}; it {state}\n{self.text}\n{bytes(self.raw[-400:])!r}")
        return self.text

    def ends(self) -> int:
        """Read on until the program is at its end; its status."""
        deadline = time.monotonic() + PATIENCE
        while self.child.poll() is None:
            self._read(min(deadline, time.monotonic() + 0.05))
            if time.monotonic() > deadline:
                raise AssertionError(f"does not end\n{self.text}")
        while self._read(time.monotonic()):
            pass
        return self.child.returncode

    def hang_up(self) -> None:
        """Close the terminal, as a closed window does."""
        for descriptor in (self._master, self._slave):
            os.close(descriptor)
        self._master = self._slave = -1

    def send(self, number: signal.Signals) -> None:
        self.child.send_signal(number)

    def _read(self, deadline: float) -> bool:
        ready, _, _ = select.select([self._master], [], [], max(0.0, deadline - time.monotonic()))
        if not ready:
            return False
        data = os.read(self._master, 65536)
        self.raw += data
        self._stream.feed(data)
        return True


def heed_interrupts() -> None:
    """In the child: what runs in the background of a shell inherits that interrupts are ignored; undo that."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def _own(slave: int) -> None:
    """In the child: the terminal becomes its own, as it is for a program that a shell starts."""
    heed_interrupts()
    os.setsid()
    fcntl.ioctl(slave, termios.TIOCSCTTY, 0)
