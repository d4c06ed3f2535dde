"""What is left when the program itself is at fault: a report in a file, without personal text."""

from __future__ import annotations

import platform
import re
import traceback
from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path

from stitchalong import __version__

KEPT = 10
"""reports that stay; older ones go"""


def write_report(folder: Path, error: BaseException, *, command: str, now: float, home: str = "") -> Path:
    """Write the report and give its path. `now`: epoch seconds. Raises OSError where it cannot be written.

    It holds what went wrong and where in the program; no values, and no path above the program's own or a library's
    folder. `home` is put as `~` where a message names it.
    """
    folder.mkdir(parents=True, exist_ok=True)
    stamp = datetime.fromtimestamp(now, UTC).strftime("%Y%m%dT%H%M%SZ")
    number = 1
    while (path := folder / f"crash-{stamp}-{number}.txt").exists():
        number += 1
    path.write_text(_text(error, command, stamp, home), encoding="utf-8", errors="replace")
    for old in sorted(folder.glob("crash-*.txt"), key=lambda one: one.name)[:-KEPT]:
        old.unlink(missing_ok=True)
    return path


def _text(error: BaseException, command: str, stamp: str, home: str) -> str:
    head = [
        f"stitchalong {__version__}, command {command or 'home'}, {stamp}",
        f"Python {platform.python_version()}, {platform.system()} {platform.machine()}",
        "",
    ]
    told = traceback.TracebackException.from_exception(error, capture_locals=False)
    _shorten(told)
    text = "".join(told.format())
    if home:
        text = text.replace(home, "~")
    return "\n".join(head) + text


_MODULE = re.compile(r".*[/\\]((?:stitchalong|site-packages|python3[.\d]*)[/\\].+)", re.DOTALL)


def _shorten(told: traceback.TracebackException) -> None:
    """Leave of each file's path what says which module it is."""
    for frame in told.stack:
        found = _MODULE.fullmatch(frame.filename)
        frame.filename = found[1] if found else re.split(r"[/\\]", frame.filename)[-1]
    for other in (told.__cause__, told.__context__):
        if other is not None:
            _shorten(other)


def home_of(environ: Mapping[str, str]) -> str:
    """The user's own folder, as it is named in the environment; empty where it is not."""
    home = environ.get("HOME") or environ.get("USERPROFILE") or ""
    return home if len(home) > 1 else ""
