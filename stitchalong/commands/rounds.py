"""The rounds of a course in words: the notation that is read from the needle, counts, and the moves."""

from __future__ import annotations

from collections.abc import Iterator

from stitchalong.course.course import Course, Round
from stitchalong.course.noting import move_words, round_notation, sides_in_words, zip_words
from stitchalong.course.outlook import Lookout
from stitchalong.course.sides import sides_of
from stitchalong.course.words import counted
from stitchalong.fabric.stitch import Kind
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
        yield zip_words(runs)
        yield from move_words(runs, item)
        return
    stitches = [stitch for stitch, _ in runs if stitch.visits_space]
    first = next(nth for nth, (stitch, _) in enumerate(runs) if stitch.beads or stitch.visits_space)
    yield from move_words(runs[:first], item)
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
    yield from move_words([run for run in runs[first:] if not run[0].visits_space and not run[0].beads], item)
