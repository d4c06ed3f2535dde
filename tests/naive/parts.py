"""What a piece is made of: beads, stitches, rounds and edges. They only hold what they are told."""

from __future__ import annotations

from typing import TypeVar

T = TypeVar("T")


class Unworkable(Exception):
    """What is asked cannot be stitched."""


class Column:
    """A place that is followed upwards. It is nothing but itself."""

    def __init__(self, name: str) -> None:
        self.name = name

    def __repr__(self) -> str:
        return self.name


class Bead:
    def __init__(self, number: int, code: str, column: Column) -> None:
        self.id = number
        self.code = code
        self.column = column
        self.touches: set[int] = set()
        self.stitch: Stitch | None = None

    def __repr__(self) -> str:
        return f"{self.code}{self.id}"


class Gap:
    """The space right after an up bead: the column it lies in, whether it parts beads of one stitch, what is below."""

    def __init__(self, column: Column, inside: bool = False, below: Bead | None = None) -> None:
        self.column = column
        self.inside = inside
        self.below = below


class Stitch:
    """Beads picked up, then beads passed through; also every move without a bead."""

    def __init__(self, kind: str, beads: list[Bead], ups: list[Bead], through: list[Bead], lap: Round) -> None:
        self.kind = kind
        self.lap = lap
        """the round in which it is made"""
        self.beads = beads
        self.ups = ups
        self.through = through
        self.gap: Gap | None = None
        self.flank: str | None = None
        self.last = False
        self.step_up = 0
        self.any_way = False
        """a move for which only the bead where it ends is certain"""

    @property
    def increase(self) -> bool:
        return len(self.ups) > 1

    @property
    def decrease(self) -> bool:
        return self.kind == "no bead"

    @property
    def inside(self) -> bool:
        return self.gap is not None and self.gap.inside

    @property
    def space(self) -> Gap:
        """The space it lies in, for a stitch of a round."""
        assert self.gap is not None
        return self.gap

    def __repr__(self) -> str:
        return f"<{self.kind} {self.beads} through {self.through}>"


class Round:
    """Once round an edge. `cells` are (stitch, its column, the column it ends on), in working order."""

    def __init__(self, edge: str, number: int) -> None:
        self.edge = edge
        self.number = number
        self.cells: list[tuple[Stitch, Column, Column]] = []
        self.beads: list[Bead] = []


class Edge:
    """Up beads in working order. `gaps[i]` follows `ups[i]`; the needle stands, or was left, in `ups[0]`."""

    def __init__(self, name: str, number: int) -> None:
        self.name = name
        self.number = number
        """the round last laid here"""
        self.ups: list[Bead] = []
        self.gaps: list[Gap] = []
        self.done: list[Stitch] = []
        """the stitches of a round whose step-up has not been made"""
        self.begun = False
        """the needle has stood on this edge"""


def turned(items: list[T], first: int) -> list[T]:
    """The same ring of things, told from another place."""
    return items[first:] + items[:first]
