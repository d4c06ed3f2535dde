"""From where on two courses ask for different work: for taking over a plan that was changed."""

from __future__ import annotations

from collections.abc import Iterator

from stitchalong.course.course import Course
from stitchalong.course.laid import Laid, laid_runs, round_facts


def first_difference(old: Course, new: Course) -> int | None:
    """The first step that is not the same work in both, always the beginning of a stitch; None where all is the same.

    Where one course only goes on, its first step more. Remarks, markers and names are no work; nor is it a difference
    where a side ends.
    """
    for index in range(min(len(old.rounds), len(new.rounds))):
        if round_facts(old, index) != round_facts(new, index):
            return old.rounds[index].first_step
        at = _in_round(old, new, index)
        if at is not None:
            return at
    return None if len(old.rounds) == len(new.rounds) else min(old.steps, new.steps)


def _in_round(old: Course, new: Course, index: int) -> int | None:
    """The same within a round that both have, all before it being the same."""
    step = old.rounds[index].first_step
    entry = 0
    ours, theirs = _Runs(laid_runs(old, index)), _Runs(laid_runs(new, index))
    while ours.what is not None or theirs.what is not None:
        if ours.what != theirs.what:
            return step
        assert ours.what is not None
        count = min(ours.count, theirs.count)
        size = len(ours.what[1]) or 1
        for nth in range(count if old.rounds[index].first_pass >= 0 else 0):
            if _passes(old, index, entry + nth) != _passes(new, index, entry + nth):
                return step + nth * size
        entry += count
        step += count * size
        ours.take(count)
        theirs.take(count)
    return None


def _passes(course: Course, index: int, entry: int) -> list[int]:
    first = course.rounds[index].first_pass
    return course.passes.entry(first + entry) if first >= 0 else []


class _Runs:
    """Runs that can be taken in parts."""

    def __init__(self, runs: Iterator[tuple[Laid, int]]) -> None:
        self._runs = runs
        self.what: Laid | None = None
        self.count = 0
        self.take(0)

    def take(self, count: int) -> None:
        self.count -= count
        if not self.count:
            self.what, self.count = next(self._runs, (None, 0))
