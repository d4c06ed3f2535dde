"""Cubic right-angle weave, and modified right-angle weave as an open strip, in a plan."""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.course import hints
from stitchalong.course.bench import Bench
from stitchalong.course.edges import ToldEdge
from stitchalong.course.starts import strand
from stitchalong.course.techniques.many import many
from stitchalong.course.techniques.row_work import Technique, Worked, begin_told
from stitchalong.course.words import counted
from stitchalong.errors import Place, PlanError
from stitchalong.fabric import cubes, strip
from stitchalong.fabric.stitch import Make
from stitchalong.plan.model import Foundation
from stitchalong.plan.model import Round as PlanRound

# ---- cubes --------------------------------------------------------------------------------------


def begin_base(bench: Bench, start: Foundation) -> None:
    """`start = "cube base"`: the first floor."""
    assert start.beads is not None
    codes = strand(bench, start.beads, "beads")
    if len(codes) < cubes.LEAST:
        raise PlanError(
            f"a base of {counted(len(codes), 'bead')} has no room within",
            fix=f"4 beads for cubes, {cubes.LEAST} at least",
            place=bench.place(bench.index, key="beads"),
        )
    out = bench.out
    out.open_round()
    moves, floor = cubes.ring(codes, out.bead + 1)
    worked = Worked(moves, floor, floor.beads, True)
    begin_told(bench, start, worked, spaces=len(codes), numbers=(0,), flat=False)


class CubicWeave(Technique):
    """`stitch = "cubic right-angle weave"`: storeys."""

    word = "storey"
    state: cubes.Floor

    def take_up(self, told: ToldEdge | None) -> cubes.Floor:
        if told is None or not isinstance(told.state, cubes.Floor):
            raise self.refuse(f"{self.work.stitch} hangs from a cube base", 'begin with start = "cube base"')
        return told.state

    def spaces(self) -> int:
        return len(self.state.beads)

    def under(self) -> Sequence[int]:
        return self.state.beads

    def makes(self, spec: PlanRound | None, place: Place, number: int) -> list[Make]:
        assert spec is not None
        sizes = cubes.sizes(len(self.state.beads))
        return many(self.bench, spec, sizes, place, number, self.word, "wall", self.under())

    def row(self, makes: Sequence[Make], first: int, place: Place, *, hangs: bool) -> Worked:
        moves, after = cubes.storey(self.state, makes, first, hangs=hangs)
        return Worked(moves, after, after.beads, hangs)

    def remarks(self, number: int, done: int) -> Sequence[str]:
        if number == 1:
            return (
                "Three beads for the first wall, two for each further one, and only one for the last: two uprights and "
                "its floor are there.",
                "Pass round the whole ceiling before the next storey: it is the next floor, and it is easily lost.",
            )
        return ()


# ---- the open strip -----------------------------------------------------------------------------


def begin_strip(bench: Bench, start: Foundation) -> None:
    """`start = "MRAW strip"`: units that are not joined."""
    spacers = strand(bench, start.option("spacers"), "spacers")
    least = strip.LEAST - 1
    if len(spacers) < least:
        raise PlanError(
            f"a strip with {counted(len(spacers), 'spacer')} is too short",
            fix=f"{least} spacers or more: a strip has one unit more than spacers",
            place=bench.place(bench.index, key="spacers"),
        )
    out = bench.out
    out.open_round()
    hints.at_band(out)
    moves, edge = strip.strip(start.option("frame"), spacers, out.bead + 1)
    worked = Worked(moves, edge, edge.leaves)
    begin_told(bench, start, worked, spaces=len(spacers) + 1, numbers=(0,), flat=True)
