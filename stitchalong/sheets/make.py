"""From a plan and its course to the sheet that is handed out, and to the kit list of a class."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from stitchalong.chart import arranged, chart_of
from stitchalong.course.course import Course
from stitchalong.course.noting import written_round
from stitchalong.course.outlook import Lookout
from stitchalong.course.say import Teller
from stitchalong.course.sides import sides_of
from stitchalong.course.words import counted
from stitchalong.errors import UsageError
from stitchalong.measure.book import Book
from stitchalong.measure.pace import Pace
from stitchalong.measure.size import Size, size_of
from stitchalong.measure.sizes import chart_notes
from stitchalong.measure.units import Units, thread
from stitchalong.measure.words import size_lines, sizes_words
from stitchalong.plan.model import Plan
from stitchalong.settings.cautions import CAUTIONS
from stitchalong.sheets.advice import beginning, finishing, skill_words, slips, time_words
from stitchalong.sheets.blocks import Block, Document, Grid, Heading, Items, Paragraph, Picture, Step, Steps
from stitchalong.sheets.in_space import in_space
from stitchalong.sheets.key import abbreviations
from stitchalong.sheets.paper import PICTURE, READABLE
from stitchalong.sheets.rounds import how_to, steps_of
from stitchalong.sheets.supplies import bead_grid, needle_words, size_grid, size_hints, supplies_of, thread_words

MOST_DRAWN = 20_000
"""beads of a chart on a sheet"""
MOST_ROUNDS = 5_000
MOST_LETTERED = 3_000
"""beads of a chart that carries its letters"""
MOST_PEOPLE = 500

_SIDES = "stitches from one rib or marker to the next; a side that the round begins within is in two parts"


@dataclass(frozen=True, slots=True)
class Wishes:
    """How a sheet is wanted."""

    units: Units = Units.METRIC
    left_handed: bool = False
    book: Book = field(default_factory=Book)
    pace: Pace | None = None
    """the stitcher's own; None: a guess"""
    in_space: bool = False
    """with a picture of the piece in three dimensions, where that can be had"""


def sheet(course: Course, plan: Plan, wishes: Wishes) -> Document:
    """The handout. Raises UsageError for a piece of more rounds than a sheet holds."""
    if len(course.rounds) > MOST_ROUNDS:
        raise UsageError(
            f"a sheet holds {MOST_ROUNDS:,} rounds, and this piece has {len(course.rounds):,}",
            fix="`stitchalong course` prints them all",
        )
    return Document(plan.title, tuple(_sheet(course, plan, wishes)))


def _sheet(course: Course, plan: Plan, wishes: Wishes) -> Iterator[Block]:
    names = {bead.code: bead.name for bead in plan.beads}
    look = Lookout(course, names)
    look.teller = Teller(course, names, left_handed=wishes.left_handed)
    supplies = supplies_of(course, plan, wishes.book)
    size = size_of(course, plan, wishes.book)
    charts = {note for one in size.rings for note in chart_notes(one.value)}
    size = replace(size, notes=tuple(note for note in size.notes if note not in charts))
    for text in plan.about.split("\n\n"):
        if text.strip():
            yield Paragraph(" ".join(text.split()))
    yield Grid(
        ("", ""),
        (
            ("Skill", skill_words(course)),
            ("Time", time_words(course, wishes.pace)),
            ("Beads", f"{counted(course.beads, 'bead')} in {counted(len(course.rounds), 'step')} to tick"),
            ("Hand", _hand(wishes.left_handed)),
        ),
    )
    yield from _picture(course, plan, wishes)
    if wishes.in_space:
        yield from in_space(course, plan, wishes.book, left_handed=wishes.left_handed)

    yield Heading("What you need")
    yield bead_grid(plan, supplies.beads, wishes.units)
    yield Paragraph(
        "Have ready: a tenth more than the count, for odd beads. Weights are reckoned from the beads' size."
    )
    yield from (Paragraph(need.note) for need in supplies.beads if need.note)
    yield Items(
        (
            f"Thread: {thread_words(plan, supplies.thread, wishes.units)}",
            f"Needles: {supplies.needles}",
            "A stop bead, sharp scissors, a mat with a raised edge, a ruler",
        )
    )
    yield Heading("Size")
    yield Items(tuple(_size(size, wishes.units)))
    other = size_grid(course, plan, wishes.book, size, wishes.units)
    hints = tuple(size_hints(course, plan, other=other is not None))
    if hints:
        yield Items(hints)
    if other is not None:
        yield other

    yield Heading("How it is written")
    yield _key(course, plan)

    yield Heading("Begin")
    yield Items((*beginning(course), *how_to(course, look, range(1))), numbered=True)
    if len(course.rounds) > 1:
        yield Heading("How the stitches go")
        yield Paragraph("Each kind of stitch once, as it comes first.")
        yield Items(how_to(course, look, range(1, len(course.rounds))))
    yield Heading("Where people slip")
    yield Items(tuple(slips(course)))

    yield Heading("Round by round" if not course.rounds[-1].flat else "Row by row")
    changes = supplies.thread.changes if supplies.thread is not None else ()
    steps = steps_of(course, look, changes)
    yield Paragraph(_ticking(steps, "row" if course.rounds[-1].flat else "round"))
    yield Steps(steps, {bead.code: bead.colour for bead in plan.beads})
    yield Paragraph(f"In all {counted(course.beads, 'bead')}.")

    yield Heading("Finish")
    yield Items(tuple(finishing(course)))
    yield Heading("Take care")
    yield Items(CAUTIONS)


def _size(size: Size, units: Units) -> Iterator[str]:
    """How large it comes out, with all scales in one line."""
    rings = [sizes_words(one) for one in size.rings]
    for text in size_lines(size, units, sources=False):
        if text not in rings:
            yield text
        elif text == rings[0]:
            yield " · ".join(rings)


def _hand(left_handed: bool) -> str:
    if left_handed:
        return "left-handed: the picture is mirrored, and so are words of direction; the order of the beads is the same"
    return "right-handed; there is a left-handed sheet too"


def _picture(course: Course, plan: Plan, wishes: Wishes) -> Iterator[Block]:
    if course.beads > MOST_DRAWN:
        yield Paragraph("The picture has too many beads for a sheet.")
        return
    cut = arranged(chart_of(course), *PICTURE, READABLE)
    chart = cut.chart.mirrored() if wishes.left_handed else cut.chart
    colours = {bead.code: bead.colour for bead in plan.beads}
    names = {bead.code: bead.name for bead in plan.beads}
    yield Picture(chart, colours, names, letters=course.beads <= MOST_LETTERED)
    told = cut.mirrored if wishes.left_handed else cut.told
    if told:
        yield Paragraph(told)


def _ticking(steps: Sequence[Step], word: str) -> str:
    if any(step.sides for step in steps):
        return (
            f"Tick a side when it is done and the box in front when the whole {word} is. "
            "If you stop on the way, circle the side you are on."
        )
    return (
        f"Tick the box in front when the whole {word} is done. If you stop on the way, write the beads done beside it."
    )


def _key(course: Course, plan: Plan) -> Grid:
    rounds = [written_round(course, index) for index, item in enumerate(course.rounds) if item.technique != "zip"]
    used = {item.technique for item in course.rounds}
    rows = abbreviations(rounds, increases="peyote" in used)
    if any(len(sides_of(course.runs_of(index)).lengths) > 1 for index in range(len(course.rounds))):
        rows = (*rows, ("sides", _SIDES))
    return Grid(("written", "means"), rows)


# ---- a class ------------------------------------------------------------------------------------


def kit_list(course: Course, plan: Plan, people: int, wishes: Wishes) -> Document:
    """What a class needs, on one page. Raises UsageError for a number of people that cannot be."""
    if not 1 <= people <= MOST_PEOPLE:
        raise UsageError(f"a class of {people:,} cannot be", fix=f"1 to {MOST_PEOPLE} people")
    title = f"{plan.title}: a class of {people}"
    return Document(title, tuple(_kit(course, plan, people, wishes)))


def _kit(course: Course, plan: Plan, people: int, wishes: Wishes) -> Iterator[Block]:
    whole = supplies_of(course, plan, wishes.book, people)
    each = supplies_of(course, plan, wishes.book)
    yield Paragraph(f"For each: {counted(course.beads, 'bead')}. Time: {time_words(course, wishes.pace)}.")
    yield Heading("Beads")
    yield bead_grid(plan, whole.beads, wishes.units, each.beads)
    packs = tuple(
        f"{need.code}: buy {', '.join(f'{pack.number} of {pack.grams:g} g' for pack in need.packs)}"
        for need in whole.beads
        if need.packs
    )
    if packs:
        yield Items(packs)
    yield Heading("Thread and needles")
    texts = [f"Thread for each: {thread_words(plan, each.thread, wishes.units)}"]
    if each.thread is not None:
        found = each.thread.plan
        amount = thread(found.lengths * found.working * people, wishes.units)
        texts.append(f"Thread for all: {counted(found.lengths * people, 'length')}, {amount}")
    spare = people + (people + 3) // 4
    texts.append(f"Needles: {spare} (one each, one spare for four people); {needle_words(plan)}")
    texts.append(f"For each a stop bead, a mat, scissors; dishes for {counted(len(whole.beads), 'letter')}")
    yield Items(tuple(texts))
    yield Paragraph("Have ready: a tenth more than the count, for odd beads and lost ones.")
