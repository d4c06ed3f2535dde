"""Flat peyote in a plan: `start = "strung row"`, `stitch = "flat peyote"`."""

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
from stitchalong.fabric import flat_peyote
from stitchalong.fabric.stitch import Kind, Make
from stitchalong.plan.model import Foundation
from stitchalong.plan.model import Round as PlanRound


def begin(bench: Bench, start: Foundation) -> None:
    """Rows 1 and 2 on one strand."""
    assert start.beads is not None
    codes = strand(bench, start.beads, "beads")
    drop = start.option("drop", 1)
    place = bench.place(bench.index, key="beads")
    if len(codes) % drop:
        raise refuse_uneven(len(codes), drop, counted(len(codes), "bead"), place, flat_peyote.LEAST * drop)
    groups = groups_of(codes, drop, Kind.STRING)
    if len(groups) < flat_peyote.LEAST:
        raise PlanError(
            f"a row of {counted(len(codes), 'bead')} cannot be worked",
            fix=f"{flat_peyote.LEAST * drop} beads or more",
            place=place,
        )
    out = bench.out
    out.open_round()
    hints.say(out, "These beads are rows 1 and 2 at once; the last bead strung belongs to row 1.")
    moves, strip = flat_peyote.strung(groups, out.bead + 1)
    begin_told(bench, start, Worked(moves, strip, strip.leaves), spaces=len(groups), numbers=(1, 2), flat=True)


class FlatPeyote(Technique):
    """Rows to and fro."""

    state: flat_peyote.Strip

    def take_up(self, told: ToldEdge | None) -> flat_peyote.Strip:
        if told is None or not isinstance(told.state, flat_peyote.Strip):
            raise self.refuse("flat peyote hangs from a strung row", 'begin with start = "strung row"', key="stitch")
        if self.work.option("turn") and not told.state.odd:
            raise self.refuse(
                f"{told.state.across} across is an even count: each row turns by itself", "leave `turn` out", key="turn"
            )
        self.on_strand = told.technique == "strung row"
        if (self.work.option("turn") == "turning bead") != (self.work.option("turning_bead") is not None):
            raise self.refuse(
                "a turn with a turning bead names that bead", 'turn = "turning bead", turning_bead = "T"', key="turn"
            )
        return told.state

    @property
    def drop(self) -> int:
        return len(self.state.upper[0])

    @property
    def begins(self) -> str:
        """The corner of the piece where the first bead is strung, as a right-handed stitcher sees it."""
        starts = (item for item in reversed(self.bench.plan.work[: self.bench.index]) if isinstance(item, Foundation))
        return str(next(starts).option("begins", "bottom left"))

    @property
    def turns(self) -> bool:
        """Whether the next row ends with the odd-count turn."""
        return len(self.state.lower) > len(self.state.upper)

    def spaces(self) -> int:
        return self.state.spaces

    def under(self) -> Sequence[int]:
        return [group[0] for group in self.state.lower]

    def makes(self, spec: PlanRound | None, place: Place, number: int) -> list[Make]:
        if self.drop == 1:
            return super().makes(spec, place, number)
        assert spec is not None
        return grouped(self.bench, spec, self.spaces(), self.drop, place, number, self.word, self.under())

    def row(self, makes: Sequence[Make], first: int, place: Place, *, hangs: bool) -> Worked:
        turn = self.work.option("turn", flat_peyote.TURNS[0])
        moves, after = flat_peyote.row(self.state, makes, first, turn, self.work.option("turning_bead", ""))
        return Worked(moves, after, after.leaves)

    def remarks(self, number: int, done: int) -> Sequence[str]:
        said: list[str] = []
        if number == 3 and self.on_strand:
            one = "one bead" if self.drop == 1 else counted(self.drop, "bead")
            sides = ("right", "left") if self.begins.endswith("right") else ("left", "right")
            said += [
                f"With the tail at the {sides[0]}, this row goes from {sides[1]} to {sides[0]}, and the next one back.",
                "This row shapes the first three; hold it so that the strand does not twist, and keep it snug.",
                f"Turn, pick up {one} and skip {one}: the end of the strand is skipped first.",
            ]
        if self.turns and number <= 5:
            said.append(
                "The last bead of this row has no up bead to hold it: "
                "the turn finishes this row, it does not start the next."
            )
        return said
