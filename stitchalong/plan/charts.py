"""Colour charts: letters in a grid, as one sees the finished work, become strands, rows and rounds.

A line of the grid has one letter for each column; in peyote every second column stands half a bead higher, so that a
line holds two rows. One corner of the grid is where the first bead is strung. From there the strand takes the first
line; after that each bead takes the next letter of its column:

- to and fro, row 3 goes back over every second column from the last one on, row 4 over the others from the first on;
- round and round, each step-up begins the next round one column further on;
- on an odd ring the spiral takes every second column, on and on.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from stitchalong.plan.model import Chart, Lay, Written
from stitchalong.plan.wording import print_round

CORNERS = ("bottom left", "bottom right", "top left", "top right")


def from_corner(chart: Chart) -> list[str]:
    """The lines as they are worked: the first is that of the strand, its first letter that of the first bead."""
    low, side = chart.begins.split()
    lines = list(chart.lines if low == "top" else reversed(chart.lines))
    return lines if side == "left" else [line[::-1] for line in lines]


def strand(chart: Chart) -> Written:
    """The beads strung."""
    return _written(from_corner(chart)[0])


def rows(chart: Chart, drop: int = 1) -> list[Written]:
    """The rows of flat peyote behind the strand, `drop` columns to a stitch."""
    lines = from_corner(chart)
    groups = len(lines[0]) // drop
    back = [list(range(group * drop, (group + 1) * drop))[::-1] for group in range(groups - 1, -1, -2)]
    on = [list(range(group * drop, (group + 1) * drop)) for group in range(groups % 2, groups, 2)]
    columns = [[column for group in part for column in group] for part in (back, on)]
    return _laid(lines, (columns[nth % 2] for nth in range(2 * len(lines) - 2)))


def rounds(chart: Chart, drop: int = 1) -> list[Written]:
    """The rounds of a tube behind the strand, from where each step-up leads."""
    lines = from_corner(chart)
    groups = len(lines[0]) // drop
    return _laid(lines, (_round(nth, groups, drop) for nth in range(2 * len(lines) - 2)))


def _round(nth: int, groups: int, drop: int) -> list[int]:
    starts = ((nth + 1 + 2 * stitch) % groups for stitch in range(groups // 2))
    return [group * drop + at for group in starts for at in range(drop)]


def laps(chart: Chart) -> list[Written]:
    """The laps of a spiral behind the strand."""
    lines = from_corner(chart)
    width = len(lines[0])
    found: list[list[int]] = []
    at = 1
    for nth in range(2 * len(lines) - 2):
        stitches = width // 2 + nth % 2
        found.append([(at + 2 * stitch) % width for stitch in range(stitches)])
        at += 2 * stitches
    return _laid(lines, found)


def _laid(lines: Sequence[str], columns: Iterable[Sequence[int]]) -> list[Written]:
    """The letters of these columns, each one higher in its column than the last."""
    height = [1] * len(lines[0])
    found = []
    for row in columns:
        codes = []
        for column in row:
            codes.append(lines[height[column]][column])
            height[column] += 1
        found.append(_written(codes))
    return found


def _written(codes: Iterable[str]) -> Written:
    items = tuple(_runs(codes))
    written = Written(items)
    return Written(items, text=print_round(written))


def _runs(codes: Iterable[str]) -> Iterator[Lay]:
    for code, same in groupby(codes):
        yield Lay("single", (code,), len(list(same)))


def fault_of(lines: Sequence[str]) -> str | None:
    """Why these lines are no grid; None where they are."""
    if len(lines) < 2:
        return "a chart has two lines or more"
    width = len(lines[0])
    for nth, line in enumerate(lines):
        if len(line) != width:
            return f"line {nth + 1} of the chart has {len(line)} letters, and line 1 has {width}"
    if width < 2:
        return "a chart has two columns or more"
    wrong = next((letter for line in lines for letter in line if not "A" <= letter <= "Z"), None)
    if wrong is None:
        return None
    return f"`{wrong}` is no bead code" if wrong.isprintable() else f"U+{ord(wrong):04X} is no bead code"
