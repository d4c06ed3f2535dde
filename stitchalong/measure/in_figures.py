"""A piece in figures: everything that can be reckoned of it, under headings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stitchalong.course.course import Course
from stitchalong.course.words import counted
from stitchalong.errors import UsageError
from stitchalong.measure.book import Book
from stitchalong.measure.materials import Material
from stitchalong.measure.need import beads_of, place_words, thread_of
from stitchalong.measure.of_course import flat_parts
from stitchalong.measure.pace import USUAL, Pace, duration_range, estimate
from stitchalong.measure.price import price
from stitchalong.measure.size import size_of
from stitchalong.measure.units import Units
from stitchalong.measure.words import bead_lines, flat_lines, price_lines, size_lines, thread_lines
from stitchalong.plan.model import Plan

Section = tuple[str, tuple[str, ...]]
"""a heading, and lines below it"""


def in_figures(
    course: Course, plan: Plan, book: Book, pace: Pace | None, units: Units, *, left: int | None = None
) -> Iterator[Section]:
    """Size, beads, thread, time, price and flatness. `left`: beads not laid yet; None: it is not begun."""
    names = {bead.code: bead.name for bead in plan.beads}
    yield "Size", tuple(size_lines(size_of(course, plan, book), units, sources=False))
    needs = beads_of(course, plan)
    yield "Beads", tuple(bead_lines(needs, names, units))
    try:
        need = thread_of(course, plan, book)
        yield "Thread", tuple(thread_lines(need, place_words(course, plan, need.changes), units, rounds=False))
    except UsageError as error:
        yield "Thread", (str(error),)
    yield "Time", tuple(time_lines(course.beads, left, pace))
    yield "Price", tuple(_price(needs, plan, course, pace))
    yield "Will it lie flat?", tuple(flat_lines(flat_parts(course, plan)))


def time_lines(beads: int, left: int | None, pace: Pace | None) -> Iterator[str]:
    """How long the whole takes, and what is left of it, as ranges."""
    if pace is None:
        yield f"the whole of it, {counted(beads, 'bead')}: {estimate(beads)}"
        if left is not None and left != beads:
            yield f"what is left, {counted(left, 'bead')}: {estimate(left)}"
        at = f"an estimate at {USUAL.each.value:.0f} s a bead"
        yield f"{at}, rests left out; your own pace is found from the first twenty beads that you count"
        return
    yield f"the whole of it, {counted(beads, 'bead')}: {duration_range(pace.time_for(beads))}"
    if left is not None:
        yield f"what is left, {counted(left, 'bead')}: {duration_range(pace.time_for(left))}"
    yield f"by your own pace, {pace.each.value:.1f} s a bead, rests left out; from {pace.each.basis}"


def _price(needs: Sequence[Material], plan: Plan, course: Course, pace: Pace | None) -> Iterator[str]:
    rates = {bead.code: bead.price for bead in plan.beads}
    if all(rate is None for rate in rates.values()):
        yield "the plan gives no prices: write price = … (of one gram, in your own currency) under its beads"
        return
    yield from price_lines(price(needs, rates))
    if pace is not None:
        hours = pace.time_for(course.beads).times(1 / 3600)
        yield f"and {hours.value:.1f} hours of work ({hours.low:.1f} to {hours.high:.1f}), by your own pace"
    yield "`stitchalong price` takes what an hour is worth, and whole packings"
