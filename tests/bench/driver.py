"""A program in a pseudo-terminal, and what a key costs it: time to the last byte it sends, bytes, processor time.

Nothing is interpreted here: a screen emulator would take longer than the program does. Linux (`/proc`).
"""

from __future__ import annotations

import fcntl
import os
import select
import signal
import statistics
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType

ROOT = Path(__file__).resolve().parents[2]
COLUMNS, LINES = 120, 40
QUIET = 0.02
"""seconds without a byte after which a picture counts as whole"""
PATIENCE = 60.0


@dataclass(frozen=True, slots=True)
class Key:
    """What one key led to."""

    seconds: float
    """from sending it to the last byte of the picture"""
    bytes: int


class Run:
    """A program in a terminal of 120 × 40."""

    def __init__(self, home: Path, *command: str, **environ: str) -> None:
        master, slave = os.openpty()
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", LINES, COLUMNS, 0, 0))
        kept = {
            key: value for key, value in os.environ.items() if not key.startswith(("STITCHALONG", "TEXTUAL", "PYTHON"))
        }
        told = {"TERM": "xterm-256color", "COLORTERM": "truecolor", "LC_ALL": "C.UTF-8", "STITCHALONG_SOUND": "none"}
        self._master = master
        self.begun = time.perf_counter()
        self.child = subprocess.Popen(
            [sys.executable, *command],
            cwd=ROOT,
            env={**kept, "STITCHALONG_HOME": str(home), **told, **environ},
            stdin=slave,
            stdout=slave,
            stderr=slave,
            start_new_session=True,
            close_fds=True,
        )
        os.close(slave)

    def __enter__(self) -> Run:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.child.send_signal(signal.SIGTERM)
        try:
            self.child.wait(10)
        except subprocess.TimeoutExpired:
            self.child.kill()
            self.child.wait()
        os.close(self._master)

    def shows(self, wanted: bytes) -> float:
        """Read on until these bytes were sent; seconds since the start."""
        raw = b""
        deadline = time.perf_counter() + PATIENCE
        while wanted not in raw:
            if not self._readable(deadline - time.perf_counter()):
                raise RuntimeError(f"never sent: {wanted!r}; last {raw[-800:]!r}")
            raw += os.read(self._master, 65536)
        return time.perf_counter() - self.begun

    def rest(self, quiet: float = QUIET) -> tuple[float, int]:
        """Read on until nothing comes for so many seconds: when the last byte came (0.0: none did), how many."""
        last, size = 0.0, 0
        while self._readable(quiet):
            size += len(os.read(self._master, 65536))
            last = time.perf_counter()
        return last, size

    def rest_for(self, wanted: float) -> tuple[float, int]:
        """Read for so many seconds: when the last byte came, how many came."""
        last, size = 0.0, 0
        ends = time.perf_counter() + wanted
        while self._readable(ends - time.perf_counter()):
            size += len(os.read(self._master, 65536))
            last = time.perf_counter()
        return last, size

    def press(self, key: str = " ") -> Key:
        """Send a key, and read what it leads to."""
        sent = time.perf_counter()
        os.write(self._master, key.encode())
        if not self._readable(2.0):
            return Key(float("nan"), 0)
        last, size = self.rest()
        return Key(last - sent, size)

    def burst(self, count: int, key: str = " ", quiet: float = 0.4) -> tuple[float, float]:
        """Send so many keys at once; seconds to the first byte, and to the last."""
        sent = time.perf_counter()
        os.write(self._master, (key * count).encode())
        self._readable(PATIENCE)
        first = time.perf_counter()
        last, _ = self.rest(quiet)
        return first - sent, last - sent

    def processor(self) -> float:
        """Seconds of processor time so far, all threads."""
        total = 0
        for task in Path(f"/proc/{self.child.pid}/task").iterdir():
            total += int((task / "schedstat").read_text().split()[0])
        return total / 1e9

    def peak(self) -> int:
        """The most memory it ever held, in bytes."""
        status = Path(f"/proc/{self.child.pid}/status").read_text()
        return int(status.split("VmHWM:")[1].split()[0]) * 1024

    def _readable(self, seconds: float) -> bool:
        try:
            return bool(select.select([self._master], [], [], max(0.0, seconds))[0])
        except OSError:
            return False


@dataclass(frozen=True, slots=True)
class Keys:
    """Many keys, one after the other."""

    median: float
    p99: float
    bytes: float
    processor: float
    """seconds a key"""


def median(values: Sequence[float]) -> float:
    return statistics.median(values)


def seconds(work: Callable[[], object], times: int = 5) -> float:
    """The median processor time that some work takes in this process."""
    found = []
    for _ in range(times):
        begun = time.process_time()
        work()
        found.append(time.process_time() - begun)
    return median(found)
