"""What is laid, without what is only said of it: the stitches of a round as data, and digests of all rounds before one.

A digest is kept with a piece's place. So a newer program that would derive an earlier round in another way, or a
plan that was changed, is found out.
"""

from __future__ import annotations

from collections.abc import Iterator
from hashlib import blake2b

from stitchalong.course.course import Course

Laid = tuple[str, tuple[str, ...], tuple[int, ...]]
"""kind, beads in the order picked up, which of them are up beads"""


def round_facts(course: Course, index: int) -> tuple[object, ...]:
    """Which round it is and what it hangs from."""
    item = course.rounds[index]
    return item.part, item.edge, item.numbers, item.technique, item.below, item.begin, item.flat


def laid_runs(course: Course, index: int) -> Iterator[tuple[Laid, int]]:
    """What a round lays: (what, how many), equal neighbours made one."""
    before: Laid | None = None
    many = 0
    for stitch, count in course.runs_of(index):
        laid = stitch.kind.value, stitch.beads, stitch.ups
        if laid == before:
            many += count
            continue
        if before is not None:
            yield before, many
        before, many = laid, count
    if before is not None:
        yield before, many


class Digests:
    """Of each round of a course a digest of all that is laid before it: 16 hex digits, empty before the first."""

    def __init__(self, course: Course) -> None:
        self.course = course
        self._found = {0: ""}

    def know(self, index: int, digest: str) -> None:
        """Take the digest before this round as given, so that none need be found of what is before it."""
        self._found[index] = digest

    def before(self, index: int) -> str:
        """Found as it is asked for; the time grows with the runs between here and the next one known before."""
        here = index
        while here not in self._found:
            here -= 1
        for nth in range(here, index):
            self._found[nth + 1] = self._after(nth, self._found[nth])
        return self._found[index]

    def _after(self, index: int, before: str) -> str:
        course = self.course
        digest = blake2b(before.encode(), digest_size=8)
        digest.update(repr(round_facts(course, index)).encode())
        for laid, count in laid_runs(course, index):
            digest.update(f"{laid}{count}".encode())
        first = course.rounds[index].first_pass
        if first >= 0:
            passes = course.passes
            entries = sum(count for _, count in course.runs_of(index))
            start = passes.ends[first - 1] if first else 0
            stop = passes.ends[first + entries - 1] if entries else start
            digest.update(repr(passes.beads[start:stop].tolist()).encode())
            digest.update(repr([end - start for end in passes.ends[first : first + entries]]).encode())
        return digest.hexdigest()
