"""Square stitch and netting in a plan."""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.course import hints
from stitchalong.course.bench import Bench
from stitchalong.course.edges import ToldEdge
from stitchalong.course.starts import strand
from stitchalong.course.techniques.drops import refuse_uneven
from stitchalong.course.techniques.many import many
from stitchalong.course.techniques.row_work import Technique, Worked, begin_told
from stitchalong.course.words import counted
from stitchalong.errors import Place, PlanError
from stitchalong.fabric import net, square
from stitchalong.fabric.stitch import Make
from stitchalong.plan.model import Foundation
from stitchalong.plan.model import Round as PlanRound

# ---- square stitch ------------------------------------------------------------------------------


def begin_line(bench: Bench, start: Foundation) -> None:
    """`start = "strand"`: row 1 of square stitch."""
    assert start.beads is not None
    codes = strand(bench, start.beads, "beads")
    if len(codes) < square.LEAST:
        raise PlanError(
            f"a row of {counted(len(codes), 'bead')} cannot be worked",
            fix=f"{square.LEAST} beads or more",
            place=bench.place(bench.index, key="beads"),
        )
    out = bench.out
    out.open_round()
    hints.say(out, "These beads are row 1. Do not pull them tight: the second row is the hardest.")
    moves, line = square.strung(codes, out.bead + 1)
    begin_told(bench, start, Worked(moves, line, line.beads), spaces=len(codes), numbers=(1,), flat=True)


class Square(Technique):
    """`stitch = "square stitch"`: rows to and fro."""

    state: square.Line

    def take_up(self, told: ToldEdge | None) -> square.Line:
        if told is None or not isinstance(told.state, square.Line):
            raise self.refuse("square stitch hangs from a strand", 'begin with start = "strand"', key="stitch")
        return told.state

    def spaces(self) -> int:
        return len(self.state.beads)

    def under(self) -> Sequence[int]:
        return self.state.beads

    def row(self, makes: Sequence[Make], first: int, place: Place, *, hangs: bool) -> Worked:
        moves, after = square.row(self.state, makes, first, align=bool(self.work.option("straighten", False)))
        return Worked(moves, after, after.beads)

    def remarks(self, number: int, done: int) -> Sequence[str]:
        if number == 2:
            return (
                "Every bead goes through the bead right below it and through itself once more; "
                "a bead that is not held below hangs loose.",
            )
        return ()


# ---- netting ------------------------------------------------------------------------------------


def begin_net(bench: Bench, start: Foundation) -> None:
    """`start = "net ring"`: anchors, each followed by the beads of a loop."""
    assert start.beads is not None
    codes = strand(bench, start.beads, "beads")
    loop = start.option("loop", 3)
    place = bench.place(bench.index, key="beads")
    least = net.LEAST * (loop + 1)
    _refuse_even(bench, loop)
    if len(codes) % (loop + 1):
        raise refuse_uneven(len(codes), loop + 1, counted(len(codes), "bead"), place, least)
    if len(codes) < least:
        raise PlanError(
            f"a net ring of {counted(len(codes), 'bead')} has too few loops", fix=f"{least} beads or more", place=place
        )
    out = bench.out
    out.open_round()
    hints.say(
        out,
        f"The first bead is an anchor, and so is every one after {loop} more: mark them, or string them in a "
        "colour of their own.",
    )
    moves, tips = net.ring(codes, out.bead + 1, loop)
    worked = Worked(moves, tips, tips.beads, True)
    begin_told(bench, start, worked, spaces=len(codes), numbers=(1,), flat=False)


def _refuse_even(bench: Bench, loop: int) -> None:
    if loop % 2 == 0:
        raise PlanError(
            f"a loop of {loop} has no middle bead",
            fix=f"loop = {loop - 1} or loop = {loop + 1}",
            place=bench.place(bench.index, key="loop"),
        )


class Netting(Technique):
    """`stitch = "netting"`: round and round."""

    word = "round"
    state: net.Tips

    def take_up(self, told: ToldEdge | None) -> net.Tips:
        if told is None or not isinstance(told.state, net.Tips):
            raise self.refuse("netting hangs from a net ring", 'begin with start = "net ring"', key="stitch")
        self.loop = self.work.option("loop", told.state.loop)
        _refuse_even(self.bench, self.loop)
        return told.state

    def spaces(self) -> int:
        return len(self.state.beads)

    def under(self) -> Sequence[int]:
        return ()

    def makes(self, spec: PlanRound | None, place: Place, number: int) -> list[Make]:
        assert spec is not None
        return many(self.bench, spec, [self.loop] * self.spaces(), place, number, self.word, "loop")

    def row(self, makes: Sequence[Make], first: int, place: Place, *, hangs: bool) -> Worked:
        moves, after = net.round_(self.state, makes, first, steps_up=hangs)
        return Worked(moves, after, after.beads, hangs)

    def remarks(self, number: int, done: int) -> Sequence[str]:
        if done:
            return ()
        return (
            "Pass only through the bead in the middle of a loop. The step-up goes through half a loop, so each round "
            "begins half a loop further on.",
        )
