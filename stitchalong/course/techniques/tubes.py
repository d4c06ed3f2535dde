"""Tubes in a plan: an odd ring that becomes one spiral, and tubes with a drop."""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.course import hints
from stitchalong.course.bench import Bench
from stitchalong.course.edges import ToldEdge
from stitchalong.course.starts import strand
from stitchalong.course.techniques.drops import grouped, groups_of, refuse_uneven
from stitchalong.course.techniques.row_work import Technique, Worked, begin_told
from stitchalong.course.words import counted
from stitchalong.errors import Place, PlanError
from stitchalong.fabric import drop_tube, odd_tube
from stitchalong.fabric.stitch import Kind, Make
from stitchalong.plan.model import Foundation
from stitchalong.plan.model import Round as PlanRound
from stitchalong.plan.sizes import singles

# ---- the odd tube -------------------------------------------------------------------------------


def begin_odd(bench: Bench, start: Foundation) -> None:
    """`start = "odd tube"`: laps 1 and 2 on one strand."""
    assert start.beads is not None
    codes = strand(bench, start.beads, "beads")
    if len(codes) % 2 == 0 or len(codes) < odd_tube.LEAST:
        near = [count for count in (len(codes) - 1, len(codes) + 1) if count >= odd_tube.LEAST and count % 2]
        raise PlanError(
            f"an odd tube needs an odd number of beads, {odd_tube.LEAST} or more; {len(codes)} are strung",
            fix="string " + " or ".join(map(str, near or [odd_tube.LEAST])),
            place=bench.place(bench.index, key="beads"),
        )
    out = bench.out
    out.open_round()
    hints.say(out, "These beads are laps 1 and 2 at once. Count them once more: an even ring would need step-ups.")
    moves, spiral = odd_tube.ring(codes, out.bead + 1)
    begin_told(bench, start, Worked(moves, spiral, spiral.queue), spaces=len(codes), numbers=(1, 2), flat=False)


class SpiralPeyote(Technique):
    """`stitch = "spiral peyote"`: laps without a step-up."""

    word = "lap"
    state: odd_tube.Spiral

    def take_up(self, told: ToldEdge | None) -> odd_tube.Spiral:
        if told is None or not isinstance(told.state, odd_tube.Spiral):
            raise self.refuse("a spiral hangs from an odd tube", 'begin with start = "odd tube"', key="stitch")
        pattern = self.work.option("pattern")
        self.pattern = singles(pattern.items) if pattern is not None else []
        self.laid = 0
        return told.state

    def spaces(self) -> int:
        return self.state.spaces

    def under(self) -> Sequence[int]:
        return self.state.under[: self.state.spaces]

    def makes(self, spec: PlanRound | None, place: Place, number: int) -> list[Make]:
        if not self.pattern:
            return super().makes(spec, place, number)
        whole = len(self.pattern)
        makes = [Make.single(self.pattern[(self.laid + nth) % whole]) for nth in range(self.spaces())]
        self.laid += len(makes)
        return makes

    def row(self, makes: Sequence[Make], first: int, place: Place, *, hangs: bool) -> Worked:
        moves, after = odd_tube.lap(self.state, makes, first)
        return Worked(moves, after, after.queue)

    def remarks(self, number: int, done: int) -> Sequence[str]:
        if number == 3:
            return ("Keep this lap snug; pinch the ring upright before the next, so that it does not lie down flat.",)
        if number == 4:
            return ("The next up bead is the first bead that you added: do not step up, go on as one spiral.",)
        return ()


# ---- the tube with a drop -----------------------------------------------------------------------


def begin_drop(bench: Bench, start: Foundation) -> None:
    """`start = "drop tube"`: rounds 1 and 2 on one strand."""
    assert start.beads is not None
    codes = strand(bench, start.beads, "beads")
    drop = start.option("drop", 2)
    place = bench.place(bench.index, key="beads")
    least = 2 * drop * drop_tube.LEAST
    if len(codes) % (2 * drop):
        raise refuse_uneven(len(codes), 2 * drop, counted(len(codes), "bead"), place, least)
    if len(codes) < least:
        raise PlanError(
            f"a {drop}-drop tube of {counted(len(codes), 'bead')} cannot be closed",
            fix=f"{least} beads or more",
            place=place,
        )
    out = bench.out
    out.open_round()
    hints.say(
        out,
        f"These groups of {drop} are rounds 1 and 2 at once; the first group strung belongs to round 2.",
    )
    groups = groups_of(codes, drop, Kind.STRING)
    moves, crown = drop_tube.ring(groups, out.bead + 1)
    begin_told(bench, start, Worked(moves, crown, crown.leaves), spaces=len(groups), numbers=(1, 2), flat=False)


class DropPeyote(Technique):
    """`stitch = "drop peyote"`: rounds of groups."""

    word = "round"
    state: drop_tube.Crown

    def take_up(self, told: ToldEdge | None) -> drop_tube.Crown:
        if told is None or not isinstance(told.state, drop_tube.Crown):
            raise self.refuse("drop peyote hangs from a drop tube", 'begin with start = "drop tube"', key="stitch")
        return told.state

    @property
    def drop(self) -> int:
        return len(self.state.ups[0])

    def spaces(self) -> int:
        return len(self.state.ups)

    def under(self) -> Sequence[int]:
        return [group[0] for group in self.state.under]

    def makes(self, spec: PlanRound | None, place: Place, number: int) -> list[Make]:
        assert spec is not None
        return grouped(self.bench, spec, self.spaces(), self.drop, place, number, self.word, self.under())

    def row(self, makes: Sequence[Make], first: int, place: Place, *, hangs: bool) -> Worked:
        moves, after = drop_tube.round_(self.state, makes, first, steps_up=hangs)
        return Worked(moves, after, after.leaves)

    def remarks(self, number: int, done: int) -> Sequence[str]:
        if number == 3:
            return (
                f"Pick up {self.drop}, skip {self.drop}, pass through {self.drop}: "
                "a group is one stitch; do not go into the middle of one.",
            )
        return ()
