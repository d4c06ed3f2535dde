"""One family of errors: what is wrong, where, and the likely fix, in one line each.

A function that can meet several faults takes a `Problems` collector: given one it records the fault and
goes on; given none it raises at once.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from enum import IntEnum

from stitchalong.values import value


class Exit(IntEnum):
    """Exit statuses of the command line; every failure is not zero."""

    OK = 0
    CRASH = 1
    """a fault of the program itself"""
    USAGE = 2
    """words on the command line that cannot be understood, or settings that cannot be read"""
    PLAN = 3
    """a plan that cannot be read or cannot be stitched"""
    STORE = 4
    """a piece that is not there, or data that cannot be kept or read"""


@value
class Place:
    """Where a fault lies; any part may be unknown (a made-up line number is worse than none)."""

    file: str | None = None
    line: int | None = None
    """1-based"""
    key: str | None = None
    """a path into the file as a person counts: `work[2].rounds[4]` (1-based)"""
    round: str | None = None
    """for people: `round 3 on the top edge`"""
    space: str | None = None
    """for people: `the space right after the second increase`"""
    source: str | None = None
    """the text of the notation in which the fault lies"""
    span: tuple[int, int] | None = None
    """start and end of the fault in `source`, half-open, in characters"""

    def __str__(self) -> str:
        head = self.file or ""
        if self.line is not None:
            head = f"{head}, line {self.line}" if head else f"line {self.line}"
        return ", ".join(part for part in (head, self.key, self.round) if part)


@value
class Problem:
    """One fault (or, with `doubtful`, one doubt): what, where, and the likely fix."""

    what: str
    place: Place = Place()
    fix: str | None = None
    doubtful: bool = False

    def __str__(self) -> str:
        where = str(self.place)
        text = f"{where}: {self.what}" if where else self.what
        if self.fix:
            text += f" ({self.fix})" if not self.fix.startswith("(") else f" {self.fix}"
        return text

    def caret(self) -> str | None:
        """The source with `~~~^`-style marks under the span, two lines; None where there is no span."""
        if self.place.source is None or self.place.span is None:
            return None
        start, end = self.place.span
        return f"{self.place.source}\n{' ' * start}{'^' * max(1, end - start)}"


def how_to_add(extra: str) -> str:
    """How to install what an extra needs, from the program's own folder: its name in an index may be a stranger's."""
    return f"in the program's folder: .venv/bin/pip install '.[{extra}]'"


class StitchalongError(Exception):
    """A fault that a person can mend. `problems` has one or more; `status` is the exit status."""

    status: Exit = Exit.USAGE

    def __init__(
        self, what: str | Problem | Iterable[Problem], *, fix: str | None = None, place: Place | None = None
    ) -> None:
        if isinstance(what, str):
            problems: tuple[Problem, ...] = (Problem(what, place or Place(), fix),)
        elif isinstance(what, Problem):
            problems = (what,)
        else:
            problems = tuple(what)
        self.problems = problems
        super().__init__("; ".join(str(problem) for problem in problems))


class UsageError(StitchalongError):
    """Words or settings that cannot be understood."""

    status = Exit.USAGE


class PlanError(StitchalongError):
    """A plan that cannot be read or cannot be stitched."""

    status = Exit.PLAN


class StoreError(StitchalongError):
    """Data that cannot be kept, read or found."""

    status = Exit.STORE


class Problems:
    """Collects faults, so that all can be told at once."""

    def __init__(self) -> None:
        self._found: list[Problem] = []

    def add(self, problem: Problem) -> None:
        self._found.append(problem)

    def __iter__(self) -> Iterator[Problem]:
        return iter(self._found)

    def __len__(self) -> int:
        return len(self._found)

    @property
    def faults(self) -> list[Problem]:
        """What is wrong, without what is only doubtful."""
        return [problem for problem in self._found if not problem.doubtful]

    def raise_if_any(self) -> None:
        """Raise a `PlanError` with all faults, if there are any."""
        if self.faults:
            raise PlanError(self.faults)
