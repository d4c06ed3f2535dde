"""The rounds of a course in words: the notation that is read from the needle, counts, and the moves."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from stitchalong.course.course import Course, Round
from stitchalong.course.noting import round_notation
from stitchalong.course.outlook import Lookout
from stitchalong.course.sides import sides_of
from stitchalong.course.words import counted
from stitchalong.fabric.stitch import Kind, Stitch
from stitchalong.plan.model import Plan


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
    if item.technique == "zip":
        passes = sum(count for stitch, count in runs if stitch.kind is Kind.JOIN)
        yield f"zip the edges together in {counted(passes, 'pass', 'passes')}, without a bead"
        yield from _moves(runs, item)
        return
    stitches = [stitch for stitch, _ in runs if stitch.visits_space]
    first = next(nth for nth, (stitch, _) in enumerate(runs) if stitch.beads or stitch.visits_space)
    yield from _moves(runs[:first], item)
    written = round_notation(course, index)
    if item.technique == "band":
        yield f"{counted(item.spaces, 'unit')} of right-angle weave, spacers {written}"
    elif stitches[0].kind is Kind.STRING:
        yield f"string {written}"
    else:
        yield written
    yield f"{counted(item.spaces, 'stitch', 'stitches')}, {counted(item.beads, 'bead')}"
    lengths = sides_of(runs).lengths
    if len(lengths) > 1:
        yield f"sides of {sides_in_words(lengths)}"
    yield from _moves([run for run in runs[first:] if not run[0].visits_space and not run[0].beads], item)


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
