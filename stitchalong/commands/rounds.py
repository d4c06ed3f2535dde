"""The rounds of a course in words: the notation that is read from the needle, counts, and the moves."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from stitchalong.course.course import Course, Round
from stitchalong.course.outlook import Lookout
from stitchalong.course.sides import sides_of
from stitchalong.course.words import counted
from stitchalong.fabric.stitch import Kind, Stitch
from stitchalong.plan.model import Item, Lay, Plan, Repeat, Written
from stitchalong.plan.wording import print_round

_LONGEST_REPEAT = 24
"""stitches' runs in a repeat that is looked for"""

_FORMS = {
    Kind.SINGLE: "single",
    Kind.PAIR: "together",
    Kind.PICOT: "picot",
    Kind.CORNER: "corner",
    Kind.SKIP: "no bead",
}


def round_lines(course: Course, plan: Plan) -> Iterator[str]:
    """The title, the beads, and a line for each round."""
    yield f"{course.title}: {counted(course.beads, 'bead')}"
    for bead in plan.beads:
        more = " ".join(part for part in (bead.size, bead.shape) if part)
        yield f"  {bead.code}: {bead.name}{', ' + more if more else ''}"
    look = Lookout(course, {bead.code: bead.name for bead in plan.beads})
    for index, item in enumerate(course.rounds):
        yield f"{look.round_title(index)}: {'; '.join(_parts(course, item, index))}"


def _parts(course: Course, item: Round, index: int) -> Iterator[str]:
    runs = list(course.runs_of(index))
    stitches = [(stitch, count) for stitch, count in runs if stitch.visits_space]
    first = next(nth for nth, (stitch, _) in enumerate(runs) if stitch.beads or stitch.visits_space)
    yield from _moves(runs[:first], item)
    if item.technique == "band":
        yield f"{counted(item.spaces, 'unit')} of right-angle weave, spacers {notation(_spacers(stitches))}"
    elif stitches[0][0].kind is Kind.STRING:
        yield f"string {notation([(Lay('single', stitch.beads), count) for stitch, count in stitches])}"
    else:
        yield notation([(Lay(_FORMS[stitch.kind], stitch.beads), count) for stitch, count in stitches])
    yield f"{counted(item.spaces, 'stitch', 'stitches')}, {counted(item.beads, 'bead')}"
    lengths = sides_of(runs).lengths
    if len(lengths) > 1:
        yield f"sides of {sides_in_words(lengths)}"
    yield from _moves([run for run in runs[first:] if not run[0].visits_space and not run[0].beads], item)


def _spacers(stitches: Sequence[tuple[Stitch, int]]) -> list[tuple[Lay, int]]:
    """The spacers of a band, which every unit picks up first; the last one is picked up by itself."""
    return [(Lay("single", stitch.beads[:1]), count) for stitch, count in stitches]


def _moves(runs: Sequence[tuple[Stitch, int]], item: Round) -> Iterator[str]:
    for stitch, count in runs:
        match stitch.kind:
            case Kind.STEP_UP if stitch.detail.isdigit():
                yield f"step up through {counted(int(stitch.detail), 'bead')}"
            case Kind.STEP_UP:
                yield "step up"
            case Kind.WALK:
                yield f"walk along {counted(int(stitch.detail), 'space')}"
            case Kind.REINFORCE:
                yield "pass through once more" if count == 1 else f"pass through {count} times more"
            case Kind.CROSS:
                yield f"cross to the {item.edge} edge"
            case Kind.TURN:
                yield "turn"


def sides_in_words(sides: Sequence[int]) -> str:
    """`6 7 6 5`; many equal ones by their number, `40 times 6`."""
    words = []
    for length, same in groupby(sides):
        count = len(list(same))
        words.append(f"{count} times {length}" if count > 6 else " ".join([str(length)] * count))
    return " ".join(words)


# ---- notation -----------------------------------------------------------------------------------


def notation(runs: Sequence[tuple[Lay, int]]) -> str:
    """Runs of stitches as the trade writes them, with repeats where there are some."""
    lays: list[Lay] = []
    for lay, count in runs:
        if lays and (lays[-1].form, lays[-1].codes) == (lay.form, lay.codes):
            lays[-1] = Lay(lay.form, lay.codes, lays[-1].count + count)
        else:
            lays.append(Lay(lay.form, lay.codes, count))
    return print_round(Written(tuple(_folded(lays))))


def _folded(lays: Sequence[Lay]) -> Iterator[Item]:
    """The same stitches, with what comes several times in a row written as a repeat."""
    at = 0
    while at < len(lays):
        length, times = _best_repeat(lays, at)
        if times > 1:
            yield Repeat(tuple(lays[at : at + length]), times)
            at += length * times
        else:
            yield lays[at]
            at += 1


def _best_repeat(lays: Sequence[Lay], at: int) -> tuple[int, int]:
    """(length, times) of the repeat from here that covers most, the shorter one of two."""
    best = (1, 1)
    for length in range(2, min(_LONGEST_REPEAT, (len(lays) - at) // 2) + 1):
        times = 1
        while lays[at + times * length : at + (times + 1) * length] == lays[at : at + length]:
            times += 1
        if times > 1 and length * times > best[0] * best[1]:
            best = (length, times)
    return best
