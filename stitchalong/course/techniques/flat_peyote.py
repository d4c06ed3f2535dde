"""Flat peyote in a plan: `start = "strung row"`, `stitch = "flat peyote"`."""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.course import hints
from stitchalong.course.bench import Bench
from stitchalong.course.edges import ToldEdge
from stitchalong.course.starts import strand
from stitchalong.course.techniques.row_work import Technique, Worked, begin_told
from stitchalong.course.words import counted
from stitchalong.errors import Place, PlanError
from stitchalong.fabric import flat_peyote
from stitchalong.fabric.stitch import Kind, Make
from stitchalong.plan.model import Foundation


def begin(bench: Bench, start: Foundation) -> None:
    """Rows 1 and 2 on one strand."""
    assert start.beads is not None
    codes = strand(bench, start.beads, "beads")
    least = flat_peyote.LEAST
    if len(codes) < least:
        raise PlanError(
            f"a row of {counted(len(codes), 'bead')} cannot be worked",
            fix=f"{least} beads or more",
            place=bench.place(bench.index, key="beads"),
        )
    out = bench.out
    out.open_round()
    hints.say(out, "These beads are rows 1 and 2 at once; the last bead strung belongs to row 1.")
    makes = [Make(Kind.STRING, (code,), (0,)) for code in codes]
    moves, strip = flat_peyote.strung(makes, out.bead + 1)
    begin_told(bench, start, Worked(moves, strip, strip.leaves), spaces=len(makes), numbers=(1, 2), flat=True)


class FlatPeyote(Technique):
    """Rows to and fro."""

    state: flat_peyote.Strip

    def take_up(self, told: ToldEdge | None) -> flat_peyote.Strip:
        if told is None or not isinstance(told.state, flat_peyote.Strip):
            raise self.refuse("flat peyote hangs from a strung row", 'begin with start = "strung row"', key="stitch")
        if told.state.odd:
            raise self.refuse(
                f"{counted(told.state.across, 'bead')} across is an odd count",
                f"string {told.state.across - 1} or {told.state.across + 1}",
            )
        return told.state

    def spaces(self) -> int:
        return self.state.spaces

    def under(self) -> Sequence[int]:
        return [group[0] for group in self.state.lower]

    def row(self, makes: Sequence[Make], first: int, place: Place, *, hangs: bool) -> Worked:
        moves, after = flat_peyote.row(self.state, makes, first)
        return Worked(moves, after, after.leaves)

    def remarks(self, number: int, done: int) -> Sequence[str]:
        if number == 3:
            return (
                "This row shapes the first three; hold it so that the strand does not twist, and keep it snug.",
                "Turn, pick up one bead and skip one: the last bead strung is skipped first.",
            )
        return ()
