"""An edge: the up beads that the next round hangs from, and where its columns stand.

Places on a closed edge of m up beads are counted in halves, from the up bead where the needle is: up bead i
is at 2i, the space between up beads i and i + 1 is at 2i + 1. A *column* is a line that runs up through the
rounds; only those that somebody asked for (a marker, a rib, a corner) are kept, so an edge of a thousand
beads and four ribs is a number and four marks.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Collection, Iterable
from typing import NamedTuple

from stitchalong.values import value


class Mark(NamedTuple):
    """A column at its place on an edge."""

    at: int
    """in halves: even on an up bead, odd in a space"""
    column: int
    inside: bool = False
    """the space is the inside of a pair"""


@value
class Edge:
    """A closed edge of `size` up beads and so `size` spaces. `marks` are in order of `at`."""

    size: int
    marks: tuple[Mark, ...] = ()

    def turned(self, beads: int) -> Edge:
        """The same edge, read from the up bead that stands `beads` further on."""
        shift = 2 * (beads % self.size)
        if not shift:
            return self
        return Edge(
            self.size,
            tuple(sorted(mark._replace(at=(mark.at - shift) % (2 * self.size)) for mark in self.marks)),
        )

    def spaces_over(self, columns: Collection[int]) -> list[int]:
        """The spaces (0-based, ascending) that lie over one of these columns in the next round."""
        return sorted({mark.at >> 1 for mark in self.marks if mark.at & 1 and mark.column in columns})

    def places_of(self, columns: Collection[int]) -> list[int]:
        """Where these columns stand, in halves, ascending, each place once."""
        return sorted({mark.at for mark in self.marks if mark.column in columns})

    def columns_at(self, at: int) -> list[int]:
        """The columns that stand at this place (in halves)."""
        return [mark.column for mark in self.marks[bisect_left(self.marks, (at,)) : bisect_left(self.marks, (at + 1,))]]

    def places_by_column(self) -> dict[int, list[int]]:
        """Column -> where it stands, in halves, ascending; for asking after many."""
        found: dict[int, list[int]] = {}
        for mark in self.marks:
            found.setdefault(mark.column, []).append(mark.at)
        return found

    def with_columns(self, marks: Iterable[tuple[int, int]]) -> Edge:
        """The edge with further columns, given as (at, column); one already there is left as it is."""
        known = {(mark.at, mark.column) for mark in self.marks}
        more = [Mark(at, column) for at, column in marks if (at, column) not in known]
        return Edge(self.size, tuple(sorted((*self.marks, *more)))) if more else self
