"""The thread of rounds whose passes are told bead by bead, beads counted from 0 within a part."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from stitchalong.course.course import Course
from stitchalong.fabric.stitch import Kind

Group = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Entry:
    """A stitch or a move."""

    kind: Kind
    detail: str
    beads: Group
    """picked up"""
    through: Group
    """passed through afterwards"""


@dataclass(frozen=True, slots=True)
class Strand:
    """The thread of one part of a course."""

    course: Course
    base: int
    """how many beads of the course come before this part's"""

    def entries(self, index: int) -> Iterator[Entry]:
        """The stitches and moves of a round."""
        item = self.course.rounds[index]
        bead, at = item.first_bead - 1 - self.base, item.first_pass
        for stitch, count in self.course.runs_of(index):
            for _ in range(count):
                beads = tuple(range(bead, bead + len(stitch.beads)))
                through = tuple(other - 1 - self.base for other in self.course.passes.entry(at))
                bead += len(beads)
                at += 1
                yield Entry(stitch.kind, stitch.detail, beads, through)

    def edge(self, index: int) -> list[int]:
        """The beads of the edge that a round leaves, as the next one meets them."""
        return [bead - 1 - self.base for bead in self.course.passes.edges[index]]
