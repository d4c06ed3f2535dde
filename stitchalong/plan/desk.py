"""Where faults of a plan are put down, each with its key and line."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any, TypeVar

from stitchalong.errors import Place, PlanError, Problem, Problems
from stitchalong.plan.model import Written
from stitchalong.plan.notation import codes_in

Path = tuple[str | int, ...]
"""keys and 0-based places in lists, from the top of the document"""

MAX_NOTATION = 1_000_000
"""characters of all rounds of one plan; charts are not reckoned"""

MOST_TOLD = 100
"""faults of one file; more help nobody"""

T = TypeVar("T")


def spoken_key(path: Iterable[str | int]) -> str:
    """`work[2].rounds[4]`: a path as a person counts, from 1."""
    text = ""
    for part in path:
        text += f"[{part + 1}]" if isinstance(part, int) else f".{part}" if text else part
    return text


class Desk:
    """Where faults are put down, each with its place."""

    def __init__(self, problems: Problems, place: Callable[[Path], Place]) -> None:
        self.problems = problems
        self.place = place
        self.palette: frozenset[str] = frozenset()
        self.used: set[str] = set()
        """codes met so far, known or not"""
        self._notation = 0
        """characters of notation so far"""
        self.untold = 0
        """faults past the most that are told"""

    def fault(self, path: Path, what: str, fix: str | None = None, *, doubtful: bool = False) -> None:
        self.add(Problem(what, self.place(path), fix, doubtful))

    def add(self, problem: Problem) -> None:
        if len(self.problems) < MOST_TOLD:
            self.problems.add(problem)
        else:
            self.untold += not problem.doubtful

    def read(self, parse: Callable[[str], T], text: str, path: Path) -> T | None:
        """What `parse` makes of a text, or None with the fault put down."""
        try:
            return parse(text)
        except PlanError as error:
            for problem in error.problems:
                where = replace(self.place(path), source=problem.place.source, span=problem.place.span)
                self.add(replace(problem, place=where))
            return None

    def known(self, codes: Iterable[str], path: Path) -> None:
        """Puts down codes that the palette does not have, each where it is first met."""
        new = set(codes) - self.used
        self.used |= new
        for code in sorted(new - self.palette):
            have = ", ".join(sorted(self.palette))
            self.fault(path, f"bead `{code}` is not in the palette", f"the palette has {have}; or add [beads.{code}]")

    def notation(self, parse: Callable[[str], Any], text: str | Written, path: Path) -> Any:
        """Notation read (a chart's is read already) and its codes looked up."""
        if isinstance(text, str):
            before, self._notation = self._notation, self._notation + len(text)
            if self._notation > MAX_NOTATION:
                if before <= MAX_NOTATION:
                    what = f"the rounds up to here come to more than {MAX_NOTATION:,} characters"
                    self.fault(path, what, "let repeats and heights say what comes again")
                return None
        found = text if isinstance(text, Written) else self.read(parse, text, path)
        if found is not None:
            self.known(codes_in(found), path)
        return found
