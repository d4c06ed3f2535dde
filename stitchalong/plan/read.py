"""Reading a plan: from a file or a text to a `Plan`, with every fault told where it lies."""

from __future__ import annotations

import os
import stat
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from stitchalong.errors import Place, PlanError, Problem, Problems
from stitchalong.plan.charted import take_in_pictures
from stitchalong.plan.checked import build
from stitchalong.plan.desk import spoken_key
from stitchalong.plan.lines import key_lines
from stitchalong.plan.model import Plan
from stitchalong.plan.text import shown
from stitchalong.plan.toml import load_toml

MAX_BYTES = 4 * 1024 * 1024
"""of a plan file"""


@dataclass(frozen=True, slots=True)
class Loaded:
    """A plan as read."""

    plan: Plan
    text: str
    """as it stood in the file"""
    data: dict[str, Any]
    """plain checked data, fit for JSON: `checked.build` makes the same plan of it"""
    lines: dict[str, int] = field(default_factory=dict, repr=False, compare=False)
    """`work[2].rounds[4]` -> the line where it stands"""

    def located(self, problem: Problem) -> Problem:
        """The problem with its line, where its key is known (for faults found after reading)."""
        key = problem.place.key
        if problem.place.line is not None or key is None or key not in self.lines:
            return problem
        return replace(problem, place=replace(problem.place, line=self.lines[key]))


def read_plan(path: str | os.PathLike[str], problems: Problems | None = None) -> Loaded:
    """Read a plan file.

    All faults are gathered and raised at once as a PlanError; `problems`, if given, keeps faults and doubts.
    """
    name = shown(os.fspath(path), 200)
    try:
        text = decode(_bytes_of(Path(path), name), name)
    except PlanError as error:
        if problems is not None:
            for problem in error.problems:
                problems.add(problem)
        raise
    return read_text(text, name, problems, folder=Path(path).parent)


def read_text(text: str, name: str = "", problems: Problems | None = None, *, folder: Path | None = None) -> Loaded:
    """Read a plan from a text; `name` is what messages call it, `folder` is where its pictures may lie.

    Faults are told as by `read_plan`.
    """
    from stitchalong.plan.faults import check

    gathered = Problems() if problems is None else problems
    text = text.removeprefix("\ufeff")
    data = load_toml(text, name, gathered)
    gathered.raise_if_any()
    lines = key_lines(text)

    def place(path: tuple[str | int, ...]) -> Place:
        known = next((path[:end] for end in range(len(path), 0, -1) if path[:end] in lines), ())
        return Place(name or None, lines.get(known), spoken_key(shown(p) if isinstance(p, str) else p for p in path))

    checked = check(data, gathered, place)
    if checked is None:
        gathered.raise_if_any()
        raise AssertionError("a refusal without a fault")
    take_in_pictures(checked, folder, gathered, place)
    gathered.raise_if_any()
    plan = build(checked, source=name, problems=gathered, place=place)
    return Loaded(plan, text, checked, {spoken_key(path): line for path, line in lines.items()})


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
