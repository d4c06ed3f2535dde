"""Reading a plan: from a file or a text to a `Plan`, with every fault told where it lies."""

from __future__ import annotations

import os
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from stitchalong.errors import Place, PlanError, Problem, Problems
from stitchalong.plan.charted import take_in_pictures
from stitchalong.plan.checked import build
from stitchalong.plan.desk import spoken_key
from stitchalong.plan.library import called
from stitchalong.plan.lines import key_lines
from stitchalong.plan.model import Plan
from stitchalong.plan.text import shown
from stitchalong.plan.text_file import MAX_BYTES, decode, plan_text
from stitchalong.plan.toml import load_toml

__all__ = ["MAX_BYTES", "Loaded", "decode", "plan_text", "read_plan", "read_text"]


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
    name = called(path)
    try:
        text = plan_text(Path(path))
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
