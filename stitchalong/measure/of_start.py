"""How large the work comes out, by its start: a ring's inner circumference, the width and length of other work."""

from __future__ import annotations

from dataclasses import dataclass

from stitchalong.course.course import Course
from stitchalong.fabric.stitch import Note
from stitchalong.measure.beads import BeadSize
from stitchalong.measure.book import Book
from stitchalong.measure.figure import Figure
from stitchalong.measure.gauge import MRAW, PEYOTE, RAW, Gauge, Per, default_gauge
from stitchalong.measure.of_course import bead_sizes, frame_bead
from stitchalong.measure.rings import Way, around, band, tube, weave
from stitchalong.plan.items import codes_in
from stitchalong.plan.model import Band, Foundation, Plan, RingStart, TubeStart

STRUNG_ROW, WEAVE_ROW, WEAVE_RING = "strung row", "right-angle weave row", "right-angle weave ring"
ODD_TUBE, DROP_TUBE = "odd tube", "drop tube"
_STRUNG_TUBES = (ODD_TUBE, DROP_TUBE)


@dataclass(frozen=True, slots=True)
class Asks:
    """The gauge by which a plan's start comes out as large as it does."""

    bead: BeadSize
    stitch: str
    per: Per


def asks_for(plan: Plan) -> Asks | None:
    """The gauge that decides the size; None where there is none, or the bead is not known."""
    bead = frame_bead(plan)
    if bead is None:
        return None
    start = plan.work[0]
    if isinstance(start, Band):
        return Asks(bead, MRAW, Per.UNIT)
    if isinstance(start, TubeStart) or (isinstance(start, Foundation) and start.start in _STRUNG_TUBES):
        return Asks(bead, PEYOTE, Per.COLUMN)
    if isinstance(start, Foundation) and start.start in (WEAVE_ROW, WEAVE_RING):
        return Asks(bead, RAW, Per.UNIT)
    if isinstance(start, RingStart) or (isinstance(start, Foundation) and start.start == STRUNG_ROW):
        return Asks(bead, PEYOTE, Per.ROW)
    return None


def size_note(plan: Plan) -> str:
    """What makes the size of a band doubtful: beads of several sizes in it; empty otherwise."""
    start = plan.work[0] if plan.work else None
    if not isinstance(start, Band):
        return ""
    codes = {start.top, start.side, start.bottom} | codes_in(start.spacers)
    kinds = {
        (one.size.outside, one.size.length) for code, one in bead_sizes(plan).items() if one.size and code in codes
    }
    if len(kinds) < 2:
        return ""
    return f"the band has beads of several sizes; its size is reckoned from bead {start.top} alone: measure your own"


def way_of(plan: Plan, gauge: Gauge | None = None) -> Way | None:
    """How this plan's start makes a ring out of a count; None where it makes none, or the bead is not known.

    `gauge` is the stitcher's own, of what `asks_for` says; the default otherwise.
    """
    asks = asks_for(plan)
    gauge = gauge or (default_gauge(asks.bead, asks.stitch, asks.per) if asks else None)
    if asks is None or gauge is None:
        return None
    match plan.work[0]:
        case Band():
            return band(gauge)
        case TubeStart():
            return tube(asks.bead, gauge)
        case Foundation(start=start) if start == WEAVE_RING:
            return weave(asks.bead, gauge)
        case Foundation(start=start) as tube_start if start in _STRUNG_TUBES:
            ring = around(asks.bead, gauge)
            if start == ODD_TUBE:
                return Way(ring, "beads around", 2, least=7, rest=1)
            # whole stitches of both rows are strung
            step = 2 * int(tube_start.option("drop", 2))
            return Way(ring, "beads around", step, least=3 * step)
        case _:
            return None


def strung_for(plan: Plan, count: int) -> int | None:
    """What a plan is begun with, so that its way counts so many; None where that stands in the plan itself."""
    match plan.work[0]:
        case Band():
            return count
        case TubeStart():
            return 2 * count
        case Foundation(start=start, beads=beads) if beads is not None:
            return {WEAVE_RING: 3 * count}.get(start, count)
    return None


def ring_count(course: Course, plan: Plan) -> int:
    """What the way of a plan counts, in this course."""
    first = course.rounds[0]
    start = plan.work[0]
    return first.beads if isinstance(start, Foundation) and start.start in _STRUNG_TUBES else first.spaces


def inside(course: Course, plan: Plan, gauge: Gauge | None = None) -> Figure | None:
    """Inner circumference in mm of the finished ring; None where the work is none or the bead is not
    known."""
    way = way_of(plan, gauge)
    return way.inside(ring_count(course, plan)) if way and course.rounds else None


@dataclass(frozen=True, slots=True)
class Extent:
    """One measure of the work."""

    label: str
    """`wide`, `long`, `from rim to rim`, `from the middle to the edge`"""
    length: Figure
    """mm"""


WIDTH_SPREAD = 0.15


def width(course: Course, plan: Plan) -> Figure | None:
    """Width in mm of a band or tube without its fins: what sits on the finger. Geometry, no source, ± 15 %.

    A band's frame is a bead's length and two thicknesses high; each row more, spacers and fill among them,
    adds half a thickness. Rounds with increases flare and are left out, and so are other parts.
    """
    asks = asks_for(plan)
    if asks is None or asks.bead.outside is None or asks.bead.length is None:
        return None
    outside = asks.bead.outside
    part = course.rounds[0].part
    rows = sum(1 for index in range(1, len(course.rounds)) if _adds_a_row(course, index, part))
    if asks.stitch == MRAW:
        value = asks.bead.length + 2 * outside + (rows + 1) * outside / 2
    elif asks.stitch == PEYOTE and asks.per is Per.COLUMN:
        value = (rows + 3) * outside / 2
    else:
        return None
    return Figure.around(value, WIDTH_SPREAD, "from the bead's measures")


def _adds_a_row(course: Course, index: int, part: str) -> bool:
    flares = any(stitch.has(Note.INCREASE | Note.INSIDE) for stitch, _ in course.runs_of(index))
    return course.rounds[index].part == part and not flares


def extents(course: Course, plan: Plan, book: Book) -> tuple[Extent, ...]:
    """What there is to measure beside a ring's size; empty where nothing is known.

    Of flat work its width and length, of what grows from a ring the way from its middle to its edge, along the beads.
    Edges that are trimmed afterwards, and other parts, are left out.
    """
    asks = asks_for(plan)
    start = plan.work[0]
    if asks is None:
        return ()
    wide = width(course, plan)
    if wide is not None:
        label = "wide, without fins" if isinstance(start, Band) else "from rim to rim"
        return (Extent(label, wide),)
    gauge = book.gauge(asks.bead, asks.stitch, asks.per)
    if gauge is None:
        return ()
    first = course.rounds[0]
    rows = max(item.number for item in course.rounds if (item.part, item.edge) == (first.part, first.edge))
    if isinstance(start, RingStart):
        return (Extent("from the middle to the edge", gauge.length(rows)),)
    if asks.stitch == RAW and isinstance(start, Foundation):
        high = Extent("wide", gauge.length(rows))
        return (high,) if start.start == WEAVE_RING else (high, Extent("long", gauge.length(first.spaces)))
    column = book.gauge(asks.bead, PEYOTE, Per.COLUMN)
    across = (Extent("wide", column.length(first.beads)),) if column else ()
    return (*across, Extent("long", gauge.length(rows)))
