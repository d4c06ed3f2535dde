"""Ladders in a plan, and what hangs from them: herringbone and brick stitch."""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.course import hints
from stitchalong.course.bench import Bench
from stitchalong.course.edges import ToldEdge
from stitchalong.course.starts import strand
from stitchalong.course.techniques.many import many
from stitchalong.course.techniques.row_work import Technique, Worked, begin_told, laid_out
from stitchalong.course.words import counted
from stitchalong.errors import Place, PlanError
from stitchalong.fabric import brick, herringbone, ladder
from stitchalong.fabric.stitch import Kind, Make
from stitchalong.plan.model import Foundation, Lay, Rows, Written
from stitchalong.plan.model import Round as PlanRound
from stitchalong.plan.notation import count_of


def begin(bench: Bench, start: Foundation) -> None:
    """`start = "ladder"`: row 1, open or joined."""
    assert start.beads is not None
    codes = strand(bench, start.beads, "beads")
    joined = bool(start.option("joined", False))
    least = ladder.LEAST_AROUND if joined else ladder.LEAST
    if len(codes) < least:
        raise PlanError(
            f"a ladder of {counted(len(codes), 'bead')} cannot be {'joined' if joined else 'worked'}",
            fix=f"{least} beads or more",
            place=bench.place(bench.index, key="beads"),
        )
    follows = next((item for item in bench.behind(bench.index) if isinstance(item, Rows)), None)
    if follows is not None and follows.stitch.endswith("herringbone") and len(codes) % 2:
        near = [str(count) for count in (len(codes) - 1, len(codes) + 1) if count >= least]
        raise PlanError(
            f"herringbone goes down through one bead and up through the next: a ladder of {len(codes)} is odd; "
            f"{' and '.join(near)} {'do' if len(near) > 1 else 'does'}",
            place=bench.place(bench.index, key="beads"),
        )
    out = bench.out
    out.open_round()
    hints.say(out, "Hold the beads side by side and pull each stitch snug, so that no bead tilts.")
    moves, top = ladder.ladder(codes, out.bead + 1, joined=joined)
    spaces = len(codes) - 1
    begin_told(bench, start, Worked(moves, top, top.beads), spaces=spaces, numbers=(1,), flat=not joined)
    if joined:
        hints.say_at(out, out.step - 1, "Before joining see that the ladder has no twist.")


class _OnLadder(Technique):
    """What hangs from a ladder and goes on with itself."""

    closed = False
    state: ladder.Top

    def take_up(self, told: ToldEdge | None) -> ladder.Top:
        stitch = self.work.stitch
        if told is None or told.technique not in ("ladder", stitch) or not isinstance(told.state, ladder.Top):
            raise self.refuse(f"{stitch} hangs from a ladder", 'begin with start = "ladder"', key="stitch")
        if told.state.closed is not self.closed:
            raise self.refuse(
                f"{stitch} needs {'a joined' if self.closed else 'an open'} ladder",
                "joined = true" if self.closed else f'stitch = "tubular {stitch}", or leave `joined` out',
                key="stitch",
            )
        return told.state


class Herringbone(_OnLadder):
    """`stitch = "herringbone"`: rows to and fro."""

    def spaces(self) -> int:
        return len(self.state.beads) // 2

    def under(self) -> Sequence[int]:
        return self.state.beads[::2]

    def makes(self, spec: PlanRound | None, place: Place, number: int) -> list[Make]:
        assert spec is not None
        sizes = [2] * (len(self.state.beads) // 2)
        return many(self.bench, spec, sizes, place, number, self.word, "stitch", self.under())

    def row(self, makes: Sequence[Make], first: int, place: Place, *, hangs: bool) -> Worked:
        bead = self.work.option("turning_bead")
        moves, after = herringbone.row(self.state, makes, first, turns=hangs, turning_bead=bead)
        return Worked(moves, after, after.beads)

    def remarks(self, number: int, done: int) -> Sequence[str]:
        if number == 2:
            return (
                "Hold the ladder so that the thread comes up out of its end.",
                "Down through one bead, up through the next: never up through the bead that you came down through, "
                "but at the turn. The turn finishes this row; it does not start the next.",
            )
        return ()


class TubularHerringbone(Herringbone):
    """`stitch = "tubular herringbone"`: round and round."""

    word = "round"
    closed = True

    def take_up(self, told: ToldEdge | None) -> ladder.Top:
        self.between: str | None = self.work.option("between")
        self.widened = 0
        """rounds of widening that are done"""
        height = self.work.height
        if self.between is not None and (height.open or height.least != 2):
            raise self.refuse(
                "widening takes two rounds: one bead between the stacks, then two above it", "height = 2", key="between"
            )
        return super().take_up(told)

    def spaces(self) -> int:
        stitches = len(self.state.beads) // 2
        return stitches if self.between is None else 2 * stitches

    def row(self, makes: Sequence[Make], first: int, place: Place, *, hangs: bool) -> Worked:
        if self.between is None:
            moves, after = herringbone.round_(self.state, makes, first, steps_up=hangs)
        else:
            self.widened += 1
            beads = self.between * self.widened
            moves, after = herringbone.widened(self.state, makes, beads, first, steps_up=hangs)
        return Worked(moves, after, after.beads)

    def remarks(self, number: int, done: int) -> Sequence[str]:
        if self.between is not None:
            if done:
                return ("Two beads above each single one: from the next round on they are a stack of their own.",)
            return ("One bead between every two stacks, also between the last and the first.",)
        if number == 2:
            return ("Each round ends with a step-up through two beads; through one or three the column leans.",)
        return ()


# ---- brick stitch -------------------------------------------------------------------------------


class Brick(_OnLadder):
    """`stitch = "brick stitch"`: rows to and fro."""

    @property
    def width(self) -> int:
        """Beads of the next row."""
        return len(self.state.beads) + brick.WIDTHS[self.work.option("width", "same")]

    def spaces(self) -> int:
        if len(self.state.beads) < 2:
            raise self.refuse(
                "a row of one bead has no bridge to hang from", "end this work one row before", key="height"
            )
        return max(1, self.width - 1)

    def makes(self, spec: PlanRound | None, place: Place, number: int) -> list[Make]:
        assert spec is not None
        if isinstance(spec, Written):
            self._check_width(spec, place)
        makes = laid_out(self.bench, spec, self.width, place, number, self.word)
        if any(make.kind is not Kind.SINGLE for make in makes):
            raise PlanError("a row of brick stitch is told bead by bead", fix="as in `3A, 2B`", place=place)
        return makes

    def _check_width(self, spec: Written, place: Place) -> None:
        """A row written out for another width is told which word would make it fit."""
        if not all(isinstance(item, Lay) for item in spec.items):
            return
        asked = count_of(spec.items)[0]
        below = len(self.state.beads)
        fits = next((word for word, more in brick.WIDTHS.items() if below + more == asked), None)
        if asked != self.width and fits is not None:
            raise PlanError(
                f"{counted(asked, 'bead')} in a row of {self.width}",
                fix=f'width = "{fits}" makes it {asked}',
                place=place,
            )

    def row(self, makes: Sequence[Make], first: int, place: Place, *, hangs: bool) -> Worked:
        moves, after = brick.row(self.state, [make.beads[0] for make in makes], first)
        return Worked(moves, after, after.beads)

    def remarks(self, number: int, done: int) -> Sequence[str]:
        if done:
            return ()
        return (
            "A row begins with two beads on one bridge; with one only, the work grows narrower by itself. "
            "If the first bead tilts, pass down through it and up through the second once more.",
            "Take both threads of a bridge where it has two.",
        )


class TubularBrick(_OnLadder):
    """`stitch = "tubular brick stitch"`: round and round."""

    word = "round"
    closed = True
    most_beads = 3

    def spaces(self) -> int:
        return len(self.state.beads)

    def under(self) -> Sequence[int]:
        return self.state.beads

    def row(self, makes: Sequence[Make], first: int, place: Place, *, hangs: bool) -> Worked:
        moves, after = brick.round_(self.state, makes, first)
        return Worked(moves, after, after.beads)

    def remarks(self, number: int, done: int) -> Sequence[str]:
        if done:
            return ()
        return (
            "A round begins with two beads on its first bridge, or it shrinks; it ends with a join, or it is a spiral.",
        )
