"""One run of the helper process, as the program sees it."""

from __future__ import annotations

import contextlib
import os
import signal
import subprocess
import sys
import threading
from collections import deque
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from stitchalong.cues.sound.protocol import WINDOW, Means, decode, encode

COMMAND = (sys.executable, "-P", "-m", "stitchalong.cues.sound.helper")
"""Without the working folder among the places to import from."""

HUNG = 1.0
"""seconds after which a helper that has not answered counts as hung"""

_LOG_LIMIT = 100_000
"""bytes after which the log is begun anew"""


def open_log(folder: Path) -> int:
    """A file descriptor for what the helper and its libraries write, in `sound.log`. Raises `OSError`."""
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / "sound.log"
    long = path.exists() and path.stat().st_size > _LOG_LIMIT
    return os.open(path, os.O_WRONLY | os.O_CREAT | (os.O_TRUNC if long else os.O_APPEND), 0o600)


def apart() -> dict[str, Any]:
    """Arguments of `Popen` that keep a process away from this terminal and its signals."""
    if sys.platform == "win32":
        return {"creationflags": subprocess.CREATE_NO_WINDOW | subprocess.CREATE_NEW_PROCESS_GROUP}
    return {"start_new_session": True}


class HelperProcess:
    """Starts the helper. No method but `__init__` raises; only `end` and `kill` wait, and not for long."""

    def __init__(
        self,
        command: Sequence[str],
        begin: Mapping[str, Any],
        *,
        folder: Path,
        environ: Mapping[str, str],
        clock: Callable[[], float],
        on_event: Callable[[], None],
    ) -> None:
        """`on_event` is called, from another thread, when the means change or the helper ends.

        Raises `OSError` if it cannot be started.
        """
        log = open_log(folder)
        try:
            self._popen = subprocess.Popen(
                command,
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=log,
                env=dict(environ),
                bufsize=0,
                **apart(),
            )
        finally:
            os.close(log)
        self._clock = clock
        self._on_event = on_event
        self._lock = threading.Lock()
        self._number = 0
        self._waiting: deque[tuple[int, int, float]] = deque()  # number, bytes, when written
        self._answered = threading.Condition(self._lock)
        self._quiet: dict[int, bool] = {}
        self.started = clock()
        self.means: Means | None = None
        self.why = ""
        self.over = False
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()
        self._write(encode(begin))

    def _read(self) -> None:
        assert self._popen.stdout is not None
        with self._popen.stdout as lines:
            buffer = b""
            while chunk := lines.read(65_536):
                *whole, buffer = (buffer + chunk).split(b"\n")
                for line in whole:
                    self._hear(decode(line))
        with self._lock:
            self.over = True
            self._answered.notify_all()
        self._on_event()

    def _hear(self, message: Mapping[str, Any]) -> None:
        match message.get("is"):
            case "got":
                with self._lock:
                    while self._waiting and self._waiting[0][0] <= int(message["n"]):
                        self._waiting.popleft()
                    if "quiet" in message:
                        self._quiet[int(message["n"])] = bool(message["quiet"])
                    self._answered.notify_all()
            case "means":
                self.means = Means.of(message)
                self._on_event()
            case "lost":
                self.why = str(message.get("why", ""))

    def _write(self, line: bytes) -> bool:
        assert self._popen.stdin is not None
        try:
            return self._popen.stdin.write(line) == len(line)
        except (OSError, ValueError):
            return False

    def send(self, order: Mapping[str, Any], *, patience: float = 0.0) -> int:
        """Write an order. Gives its number, or 0 where the helper has not read enough of the earlier ones.

        Waits for that up to `patience` seconds; by default not at all.
        """
        with self._lock:
            self._number += 1
            line = encode({**order, "n": self._number})
            deadline = self._clock() + patience
            while sum(size for _, size, _ in self._waiting) + len(line) > WINDOW:
                if self.over or (left := deadline - self._clock()) <= 0:
                    return 0
                self._answered.wait(left)
            if self.over or not self._write(line):
                return 0
            self._waiting.append((self._number, len(line), self._clock()))
            return self._number

    def quiet(self, patience: float) -> bool | None:
        """Whether all has been sounded; None where no answer comes."""
        number = self.send({"do": "quiet"}, patience=patience)
        with self._lock:
            deadline = self._clock() + patience
            while number and number not in self._quiet and not self.over:
                if (left := deadline - self._clock()) <= 0:
                    break
                self._answered.wait(left)
            return self._quiet.pop(number, None)

    @property
    def hung(self) -> bool:
        """Whether an order has gone unanswered for too long."""
        with self._lock:
            return bool(self._waiting) and self._clock() - self._waiting[0][2] > HUNG

    def end(self) -> None:
        """Let it end by itself, or make it, within half a second."""
        self._write(encode({"do": "end"}))
        self._close_stdin()
        with contextlib.suppress(subprocess.TimeoutExpired):
            self._popen.wait(0.4)
        self.kill()

    def kill(self) -> None:
        """End it now."""
        self._close_stdin()
        if hasattr(os, "killpg") and self._popen.returncode is None:
            # Its players with it. Once it has been waited for, the group may be another's.
            with contextlib.suppress(OSError):
                os.killpg(self._popen.pid, signal.SIGKILL)
        self._popen.kill()
        try:
            self._popen.wait(0.5)
        except subprocess.TimeoutExpired:
            self._popen.returncode = -9  # stuck in the kernel; its end comes when the device lets go
        self._reader.join(0.5)

    def _close_stdin(self) -> None:
        if self._popen.stdin is not None:
            with contextlib.suppress(OSError):
                self._popen.stdin.close()
