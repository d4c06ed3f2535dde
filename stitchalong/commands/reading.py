"""A plan from the command line: found, read, brought to the size asked for, derived; faults told with their line."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from stitchalong.commands.arguments import Sides
from stitchalong.errors import PlanError, Problem, Problems
from stitchalong.plan.another_size import data_in_size
from stitchalong.plan.library import find_plan
from stitchalong.plan.model import Plan
from stitchalong.plan.read import Loaded, read_plan
from stitchalong.plan.sizes import resized


@dataclass(frozen=True, slots=True)
class Read:
    """A plan in the size asked for."""

    plan: Plan
    loaded: Loaded
    data: dict[str, Any]
    """in this size"""
    path: Path
    doubts: tuple[Problem, ...]

    @property
    def name(self) -> str:
        """Of the file, without folder and suffix."""
        return self.path.stem


def read(word: str, units: int | None, sides: Sides | None) -> Read:
    """Find and read a plan. Raises PlanError with every fault."""
    path = find_plan(word)
    problems = Problems()
    loaded = read_plan(path, problems)
    plan, data = loaded.plan, loaded.data
    if units is not None or sides is not None:
        with located(loaded):
            plan = resized(plan, units, sides)
        data = data_in_size(data, plan)
    return Read(plan, loaded, data, path, tuple(loaded.located(problem) for problem in problems))


@contextmanager
def located(loaded: Loaded) -> Iterator[None]:
    """Faults found after reading get the line of the file in which they lie, and its name."""
    try:
        yield
    except PlanError as error:
        raise PlanError(_placed(loaded, error.problems)) from error


def _placed(loaded: Loaded, problems: Iterable[Problem]) -> list[Problem]:
    placed = []
    for problem in problems:
        problem = loaded.located(problem)
        if problem.place.file is None and loaded.plan.source:
            problem = replace(problem, place=replace(problem.place, file=loaded.plan.source))
        placed.append(problem)
    return placed
