"""Files that are whole, or not there."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path


@contextmanager
def beside(target: Path) -> Iterator[Path]:
    """A name for a new file, which takes the target's place, synced, when all went well."""
    fresh = target.with_name(f".{target.name}.{os.urandom(4).hex()}")
    try:
        yield fresh
        sync(fresh)
        fresh.replace(target)
        sync(target.parent)
    except BaseException:
        fresh.unlink(missing_ok=True)
        raise


def sync(path: Path) -> None:
    """A file, or a folder's list of files where the system can do that, is on the disk after this."""
    if path.is_dir():
        with suppress(OSError):  # Windows and some disks cannot
            _sync(path, os.O_RDONLY)
    else:
        _sync(path, os.O_RDWR)


def _sync(path: Path, flags: int) -> None:
    descriptor = os.open(path, flags)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
