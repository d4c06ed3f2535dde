"""Right-angle weave in a plan: rows to and fro, and rings."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from stitchalong.course import hints
from stitchalong.course.bench import Bench
from stitchalong.course.edges import ToldEdge
from stitchalong.course.starts import strand
from stitchalong.course.techniques.many import many, refuse_count, split
from stitchalong.course.techniques.row_work import Technique, Worked, begin_told
from stitchalong.course.words import counted
from stitchalong.errors import Place
from stitchalong.fabric import weave
from stitchalong.fabric.stitch import Make
from stitchalong.plan.model import Foundation
from stitchalong.plan.model import Round as PlanRound


def _begin(bench: Bench, start: Foundation, *, closed: bool) -> None:
    """Row 1: 3n + 1 beads, or 3n for a ring."""
    assert start.beads is not None
    codes = strand(bench, start.beads, "beads")
    extra = 0 if closed else 1
    least = 3 * weave.LEAST_AROUND if closed else 4
    if len(codes) % 3 != extra or len(codes) < least:
        rule = "are no ring of units (3 beads each)" if closed else "are no row of units (4 beads, then 3 each)"
        down = (len(codes) - extra) // 3 * 3 + extra
        raise refuse_count(bench, f"{counted(len(codes), 'bead')} {rule}", (down, down + 3), least)
    units = len(codes) // 3
    out = bench.out
    out.open_round()
    hints.say(out, "Each unit turns the other way round than the one before it; never cross the middle of a unit.")
    makes = split(codes, weave.first_sizes(units, closed=closed))
    hangs = bench.hangs_later(bench.index, "top")
    moves, storey = weave.first_row(makes, out.bead + 1, closed=closed, hangs=hangs)
    worked = Worked(moves, storey, storey.leaves, closed and hangs)
    begin_told(bench, start, worked, spaces=units, numbers=(1,), flat=not closed)
    if closed:
        last = out.rounds[-1]
        at = out.step_of_stitch(last, units - 1) - 1
        hints.say_at(out, at, "Before closing the ring see that it has no twist, and join wall to wall.")


begin_row = partial(_begin, closed=False)
"""`start = "right-angle weave row"`"""
begin_ring = partial(_begin, closed=True)
"""`start = "right-angle weave ring"`"""


class RightAngleWeave(Technique):
    """`stitch = "right-angle weave"`: rows to and fro."""

    closed = False
    state: weave.Storey

    def take_up(self, told: ToldEdge | None) -> weave.Storey:
        name = "right-angle weave " + ("ring" if self.closed else "row")
        if told is None or not isinstance(told.state, weave.Storey) or told.state.closed is not self.closed:
            raise self.refuse(f"{self.work.stitch} hangs from a {name}", f'begin with start = "{name}"', key="stitch")
        return told.state

    def spaces(self) -> int:
        return self.state.units

    def makes(self, spec: PlanRound | None, place: Place, number: int) -> list[Make]:
        assert spec is not None
        sizes = weave.next_sizes(self.state.units, closed=self.closed)
        return many(self.bench, spec, sizes, place, number, self.word, "unit")

    def row(self, makes: Sequence[Make], first: int, place: Place, *, hangs: bool) -> Worked:
        moves, after = weave.next_row(self.state, makes, first, hangs=hangs)
        return Worked(moves, after, after.leaves, self.closed and hangs)

    def remarks(self, number: int, done: int) -> Sequence[str]:
        if number != 2:
            return ()
        if self.closed:
            return ("Three beads for the first unit, two for each further one, and one to close: count them out.",)
        return ("Three beads for the first unit of a row, two for each further one: floor and wall are there already.",)


class TubularWeave(RightAngleWeave):
    """`stitch = "tubular right-angle weave"`: round and round."""

    word = "round"
    closed = True
