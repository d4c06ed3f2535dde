"""Places of a piece as a person can name them: edge, round, side, beads done there."""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.course.course import Course
from stitchalong.course.sides import sides_of

Segment = tuple[int, int]
"""a position, and how many beads are laid from there one after the other"""


Edge = tuple[str, str]
"""a part and an edge of it"""


def edges(course: Course) -> list[Edge]:
    """In the order in which they are first worked."""
    return list(dict.fromkeys((item.part, item.edge) for item in course.rounds))


def edge_of(course: Course, index: int) -> Edge:
    """Of a round."""
    return course.rounds[index].part, course.rounds[index].edge


def edge_words(course: Course, edge: Edge) -> str:
    """`top`; where there are several parts, `lid, top`."""
    parts = {item.part for item in course.rounds}
    return f"{edge[0]}, {edge[1]}" if len(parts) > 1 else edge[1]


def rounds_on(course: Course, edge: Edge) -> list[int]:
    """Indexes of an edge's rounds, in working order."""
    return [index for index in range(len(course.rounds)) if edge_of(course, index) == edge]


def has_sides(course: Course, index: int) -> bool:
    """Whether a place in this round is named by a side; else by beads (or units) from the round's start."""
    return course.rounds[index].technique in ("peyote", "fill")


def side_count(course: Course, index: int) -> int:
    return len(sides_of(course.runs_of(index)).lengths) if has_sides(course, index) else 1


def segments(course: Course, index: int, side: int) -> list[Segment]:
    """Where the beads of a side (0-based) are laid, in working order; of a round without sides, all of them."""
    item = course.rounds[index]
    runs = range(item.first_run, item.stop_run)
    if not has_sides(course, index):
        return [
            (course.run_step[run], course.count_of(run) * len(course.stitch_of(run).beads))
            for run in runs
            if course.stitch_of(run).beads
        ]
    found: list[Segment] = []
    for stretch in sides_of(course.runs_of(index)).stretches:
        if stretch.side != side:
            continue
        here = 0
        for run in runs:
            stitch = course.stitch_of(run)
            if not stitch.visits_space:
                continue
            count = course.count_of(run)
            first, last = max(here, stretch.start), min(here + count, stretch.stop)
            if first < last and stitch.beads:
                found.append((course.run_step[run] + (first - here) * stitch.steps, (last - first) * stitch.steps))
            here += count
    return found


def beads_in(some: Sequence[Segment]) -> int:
    return sum(beads for _, beads in some)


def position_after(some: Sequence[Segment], done: int, start: int) -> int:
    """The position at which so many beads of these are laid; `start` where there are none."""
    for nth, (position, beads) in enumerate(some):
        if done < beads or (done == beads and nth == len(some) - 1):
            return position + done
        done -= beads
    return start


def done_before(some: Sequence[Segment], position: int) -> int:
    """How many beads of these are laid at a position."""
    return sum(min(beads, max(0, position - first)) for first, beads in some)


def next_edge(course: Course, index: int) -> tuple[str, ...]:
    """The codes of the up beads that a round lays, in the order laid: what the next round hangs from."""
    codes: list[str] = []
    for stitch, count in course.runs_of(index):
        if stitch.visits_space:
            codes += [stitch.beads[up] for up in stitch.ups] * count
    return tuple(codes)
