"""A course: rounds, made of runs of equal stitches, from which any position is found by bisection.

A *position* counts steps (key presses) from the start: 0 is before the first bead, `steps` is after the last. A
stitch takes one step a bead, or one step where it adds none. Runs are kept in flat arrays, so memory grows
with runs, not with beads: ten to fourteen bytes a run.
"""

from __future__ import annotations

from array import array
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import field
from typing import NamedTuple

from stitchalong.course.choices import Deviation
from stitchalong.course.rounds import Round, Rounds
from stitchalong.fabric.stitch import Stitch
from stitchalong.values import value

__all__ = ["COMPILER", "Course", "Decision", "Passes", "Remark", "Round", "Spot"]

COMPILER = 1
"""Raised whenever the same plan would give another course."""


class Decision(NamedTuple):
    """A question that the stitcher answers before going past `step`: another round, or what follows?"""

    step: int
    part: str
    edge: str
    round: int
    done: int
    """rounds of this rise that are done"""
    least: int
    usual: int
    most: int | None


class Remark(NamedTuple):
    """A word at a place, shown from the step before which it stands."""

    step: int
    text: str
    own: bool
    """the plan's own; False: the technique's"""


class Spot(NamedTuple):
    """Where a position lies."""

    position: int
    round: int
    """index into `rounds`"""
    run: int
    nth: int
    """0-based stitch within the run"""
    step: int
    """steps of this stitch that are done"""
    stitch: Stitch


@value
class Passes:
    """Passes told bead by bead, for rounds whose passes do not follow from the round below by arithmetic.

    Bead numbers count from 1 in the order picked up. Each stitch and move of such a round has one entry.
    """

    beads: array[int]
    ends: array[int]
    """of each entry, where it ends in `beads`"""
    edges: dict[int, array[int]]
    """round -> bead numbers of the edge that it leaves, in working order"""

    def entry(self, nth: int) -> list[int]:
        """The beads passed through by the nth entry."""
        return list(self.beads[self.ends[nth - 1] if nth else 0 : self.ends[nth]])


@value
class Course:
    """What `compile_plan` makes of a plan and its choices."""

    title: str
    stitches: tuple[Stitch, ...]
    """each distinct stitch once"""
    run_stitch: array[int]
    run_step: array[int]
    """first step of each run, and at the end the number of steps"""
    run_bead: array[int]
    """beads picked up before each run, and at the end all beads"""
    rounds: Sequence[Round]
    decisions: tuple[Decision, ...]
    remarks: tuple[Remark, ...]
    special_runs: array[int]
    """runs that begin with something to be warned of"""
    markers: frozenset[str]
    passes: Passes
    open_heights: tuple[tuple[int, int, int | None], ...] = ()
    """(least, usual, most) of each open-ended rise, in order"""
    deviations: tuple[Deviation, ...] = ()
    """where the piece differs from its plan, in the order accepted"""
    _round_steps: list[int] = field(default_factory=list, compare=False)
    _edges: dict[str, tuple[str, ...]] = field(default_factory=dict, compare=False)
    """part -> its edges; filled when somebody asks"""

    @property
    def steps(self) -> int:
        return self.run_step[-1]

    @property
    def beads(self) -> int:
        return self.run_bead[-1]

    def run_of(self, position: int) -> int:
        """The run in which the step after this position lies. `position` < `steps`."""
        return bisect_right(self.run_step, position) - 1

    def round_of(self, position: int) -> int:
        """Index of the round in which the step after this position lies; the last round at the end."""
        return bisect_right(self._first_steps(), min(position, self.steps - 1)) - 1

    def _first_steps(self) -> Sequence[int]:
        if isinstance(self.rounds, Rounds):
            return self.rounds.first_steps
        if not self._round_steps:
            self._round_steps.extend(item.first_step for item in self.rounds)
        return self._round_steps

    def stitch_of(self, run: int) -> Stitch:
        return self.stitches[self.run_stitch[run]]

    def count_of(self, run: int) -> int:
        """Stitches in this run."""
        return (self.run_step[run + 1] - self.run_step[run]) // self.stitch_of(run).steps

    def spot(self, position: int) -> Spot:
        """Where the next step lies. Raises IndexError at the end or outside."""
        if not 0 <= position < self.steps:
            raise IndexError(f"position {position} of {self.steps}")
        run = self.run_of(position)
        stitch = self.stitch_of(run)
        nth, step = divmod(position - self.run_step[run], stitch.steps)
        return Spot(position, self.round_of(position), run, nth, step, stitch)

    def beads_before(self, position: int) -> int:
        """Beads picked up when the work stands at this position."""
        if position >= self.steps:
            return self.beads
        run = self.run_of(position)
        done = position - self.run_step[run]
        return self.run_bead[run] + (done if self.stitch_of(run).beads else 0)

    def runs_of(self, index: int) -> Iterator[tuple[Stitch, int]]:
        """The runs of a round: (stitch, how many)."""
        item = self.rounds[index]
        for run in range(item.first_run, item.stop_run):
            yield self.stitch_of(run), self.count_of(run)

    @property
    def part_names(self) -> tuple[str, ...]:
        """The parts in the order they are begun."""
        return tuple(self._edges_by_part())

    def edges_of(self, part: str) -> tuple[str, ...]:
        """The edges of a part in the order they are worked."""
        return self._edges_by_part().get(part, ())

    def _edges_by_part(self) -> dict[str, tuple[str, ...]]:
        if not self._edges and isinstance(self.rounds, Rounds):
            self._edges.update(self.rounds.edges())
        elif not self._edges:
            found: dict[str, dict[str, None]] = {}
            for item in self.rounds:
                found.setdefault(item.part, {})[item.edge] = None
            self._edges.update({part: tuple(edges) for part, edges in found.items()})
        return self._edges

    def decision_at(self, position: int) -> Decision | None:
        """The open question that must be answered before the step after this position."""
        for decision in self.decisions:
            if decision.step == position:
                return decision
        return None
