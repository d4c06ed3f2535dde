"""How large a piece comes out, said whole: inside, ring sizes, what a wide band asks for, and doubts."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from stitchalong.course.course import Course
from stitchalong.course.words import counted
from stitchalong.measure.book import Book
from stitchalong.measure.extents import Extent, extents, width
from stitchalong.measure.figure import Figure
from stitchalong.measure.of_course import bead_sizes
from stitchalong.measure.of_start import asks_for, ring_count, size_note, way_of
from stitchalong.measure.sizes import RingSize, Scale, chart_notes, ring_size
from stitchalong.measure.wear import BANGLE_ROOM, LARGEST_RING, TOO_TIGHT, WideBand, wide_band
from stitchalong.plan.model import Band, Plan

SMALLEST_RING = 36.0
"""mm of inner circumference; below it no scale has a size (US 0 is 36.5, UK A 37.5)"""


class Sort(StrEnum):
    """What a piece is, by its inside."""

    RING = "ring"
    BANGLE = "bangle"
    NARROW = "tube"
    """too narrow for a finger"""
    NONE = "no ring"
    """not closed, or nothing is known of it"""


@dataclass(frozen=True, slots=True)
class Sizes:
    """A ring size on one scale, as a range."""

    value: RingSize
    low: RingSize
    high: RingSize


@dataclass(frozen=True, slots=True)
class Size:
    """How large a piece comes out."""

    sort: Sort
    count: int
    word: str
    """what the count is of: `units`; empty for what is no ring"""
    bead: str
    """the bead that decides: `11/0 cylinder`; empty where none does"""
    inside: Figure | None
    """inner circumference, mm"""
    rings: tuple[Sizes, ...]
    """of a ring, ISO, US, UK and JP"""
    wide: WideBand | None
    finger: RingSize | None
    """of a wide band, the finger it fits, in US sizes"""
    hand: Figure | None
    """of a bangle, mm round the largest closed hand that it goes over"""
    extents: tuple[Extent, ...]
    notes: tuple[str, ...]
    caution: str


def size_of(course: Course, plan: Plan, book: Book) -> Size:
    """The size of a piece. Where nothing can be reckoned, `notes` says why."""
    asks = asks_for(plan)
    gauge = book.gauge(asks.bead, asks.stitch, asks.per) if asks else None
    way = way_of(plan, gauge)
    measures = extents(course, plan, book)
    notes = [note for note in (size_note(plan),) if note]
    bead = f"{asks.bead.size} {asks.bead.shape}".strip() if asks else ""
    if way is None:
        notes += _why_not(course, plan, measures)
        return Size(Sort.NONE, 0, "", bead, None, (), None, None, None, measures, tuple(notes), "")
    count = ring_count(course, plan)
    inside = way.inside(count)
    if isinstance(plan.work[0], Band) and not plan.work[0].joined:
        notes.append("the band is not joined by the plan; this is the size of it closed")
    if inside.value < SMALLEST_RING:
        sort = Sort.NARROW
    else:
        sort = Sort.RING if inside.value <= LARGEST_RING else Sort.BANGLE
    rings: tuple[Sizes, ...] = ()
    wide = finger = hand = None
    if sort is Sort.RING:
        rings = tuple(_sizes(inside, scale) for scale in (Scale.ISO, Scale.US, Scale.UK, Scale.JP))
        across = width(course, plan, book)
        wide = wide_band(across.value) if across else None
        finger = ring_size(inside.value - wide.circumference, Scale.US) if wide else None
        notes += [note for one in rings for note in chart_notes(one.value)]
    elif sort is Sort.BANGLE:
        low, value, high = (max(0.0, part - BANGLE_ROOM) for part in (inside.low, inside.value, inside.high))
        hand = Figure(value, low, high)
    caution = TOO_TIGHT if sort is Sort.RING else ""
    return Size(sort, count, way.word, bead, inside, rings, wide, finger, hand, measures, tuple(notes), caution)


def _sizes(inside: Figure, scale: Scale) -> Sizes:
    value, low, high = (ring_size(max(part, 0.1), scale) for part in (inside.value, inside.low, inside.high))
    return Sizes(value, low, high)


def _why_not(course: Course, plan: Plan, measures: tuple[Extent, ...]) -> list[str]:
    notes = [one.note for one in bead_sizes(plan).values() if one.note]
    if measures or notes:
        return notes
    return [
        f"how large work comes out that begins as a {course.rounds[0].technique} is not reckoned: measure as you go"
    ]


def count_words(size: Size) -> str:
    """`28 units`, `10 stitches a round`."""
    if size.count == 1:
        return "1 unit" if size.word == "units" else f"1 {size.word}"
    return f"{size.count:,} {size.word}" if size.word else counted(size.count, "bead")
