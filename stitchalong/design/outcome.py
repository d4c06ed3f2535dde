"""What a plan in the making comes to: counts, size, beads, thread, and what is doubtful of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course, Round
from stitchalong.course.words import counted
from stitchalong.design.wanted import Wanted, plan_text
from stitchalong.errors import UsageError
from stitchalong.measure.book import Book
from stitchalong.measure.doubts import doubts
from stitchalong.measure.need import beads_of, thread_of
from stitchalong.measure.size import Size, Sort, size_of
from stitchalong.measure.units import Units, length, length_range, thread_range
from stitchalong.measure.words import bead_lines, size_lines, sizes_words, thread_lines
from stitchalong.plan.model import Plan
from stitchalong.plan.read import read_text
from stitchalong.plan.text import listed

_SHOWN = 12
"""rounds whose beads are told one by one"""


@dataclass(frozen=True, slots=True)
class Outcome:
    """A plan with its figures, in words."""

    text: str
    """the plan file"""
    plan: Plan
    course: Course
    brief: str
    """counts, size and thread in a line"""
    short: tuple[str, ...]
    """the same with what is most worth knowing of each, in a few lines"""
    counts: tuple[str, ...]
    size: tuple[str, ...]
    beads: tuple[str, ...]
    thread: tuple[str, ...]
    doubts: tuple[str, ...]

    def sections(self) -> list[tuple[str, tuple[str, ...]]]:
        """Headings with their lines; the same as `lines`."""
        every = {
            "counts": self.counts[1:],
            "size": self.size,
            "beads": self.beads,
            "thread": self.thread,
            "doubts": self.doubts,
        }
        return [(heading, lines) for heading, lines in every.items() if lines]

    def lines(self) -> Iterator[str]:
        """All of it."""
        yield from (*self.counts, *self.size, *self.beads, *self.thread)
        yield from (f"a doubt: {doubt}" for doubt in self.doubts)


def outcome_of(wanted: Wanted, book: Book, units: Units) -> Outcome:
    """Raises PlanError for what cannot be stitched."""
    text = plan_text(wanted)
    plan = read_text(text).plan
    course = compile_plan(plan)
    size = size_of(course, plan, book)
    beads = beads_of(course, plan)
    names = {bead.code: bead.name for bead in plan.beads}
    takes = ""
    try:
        need = thread_of(course, plan, book)
        thread = tuple(thread_lines(need, (), units, rounds=False))
        takes = f"thread {thread_range(need.plan.total, units)}"
    except UsageError as error:
        thread = (str(error),)
    word = "row" if course.rounds[-1].flat else "round"
    whole = f"{counted(course.beads, 'bead')} in {counted(sum(len(item.numbers) for item in course.rounds), word)}"
    each = tuple(_each(course, word))
    return Outcome(
        text,
        plan,
        course,
        "; ".join((whole, *_about(size, units), *filter(None, [takes.partition(" (")[0]]))),
        (
            f"{whole}: {', '.join(f'{need.count:,} {need.code} {names[need.code]}' for need in beads)}",
            *each,
            *_measures(size, units),
            *filter(None, [takes]),
        ),
        (f"{plan.title}: {whole}", *each),
        tuple(size_lines(size, units, sources=False)),
        tuple(bead_lines(beads, names, units)),
        thread,
        tuple(str(problem) for problem in doubts(course, plan)),
    )


def _about(size: Size, units: Units) -> tuple[str, ...]:
    """How large, in a few words."""
    if size.rings:
        return (", ".join(one.value.text for one in size.rings[:2]),)
    if size.inside is not None:
        return (f"{length(size.inside.value, units)} around inside",)
    return tuple(f"{one.label} {length(one.length.value, units)}" for one in size.extents[:2])


def _measures(size: Size, units: Units) -> Iterator[str]:
    """How large, with how sure that is."""
    if size.inside is not None:
        yield f"inside {length_range(size.inside, units)} around"
    if size.rings:
        yield ", ".join(map(sizes_words, size.rings))
    if size.sort is Sort.BANGLE and size.hand is not None:
        yield f"goes over a closed hand of up to {length_range(size.hand, units)} around"
    yield from (f"{one.label} {length_range(one.length, units)}" for one in size.extents)
    if size.wide is not None and size.finger is not None:
        yield f"so wide, it fits a finger of about {size.finger}"


def _each(course: Course, word: str) -> Iterator[str]:
    """Beads of each round, edge by edge."""
    for edge in dict.fromkeys(item.edge for item in course.rounds):
        beads = [_beads(item, word) for item in course.rounds if item.edge == edge]
        if len(beads) > _SHOWN:
            beads = [*beads[: _SHOWN - 2], "…", beads[-1]]
        several = any(item.edge != edge for item in course.rounds)
        yield f"beads of each {word}{f' on the {edge} edge' if several else ''}: {' '.join(beads)}"


def _beads(item: Round, word: str) -> str:
    both = f" ({word}s {listed(map(str, item.numbers), 'and')})" if len(item.numbers) > 1 else ""
    return f"{item.beads:,}{both}"
