"""What a piece asks for, from its course: beads to buy, thread and where it changes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from stitchalong.course.course import Course
from stitchalong.course.outlook import Lookout
from stitchalong.course.walker import address_of
from stitchalong.errors import UsageError
from stitchalong.measure.book import Book, measured, measured_thread
from stitchalong.measure.gauge import PEYOTE, RAW, STANDING, Measurement, Per, measured_ring
from stitchalong.measure.materials import Material, materials
from stitchalong.measure.measured import Measured
from stitchalong.measure.of_course import bead_lengths, bead_sizes, counts, positions, stretches
from stitchalong.measure.of_start import asks_for, ring_count, way_of
from stitchalong.measure.rings import column_in_circle
from stitchalong.measure.sizes import RingSize
from stitchalong.measure.thread import WORKING, ThreadPlan, plan_thread
from stitchalong.plan.model import Plan


def beads_of(course: Course, plan: Plan, people: int = 1) -> tuple[Material, ...]:
    """Beads of each code for so many people. Raises UsageError."""
    return materials(counts(course, plan), bead_sizes(plan), people=people)


@dataclass(frozen=True, slots=True)
class ThreadNeed:
    """Thread for a piece."""

    plan: ThreadPlan
    changes: tuple[int, ...]
    """positions in steps at which a new length is begun"""
    notes: tuple[str, ...]
    """beads whose length is not known"""


def thread_of(course: Course, plan: Plan, book: Book, working: float = WORKING) -> ThreadNeed:
    """Thread for a piece, in lengths of `working` mm. Raises UsageError where no bead's length is known."""
    lengths, notes = bead_lengths(plan)
    if not lengths:
        raise UsageError(
            "no thread can be reckoned: the plan does not say how large its beads are",
            fix="give size and shape of each bead in the plan",
        )
    found = plan_thread(stretches(course, lengths), working=working, slack=book.slack())
    return ThreadNeed(found, positions(course, found.changes), notes)


def place_words(course: Course, plan: Plan, places: Sequence[int]) -> list[str]:
    """Positions in words: `round 3, top edge, side 2 of 4, stitch 14`."""
    lookout = Lookout(course, {bead.code: bead.name for bead in plan.beads})
    words = []
    for place in places:
        outlook = lookout.at(place)
        parts = [outlook.title]
        if outlook.side is not None and outlook.sides > 1:
            parts.append(f"side {outlook.side + 1} of {outlook.sides}")
        parts.append(f"stitch {address_of(course, place).stitch + 1}")
        words.append(", ".join(parts))
    return words


# ---- a finished piece ---------------------------------------------------------------------------


def measured_size(course: Course, plan: Plan, size: RingSize, tension: str, uid: str) -> Measured:
    """The gauge that a finished ring tells. Raises UsageError for a piece that is none, or a size that cannot be."""
    asks = asks_for(plan)
    if asks is None and (unknown := [one.note for one in bead_sizes(plan).values() if one.note]):
        raise UsageError(f"no gauge can be kept: {unknown[0]}", fix="give size and shape of each bead in the plan")
    if asks is None or way_of(plan) is None:
        raise UsageError(
            "this piece is no ring, so a ring size tells no gauge", fix="`stitchalong gauge add` takes a swatch"
        )
    one = measured_ring(ring_count(course, plan), size)
    wall = math.pi * (asks.bead.outside or 0.0)
    if asks.stitch in STANDING:
        each = column_in_circle(asks.bead, one.count, one.length)
        one = Measurement(one.count, one.count * each, one.error)
    elif asks.stitch == PEYOTE and asks.per is Per.ROW:
        one = Measurement(one.count, one.length + wall, one.error)
    elif asks.stitch == PEYOTE:
        length = one.length + (0.0 if asks.bead.flat_ended else wall)
        one = Measurement(course.rounds[0].beads, length, one.error)
    elif asks.stitch == RAW:
        one = Measurement(one.count, one.length + wall, one.error)
    return measured(asks.bead, asks.stitch, asks.per, one, tension, uid)


def measured_use(course: Course, plan: Plan, used: float, uid: str) -> Measured:
    """What the thread that a finished piece took tells; `used` in mm. Raises UsageError."""
    lengths, _ = bead_lengths(plan)
    need = thread_of(course, plan, Book())
    bare = sum(one.stitches * one.each for one in stretches(course, lengths))
    return measured_thread(bare, used, need.plan.lengths - 1, uid)
