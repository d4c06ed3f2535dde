"""What can be counted in the hand at a place: the side that was just finished, and the round."""

from __future__ import annotations

from bisect import bisect_left

from stitchalong.course.course import Course
from stitchalong.course.outlook import Lookout, word_of
from stitchalong.course.sides import Stretch
from stitchalong.course.spaces import beads_between, spaces_done, step_of_space, steps_of_stretch, stretch_at
from stitchalong.values import value


@value
class Checkpoint:
    """A stretch of one round whose beads (in a band, units) can be counted."""

    label: str
    """`side 2 of 4`, `this round`, `this round so far`"""
    title: str
    """`round 5, top edge`"""
    index: int
    """of the round in the course"""
    start: int
    stop: int
    """spaces, half-open, 0-based in working order"""
    expected: int
    unit: str
    """`bead` or `unit`"""
    side: int | None = None
    """0-based; None for a round"""
    first: bool = False
    """it begins where the round begins"""
    last: bool = False
    """it ends where the round ends"""


def checkpoints(lookout: Lookout, position: int) -> tuple[Checkpoint, ...]:
    """What can be counted at a position, the smallest first; nothing before the first stitch is done."""
    course = lookout.course
    if position <= 0:
        return ()
    index = course.round_of(position - 1)
    done = spaces_done(course, index, position)
    if not done:
        return ()
    item = course.rounds[index]
    spaces = _spaces(course, index)
    title, word = lookout.round_title(index), word_of(item)
    sides, _ = stretch_at(course, index, position)
    found: list[Checkpoint] = []
    finished = [stretch for stretch in sides.stretches if stretch.stop <= done]
    if finished and len(sides.stretches) > 1:
        stretch = finished[-1]
        cut = sides.other_part(stretch) is not None
        part = ("first part of " if not stretch.start else "last part of ") if cut else ""
        label = f"{part}side {stretch.side + 1} of {len(sides.lengths)}"
        found.append(_counted(course, index, stretch, label, title, stretch.side, spaces))
    whole = "the band" if item.technique == "band" else f"this {word}"
    label = whole if done == spaces else f"{whole} so far"
    found.append(_counted(course, index, Stretch(0, done, 0), label, title, None, spaces))
    return tuple(found)


def _counted(
    course: Course, index: int, stretch: Stretch, label: str, title: str, side: int | None, spaces: int
) -> Checkpoint:
    if course.rounds[index].technique == "band":
        # the first unit carries no spacer of its own and is counted all the same
        expected, unit = stretch.stop - stretch.start, "unit"
    else:
        expected, unit = beads_between(course, *steps_of_stretch(course, index, stretch)).total(), "bead"
    start, stop = stretch.start, stretch.stop
    return Checkpoint(label, title, index, start, stop, expected, unit, side, start == 0, stop == spaces)


def _spaces(course: Course, index: int) -> int:
    return spaces_done(course, index, course.rounds[index].stop_step)


def place_counted(course: Course, checkpoint: Checkpoint, counted: int, position: int) -> int | None:
    """Where the count should stand if so many are there and the work is right; None where that cannot be: a side holds
    no more than the plan has, and a round that lies further back was left."""
    index = checkpoint.index
    if course.round_of(max(0, position - 1)) != index:
        return None
    if checkpoint.unit == "unit":
        there = checkpoint.start + counted
        most = checkpoint.stop if checkpoint.side is not None else _spaces(course, index)
        return step_of_space(course, index, there) if there <= most else None
    start, stop = steps_of_stretch(course, index, Stretch(checkpoint.start, checkpoint.stop, 0))
    last = stop if checkpoint.side is not None else course.rounds[index].stop_step
    beads = course.beads_before(start) + counted
    place = start + bisect_left(range(start, last + 1), beads, key=course.beads_before)
    return place if place <= last else None


def take_out(course: Course, position: int, index: int, space: int) -> int:
    """Beads to take out at a position to come back to this space of a round."""
    return course.beads_before(position) - course.beads_before(step_of_space(course, index, space))
