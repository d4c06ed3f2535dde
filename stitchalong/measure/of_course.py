"""What a course asks for: its beads, its thread, whether it lies flat.

Everything here goes once over the runs of a course, and over single beads only where a pass goes through a whole row.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import groupby

from stitchalong.course.course import Course, Round
from stitchalong.course.report import totals
from stitchalong.course.threads import Threads
from stitchalong.fabric.stitch import Note
from stitchalong.measure.beads import BeadSize, Sized, sized
from stitchalong.measure.flat import Flatness, Verdict, flatness, growth_of
from stitchalong.measure.thread import Stretch
from stitchalong.plan.items import codes_in
from stitchalong.plan.model import Band, Foundation, Plan, RingStart, TubeStart

# ---- beads --------------------------------------------------------------------------------------


def bead_sizes(plan: Plan) -> dict[str, Sized]:
    """What each bead of the palette measures, or why that is not known, by code."""
    return {bead.code: sized(bead) for bead in plan.beads}


def counts(course: Course, plan: Plan) -> dict[str, int]:
    """Beads of each code in the work, in the palette's order; codes that are not used are left out."""
    found = totals(course)
    return {bead.code: found[bead.code] for bead in plan.beads if bead.code in found}


def frame_bead(plan: Plan) -> BeadSize | None:
    """The bead that decides how large the work comes out: of a band the top one, of beads strung the first of the
    palette among them; None where its measures are not known."""
    start = plan.work[0] if plan.work else None
    if isinstance(start, Band):
        codes = {start.top}
    elif isinstance(start, TubeStart | RingStart | Foundation) and start.beads is not None:
        codes = codes_in(start.beads)
    elif isinstance(start, Foundation) and isinstance(frame := start.option("frame"), str):
        codes = {frame}
    else:
        return None
    return next((sized(bead).size for bead in plan.beads if bead.code in codes), None)


# ---- thread -------------------------------------------------------------------------------------


def bead_lengths(plan: Plan) -> tuple[dict[str, float], tuple[str, ...]]:
    """Millimetres along the hole by code, and what is missing. A bead without a length counts as the palette's mean;
    empty where no bead has one."""
    sizes = bead_sizes(plan)
    known = {code: one.size.length for code, one in sizes.items() if one.size and one.size.length is not None}
    notes = tuple(one.note for code, one in sizes.items() if code not in known and one.note)
    if not known:
        return {}, notes
    mean = sum(known.values()) / len(known)
    return {code: known.get(code, mean) for code in sizes}, notes


def stretches(course: Course, lengths: Mapping[str, float]) -> Iterator[Stretch]:
    """Thread for every run of the course, without slack; `lengths` is mm along the hole, for every code of the work.

    A stitch passes the beads that it picks up and those that close it; where that is an up bead of the round below, it
    is taken at the mean length of that round's. Moves without a bead pass what the course says.
    """
    threads = Threads(course)
    ups: list[float] = []
    for index, item in enumerate(course.rounds):
        view = threads.view(index)
        ups.append(_mean_up(course, index, lengths))
        below = ups[item.below] if item.below >= 0 else 0.0
        if item.technique == "fill":
            below = lengths[threads.code(view.lower(0))]
        part, label = _labels(item)
        for run in range(item.first_run, item.stop_run):
            stitch = course.stitch_of(run)
            each = sum(lengths[code] for code in stitch.beads)
            if item.first_pass >= 0:
                count = course.count_of(run)
                passed = (lengths[threads.code(bead)] for nth in range(count) for bead in view.through(run, nth))
                each += sum(passed) / count
            elif item.below >= 0 and stitch.visits_space:
                each += below
            else:
                each += sum(lengths[threads.code(bead)] for bead in view.through(run))
            yield Stretch(part, label, course.count_of(run), each)


def positions(course: Course, changes: Iterable[int]) -> tuple[int, ...]:
    """Where the changes of thread fall that `plan_thread` gives for a course's stretches, in steps from the start.

    `changes` are ascending numbers of stitches and moves done.
    """
    found: list[int] = []
    run = done = 0
    for change in changes:
        while done + course.count_of(run) <= change:
            done += course.count_of(run)
            run += 1
        found.append(course.run_step[run] + (change - done) * course.stitch_of(run).steps)
    return tuple(found)


def _labels(item: Round) -> tuple[str, str]:
    if item.below < 0:
        return item.technique, item.technique
    return f"{item.edge} edge", f"round {item.number} on the {item.edge} edge"


def _mean_up(course: Course, index: int, lengths: Mapping[str, float]) -> float:
    """Mean length of the up beads that a round lays; of a band, of its spacers."""
    is_band = course.rounds[index].technique == "band"
    whole, number = 0.0, 0
    for stitch, count in course.runs_of(index):
        ups = stitch.ups if not is_band else (0,) if stitch.visits_space else ()
        whole += count * sum(lengths[stitch.beads[at]] for at in ups)
        number += count * len(ups)
    return whole / number if number else 0.0


# ---- flatness -----------------------------------------------------------------------------------


FINS = "it hangs from a band: what lies between the ribs rises as fins, and the angle only tells how full they are"


@dataclass(frozen=True, slots=True)
class PartFlatness:
    """Whether the rounds of one piece of work on one edge lie flat."""

    edge: str
    first: int
    """round numbers"""
    last: int
    flatness: Flatness
    fins: bool = False
    """whether it hangs from a band or a tube and is too full to lie flat: its ribs stand, as is meant"""


def flat_parts(course: Course, plan: Plan) -> tuple[PartFlatness, ...]:
    """The verdict on every stretch of rounds that the plan lists together, where the bead's measures are
    known.

    Columns are those of the bead that most of the stretch is laid in.
    """
    sizes = bead_sizes(plan)
    found: list[PartFlatness] = []
    numbered = [
        (index, item) for index, item in enumerate(course.rounds) if item.technique == "peyote" and not item.below < 0
    ]
    for (_, edge), group in groupby(numbered, key=lambda pair: (pair[1].work, pair[1].edge)):
        part = list(group)
        ups = [part[0][1].spaces]
        codes: dict[str, int] = {}
        changes: list[int] = []
        for index, _item in part:
            laid = 0
            changed = 0
            for stitch, number in course.runs_of(index):
                laid += number * len(stitch.ups)
                changed += number * stitch.has(Note.INCREASE | Note.DECREASE)
                for code in stitch.beads:
                    codes[code] = codes.get(code, 0) + number
            ups.append(laid)
            changes.append(changed)
        bead = sizes[max(codes, key=lambda code: codes[code])].size if codes else None
        ribs = _ribs(changes)
        verdict = flatness(growth_of(ups, ribs), bead, ribs) if bead else None
        if verdict:
            hangs = ribs > 0 and verdict.growth > 0 and _begins_open(course, part[0][1].part)
            if hangs:
                verdict = replace(verdict, doubt="; ".join(filter(None, (FINS, verdict.doubt))))
            fins = hangs and verdict.verdict in (Verdict.SADDLE, Verdict.RUFFLE)
            found.append(PartFlatness(edge, part[0][1].number, part[-1][1].number, verdict, fins))
    return tuple(found)


def _begins_open(course: Course, part: str) -> bool:
    """Whether a part begins as a band or a tube, and not in a point."""
    return next(item.technique for item in course.rounds if item.part == part) in ("band", "tube")


def _ribs(changes: list[int]) -> int:
    """Ribs of a stretch: as many increases or decreases as most rounds have that have any; 0 where no number comes
    twice and they differ: growth is spread round."""
    some = Counter(number for number in changes if number)
    if not some:
        return 0
    ((ribs, rounds),) = some.most_common(1)
    return ribs if rounds > 1 or len(some) == 1 else 0
