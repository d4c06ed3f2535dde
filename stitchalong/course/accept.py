"""Accepting a count as it is: which spaces are taken to differ from the plan."""

from __future__ import annotations

from stitchalong.course.checkpoints import Checkpoint
from stitchalong.course.choices import Deviation
from stitchalong.course.course import Course
from stitchalong.course.recount import Fault, Slip, Where
from stitchalong.course.sides import sides_of
from stitchalong.course.words import counted
from stitchalong.errors import UsageError
from stitchalong.fabric.stitch import Kind, Stitch

MOST = 3
"""beads more or fewer that are accepted on one side"""

_NO_BEAD = frozenset({Slip.FLANK, Slip.INSIDE, Slip.AS_ONE, Slip.ELSEWHERE, Slip.STEP_UP})


def accepting(
    course: Course, checkpoint: Checkpoint, difference: int, fault: Fault | None = None, where: Where | None = None
) -> tuple[Deviation, ...]:
    """What makes the plan agree with the count: at the place that was found, the rest somewhere on this side.

    `difference` is counted less expected; `fault` and `where` name what was seen, if anything was. Raises UsageError
    where it cannot be accepted.
    """
    item = course.rounds[checkpoint.index]
    if item.technique != "peyote":
        raise UsageError(
            f"{checkpoint.title} cannot be accepted as it is", fix="mend it; only rounds of peyote can be accepted"
        )
    if abs(difference) > MOST:
        raise UsageError(
            f"{counted(abs(difference), 'bead')} {'more' if difference > 0 else 'fewer'} are too many to accept",
            fix="pull back and stitch it again",
        )
    found: list[Deviation] = []
    if fault is not None and where is not None:
        found.append(_seen(course, checkpoint, fault, where))
        difference -= fault.effect
    if difference:
        found += _somewhere(course, checkpoint, difference, {one.space for one in found})
    return tuple(found)


def _deviation(course: Course, checkpoint: Checkpoint, space: int, laid: tuple[str, ...], somewhere: bool) -> Deviation:
    item = course.rounds[checkpoint.index]
    return Deviation(item.edge, item.number, space, laid, item.part, somewhere)


def _seen(course: Course, checkpoint: Checkpoint, fault: Fault, where: Where) -> Deviation:
    planned = _stitches(course, checkpoint.index, where.space, where.space + 1)[0][1]
    if fault.slip is Slip.SHORT_PAIR:
        laid = planned.beads[:1]
    elif fault.slip is Slip.TOO_MANY:
        laid = (*planned.beads, planned.beads[-1]) if planned.beads else ()
    elif fault.slip in _NO_BEAD and fault.effect < 0:
        laid = ()
    else:
        raise UsageError(f"{fault.words}: this cannot be accepted as it is", fix="pull back to there")
    if laid == planned.beads:
        raise UsageError(f"{where.words} there is nothing to accept", fix="count once more")
    return _deviation(course, checkpoint, where.space, laid, False)


def _somewhere(course: Course, checkpoint: Checkpoint, difference: int, taken: set[int]) -> list[Deviation]:
    """So many beads more or fewer, near the middle of the side, no two of them beside each other."""
    if checkpoint.side is None and len(sides_of(course.runs_of(checkpoint.index)).lengths) > 1:
        raise UsageError("on which side is it?", fix="count each side, and accept the one that differs")
    middle = (checkpoint.start + checkpoint.stop - 1) / 2
    singles = [
        (space, stitch)
        for space, stitch in _stitches(course, checkpoint.index, checkpoint.start, checkpoint.stop)
        if stitch.kind is Kind.SINGLE
    ]
    singles.sort(key=lambda one: (bool(one[1].notes), abs(one[0] - middle), one[0]))
    found: list[Deviation] = []
    for space, stitch in singles:
        if len(found) == abs(difference):
            break
        if taken & {space - 1, space, space + 1}:
            continue
        taken.add(space)
        laid = stitch.beads * 2 if difference > 0 else ()
        found.append(_deviation(course, checkpoint, space, laid, True))
    if len(found) < abs(difference):
        raise UsageError("this side is too short to accept that", fix="pull back and stitch it again")
    return found


def _stitches(course: Course, index: int, start: int, stop: int) -> list[tuple[int, Stitch]]:
    """The stitches of a round that visit the spaces from `start` to `stop` (half-open)."""
    found: list[tuple[int, Stitch]] = []
    here = 0
    for stitch, count in course.runs_of(index):
        if stitch.visits_space:
            found += [(at, stitch) for at in range(max(here, start), min(here + count, stop))]
            here += count
    return found
