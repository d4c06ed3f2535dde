"""What the compiler knows of an edge while it works: the canonical edge, and how the stitcher's start has turned.

Rounds are derived on the *canonical* edge, which is as the plan alone would have it. What the stitcher decides
(stepping up elsewhere) only turns where rounds begin: `turn` says which canonical up bead her needle is in. So a
written round stays pinned to its columns, and every total stays the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field

from stitchalong.fabric.edge import Edge
from stitchalong.fabric.peyote import Laid
from stitchalong.fabric.stitch import Kind
from stitchalong.values import value

Seed = tuple[int, int, int]
"""(level, place in halves, column): a column that is known to matter before anything stands in it"""


@value
class ToldEdge:
    """An edge left by a technique that tells its passes bead by bead."""

    name: str
    technique: str
    """the start or stitch that left it"""
    beads: tuple[int, ...]
    """bead numbers in the order in which the next row meets them"""
    state: object
    """the fabric's own value"""
    number: int
    """last row worked"""
    last_round: int
    """index of the course's round"""
    closed: bool = False


@dataclass(slots=True)
class Level:
    """One round worked on an edge."""

    before: int
    """up beads of the edge it was worked on"""
    laid: Laid
    turned: int
    """up beads by which the plan itself began the next round further on"""


@dataclass(slots=True)
class WorkingEdge:
    """An edge under the needle. Level 0 is the edge it was born with."""

    name: str
    edge: Edge
    codes: Sequence[str]
    """codes of the up beads it was born with"""
    under: Sequence[str]
    """codes under the spaces it was born with; empty where nothing lies there"""
    first: int
    """band: the spacer that is up bead 0 (top), or whose column is space 0 (bottom)"""
    number: int
    """last round worked"""
    last_round: int
    """index of the course's round that it hangs from"""
    seeds: Sequence[Seed]
    code_columns: dict[str, set[int]]
    """columns of the marker beads, by code"""
    new_column: Callable[[], int]
    turn: int = 0
    turn_before: int = 0
    begin: int = 0
    stepped: bool = False
    ribs: set[int] = field(default_factory=set)
    shared_ribs: set[int] = field(default_factory=set)
    """those that stood on the edge's birth, by the numbers that a band's two edges share"""
    markers: set[int] = field(default_factory=set)
    bounds: set[int] = field(default_factory=set)
    levels: list[Level] = field(default_factory=list)
    _seeds_at: dict[int, list[tuple[int, int]]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for level, at, column in self.seeds:
            self._seeds_at.setdefault(level, []).append((at, column))
        self._sow()

    def _sow(self) -> None:
        self.edge = self.edge.with_columns(self._seeds_at.get(len(self.levels), ()))

    def take(self, laid: Laid, turned: int) -> None:
        """Make what was laid the next edge, begun `turned` up beads further on by the plan."""
        self.levels.append(Level(self.edge.size, laid, turned))
        self.edge = laid.edge.turned(turned) if laid.edge.size else laid.edge
        self._sow()

    def trace(self, at: int) -> tuple[int, int]:
        """The earliest level and place (in halves) of the column that stands here now."""
        level = len(self.levels)
        while level:
            found = _below(self.levels[level - 1], at)
            if found is None:
                break
            at = found
            level -= 1
        return level, at

    def mark(self, places: Iterable[tuple[int, int]]) -> None:
        """Mark columns, given as (place in halves when the edge was born, column); one may have come to nothing."""
        known = {mark.column for mark in self.edge.marks}
        standing = ((self._now(place), column) for place, column in places if column not in known)
        self.edge = self.edge.with_columns([(at, column) for at, column in standing if at is not None])

    def _now(self, at: int) -> int | None:
        """Where a column stands now that stood here when the edge was born; None where it came to nothing."""
        for level in self.levels:
            above = level.laid.carried(level.before, at)
            if above is None:
                return None
            at = (above - 2 * level.turned) % (2 * level.laid.edge.size)
        return at

    def foot(self, up: int, level: int) -> int:
        """The up bead of the edge's birth that is reached from up bead `up` of this level.

        Going forward and down: out of the bead, through the up bead that closed its stitch, and so on.
        """
        while level:
            step = self.levels[level - 1]
            space = step.laid.space_of((up + step.turned) % step.laid.edge.size)
            up = (space + 1) % step.before
            level -= 1
        return up

    def needle_foot(self, canonical: bool) -> int:
        """`foot` of the bead where the needle is (or would be without the stitcher's own choices)."""
        level = len(self.levels)
        if self.stepped or not level:
            return self.foot(0 if canonical else self.turn, level)
        return self.foot(0 if canonical else self.turn_before, level - 1)

    def beads_of(self, up: int) -> int:
        """Beads passed to go through this up bead: more than one where several are laid as one."""
        if not self.levels or all(make.kind is not Kind.GROUP for make, _, _ in self.levels[-1].laid.runs):
            return 1
        step = self.levels[-1]
        space = step.laid.space_of((up + step.turned) % step.laid.edge.size)
        for make, count, _ in step.laid.runs:
            if space < count:
                return len(make.beads) if make.kind is Kind.GROUP else 1
            space -= count
        raise AssertionError(up)

    def up_codes(self, level: int | None = None) -> list[str]:
        """Codes of the up beads in canonical order."""
        level = len(self.levels) if level is None else level
        if not level:
            return list(self.codes)
        step = self.levels[level - 1]
        codes = [make.beads[up] for make, count, _ in step.laid.runs for _ in range(count) for up in make.ups]
        return codes[step.turned :] + codes[: step.turned]

    def columns_of_code(self, code: str) -> set[int]:
        """The columns of the marker beads of this code; where the edge was born without such, those of such beads in
        the last two rounds."""
        columns = self.code_columns.get(code)
        if columns:
            return columns
        places = [2 * up for up, other in enumerate(self.up_codes()) if other == code]
        places += [2 * space + 1 for space, other in enumerate(self.codes_below()) if other == code]
        found: set[int] = set()
        fresh: list[tuple[int, int]] = []
        for at in places:
            here = self.edge.columns_at(at)
            if not here:
                here = [self.new_column()]
                fresh.append((at, here[0]))
            found.update(here)
        self.edge = self.edge.with_columns(fresh)
        return found

    def codes_below(self) -> list[str]:
        """For each space the code of the bead under it, or "" where there is none (inside a pair)."""
        if not self.levels:
            return list(self.under)
        step = self.levels[-1]
        below = self.up_codes(len(self.levels) - 1)
        laid_in = [
            space
            for space, make in enumerate(make for make, count, _ in step.laid.runs for _ in range(count))
            for _ in make.ups
        ]
        size = len(laid_in)
        out: list[str] = []
        for up in range(size):
            here, there = laid_in[(up + step.turned) % size], laid_in[(up + 1 + step.turned) % size]
            out.append(below[there] if there == (here + 1) % step.before and here != there else "")
        return out


def _below(level: Level, at: int) -> int | None:
    """Where the column at this place stood one round earlier; None where it began in that round."""
    laid = level.laid
    size = laid.edge.size
    if size < 2:
        return None
    at = (at + 2 * level.turned) % (2 * size)
    here = laid.space_of(at >> 1)
    if at & 1:
        there = laid.space_of(((at >> 1) + 1) % size)
        if here == there:
            return 2 * here + 1 if laid.ups_in(here) == 2 else None
        if there == (here + 1) % level.before:
            return 2 * there
        return 2 * ((here + 1) % level.before) + 1
    laid_here = laid.ups_in(here)
    middle = (at >> 1) - laid.up_before(here) == laid_here // 2
    return 2 * here + 1 if laid_here & 1 and middle else None
