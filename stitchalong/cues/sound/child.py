"""Programs of the system, one at a time: a newer run ends the older one, and exit codes are looked at.

Such programs fail in silence; only the exit code tells. Each failure moves on to the next program, with the
same job where it is not too old by then.
"""

from __future__ import annotations

import subprocess
import threading
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

FRESH = 1.0
"""seconds after which a cue is too late to be told by the next program"""

LIMIT = 60.0
"""seconds after which a run is ended and counts as failed, unless something else is asked for"""

CANCEL_LIMIT = 0.5
"""seconds that cutting off may take"""

NO_WINDOW: int = getattr(subprocess, "CREATE_NO_WINDOW", 0)


@dataclass(frozen=True, slots=True)
class Program:
    """A program that does a job: `argv` with the job's text as last argument."""

    name: str
    argv: tuple[str, ...]
    cancel: tuple[str, ...] = ()
    """run after it was ended early, where ending it does not silence it"""


@dataclass(slots=True)
class _Job:
    text: str
    asked: float
    start: float
    limit: float


def ended(process: subprocess.Popen[bytes]) -> None:
    """End it now."""
    process.kill()
    try:
        process.wait(1)
    except subprocess.TimeoutExpired:
        process.returncode = -9  # stuck in the kernel: nobody's to wait for


class OneAtATime:
    """Runs jobs with the first of some programs that works."""

    def __init__(
        self,
        programs: Sequence[Program],
        environ: Mapping[str, str],
        on_change: Callable[[str], None],
    ) -> None:
        """`on_change` is told, from another thread, why a program was given up."""
        self._programs = list(programs)
        self._environ = dict(environ)
        self._on_change = on_change
        self._change = threading.Condition()
        self._job: _Job | None = None
        self._running = False
        self._closed = False
        self._thread = threading.Thread(target=self._work, daemon=True)
        self._thread.start()

    @property
    def program(self) -> Program | None:
        """The program in use; None when all have failed."""
        return self._programs[0] if self._programs else None

    @property
    def busy(self) -> bool:
        with self._change:
            return self._running or self._job is not None

    def run(self, text: str, *, delay: float = 0.0, limit: float = LIMIT) -> None:
        """Do this after `delay` seconds and within `limit`, in place of what is being done."""
        now = time.monotonic()
        with self._change:
            self._job = _Job(text, now, now + delay, limit)
            self._change.notify()

    def stop(self) -> None:
        """End what is being done, or was to be done."""
        with self._change:
            self._job = None
            # A job that does nothing: what runs sees that it has been replaced.
            if self._running:
                self._job = _Job("", 0, 0, 0)
            self._change.notify()

    def close(self) -> None:
        """End what is being done, and wait until it has ended (2 s at most)."""
        with self._change:
            self._closed = True
            self._change.notify()
        self._thread.join(2)

    def _work(self) -> None:
        while True:
            with self._change:
                self._running = False
                while self._job is None and not self._closed:
                    self._change.wait()
                if self._closed or self._job is None:
                    return
                job, self._job = self._job, None
                if not job.text:
                    continue
                self._running = True
                while (wait := job.start - time.monotonic()) > 0 and not self._replaced():
                    self._change.wait(wait)
                if self._replaced():
                    continue
            self._do(job)

    def _replaced(self) -> bool:
        return self._closed or self._job is not None

    def _do(self, job: _Job) -> None:
        while (program := self.program) is not None:
            fault = self._run(program, job)
            if fault is None:
                return
            self._programs.pop(0)
            self._on_change(f"{program.name} fails ({fault})")
            if self._job is not None or time.monotonic() - max(job.asked, job.start) > FRESH:
                return

    def _run(self, program: Program, job: _Job) -> str | None:
        """Run it to its end, or until it is replaced. Gives what went wrong."""
        try:
            process = subprocess.Popen(
                [*program.argv, job.text],
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                env=self._environ,
                creationflags=NO_WINDOW,
            )
        except OSError as error:
            return error.strerror or "cannot be started"
        begun = time.monotonic()
        while process.poll() is None:
            with self._change:
                if not self._replaced():
                    self._change.wait(0.02)
                replaced = self._replaced()
            if replaced:
                ended(process)
                return None if self._cancelled(program) else "it cannot be cut off"
            if time.monotonic() - begun > job.limit:
                ended(process)
                return f"not done after {job.limit:g} s"
        return f"exit status {process.returncode}" if process.returncode else None

    def _cancelled(self, program: Program) -> bool:
        if not program.cancel:
            return True
        try:
            subprocess.run(
                program.cancel,
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                env=self._environ,
                timeout=CANCEL_LIMIT,
                check=True,
                creationflags=NO_WINDOW,
            )
        except (OSError, subprocess.SubprocessError):
            return False
        return True
