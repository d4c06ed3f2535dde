"""The text of a plan file, and nothing of what it means: an ordinary file, not too large, UTF-8."""

from __future__ import annotations

import os
import stat
from pathlib import Path

from stitchalong.errors import Place, PlanError
from stitchalong.plan.text import shown

MAX_BYTES = 4 * 1024 * 1024
"""of a plan file"""


def plan_text(path: Path) -> str:
    """The file's text, without a byte-order mark. Raises PlanError."""
    name = shown(os.fspath(path), 200)
    return decode(_bytes_of(path, name), name)


def decode(raw: bytes, name: str) -> str:
    """The text of a file's bytes, without a byte-order mark. Raises PlanError."""
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise PlanError("this file is UTF-16 text", fix="save it as UTF-8", place=Place(name or None))
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise PlanError(
            f"this is not UTF-8 text (byte {raw[error.start]:#04x})",
            fix="save the file as UTF-8",
            place=Place(name or None, line),
        ) from None


def _bytes_of(path: Path, name: str) -> bytes:
    place = Place(name or None)
    try:
        _refuse_unless_file(path.stat().st_mode, place)
        # a pipe put there meanwhile must not hold the program up
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
        with open(handle, "rb") as file:
            status = os.fstat(handle)
            _refuse_unless_file(status.st_mode, place)
            raw = b"" if status.st_size > MAX_BYTES else file.read(MAX_BYTES + 1)
    except FileNotFoundError:
        raise PlanError("there is no such file", place=place) from None
    except (OSError, ValueError) as error:
        reason = (error.strerror if isinstance(error, OSError) else None) or "the name cannot be used"
        raise PlanError(f"this file cannot be read: {shown(reason, 80).lower()}", place=place) from None
    if status.st_size > MAX_BYTES or len(raw) > MAX_BYTES:
        raise PlanError(f"this file is larger than {MAX_BYTES // 2**20} MiB, too large for a plan", place=place)
    if not raw.strip():
        raise PlanError("this file is empty", place=place)
    return raw


def _refuse_unless_file(mode: int, place: Place) -> None:
    if stat.S_ISDIR(mode):
        raise PlanError("this is a folder, not a plan file", fix="name a file in it", place=place)
    if not stat.S_ISREG(mode):
        raise PlanError("this is no ordinary file, so it is not read", place=place)
