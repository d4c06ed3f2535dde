"""A course as plain data, for scripts and for checking from outside. Stable: `format` is raised when it changes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from stitchalong.course.course import Course, Round
from stitchalong.course.sides import Sides, sides_of
from stitchalong.course.threads import Threads
from stitchalong.fabric.stitch import Kind, Note, Stitch

FORMAT = 1


def rows(course: Course) -> Iterator[dict[str, object]]:
    """One row a round: part, edge, round, stitches, beads, increases, decreases, codes, sides. A seam has none."""
    for index, item in enumerate(course.rounds):
        if item.technique == "zip":
            continue
        runs = list(course.runs_of(index))
        if len(item.numbers) > 1:
            two = _strung_rows(runs)
            # the first bead belongs to the later one, but for an odd row to and fro
            later = item.spaces % 2 if item.flat else 0
            yield _row(item, item.numbers[0], two[1 - later])
            yield _row(item, item.numbers[1], two[later])
        else:
            yield _row(item, item.number, runs)


def _strung_rows(runs: list[tuple[Stitch, int]]) -> tuple[list[tuple[Stitch, int]], list[tuple[Stitch, int]]]:
    """Of two rows strung at once, that of the first bead and that of the second."""
    strung = [(stitch, 1) for stitch, count in runs for _ in range(count) if stitch.kind is Kind.STRING]
    return strung[::2], strung[1::2]


def _sides_by_row(course: Course, index: int) -> list[Sides]:
    """The sides of a round; of rows strung at once those of each, which take turns."""
    runs = list(course.runs_of(index))
    if len(course.rounds[index].numbers) > 1:
        return [sides_of(row) for row in _strung_rows(runs)]
    return [sides_of(runs)]


def _row(item: Round, number: int, runs: list[tuple[Stitch, int]]) -> dict[str, object]:
    codes: Counter[str] = Counter()
    increases = decreases = 0
    for stitch, count in runs:
        for code in stitch.beads:
            codes[code] += count
        increases += count if stitch.has(Note.INCREASE) else 0
        decreases += count if stitch.has(Note.DECREASE) else 0
    return {
        "part": item.part,
        "edge": item.edge,
        "round": number,
        "stitches": item.spaces,
        "beads": codes.total(),
        "increases": increases,
        "decreases": decreases,
        "codes": dict(sorted(codes.items())),
        "sides": list(sides_of(runs).lengths),
    }


def totals(course: Course) -> dict[str, int]:
    """Beads per code."""
    codes: Counter[str] = Counter()
    for run in range(len(course.run_stitch)):
        stitch = course.stitch_of(run)
        for code in stitch.beads:
            codes[code] += course.count_of(run)
    return dict(sorted(codes.items()))


def check_document(course: Course) -> dict[str, object]:
    """What `check --json` prints."""
    document: dict[str, object] = {
        "format": FORMAT,
        "title": course.title,
        "beads": course.beads,
        "totals": totals(course),
        "rounds": list(rows(course)),
    }
    if course.open_heights:
        document["open"] = [
            {"least": least, "usual": usual, "most": most} for least, usual, most in course.open_heights
        ]
    return document


def course_document(course: Course) -> dict[str, object]:
    """What `course --json` prints: every round with its stitches and moves in order."""
    threads = Threads(course)
    return {
        "format": FORMAT,
        "title": course.title,
        "rounds": [_round(course, threads, index) for index in range(len(course.rounds))],
    }


def _round(course: Course, threads: Threads, index: int) -> dict[str, object]:
    item = course.rounds[index]
    runs = range(item.first_run, item.stop_run)
    spaces = sum(course.count_of(run) for run in runs if course.stitch_of(run).visits_space)
    sides = _sides_by_row(course, index)
    stitches: list[dict[str, object]] = []
    here = 0
    for run in runs:
        stitch = course.stitch_of(run)
        for nth in range(course.count_of(run)):
            row, place = sides[here % len(sides)], here // len(sides)
            stitches.append(_stitch(course, threads, index, run, nth, row, place, here == spaces - 1))
            here += stitch.visits_space
    document: dict[str, object] = {
        "part": item.part,
        "edge": item.edge,
        "round": item.number,
        "stitches": stitches,
    }
    if len(item.numbers) > 1:
        document["rounds"] = list(item.numbers)
    return document


def _stitch(
    course: Course, threads: Threads, index: int, run: int, nth: int, sides: Sides, space: int, last: bool
) -> dict[str, object]:
    stitch = course.stitch_of(run)
    first = course.run_bead[run] + nth * len(stitch.beads) + 1
    through = threads.view(index).through(run, nth)
    stretch = sides.stretch_of(space) if stitch.visits_space else None
    return {
        "beads": list(stitch.beads),
        "ids": list(range(first, first + len(stitch.beads))),
        "through": through,
        "through_codes": [threads.code(bead) for bead in through],
        "kind": str(stitch.kind),
        "side": stretch.side if stretch else None,
        "increase": stitch.has(Note.INCREASE),
        "decrease": stitch.has(Note.DECREASE),
        "inside": stitch.has(Note.INSIDE),
        "flank": flank_of(stitch),
        "marker": stitch.has(Note.MARKER),
        "last": stitch.visits_space and last,
        "step_up": step_up_count(stitch),
    }


def flank_of(stitch: Stitch) -> str | None:
    """`before`, `after` or `both` for a space beside an increase or the inside of a pair."""
    before, after = stitch.has(Note.BEFORE), stitch.has(Note.AFTER)
    if before and after:
        return "both"
    return "before" if before else "after" if after else None


def step_up_count(stitch: Stitch) -> int:
    """Beads passed by a step-up, with the up bead where the round began; 0 for anything else."""
    if stitch.kind is not Kind.STEP_UP:
        return 0
    return int(stitch.detail) if stitch.detail.isdigit() else 1
