"""Spaces of a round by number, and the beads between two positions."""

from __future__ import annotations

from collections import Counter

from stitchalong.course.course import Course
from stitchalong.course.sides import Sides, Stretch, sides_of


def step_of_space(course: Course, index: int, space: int) -> int:
    """The step before which the stitch in this space (0-based, in working order) stands; the step behind the last such
    stitch where the round has fewer."""
    item = course.rounds[index]
    behind = item.first_step
    for run in range(item.first_run, item.stop_run):
        stitch = course.stitch_of(run)
        if not stitch.visits_space:
            continue
        count = course.count_of(run)
        if space < count:
            return course.run_step[run] + space * stitch.steps
        space -= count
        behind = course.run_step[run + 1]
    return behind


def spaces_done(course: Course, index: int, position: int) -> int:
    """How many spaces of this round are finished at a position."""
    item = course.rounds[index]
    done = 0
    for run in range(item.first_run, item.stop_run):
        if course.run_step[run] >= position:
            break
        stitch = course.stitch_of(run)
        if stitch.visits_space:
            done += min(course.count_of(run), (position - course.run_step[run]) // stitch.steps)
    return done


def steps_of_stretch(course: Course, index: int, stretch: Stretch) -> tuple[int, int]:
    """First step of a stretch of a side, and the step behind it; what a start lays before its first space belongs
    to the first stretch."""
    first = step_of_space(course, index, stretch.start) if stretch.start else course.rounds[index].first_step
    return first, step_of_space(course, index, stretch.stop)


def stretch_at(course: Course, index: int, position: int) -> tuple[Sides, Stretch | None]:
    """The sides of a round, and the stretch in which the next stitch lies; None on a rib and at a move."""
    sides = sides_of(course.runs_of(index))
    item = course.rounds[index]
    if not item.first_step <= position < item.stop_step or not course.spot(position).stitch.visits_space:
        return sides, None
    return sides, sides.stretch_of(spaces_done(course, index, position))


def beads_between(course: Course, start: int, stop: int) -> Counter[str]:
    """Beads laid by the steps from `start` to `stop` (half-open), by code."""
    found: Counter[str] = Counter()
    if stop <= start:
        return found
    for run in range(course.run_of(start), course.run_of(stop - 1) + 1):
        beads = course.stitch_of(run).beads
        if not beads:
            continue
        first = max(start, course.run_step[run]) - course.run_step[run]
        last = min(stop, course.run_step[run + 1]) - course.run_step[run]
        for nth, code in enumerate(beads):
            # how many of the steps first … last - 1 are bead `nth` of their stitch
            found[code] += (last - nth - 1) // len(beads) - (first - nth - 1) // len(beads)
    return found
