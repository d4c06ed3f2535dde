"""The loop that all techniques of rows share: rows opened, notation laid, moves emitted, heights asked for."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Sequence
from typing import Any, ClassVar

from stitchalong.course import hints
from stitchalong.course.bench import Bench
from stitchalong.course.edges import ToldEdge
from stitchalong.course.ground import Ground
from stitchalong.course.ruled import lay_ruled
from stitchalong.course.techniques.told import emit
from stitchalong.course.written import lay_written
from stitchalong.errors import Place, PlanError
from stitchalong.fabric.edge import Edge
from stitchalong.fabric.moves import Move
from stitchalong.fabric.stitch import Kind, Make
from stitchalong.plan.model import Foundation, Rows, Ruled, Written
from stitchalong.plan.model import Round as PlanRound
from stitchalong.values import value

_MOST_KEPT = 32
"""rows laid that are kept for those that say the same"""


@value
class Worked:
    """A row as its technique tells it."""

    moves: Sequence[Move]
    state: Any
    """the next edge, the fabric's own value"""
    leaves: Sequence[int]
    """bead numbers of that edge in the order in which the next row meets them"""
    closed: bool = False


class Technique(ABC):
    """One stitch of the plan at work. Made anew for each [[work]] table; `state` is the edge, as the fabric has it."""

    word: str = "row"
    """`row` (to and fro), `round` (round and round) or `lap` (one spiral)"""
    most_beads: ClassVar[int] = 1
    """of one stitch of notation"""

    def __init__(self, bench: Bench, work: Rows) -> None:
        self.bench = bench
        self.work = work
        self.state: Any = self.take_up(bench.told.get(work.edge))

    # ---- what a technique says ------------------------------------------------------------------

    @abstractmethod
    def take_up(self, told: ToldEdge | None) -> Any:
        """The edge to work on, as the fabric has it. Raises PlanError (`refuse`) for one that it cannot hang from."""

    @abstractmethod
    def spaces(self) -> int:
        """Stitches of the next row."""

    @abstractmethod
    def row(self, makes: Sequence[Make], first: int, place: Place, *, hangs: bool) -> Worked:
        """The next row, its first new bead having the number `first`. `hangs`: another row follows on this edge."""

    def under(self) -> Sequence[int]:
        """For each space the number of the bead below it, for rules that say `over A`; empty where it has none."""
        return ()

    def remarks(self, number: int, done: int) -> Sequence[str]:
        """What is said before row `number`; `done` rows of this work came before it."""
        return ()

    # ---- what it can use ------------------------------------------------------------------------

    def refuse(self, what: str, fix: str | None = None, *, key: str = "", place: Place | None = None) -> PlanError:
        return PlanError(what, fix=fix, place=place or self.bench.place(self.bench.index, key=key))

    def makes(self, spec: PlanRound | None, place: Place, number: int) -> list[Make]:
        """The stitches that a row asks for, one for each space; `spec` is None where the plan lists no rows.

        Raises PlanError.
        """
        assert spec is not None
        makes = laid_out(self.bench, spec, self.spaces(), place, number, self.word, self.under())
        for make in makes:
            if not 1 <= len(make.beads) <= self.most_beads or make.kind not in (Kind.SINGLE, Kind.PAIR):
                some = "one bead" if self.most_beads == 1 else f"at most {self.most_beads} beads"
                raise PlanError(f"{self.work.stitch} takes {some} in each space", place=place)
        return makes


def laid_out(
    bench: Bench, spec: PlanRound, spaces: int, place: Place, number: int, word: str, under: Sequence[int] = ()
) -> list[Make]:
    """Notation laid on so many spaces without ribs: one stitch for each. Raises PlanError.

    Rows that say the same on as many spaces are laid once; the list is not to be changed.
    """
    asks_below = isinstance(spec, Ruled) and bool(spec.over)
    known = None if asks_below else bench.rows_laid.get((spec, spaces))
    if known is not None:
        return known
    nothing: frozenset[int] = frozenset()

    def below() -> list[str]:
        return [bench.out.code(bead) for bead in under]

    ground = Ground(Edge(spaces), nothing, nothing, nothing, below, place, number, word)
    runs = lay_written(ground, spec) if isinstance(spec, Written) else lay_ruled(ground, spec, {})
    makes = [make for make, count in runs for _ in range(count)]
    if not asks_below:
        if len(bench.rows_laid) >= _MOST_KEPT:
            bench.rows_laid.clear()
        bench.rows_laid[spec, spaces] = makes
    return makes


def begin_told(
    bench: Bench, start: Foundation, worked: Worked, *, spaces: int, numbers: tuple[int, ...], flat: bool
) -> None:
    """Append a start as one round and keep its edge; `numbers` are the rounds that it counts as."""
    out = bench.out
    emit(bench, worked.moves)
    out.leaves(worked.leaves)
    _close(bench, start.start, "top", numbers, spaces, -1, flat, worked)


def work_rows(bench: Bench, work: Rows, kind: type[Technique]) -> None:
    """Work all rows of a [[work]] table."""
    out, height, edge = bench.out, work.height, work.edge
    origin = bench.told.get(edge) or bench.edges.get(edge)
    technique = kind(bench, work)
    if height.open:
        bench.open_heights.append((height.least, height.usual, height.most))
    number, below = (origin.number, origin.last_round) if origin else (0, -1)
    done, more = 0, True
    key = "rows" if technique.word == "row" else "rounds"
    while more:
        number += 1
        nth = done % len(work.rounds) if work.rounds else 0
        place = bench.place(bench.index, key=f"{key}[{nth + 1}]", number=number, edge=edge, word=technique.word)
        out.open_round()
        for text in technique.remarks(number, done):
            hints.say(out, text)
        spaces = technique.spaces()
        makes = technique.makes(work.rounds[nth] if work.rounds else None, place, number)
        out.refuse_without_room(sum(len(make.beads) for make in makes), place)
        done += 1
        later = bench.hangs_later(bench.index, edge)
        first = out.bead + 1
        worked = technique.row(makes, first, place, hangs=later or done != height.most)
        # the question of another row comes before the step-up
        steps_up = bool(worked.moves) and worked.moves[-1].kind is Kind.STEP_UP
        emit(bench, worked.moves[:-1] if steps_up else worked.moves)
        more = bench.more(height, edge, number, done)
        if steps_up and (more or later):
            emit(bench, worked.moves[-1:])
        elif steps_up:
            worked = technique.row(makes, first, place, hangs=False)
        technique.state = worked.state
        out.leaves(worked.leaves)
        _close(bench, work.stitch, edge, (number,), spaces, below, technique.word == "row", worked)
        below = len(out.rounds) - 1


def _close(
    bench: Bench,
    technique: str,
    edge: str,
    numbers: tuple[int, ...],
    spaces: int,
    below: int,
    flat: bool,
    worked: Worked,
) -> None:
    out = bench.out
    out.close_round(
        part=bench.part,
        edge=edge,
        number=numbers[-1],
        technique=technique,
        work=bench.index,
        spaces=spaces,
        below=below,
        begin=0,
        place=bench.place(bench.index),
        numbers=numbers,
        flat=flat,
    )
    bench.told[edge] = ToldEdge(
        edge, technique, tuple(worked.leaves), worked.state, numbers[-1], len(out.rounds) - 1, worked.closed
    )
