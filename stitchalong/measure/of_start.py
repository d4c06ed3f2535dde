"""How large the work comes out, by its start: the gauge that decides, and a ring's inner circumference."""

from __future__ import annotations

from dataclasses import dataclass

from stitchalong.course.course import Course
from stitchalong.measure.beads import BeadSize
from stitchalong.measure.figure import Figure
from stitchalong.measure.gauge import BRICK, HERRINGBONE, MRAW, PEYOTE, RAW, SQUARE, Gauge, Per, default_gauge
from stitchalong.measure.of_course import bead_sizes, frame_bead
from stitchalong.measure.rings import Way, around, band, circle, strip, tube, weave
from stitchalong.plan.items import codes_in
from stitchalong.plan.model import FIRST_PART, Band, Foundation, Plan, RingStart, Rows, TubeStart, Zip

STRUNG_ROW, WEAVE_ROW, WEAVE_RING = "strung row", "right-angle weave row", "right-angle weave ring"
ODD_TUBE, DROP_TUBE = "odd tube", "drop tube"
LADDER, STRAND, NET_RING, CUBE_BASE, BAND_STRIP = "ladder", "strand", "net ring", "cube base", "MRAW strip"
_STRUNG_TUBES = (ODD_TUBE, DROP_TUBE, NET_RING)
_PLAIN = {
    **dict.fromkeys((ODD_TUBE, DROP_TUBE, NET_RING), (PEYOTE, Per.COLUMN)),
    **dict.fromkeys((WEAVE_ROW, WEAVE_RING, CUBE_BASE), (RAW, Per.UNIT)),
    STRUNG_ROW: (PEYOTE, Per.ROW),
    STRAND: (SQUARE, Per.ROW),
    BAND_STRIP: (MRAW, Per.UNIT),
}
"""the gauge of a start, where it does not hang on what is worked on it"""


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
    match plan.work[0]:
        case Band():
            return Asks(bead, MRAW, Per.UNIT)
        case TubeStart():
            return Asks(bead, PEYOTE, Per.COLUMN)
        case RingStart():
            return Asks(bead, PEYOTE, Per.ROW)
        case Foundation(start=start) if start == LADDER:
            return Asks(bead, _on_ladder(plan), Per.COLUMN)
        case Foundation(start=start) if start in _PLAIN:
            return Asks(bead, *_PLAIN[start])
    return None


def _on_ladder(plan: Plan) -> str:
    """The stitch whose beads a ladder's are."""
    rows = next((work for work in plan.work if isinstance(work, Rows)), None)
    return HERRINGBONE if rows is not None and HERRINGBONE in rows.stitch else BRICK


def is_zipped(plan: Plan) -> bool:
    """Whether a strip's first and last row are joined, so that its rows run round."""
    start = plan.work[0]
    return isinstance(start, Foundation) and any(
        isinstance(work, Zip) and len(work.parts) == 1 and work.parts[0] in (FIRST_PART, start.part)
        for work in plan.work
    )


def size_note(plan: Plan) -> str:
    """What makes the size doubtful: beads of several sizes in a band, a net that gives; empty otherwise."""
    start = plan.work[0] if plan.work else None
    if isinstance(start, Foundation) and start.start == NET_RING:
        return "a net gives: this is the ring it hangs from, and how far it hangs is not reckoned: measure as you go"
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
        case Foundation(start=start) if start == STRUNG_ROW and is_zipped(plan):
            return strip(asks.bead, gauge)
        case Foundation(start=start) as ladder if start == LADDER and ladder.option("joined", False):
            return circle(asks.bead, gauge, 2 if asks.stitch == HERRINGBONE else 1)
        case Foundation(start=start) as tube_start if start in _STRUNG_TUBES:
            ring = around(asks.bead, gauge)
            if start == ODD_TUBE:
                return Way(ring, "beads around", 2, least=7, rest=1)
            if start == NET_RING:
                loop = int(tube_start.option("loop", 3)) + 1
                return Way(ring, "beads around", loop, least=3 * loop)
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
        case Foundation(start=start, beads=beads) if beads is not None and start != STRUNG_ROW:
            return {WEAVE_RING: 3 * count}.get(start, count)
    return None


def ring_count(course: Course, plan: Plan) -> int:
    """What the way of a plan counts, in this course."""
    first = course.rounds[0]
    start = plan.work[0]
    if isinstance(start, Foundation) and start.start == STRUNG_ROW:
        return max(item.number for item in course.rounds if item.part == first.part and item.spaces)
    return first.beads if isinstance(start, Foundation) and start.start in (*_STRUNG_TUBES, LADDER) else first.spaces


def closed_at(course: Course, plan: Plan) -> int:
    """Steps after which the ring is closed, and has its size: a band when it is joined, a zipped strip at its end."""
    return course.steps if is_zipped(plan) else course.rounds[0].stop_step


def inside(course: Course, plan: Plan, gauge: Gauge | None = None) -> Figure | None:
    """Inner circumference in mm of the finished ring; None where the work is none or the bead is not
    known."""
    way = way_of(plan, gauge)
    return way.inside(ring_count(course, plan)) if way and course.rounds else None
