"""What a piece asks for: a table of beads, thread, needles; and how it is made larger or smaller."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.course.sides import sides_of
from stitchalong.course.words import counted
from stitchalong.errors import PlanError, UsageError
from stitchalong.measure.book import Book
from stitchalong.measure.materials import Material
from stitchalong.measure.need import ThreadNeed, beads_of, thread_of
from stitchalong.measure.of_start import asks_for, ring_count, strung_for, way_of
from stitchalong.measure.size import Size, Sort
from stitchalong.measure.sizes import every_size
from stitchalong.measure.units import Units, length, thread, thread_range, weight, weight_range
from stitchalong.plan.model import Band, Plan, RingStart, TubeStart
from stitchalong.plan.sizes import resized
from stitchalong.sheets.blocks import Grid

_NEEDLES = (("6/0", "10 or 11"), ("8/0", "10 or 11"), ("10/0", "11"), ("11/0", "11 or 12"), ("15/0", "12 to 15"))
"""For the smallest bead of a plan. 10/0 → 11, 11/0 → 12, 15/0 → 15 (beadfx.com, needle sizes); 11/0 → 10 or 11, 15/0 →
12 (a gallery's needle chart); larger beads: common practice, no source."""
_NEIGHBOURS = range(-3, 4)
_LARGE = 20_000
"""beads, above which other sizes are not tried"""


@dataclass(frozen=True, slots=True)
class Supplies:
    """Of one piece or of a class."""

    beads: tuple[Material, ...]
    thread: ThreadNeed | None
    """of one piece; None where no bead's length is known"""
    needles: str


def supplies_of(course: Course, plan: Plan, book: Book, people: int = 1) -> Supplies:
    """What to have ready for so many people. Raises UsageError for a number of people that cannot be."""
    try:
        need: ThreadNeed | None = thread_of(course, plan, book)
    except UsageError:
        need = None
    return Supplies(beads_of(course, plan, people), need, needle_words(plan))


def needle_words(plan: Plan) -> str:
    """The needle for the smallest bead of the plan, as far as sizes are known."""
    sizes = [bead.size.strip() for bead in plan.beads]
    known = [(size, needle) for size, needle in _NEEDLES if size in sizes]
    if not known:
        return "beading needles that pass through the smallest bead three times"
    size, needle = known[-1]
    return f"beading needles size {needle} (the smallest bead is {size}; a higher number is a finer needle)"


def bead_grid(plan: Plan, needs: Sequence[Material], units: Units, each: Sequence[Material] = ()) -> Grid:
    """The beads with their letters; `each`: what one person of a class needs, in a column of its own."""
    by_code = {bead.code: bead for bead in plan.beads}
    one = {need.code: need for need in each}
    head = ("letter", "bead", "size and shape", *(("beads each",) if each else ()), "beads", "weight", "have ready")
    rows = []
    for need in needs:
        bead = by_code[need.code]
        name = f"{bead.name}{' (marker)' if bead.marker else ''}{f'; {bead.note}' if bead.note else ''}"
        mine = (f"{one[need.code].count:,}",) if each else ()
        grams = weight_range(need.grams, units) if need.grams is not None else "?"
        ready = f"{need.buy_count:,}" if need.buy_grams is None else weight(need.buy_grams, units)
        shape = " ".join(part for part in (bead.size, bead.shape) if part)
        rows.append((need.code, name, shape or "?", *mine, f"{need.count:,}", grams, ready))
    whole = f"{sum(need.count for need in needs):,}"
    mine = (f"{sum(need.count for need in each):,}",) if each else ()
    known = [need.grams.value for need in needs if need.grams is not None]
    sum_of = weight(sum(known), units) if len(known) == len(needs) else ""
    first = 3
    return Grid(
        head,
        tuple(rows),
        frozenset(range(first, first + len(mine) + 3)),
        tuple(by_code[need.code].colour for need in needs),
        ("", "in all", "", *mine, whole, sum_of, ""),
    )


def thread_words(plan: Plan, need: ThreadNeed | None, units: Units) -> str:
    """Which thread, and how much for one piece."""
    named = ", ".join(part for part in (plan.thread.name, plan.thread.colour, plan.thread.note) if part)
    named = named or "beading thread"
    if need is None:
        return f"{named}; how much cannot be reckoned, for the size of no bead is known"
    found = need.plan
    cut = f"cut {counted(found.lengths, 'length')} of {thread(found.working, units)}"
    return f"{named}: {thread_range(found.total, units)} in all; {cut}"


# ---- larger or smaller --------------------------------------------------------------------------


def size_grid(course: Course, plan: Plan, book: Book, size: Size, units: Units) -> Grid | None:
    """Counts near this one and what each comes out as; None for what is no ring, or cannot be begun otherwise."""
    asks = asks_for(plan)
    way = way_of(plan, book.gauge(asks.bead, asks.stitch, asks.per) if asks else None)
    if size.sort is Sort.NONE or way is None or course.beads > _LARGE:
        return None
    count = ring_count(course, plan)
    rings = size.sort is Sort.RING
    head = (way.word, "sides", "inside", *(("ISO", "US", "UK", "JP") if rings else ()), "beads", "")
    rows = []
    stride = _stride(course, plan, way.step)
    for by in _NEIGHBOURS:
        there = count + by * stride
        found = _tried(course, plan, there, count) if there >= way.least else None
        if found is None:
            continue
        sides, beads = found
        inside = way.inside(there)
        sizes = every_size(max(inside.value, 0.1)) if rings else ()
        if by and sizes and all(one.beyond for one in sizes):
            continue
        scales = tuple(one.text.removeprefix(f"{one.scale} ") for one in sizes)
        mark = "this sheet" if not by else ""
        rows.append((f"{there}", sides, length(inside.value, units), *scales, f"{beads:,}", mark))
    if len(rows) < 2:
        return None
    kept = [at for at in range(len(head)) if at != 1 or any(row[1] for row in rows)]
    right = frozenset(kept.index(at) for at in (0, 2, len(head) - 2))
    return Grid(tuple(head[at] for at in kept), tuple(tuple(row[at] for at in kept) for row in rows), right)


def _stride(course: Course, plan: Plan, step: int) -> int:
    """The least change of the count that keeps the sides equal."""
    if not isinstance(plan.work[0], Band):
        return step
    return math.lcm(step, max(1, len(sides_of(course.runs_of(0)).lengths)))


def _tried(course: Course, plan: Plan, count: int, own: int) -> tuple[str, int] | None:
    """The sides and the beads of the plan in this size; None where it cannot be stitched so."""
    if count != own:
        strung = strung_for(plan, count)
        if strung is None:
            return None
        try:
            course = compile_plan(resized(plan, strung))
        except PlanError:
            return None
    lengths = sides_of(course.runs_of(0)).lengths if isinstance(plan.work[0], Band | TubeStart) else ()
    return " ".join(map(str, lengths)) if 1 < len(lengths) <= 12 else "", course.beads


def size_hints(course: Course, plan: Plan, *, other: bool) -> Iterator[str]:
    """How the size is changed, in words. `other`: it can be begun with another count."""
    start = plan.work[0]
    word = "rows" if course.rounds[-1].flat else "rounds"
    for least, usual, most in course.open_heights:
        upper = "as high as you like" if most is None else f"at most {most}"
        yield f"Higher or lower: one rise is left open, at least {least} {word}, usually {usual}, {upper}."
    if isinstance(start, RingStart) or course.rounds[-1].flat:
        yield f"Larger or smaller: more or fewer {word}."
    if other:
        yield "Larger or smaller: begin with another count; the sheet can be made for it."
        yield "Another bead size changes the size by as much as the beads differ; a looser or tighter hand does too."
