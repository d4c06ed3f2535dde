"""How wide, long and high the work comes out, beside a ring's size. Geometry, no source, where nothing else is said."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from stitchalong.course.course import Course
from stitchalong.fabric.stitch import Note
from stitchalong.measure.book import Book
from stitchalong.measure.figure import Figure, total
from stitchalong.measure.gauge import BRICK, HERRINGBONE, MRAW, MRAW_AT, PEYOTE, RAW, SQUARE, Gauge, Per
from stitchalong.measure.of_start import (
    BAND_STRIP,
    CUBE_BASE,
    LADDER,
    NET_RING,
    STRAND,
    STRUNG_ROW,
    WEAVE_RING,
    WEAVE_ROW,
    Asks,
    asks_for,
    is_zipped,
    way_of,
)
from stitchalong.plan.model import Band, Foundation, Plan, RingStart

WIDTH_SPREAD = 0.15

ROWS = {
    **dict.fromkeys((STRUNG_ROW, "ring", "peyote", "flat peyote"), (PEYOTE, Per.ROW)),
    **dict.fromkeys(("brick stitch", "tubular brick stitch"), (BRICK, Per.ROW)),
    **dict.fromkeys(("herringbone", "tubular herringbone"), (HERRINGBONE, Per.ROW)),
    **dict.fromkeys((STRAND, "square stitch"), (SQUARE, Per.ROW)),
    **dict.fromkeys((WEAVE_ROW, WEAVE_RING, "right-angle weave", "tubular right-angle weave"), (RAW, Per.UNIT)),
    "cubic right-angle weave": (RAW, Per.UNIT),
}
"""the gauge of a row, by the technique of its round; others (edges that are trimmed, nets, seams) add nothing"""


@dataclass(frozen=True, slots=True)
class Extent:
    """One measure of the work."""

    label: str
    """`wide`, `long`, `from rim to rim`, `from the middle to the edge`"""
    length: Figure
    """mm"""


def width(course: Course, plan: Plan, book: Book | None = None) -> Figure | None:
    """Width in mm of a ring without its fins: what sits on the finger. None for what is no ring.

    A band's frame is a bead's length and two thicknesses high; each row more, spacers and fill among them, adds half a
    thickness, and so it is of a strung tube, ± 15 %. Rounds with increases flare and are left out there, and so are
    other parts. Of a strip that is zipped, its columns; of other work as high as its rows.
    """
    asks = asks_for(plan)
    if asks is None or asks.bead.outside is None or asks.bead.length is None:
        return None
    start = plan.work[0]
    book = book or Book()
    if asks.stitch == MRAW:
        rows = _rows_without_fins(course)
        value = asks.bead.length + 2 * asks.bead.outside + (rows + 1) * asks.bead.outside / 2
        return Figure.around(value, WIDTH_SPREAD, "from the bead's measures")
    if isinstance(start, Foundation) and start.start == NET_RING:
        return None
    if asks.stitch == PEYOTE and asks.per is Per.COLUMN:
        value = (_rows_without_fins(course) + 3) * asks.bead.outside / 2
        return Figure.around(value, WIDTH_SPREAD, "from the bead's measures")
    if way_of(plan) is None:
        return None
    if is_zipped(plan):
        column = book.gauge(asks.bead, PEYOTE, Per.COLUMN)
        return column.length(course.rounds[0].beads) if column else None
    return _rise(course, asks, book)


def _rows_without_fins(course: Course) -> int:
    part = course.rounds[0].part
    return sum(1 for index in range(1, len(course.rounds)) if _adds_a_row(course, index, part))


def _adds_a_row(course: Course, index: int, part: str) -> bool:
    flares = any(stitch.has(Note.INCREASE | Note.INSIDE) for stitch, _ in course.runs_of(index))
    return course.rounds[index].part == part and not flares


def _rise(course: Course, asks: Asks, book: Book) -> Figure | None:
    """From the first row to the last, of the first part and the edge it is worked on, each by the gauge of its stitch;
    None where a gauge is not known."""
    first = course.rounds[0]
    rows: Counter[tuple[str, Per]] = Counter()
    for item in course.rounds:
        own = (asks.stitch, Per.ROW) if item.technique == LADDER else ROWS.get(item.technique)
        if own is not None and (item.part, item.edge) == (first.part, first.edge):
            rows[own] += len(item.numbers)
    figures = []
    for (stitch, per), count in rows.items():
        gauge = book.gauge(asks.bead, stitch, per)
        if gauge is None:
            return None
        figures.append(gauge.length(count))
    return total(figures, figures[0].basis) if figures else None


def extents(course: Course, plan: Plan, book: Book) -> tuple[Extent, ...]:
    """What there is to measure beside a ring's size; empty where nothing is known.

    Of flat work its width and length, of what grows from a ring the way from its middle to its edge, along the beads.
    Edges that are trimmed afterwards, and other parts, are left out.
    """
    asks = asks_for(plan)
    if asks is None:
        return ()
    return tuple(Extent(label, length) for label, length in _extents(course, plan, asks, book) if length is not None)


def _extents(course: Course, plan: Plan, asks: Asks, book: Book) -> Iterator[tuple[str, Figure | None]]:
    start = plan.work[0]
    gauge = book.gauge(asks.bead, asks.stitch, asks.per)
    sort = start.start if isinstance(start, Foundation) else ""
    across = width(course, plan, book)
    if across is not None:
        flat = "wide" if sort == BAND_STRIP else "from rim to rim"
        yield "wide, without fins" if isinstance(start, Band) else flat, across
    if gauge is None:
        return
    first = course.rounds[0]
    if sort == LADDER and across is not None:
        yield from _widest(course, plan, gauge)
    elif across is not None and sort != BAND_STRIP:
        return
    elif isinstance(start, RingStart):
        yield "from the middle to the edge", _rise(course, asks, book)
    elif sort == BAND_STRIP:
        yield "long", laid_flat(gauge, first.spaces)
    elif sort == CUBE_BASE:
        yield from _beam(course, asks, gauge, first.beads)
    elif sort == WEAVE_ROW:
        yield "wide", _rise(course, asks, book)
        yield "long", gauge.length(first.spaces)
    elif sort != NET_RING:
        column = book.gauge(asks.bead, asks.stitch, Per.COLUMN)
        if column is not None:
            yield "wide", _across(course, asks, column)
        yield "long", _rise(course, asks, book)


def _across(course: Course, asks: Asks, column: Gauge) -> Figure:
    """The widest row. Rows of brick stitch lie half a bead beside each other, so that it may be that much more."""
    if asks.stitch != BRICK:
        return column.length(course.rounds[0].beads)
    found = column.length(_most(course))
    return found.reaching(found.high + column.each.high / 2)


def _most(course: Course) -> int:
    """Beads of the longest row of the first part."""
    first = course.rounds[0]
    return max(
        first.beads, *(item.beads for item in course.rounds if item.part == first.part and item.technique in ROWS)
    )


def _widest(course: Course, plan: Plan, gauge: Gauge) -> Iterator[tuple[str, Figure | None]]:
    """Inside, where the rounds grow."""
    way = way_of(plan, gauge)
    first = course.rounds[0]
    most = _most(course)
    if way is not None and most > first.beads:
        yield "inside where it is widest, around", way.inside(most)


def laid_flat(gauge: Gauge, units: int) -> Figure:
    """A band that is not joined: as long as a joined one along the middle of its wall."""
    inside = gauge.each.times(units)
    more = math.pi * gauge.wall * units / (gauge.at or MRAW_AT)
    return Figure(inside.value + more, inside.low, inside.high + more, inside.basis)


def _beam(course: Course, asks: Asks, gauge: Gauge, base: int) -> Iterator[tuple[str, Figure | None]]:
    """Cubes along a beam: from bead middle to bead middle a unit of weave, and a bead's thickness more over all."""
    outside = asks.bead.outside or 0.0
    cubes = sum(1 for item in course.rounds if item.technique == "cubic right-angle weave")
    yield "long", gauge.length(cubes).plus(outside)
    if base == 4:
        yield "thick", gauge.length(1).plus(outside)
