"""What a round lays, space by space, by bead number."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from stitchalong.course.course import Course


@dataclass(frozen=True, slots=True)
class Cell:
    """The beads of one stitch that fills a space."""

    beads: tuple[int, ...]
    """in the order picked up"""
    codes: tuple[str, ...]
    ups: tuple[int, ...]
    """indexes of those that stand up"""


def cells(course: Course, index: int) -> Iterator[Cell]:
    """The stitches of a round that fill spaces, in working order; empty spaces too. Beads of moves are left out."""
    item = course.rounds[index]
    for run in range(item.first_run, item.stop_run):
        stitch = course.stitch_of(run)
        if not stitch.visits_space:
            continue
        number, size = course.run_bead[run] + 1, len(stitch.beads)
        for nth in range(course.count_of(run)):
            first = number + nth * size
            yield Cell(tuple(range(first, first + size)), stitch.beads, stitch.ups)


def beads(course: Course, index: int) -> Iterator[tuple[int, str]]:
    """All beads of a round with their codes, in the order picked up."""
    item = course.rounds[index]
    number = item.first_bead
    for run in range(item.first_run, item.stop_run):
        stitch = course.stitch_of(run)
        for _ in range(course.count_of(run) if stitch.beads else 0):
            for code in stitch.beads:
                yield number, code
                number += 1


@dataclass(frozen=True, slots=True)
class Told:
    """A stitch or move of a round that tells each of its passes."""

    beads: tuple[tuple[int, str], ...]
    """number and code of each, in the order picked up"""
    through: tuple[int, ...]
    """the beads passed, in order"""
    fills: bool
    """whether it fills a space"""


def told(course: Course, index: int) -> Iterator[Told]:
    """All that is done in a round, one after the other, with the beads passed; none of those where passes follow by
    arithmetic."""
    item = course.rounds[index]
    entry, number = item.first_pass, item.first_bead
    for run in range(item.first_run, item.stop_run):
        stitch = course.stitch_of(run)
        for _ in range(course.count_of(run)):
            through = tuple(course.passes.entry(entry)) if entry >= 0 else ()
            yield Told(tuple(enumerate(stitch.beads, start=number)), through, stitch.visits_space)
            entry += entry >= 0
            number += len(stitch.beads)
