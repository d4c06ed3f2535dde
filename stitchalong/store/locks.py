"""Locks that the system lets go of by itself when a process ends, however it ends."""

from __future__ import annotations

import os
import sys
from pathlib import Path


class FileLock:
    """A lock on a file made for nothing else. Held until `release` or the end of the process."""

    def __init__(self, descriptor: int) -> None:
        self._descriptor: int | None = descriptor

    @classmethod
    def take(cls, path: Path, *, shared: bool = False) -> FileLock | None:
        """The lock, or None where another holds it; never waits.

        A shared one keeps only an unshared one out. Raises OSError where the file cannot be made.
        """
        descriptor = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
        try:
            if _lock(descriptor, shared):
                return cls(descriptor)
        except BaseException:
            os.close(descriptor)
            raise
        os.close(descriptor)
        return None

    def release(self) -> None:
        """Let go; a second time does nothing."""
        if self._descriptor is not None:
            os.close(self._descriptor)
            self._descriptor = None


if sys.platform == "win32":
    import msvcrt

    def _lock(descriptor: int, shared: bool) -> bool:
        if shared:
            return True  # Windows knows none; there it is the open file that cannot be replaced
        try:
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import fcntl

    def _lock(descriptor: int, shared: bool) -> bool:
        try:
            fcntl.flock(descriptor, (fcntl.LOCK_SH if shared else fcntl.LOCK_EX) | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True
