"""From a place as a person names it to a position of the course."""

from __future__ import annotations

from bisect import bisect_right

from stitchalong.course.course import Course
from stitchalong.course.outlook import Outlook
from stitchalong.course.sides import sides_of
from stitchalong.course.walker import position_on_side, round_index
from stitchalong.course.words import counted
from stitchalong.errors import UsageError
from stitchalong.plain.asked import Goal


def position(course: Course, outlook: Outlook, goal: Goal) -> int:
    """The position before the bead that is named, or before the first of the round or side.

    What is left out is taken from `outlook`, which tells where one is. Raises UsageError naming what there is.
    """
    index = _round(course, outlook, goal)
    item = course.rounds[index]
    if goal.side is not None:
        lengths = sides_of(course.runs_of(index)).lengths
        if goal.side > len(lengths):
            raise UsageError(f"that round has {counted(len(lengths), 'side')}, not {goal.side}")
        found = position_on_side(course, index, goal.side - 1, (goal.bead or 1) - 1)
        if found is None:
            raise UsageError(f"that side has not {counted(goal.bead or 1, 'bead')}")
        return found
    if goal.bead is None:
        return item.first_step
    if goal.bead > item.beads:
        raise UsageError(f"that round has {counted(item.beads, 'bead')}, not {goal.bead}")
    before = item.first_bead + goal.bead - 2
    run = bisect_right(course.run_bead, before) - 1
    return course.run_step[run] + before - course.run_bead[run]


def _round(course: Course, outlook: Outlook, goal: Goal) -> int:
    here = course.round_of(outlook.position)
    part = course.rounds[here].part
    if goal.band:
        bands = [index for index, item in enumerate(course.rounds) if item.technique == "band"]
        if not bands:
            raise UsageError("this piece has no band")
        return next((index for index in bands if course.rounds[index].part == part), bands[0])
    if goal.round is None and goal.edge in (None, course.rounds[here].edge):
        return here
    number = goal.round if goal.round is not None else 1
    for where, edge in _edges(course, part, outlook.edge):
        if goal.edge in (None, edge):
            index = round_index(course, edge, number, where)
            if index is not None:
                return index
    numbers = [n for item in course.rounds if goal.edge in (None, item.edge) for n in item.numbers]
    on = f" on the {goal.edge} edge" if goal.edge else ""
    if not numbers:
        raise UsageError(f"this piece has no {goal.edge} edge")
    raise UsageError(f"there is no round {number}{on}", fix=f"rounds go from {min(numbers)} to {max(numbers)}{on}")


def _edges(course: Course, part: str, edge: str) -> list[tuple[str, str]]:
    """All edges of all parts, those that are near first."""
    others = [name for name in course.part_names if name != part]
    every = [(part, edge), *((name, one) for name in (part, *others) for one in course.edges_of(name))]
    return list(dict.fromkeys(every))
