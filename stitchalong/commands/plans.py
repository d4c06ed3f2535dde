"""Commands on plans: check one, print its rounds, print the schema."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator
from dataclasses import replace

from stitchalong.commands.reading import Read, located, read
from stitchalong.commands.rounds import round_lines
from stitchalong.commands.table import columns
from stitchalong.commands.world import World, harmless
from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.course.noting import sides_in_words
from stitchalong.course.outlook import word_of
from stitchalong.course.report import check_document, course_document, rows, totals
from stitchalong.course.words import counted
from stitchalong.errors import Exit, PlanError, Problem
from stitchalong.measure.doubts import doubts
from stitchalong.plan.charted import in_words
from stitchalong.plan.library import find_plan
from stitchalong.plan.model import Height, Peyote, Plan, Rows

MOST_HEIGHTS = 8
"""open heights told with their beads; each is reckoned anew for its least and its most"""


def run(asked: Namespace, world: World) -> int:
    """`check`, `course` or `schema`."""
    match asked.command:
        case "schema":
            from stitchalong.plan.schema import json_schema

            world.say_data(json_schema())
        case "check":
            if asked.watch:
                from stitchalong.commands.watching import watch

                return watch(find_plan(asked.plan), lambda: _check(asked, world), world)
            return _check(asked, world)[0]
        case _:
            _course(asked, world)
    return Exit.OK


def _course(asked: Namespace, world: World) -> None:
    found = read(asked.plan, asked.units, asked.sides)
    with located(found.loaded):
        course = compile_plan(found.plan)
    if asked.json:
        world.say_data(course_document(course))
    elif asked.in_full:
        from stitchalong.course.in_full import print_in_full
        from stitchalong.plan.read import read_text

        world.say_all(print_in_full(found.data, course, lambda text: read_text(text).plan).splitlines())
    else:
        world.say_all(round_lines(course, found.plan))


# ---- check --------------------------------------------------------------------------------------


def _check(asked: Namespace, world: World) -> tuple[int, Course | None]:
    """Tell what there is to tell; the exit status, and the course where there is one."""
    try:
        found = read(asked.plan, asked.units, asked.sides)
        with located(found.loaded):
            course = compile_plan(found.plan)
    except PlanError as error:
        for problem in error.problems:
            _tell(world, problem)
        return error.status, None
    heights = _heights(found, course)
    if asked.json:
        world.say_data(check_document(course))
    else:
        world.say_all(_table(course, found.plan))
        world.say_all(line for line, _ in heights)
    for problem in found.doubts:
        _tell(world, problem)
    for _, doubt in heights:
        if doubt is not None:
            _tell(world, doubt)
    for problem in doubts(course, found.plan):
        _tell(world, found.loaded.located(problem))
    return Exit.OK, course


def _tell(world: World, problem: Problem) -> None:
    """One line, and where the fault lies in a piece of notation, that with marks under the place."""
    doubt = "a doubt: " if problem.doubtful else ""
    world.tell(f"stitchalong: {doubt}{' '.join(str(problem).split())}")
    caret = problem.caret()
    source = problem.place.source
    # a source over several lines, or one with signs that are not shown, has its marks in the wrong place
    if caret is not None and source is not None and harmless(source) == source and len(source) <= 500:
        for line in caret.splitlines():
            world.tell(f"    {line}")


def _table(course: Course, plan: Plan) -> Iterator[str]:
    yield course.title
    several = len(course.part_names) > 1
    table = [("part", "edge", "round", "stitches", "beads", "increases", "decreases", "sides", "by bead")]
    for row in rows(course):
        codes: dict[str, int] = row["codes"]  # type: ignore[assignment]
        sides: list[int] = row["sides"]  # type: ignore[assignment]
        numbers = [str(row[key]) for key in ("part", "edge", "round", "stitches", "beads")]
        changes = [str(row[key] or "") for key in ("increases", "decreases")]
        by_bead = ", ".join(f"{count:,} {code}" for code, count in codes.items())
        table.append((*numbers, *changes, sides_in_words(sides), by_bead))  # type: ignore[arg-type]
    shown = [line if several else line[1:] for line in table]
    yield from columns(shown, right=frozenset(range(1 + several, 6 + several)))
    names = {bead.code: bead.name for bead in plan.beads}
    each = ", ".join(f"{count:,} {code} ({names[code]})" for code, count in totals(course).items())
    yield f"in all {counted(course.beads, 'bead')}: {each}"
    yield from (in_words(chart) for chart in plan.charts if chart.picture)


def _heights(found: Read, course: Course) -> list[tuple[str, Problem | None]]:
    """Of each open height, a line with least, usual and most and the beads of each; and what is doubtful of it."""
    out: list[tuple[str, Problem | None]] = []
    works = [
        index for index, work in enumerate(found.plan.work) if isinstance(work, Peyote | Rows) and work.height.open
    ]
    words = {item.work: word_of(item) for item in reversed(course.rounds)}
    for index in works[:MOST_HEIGHTS]:
        work = found.plan.work[index]
        assert isinstance(work, Peyote | Rows)
        height = work.height
        row = words[index]
        parts, doubt = [], None
        for word, rounds in (("least", height.least), ("usual", height.usual), ("most", height.most)):
            if rounds is None:
                parts.append(f"{word} as high as you like")
                continue
            text = f"{word} {counted(rounds, row)}"
            try:
                beads = course.beads if word == "usual" else _in_height(found, index, rounds).beads
                parts.append(f"{text} ({counted(beads, 'bead')} in all)")
            except PlanError as error:
                parts.append(f"{text} (cannot be stitched)")
                first = error.problems[0]
                doubt = doubt or replace(first, what=f"with {counted(rounds, row)}: {first.what}", doubtful=True)
        out.append((f"open height on the {work.edge} edge: {', '.join(parts)}", doubt))
    if len(works) > MOST_HEIGHTS:
        out.append((f"and {len(works) - MOST_HEIGHTS:,} more open heights", None))
    return out


def _in_height(found: Read, index: int, rounds: int) -> Course:
    """The course if this open rise gets so many rounds, the others their usual ones."""
    work = found.plan.work[index]
    assert isinstance(work, Peyote | Rows)
    height = Height(work.height.least, rounds, work.height.most)
    changed = replace(work, height=height)
    with located(found.loaded):
        return compile_plan(
            replace(found.plan, work=(*found.plan.work[:index], changed, *found.plan.work[index + 1 :]))
        )
