"""How many beads plans take, for a list of them: reckoned once, kept in the data folder, lost without harm."""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Iterable
from contextlib import suppress
from pathlib import Path
from threading import Lock

from stitchalong.course.course import COMPILER
from stitchalong.errors import PlanError, Problems
from stitchalong.store.layout import PLAN_BEADS

LARGEST = 1_000_000
"""bytes of a plan file that is reckoned for a list"""
MOST = 2000
"""plans that are remembered"""


class PlanBeads:
    """Beads of each plan, by its file as it is now. Any thread may reckon; one at a time does."""

    def __init__(self, folder: Path) -> None:
        """`folder`: the data folder."""
        self._file = folder / PLAN_BEADS
        self._known: dict[str, int] = {}
        self._reckoning = Lock()
        with suppress(OSError, ValueError, RecursionError):
            data = json.loads(self._file.read_text(encoding="utf-8"))
            if isinstance(data, dict):
                self._known = {key: beads for key, beads in data.items() if isinstance(beads, int) and beads >= 0}

    def of(self, path: Path) -> int | None:
        """Beads of a plan; 0 where it cannot be stitched; None where that is not known yet."""
        return self._known.get(_key(path))

    def reckon(self, paths: Iterable[Path], wanted: Callable[[], bool]) -> None:
        """Find out what is not known of these, as long as it is wanted, and keep it. It takes a while."""
        with self._reckoning:
            found = dict(self._known)
            for path in paths:
                key = _key(path)
                if key and key not in found:
                    if not wanted():
                        break
                    found[key] = _beads(path)
            if found != self._known:
                self._known = dict(list(found.items())[-MOST:])
                self._keep()

    def _keep(self) -> None:
        fresh = self._file.with_name(f".{PLAN_BEADS}.{os.getpid()}.new")
        try:
            fresh.write_text(json.dumps(self._known), encoding="utf-8")
            fresh.replace(self._file)
        except OSError:
            with suppress(OSError):
                fresh.unlink()


def _key(path: Path) -> str:
    """Another one as soon as the file or the compiler is another; empty where there is no such file."""
    try:
        state = path.stat()
    except (OSError, ValueError):
        return ""
    return f"{path.resolve()} {state.st_size} {state.st_mtime_ns} {COMPILER}"


def _beads(path: Path) -> int:
    from stitchalong.course.compile import compile_plan
    from stitchalong.plan.read import read_plan

    try:
        if path.stat().st_size > LARGEST:
            return 0
        return compile_plan(read_plan(path, Problems()).plan).beads
    except (PlanError, OSError, RecursionError):
        return 0
