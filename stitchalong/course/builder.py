"""Collects runs and rounds into a `Course`."""

from __future__ import annotations

from array import array
from bisect import bisect_right
from collections.abc import Callable, Iterable
from itertools import accumulate

from stitchalong.course.choices import Deviation
from stitchalong.course.course import Course, Decision, Passes, Remark, Round
from stitchalong.course.rounds import Rounds
from stitchalong.errors import Place, PlanError
from stitchalong.fabric.moves import Move
from stitchalong.fabric.stitch import Kind, Note, Stitch

MOST_BEADS = 1_000_000
MOST_ROUNDS = 20_000

_MARKER = Note.MARKER.value
_SPECIAL = Note.INCREASE | Note.DECREASE | Note.MARKER
_SPECIAL_KINDS = frozenset({Kind.JOIN, Kind.STEP_UP, Kind.REINFORCE, Kind.CROSS, Kind.WALK, Kind.TURN})


def is_special(stitch: Stitch) -> bool:
    """Whether a stitcher wants to be warned of this stitch."""
    return stitch.kind in _SPECIAL_KINDS or bool(stitch.notes & _SPECIAL)


class Builder:
    """Appends stitches in the order worked. A round is opened, filled and closed."""

    def __init__(self, title: str) -> None:
        self.title = title
        self.rounds = Rounds()
        self.decisions: list[Decision] = []
        self.remarks: list[Remark] = []
        self._table: dict[tuple[Kind, tuple[str, ...], tuple[int, ...], int, str], int] = {}
        self._stitches: list[Stitch] = []
        self._special: list[bool] = []
        self._run_stitch = array("I")
        self._run_step = array("I", [0])
        self._run_bead = array("I", [0])
        self._special_runs = array("I")
        self._passes = array("I")
        self._pass_ends = array("I")
        self._edges: dict[int, array[int]] = {}
        self._first_pass = -1
        self._open: tuple[int, int, int] | None = None

    @property
    def step(self) -> int:
        """Steps so far."""
        return self._run_step[-1]

    @property
    def bead(self) -> int:
        """Beads so far."""
        return self._run_bead[-1]

    def code(self, bead: int) -> str:
        """The code of a bead laid, by its number (from 1)."""
        run = bisect_right(self._run_bead, bead - 1) - 1
        beads = self._stitches[self._run_stitch[run]].beads
        return beads[(bead - 1 - self._run_bead[run]) % len(beads)]

    def add(
        self,
        kind: Kind,
        beads: tuple[str, ...] = (),
        ups: tuple[int, ...] = (),
        notes: int = 0,
        detail: str = "",
        count: int = 1,
    ) -> None:
        """Append `count` equal stitches; `notes` is the value of a `Note`."""
        key = (kind, beads, ups, notes, detail)
        index = self._table.get(key)
        if index is None:
            index = self._table[key] = len(self._stitches)
            stitch = Stitch(kind, beads, ups, Note(notes), detail)
            self._stitches.append(stitch)
            self._special.append(is_special(stitch))
        size = len(beads)
        runs = len(self._run_stitch)
        open_from = self._open[0] if self._open is not None else runs
        if runs > open_from and self._run_stitch[-1] == index:
            self._run_step[-1] += count * (size or 1)
            self._run_bead[-1] += count * size
            return
        if self._special[index]:
            self._special_runs.append(runs)
        self._run_stitch.append(index)
        self._run_step.append(self._run_step[-1] + count * (size or 1))
        self._run_bead.append(self._run_bead[-1] + count * size)

    @property
    def is_open(self) -> bool:
        """Whether a round has been opened and not closed."""
        return self._open is not None

    def add_told(self, moves: Iterable[Move], markers: frozenset[str]) -> None:
        """Append moves, each with the beads it passes through by number; those with a bead of `markers` are noted.

        All stitches of a round are told so, or none.
        """
        if self._first_pass < 0:
            self._first_pass = len(self._pass_ends)
        passes, ends, before = self._passes, self._pass_ends, None
        steps, beads = self._run_step, self._run_bead
        for move in moves:
            alike = (move.kind, move.beads, move.ups, move.notes, move.detail)
            if alike == before and self._open is not None:
                size = len(move.beads)
                steps[-1] += size or 1
                beads[-1] += size
            else:
                notes = move.notes.value | (_MARKER if markers.intersection(move.beads) else 0)
                self.add(move.kind, move.beads, move.ups, notes, move.detail)
                before = alike
            passes.extend(move.through)
            ends.append(len(passes))

    def leaves(self, edge: Iterable[int]) -> None:
        """Tell the beads of the edge that the open round leaves, in working order."""
        self._edges[len(self.rounds)] = array("I", edge)

    def open_round(self) -> int:
        """Begin a round; gives its index."""
        self._open = (len(self._run_stitch), self.step, self.bead)
        self._first_pass = -1
        return len(self.rounds)

    def refuse_without_room(self, beads: int, place: Place) -> None:
        """Raise PlanError where so many more beads are more than a plan can hold."""
        if self.bead + beads > MOST_BEADS:
            raise PlanError(
                f"more than {MOST_BEADS:,} beads, the most that one plan can hold",
                fix="fewer rounds or fewer beads a round",
                place=place,
            )

    def close_round(
        self,
        *,
        part: str,
        edge: str,
        number: int,
        technique: str,
        work: int,
        spaces: int,
        below: int,
        begin: int,
        place: Place,
        numbers: tuple[int, ...] = (),
        flat: bool = False,
    ) -> None:
        """End the round. Raises PlanError past the limits."""
        assert self._open is not None
        first_run, first_step, first_bead = self._open
        self._open = None
        self.refuse_without_room(0, place)
        if len(self.rounds) >= MOST_ROUNDS:
            raise PlanError(f"more than {MOST_ROUNDS:,} rounds, the most that one plan can hold", place=place)
        self.rounds.append(
            Round(
                part,
                edge,
                technique,
                number,
                work,
                first_run,
                len(self._run_stitch),
                first_step,
                self.step,
                first_bead + 1,
                self.bead - first_bead,
                spaces,
                below,
                begin,
                self._first_pass,
                flat,
                numbers or (number,),
            )
        )

    def step_of_stitch(self, item: Round, nth: int) -> int:
        """The step before which stitch `nth` (0-based) of a round stands; the round's end where it has fewer."""
        return self.steps_of_stitches(item)(nth)

    def steps_of_stitches(self, item: Round) -> Callable[[int], int]:
        """`step_of_stitch` for many stitches of one round."""
        runs = [
            run for run in range(item.first_run, item.stop_run) if self._stitches[self._run_stitch[run]].visits_space
        ]
        counts = (
            (self._run_step[run + 1] - self._run_step[run]) // self._stitches[self._run_stitch[run]].steps
            for run in runs
        )
        ends = list(accumulate(counts))

        def step(nth: int) -> int:
            here = bisect_right(ends, nth)
            if here == len(ends):
                return item.stop_step
            within = nth - (ends[here - 1] if here else 0)
            return self._run_step[runs[here]] + within * self._stitches[self._run_stitch[runs[here]]].steps

        return step

    def course(
        self,
        markers: frozenset[str],
        open_heights: tuple[tuple[int, int, int | None], ...],
        deviations: tuple[Deviation, ...] = (),
    ) -> Course:
        return Course(
            self.title,
            tuple(self._stitches),
            self._run_stitch,
            self._run_step,
            self._run_bead,
            self.rounds,
            tuple(self.decisions),
            tuple(sorted(self.remarks, key=lambda remark: remark.step)),
            self._special_runs,
            markers,
            Passes(self._passes, self._pass_ends, self._edges),
            open_heights,
            deviations,
        )
