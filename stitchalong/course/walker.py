"""Moving along a course. Every state is a value, so undo is going to an earlier position, never inverse work."""

from __future__ import annotations

from dataclasses import replace
from enum import StrEnum

from stitchalong.course.course import Course
from stitchalong.course.rounds import Rounds
from stitchalong.course.sides import sides_of
from stitchalong.fabric.stitch import Note
from stitchalong.values import value


class Unit(StrEnum):
    """How far one undo goes."""

    BEAD = "bead"
    STITCH = "stitch"
    SIDE = "side"
    ROUND = "round"
    PART = "part"
    """the band or other start, the rounds of one edge, a part with a name"""


@value
class Walker:
    """A place in a course, and how far redo can go forward again."""

    position: int = 0
    redo_to: int = 0

    def pressed(self, course: Course, steps: int = 1) -> Walker:
        """So many steps on: as far as the end, or the next question that the stitcher has to answer."""
        target = min(self.position + steps, ahead(course, self.position))
        return Walker(target, target) if target != self.position else self

    def back(self, steps: int = 1) -> Walker:
        """So many steps back, as far as the first bead. Redo can return."""
        return replace(self, position=max(0, self.position - steps))

    def forward_again(self, steps: int = 1) -> Walker:
        """Take back an undo."""
        return replace(self, position=min(self.redo_to, self.position + steps))

    def moved_to(self, position: int) -> Walker:
        """Elsewhere at once; redo starts anew."""
        return Walker(position, position)


def ahead(course: Course, position: int) -> int:
    """How far one can go from here: the next unanswered question, or the end."""
    for decision in course.decisions:
        if decision.step >= position:
            return decision.step
    return course.steps


def stitch_end(course: Course, position: int) -> int:
    """The position at which the stitch at hand is finished."""
    if position >= course.steps:
        return course.steps
    spot = course.spot(position)
    return position - spot.step + spot.stitch.steps


def start_of(course: Course, position: int, unit: Unit) -> int:
    """Where an undo by this unit leads: the start of the bead, stitch, side or round that was last worked on."""
    if position <= 0:
        return 0
    if unit is Unit.BEAD:
        return position - 1
    spot = course.spot(position - 1)
    stitch_start = spot.position - spot.step
    if unit is Unit.STITCH:
        return stitch_start
    item = course.rounds[spot.round]
    if unit is Unit.ROUND:
        return item.first_step
    if unit is Unit.PART:
        return _start_of_part(course, spot.round)
    # the start of a side: right behind the last rib or boundary, or the round's start
    if spot.stitch.has(Note.RIB):
        return stitch_start
    run = spot.run
    if spot.stitch.has(Note.ENDS_SIDE) and spot.nth:
        return course.run_step[run] + spot.nth * spot.stitch.steps
    run -= 1
    while run >= item.first_run:
        stitch = course.stitch_of(run)
        if stitch.has(Note.RIB) or stitch.has(Note.ENDS_SIDE):
            break
        run -= 1
    return course.run_step[run + 1] if run >= item.first_run else item.first_step


def _start_of_part(course: Course, index: int) -> int:
    """The first step of the rounds without a break on one edge of one part; a start stands by itself."""

    def key(at: int) -> tuple[str, str, bool]:
        item = course.rounds[at]
        return item.part, item.edge, item.below < 0

    first = index
    while first and key(first - 1) == key(index):
        first -= 1
    return course.rounds[first].first_step


@value
class Address:
    """A place by what a stitcher can say of it. Rounds as numbered, the rest 0-based."""

    part: str
    edge: str
    round: int
    stitch: int
    """how many stitches and moves of the round are done"""
    step: int
    """beads of the next one that are on the needle"""


def address_of(course: Course, position: int) -> Address:
    """The address of a position."""
    if position >= course.steps:
        item = course.rounds[-1]
        return Address(item.part, item.edge, item.number, _stitches_before(course, item.first_run, item.stop_run), 0)
    spot = course.spot(position)
    item = course.rounds[spot.round]
    stitch = _stitches_before(course, item.first_run, spot.run) + spot.nth
    return Address(item.part, item.edge, item.number, stitch, spot.step)


def _stitches_before(course: Course, first: int, stop: int) -> int:
    return sum(course.count_of(run) for run in range(first, stop))


def round_index(course: Course, edge: str, number: int, part: str | None = None) -> int | None:
    """The index of a round by edge and number (of the first part where none is named)."""
    part = course.rounds[0].part if part is None else part
    if isinstance(course.rounds, Rounds):
        return course.rounds.index_of(part, edge, number)
    for index, item in enumerate(course.rounds):
        if item.part == part and item.edge == edge and number in item.numbers:
            return index
    return None


def position_of(course: Course, address: Address) -> int | None:
    """The position of an address; None where the course has no such round, its end where it has fewer stitches."""
    index = round_index(course, address.edge, address.round, address.part)
    if index is None:
        return None
    item = course.rounds[index]
    left = address.stitch
    for run in range(item.first_run, item.stop_run):
        count = course.count_of(run)
        if left < count:
            stitch = course.stitch_of(run)
            return course.run_step[run] + left * stitch.steps + min(address.step, stitch.steps - 1)
        left -= count
    return item.stop_step


def same_place(old: Course, new: Course, position: int) -> int:
    """The position in another course of the same piece that has the address of this one; the nearest where that course
    has no such round."""
    found = position_of(new, address_of(old, position))
    return min(position, new.steps) if found is None else found


def position_on_side(course: Course, index: int, side: int, bead: int) -> int | None:
    """The position before bead `bead` (0-based) of a side (0-based, counted from the round's first stitch)."""
    item = course.rounds[index]
    sides = sides_of(course.runs_of(index))
    left = bead
    for stretch in sides.stretches:
        if stretch.side != side:
            continue
        here = 0
        for run in range(item.first_run, item.stop_run):
            stitch = course.stitch_of(run)
            if not stitch.visits_space:
                continue
            count = course.count_of(run)
            size = len(stitch.beads)
            first, last = max(here, stretch.start), min(here + count, stretch.stop)
            if first < last:
                beads = (last - first) * size
                if left < beads:
                    return course.run_step[run] + (first - here) * stitch.steps + left
                left -= beads
            here += count
    return None
