"""Edgings in a plan: `stitch = "edging"` and `stitch = "fringe"`, on closed edges and on open ones."""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.course.bench import Bench
from stitchalong.course.edges import ToldEdge, WorkingEdge
from stitchalong.course.techniques.row_work import Technique, Worked, laid_out
from stitchalong.course.threads import Threads
from stitchalong.course.words import counted
from stitchalong.errors import Place, PlanError
from stitchalong.fabric import edging, flat_peyote
from stitchalong.fabric.edging import Standing
from stitchalong.fabric.stitch import Kind, Make
from stitchalong.plan.model import Round as PlanRound
from stitchalong.plan.sizes import singles


def standing_of(told: ToldEdge) -> Standing | None:
    """An edge that was told, as an edging meets it; None where nothing can hang from it."""
    if not told.beads:
        return None
    if isinstance(told.state, flat_peyote.Strip):
        return Standing(*told.state.edge, closed=False, turn=not told.state.in_last)
    return Standing(tuple((bead,) for bead in told.beads), None, told.closed)


def standing_closed(bench: Bench, state: WorkingEdge) -> Standing:
    """The edge of closed peyote where the needle is, with what lies between its up beads."""
    threads = Threads(bench.out.course(bench.markers, ()))
    view = threads.view(state.last_round)
    size = state.edge.size
    if view.round.first_pass >= 0:
        return Standing(tuple((view.up(state.turn + nth),) for nth in range(size)), None, closed=True)
    ups = [tuple(view.passed((state.turn + nth) % size)) for nth in range(size)]
    way = view.along()
    at = {bead: nth for nth, bead in enumerate(way)}
    between = []
    for nth, up in enumerate(ups):
        here, there = at[up[-1]], at[ups[(nth + 1) % size][0]]
        between.append(tuple(way[here + 1 : there] if there > here else (*way[here + 1 :], *way[:there])))
    return Standing(tuple(ups), tuple(between), closed=True)


class Edging(Technique):
    """One stitch or none between each two up beads; nothing hangs from it."""

    state: Standing

    def take_up(self, told: ToldEdge | None) -> Standing:
        edge = self.work.edge
        if told is not None:
            found = standing_of(told)
            if found is None or found.places < 1:
                raise self.refuse(f"{told.technique} leaves no edge to hang {self.work.stitch} from", key="stitch")
        else:
            state = self.bench.edges.get(edge)
            if state is None or edge != self.bench.here:
                raise self.refuse(
                    f"the needle is not on the {edge} edge", "work a round there first, so that it crosses", key="edge"
                )
            found = standing_closed(self.bench, state)
            del self.bench.edges[edge]
        self.word = "round" if found.closed else "row"
        return found

    def spaces(self) -> int:
        return self.state.places

    def makes(self, spec: PlanRound | None, place: Place, number: int) -> list[Make]:
        assert spec is not None
        makes = laid_out(self.bench, spec, self.spaces(), place, number, self.word)
        if any(make.kind not in (Kind.SINGLE, Kind.PICOT, Kind.PAIR, Kind.GROUP, Kind.SKIP) for make in makes):
            raise PlanError("an edging takes single beads, beads together, picots, or no bead", place=place)
        return makes

    def row(self, makes: Sequence[Make], first: int, place: Place, *, hangs: bool) -> Worked:
        if hangs:
            raise PlanError(
                f"nothing can hang from {self.work.stitch}", fix="let it be the last on its edge", place=place
            )
        return Worked(edging.edging(self.state, makes), self.state, (), self.state.closed)

    def remarks(self, number: int, done: int) -> Sequence[str]:
        return ("Beads a size smaller keep an edging from ruffling; draw each stitch so that its tip stands out.",)


class Fringe(Edging):
    """Strands down from the edge and back up."""

    def makes(self, spec: PlanRound | None, place: Place, number: int) -> list[Make]:
        return []

    def spaces(self) -> int:
        return -(-self.state.places // int(self.work.option("every", 1)))

    def row(self, makes: Sequence[Make], first: int, place: Place, *, hangs: bool) -> Worked:
        if hangs:
            return super().row(makes, first, place, hangs=hangs)
        tip, every = self.work.option("tip", 1), self.work.option("every", 1)
        strands = [tuple(singles(written.items)) for written in self.work.option("strands")]
        for nth, strand in enumerate(strands):
            if len(strand) <= tip:
                raise self.refuse(
                    f"a strand of {counted(len(strand), 'bead')} has none to come back through",
                    f"{tip + 1} beads or more, the last {tip} of them to turn the thread",
                    key=f"strands[{nth + 1}]",
                )
        if every > 1 and self.state.between is None:
            raise self.refuse("the needle cannot pass along this edge without a bead", "leave `every` out", key="every")
        hung = self.spaces()
        beads = sum(len(strand) * -(-(hung - nth) // len(strands)) for nth, strand in enumerate(strands[:hung]))
        self.bench.out.refuse_without_room(beads, place)
        moves = edging.fringe(self.state, strands, first, every=every, tip=tip)
        return Worked(moves, self.state, (), self.state.closed)

    def remarks(self, number: int, done: int) -> Sequence[str]:
        return ("Do not pull a strand so tight that it stands stiff: hold its end and draw the thread up to the edge.",)
