"""A plan and the stitcher's choices become a course."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from stitchalong.course import hints, starts, techniques, zips
from stitchalong.course.bench import Bench, Foreseen
from stitchalong.course.choices import Choice
from stitchalong.course.course import Course
from stitchalong.course.cycles import rule_at_work
from stitchalong.course.deviate import AsLaid, as_laid
from stitchalong.course.edges import WorkingEdge
from stitchalong.course.effort import Effort
from stitchalong.course.ground import Ground
from stitchalong.course.ribs import learn, mark_facing
from stitchalong.course.ruled import lay_ruled
from stitchalong.course.rules import Stack
from stitchalong.course.written import lay_written
from stitchalong.errors import Place, PlanError
from stitchalong.fabric.peyote import Laid, Run, lay, step_up, turned
from stitchalong.fabric.stitch import Kind, Make
from stitchalong.plan.model import (
    FIRST_PART,
    Band,
    Foundation,
    Lay,
    Peyote,
    Plan,
    Reinforce,
    RingStart,
    Rows,
    Ruled,
    Start,
    TubeStart,
    WalkAlong,
    Written,
    Zip,
)
from stitchalong.plan.model import Round as PlanRound

MOST_CHANGES = 20_000
"""of one round"""

_MOST_PASSES = 6
_STACK = "lay increases and empty spaces over each other, round after round, or work fewer rounds"


def compile_plan(plan: Plan, choices: Iterable[Choice] = ()) -> Course:
    """Derive every stitch. Raises PlanError for a plan that cannot be stitched, with the round, the space and the fix.

    Ribs part the sides of every round of their edge, also of rounds worked before the first pair; where pairs are
    placed by writing them out, that is known only afterwards, and the plan is gone through once more.
    """
    chosen = tuple(choices)
    foreseen: Foreseen = {}
    effort = Effort()
    for nth in range(_MOST_PASSES):
        bench = Bench(plan, chosen, foreseen, nth, effort)
        course = _work(bench)
        done, foreseen = bench.settled(), bench.found
        bench.let_go()
        if done:
            break
    return course


def _work(bench: Bench) -> Course:
    work = bench.plan.work
    for index, item in enumerate(work):
        bench.index = index
        match item:
            case Band() | RingStart() | TubeStart() | Foundation():
                _begin(bench, item)
            case _ if index == 0:
                break
            case Zip():
                zips.zip_edges(bench, item)
            case _ if (bench.part, item.edge) in bench.zipped:
                raise PlanError(
                    f"the {item.edge} edge is zipped: nothing more can be worked on it",
                    fix="put this before the zip",
                    place=bench.place(index),
                )
            case Peyote():
                _peyote(bench, item, index)
            case Rows():
                techniques.work(bench, item)
            case WalkAlong() | Reinforce():
                _refuse_stray(bench, item, index)
    if not bench.out.rounds:
        raise PlanError(
            "the work does not begin with a start",
            fix='the first [[work]] table needs `start = "MRAW band"`, `"ring"` or `"tube"`',
            place=bench.place(0),
        )
    hints.pin(bench.out, bench.plan, is_open=bool(bench.open_heights))
    for one in bench.deviations:
        if one not in bench.accepted:
            raise PlanError(
                f"round {one.round} on the {one.edge} edge cannot be accepted as it is",
                fix="mend it; only rounds of peyote on a closed edge can be accepted",
            )
    return bench.out.course(bench.markers, tuple(bench.open_heights), bench.deviations)


def _begin(bench: Bench, start: Start) -> None:
    """Begin the first part, or another."""
    if bench.index and (not start.part or start.part in bench.parts):
        raise PlanError("a second start in one piece", fix='part = "lid"', place=bench.place(bench.index))
    name = start.part or FIRST_PART
    if not bench.index:
        bench.parts, bench.told_parts = {}, {}
    bench.begin_part(name)
    if isinstance(start, Foundation):
        techniques.begin(bench, start)
    else:
        starts.begin(bench, start)


def _refuse_stray(bench: Bench, item: WalkAlong | Reinforce, index: int) -> None:
    """A walk or a pass belongs right behind work on the same edge, and a walk needs something to hang after it."""
    before = bench.plan.work[index - 1]
    if isinstance(before, Rows | Foundation) or not bench.edges:
        raise PlanError(
            f"behind {techniques.name_of(before)} there is neither a walk along the edge nor a reinforcing pass",
            fix="leave it out",
            place=bench.place(index),
        )
    edge = getattr(bench.plan.work[index - 1], "edge", "top")
    if edge != item.edge:
        raise PlanError(
            f"the needle is not on the {item.edge} edge here",
            fix=f'edge = "{edge}"',
            place=bench.place(index),
        )
    if isinstance(item, WalkAlong) and bench.next_edge(index) != item.edge:
        raise PlanError(
            "after walking along an edge a round has to hang from it before the needle goes elsewhere",
            fix="leave the walk out, or put it right before those rounds",
            place=bench.place(index),
        )


# ---- the other edge -----------------------------------------------------------------------------


def _reach(bench: Bench, work: Peyote, index: int) -> WorkingEdge:
    """Bring the needle to the edge of this work. Where it crosses, the round that follows is opened."""
    if work.edge == "bottom" and bench.band is None:
        raise PlanError(
            "there is no bottom edge: only a band has two",
            fix='edge = "top"',
            place=bench.place(index, key="edge"),
        )
    if work.edge in bench.told:
        return techniques.as_closed(bench, bench.told.pop(work.edge))
    state = bench.edges.get(work.edge)
    if work.edge == bench.here and state is not None:
        return state
    out = bench.out
    out.open_round()
    hints.at_crossing(out)
    if state is not None:
        out.add(Kind.CROSS, detail="back")
        bench.here = work.edge
        mark_facing(bench, state)
        return state
    out.add(Kind.CROSS)
    assert bench.band is not None
    units = bench.band.units
    other = bench.edges.get(bench.here)
    if work.edge == "bottom":
        feet = [(other.first + other.needle_foot(canonical)) % units if other else -1 for canonical in (True, False)]
        planned, real = (foot % units for foot in feet)
        state = starts.bottom_edge(bench, planned)
        state.turn = (planned - real) % units
        state.begin = real
        bench.here = "bottom"
        _fill(bench, state, work, index)
    else:
        assert other is not None
        planned, real = ((other.first + 1 - other.needle_foot(canonical)) % units for canonical in (True, False))
        state = starts.top_edge(bench, planned)
        state.turn = (real - planned) % units
        state.begin = real
        bench.here = "top"
        out.add(Kind.STEP_UP, detail="spacer")
    return state


def _fill(bench: Bench, state: WorkingEdge, work: Peyote, index: int) -> None:
    """The round that fills the spaces between the bottom beads: round 0 of that edge."""
    assert bench.band is not None
    place = bench.place(index, key="fill", number=0, edge="bottom")
    spec = work.fill or Ruled(Lay("single", (bench.band.bottom,)))
    ground = _ground(bench, state, 0, place)
    runs = lay_written(ground, spec) if isinstance(spec, Written) else lay_ruled(ground, spec, {})
    if any(len(make.beads) != 1 for make, _ in runs):
        raise PlanError("the fill round takes one bead in each space", place=place)
    laid = _lay(bench, state, runs, 0, place)
    _emit(bench, state, laid)
    _close(
        bench,
        state,
        laid,
        index,
        place,
        technique="fill",
        reinforce=int(bench.band.reinforce),
        hangs=bool(work.rounds) or bench.hangs_later(index, work.edge),
        walk=0,
    )


# ---- rounds -------------------------------------------------------------------------------------


def _peyote(bench: Bench, work: Peyote, index: int) -> None:
    state = _reach(bench, work, index)
    if not work.rounds:
        return
    rules = [rule_at_work(rule, state, bench.facing(state.name)) for rule in work.rules]
    reinforce, walk = bench.right_behind(index, work.edge)
    reinforce += work.reinforce
    height = work.height
    if height.open:
        bench.open_heights.append((height.least, height.usual, height.most))
    done = 0
    more = True
    while more:
        number = state.number + 1
        nth = done % len(work.rounds)
        place = bench.place(index, key=f"rounds[{nth + 1}]", number=number, edge=work.edge)
        if not bench.out.is_open:
            bench.out.open_round()
        hints.at_round(bench.out, state, done, bool(rules))
        ground = _ground(bench, state, number, place)
        runs = _runs(ground, work.rounds[nth], rules, number, last=done + 1 >= (height.most or height.usual))
        for text in (text for rule in rules for text in rule.remarks(number)):
            hints.say(bench.out, text)
        bench.out.refuse_without_room(sum(len(make.beads) * count for make, count in runs), place)
        before = state.edge  # a rule may have marked columns on it
        laid = _lay(bench, state, runs, number, place, frozenset().union(*(rule.unmarked for rule in rules)))
        for rule in rules:
            rule.adopt(before, laid)
        _emit(bench, state, laid)
        done += 1
        more = bench.more(work.height, state.name, number, done)
        _close(
            bench,
            state,
            laid,
            index,
            place,
            technique="peyote",
            reinforce=0 if more else reinforce,
            hangs=more or bench.hangs_later(index, work.edge),
            walk=0 if more else walk,
        )
    cut_short = height.open and done < height.usual
    for rule in () if cut_short else rules:
        rule.refuse_unused(work, state.number, bench.place(index, key=rule.key))


def _ground(bench: Bench, state: WorkingEdge, number: int, place: Place) -> Ground:
    return Ground(
        state.edge,
        frozenset(state.ribs),
        frozenset(state.markers),
        bench.facing(state.name),
        state.codes_below,
        place,
        number,
        effort=bench.effort,
    )


def _runs(ground: Ground, spec: PlanRound, rules: Sequence[Stack], number: int, *, last: bool) -> list[Run]:
    if isinstance(spec, Written):
        return lay_written(ground, spec)
    claimed: dict[int, Make] = {}
    for rule in rules:
        claimed.update(rule.claims(ground, spec, number, last))
    return lay_ruled(ground, spec, claimed)


def _lay(
    bench: Bench,
    state: WorkingEdge,
    runs: list[Run],
    number: int,
    place: Place,
    unmarked: frozenset[int] = frozenset(),
) -> Laid:
    if state.edge.size < 2:
        what = "the last round left one up bead, and no round hangs from a single bead"
        raise PlanError(what, fix=f"the last round that works is {number - 1}", place=place)
    real = AsLaid(runs)
    if number:
        real = as_laid(runs, bench.deviating(state.name, number), state.turn, bench.codes, place)
    if not any(make.beads for make, _ in real.runs):
        raise PlanError("a round with no bead", fix=f"the last round that works is {number - 1}", place=place)
    changes = sum(count for make, count in real.runs if len(make.ups) != 1)
    if changes > MOST_CHANGES:
        raise PlanError(f"more than {MOST_CHANGES:,} increases and empty spaces in one round", place=place)
    bench.effort.spend(max(0, len(state.edge.marks) - state.edge.size // 2), place, _STACK)
    laid = lay(state.edge, real.runs, state.bounds, bench.new_column, strays=real.strays, lost=real.lost | unmarked)
    if laid.parting:
        bench.effort.spend(len(laid.born) * len(state.levels), place, _STACK)
        learn(bench, state, laid)
    return laid


def _emit(bench: Bench, state: WorkingEdge, laid: Laid) -> None:
    add = bench.out.add
    for make, count, flags in turned(laid.runs, state.turn):
        add(make.kind, make.beads, make.ups, flags, count=count)


def _close(
    bench: Bench,
    state: WorkingEdge,
    laid: Laid,
    index: int,
    place: Place,
    *,
    technique: str,
    reinforce: int,
    hangs: bool,
    walk: int,
) -> None:
    """The moves that end a round, and standing on the next edge."""
    out = bench.out
    number = state.number + 1
    if reinforce:
        out.add(Kind.REINFORCE, detail="round", count=reinforce)
    size = laid.edge.size
    end = step_up(turned(laid.runs, state.turn))
    chosen = bench.elsewhere.get((bench.part, state.name, number), 0) if hangs else 0
    planned = walk % size if hangs else 0
    walked = (planned + chosen) % size
    if hangs:
        if walked:
            out.add(Kind.WALK, detail=str(walked))
        passes = end.own + sum(state.beads_of(state.turn + nth) for nth in range(end.empty + 1))
        out.add(Kind.STEP_UP, detail="walked" if walked else str(passes))
    out.close_round(
        part=bench.part,
        edge=state.name,
        number=number,
        technique=technique,
        work=index,
        spaces=state.edge.size,
        below=state.last_round,
        begin=state.begin,
        place=place,
    )
    first = laid.up_before((state.turn + end.empty) % state.edge.size)
    state.take(laid, planned)
    state.turn_before, state.turn = state.turn, (first + chosen) % size
    state.begin = walked
    state.last_round = len(out.rounds) - 1
    state.number = number
    state.stepped = hangs
