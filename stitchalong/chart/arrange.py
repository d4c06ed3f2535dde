"""A long chart cut into pieces, so that its beads are drawn as large as a sheet of paper has room for."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from stitchalong.chart.model import Bead, Chart, Label, framed

_ASIDE = 1.8
"""how far the label of a panel begins before its middle"""
_GAP = 2.0
"""beads between two pieces"""
_MOST = 12
"""pieces"""
_WORTH = 1.25
"""how much larger beads must become for a cut"""

Piece = tuple[list[Bead], list[Label]]


@dataclass(frozen=True, slots=True)
class Arranged:
    """The same beads, perhaps in pieces."""

    chart: Chart
    told: str = ""
    """how the pieces belong together; empty where nothing was cut, or where each piece has a name"""
    mirrored: str = ""
    """the same where the chart is shown mirrored"""


def arranged(chart: Chart, width: float, height: float, enough: float) -> Arranged:
    """The chart as it is drawn largest in a room of this size. `enough`: mm of a bead that need be no larger.

    Lengths in mm. Panels are kept whole; what has none is cut between two columns or two rows. Discs are not cut.
    """
    scale = min(width / chart.width, height / chart.height)
    if scale >= enough or any(bead.turn for bead in chart.beads):
        return Arranged(chart)
    panels = sorted(label.x + _ASIDE for label in chart.labels if label.text.startswith("side "))
    if panels and len(panels) != len(chart.labels):
        return Arranged(chart)
    if panels:
        cuts = [(one + other) / 2 + 0.6 for one, other in pairwise(panels)]
        pieces = _pieces(chart, cuts, upward=False)
        found = [_in_lines(chart, pieces, number) for number in range(1, len(pieces) + 1)]
        told = mirrored = ""
    elif chart.width > chart.height:
        found = [_in_lines(chart, _even(chart, number, upward=False), 1) for number in range(1, _MOST + 1)]
        told = mirrored = "The picture is in pieces, one below the other: each goes on where the one above ends."
    else:
        found = [_in_lines(chart, _even(chart, number, upward=True), number) for number in range(1, _MOST + 1)]
        told, mirrored = (
            f"The picture is in pieces: it begins at the lower end of the {end} one; each goes on in the next."
            for end in ("left", "right")
        )
    best = max(found, key=lambda one: min(width / one.width, height / one.height, enough))
    if min(width / best.width, height / best.height) < scale * _WORTH:
        return Arranged(chart)
    return Arranged(best, told, mirrored)


def _even(chart: Chart, number: int, *, upward: bool) -> list[Piece]:
    """So many pieces of about one length, cut between two columns or two rows of beads."""
    length = chart.height if upward else chart.width
    half = 0.25 if upward else 0.5
    return _pieces(chart, [round(length * nth / number) + half for nth in range(1, number)], upward=upward)


def _pieces(chart: Chart, cuts: Sequence[float], *, upward: bool) -> list[Piece]:
    """Cut at these places: from left to right, or by height from the lower end up."""
    pieces: list[Piece] = [([], []) for _ in range(len(cuts) + 1)]
    for bead in chart.beads:
        pieces[bisect_right(cuts, bead.y if upward else bead.x)][0].append(bead)
    for label in chart.labels:
        pieces[bisect_right(cuts, label.y if upward else label.x + _ASIDE)][1].append(label)
    pieces = [piece for piece in pieces if piece[0]]
    return pieces[::-1] if upward else pieces


def _in_lines(chart: Chart, pieces: Sequence[Piece], number: int) -> Chart:
    """So many pieces side by side in each line; in a line their lower ends are level."""
    beads: list[Bead] = []
    labels: list[Label] = []
    top = 0.0
    for first in range(0, len(pieces), number):
        line = pieces[first : first + number]
        tall = max(_extent([bead.y for bead in piece[0]] + [label.y for label in piece[1]]) for piece in line)
        left = 0.0
        for some, words in line:
            low, lowest = min(bead.x for bead in some), max(bead.y for bead in some)
            dx, dy = left - low, top + tall - lowest
            beads += [replace(bead, x=bead.x + dx, y=bead.y + dy) for bead in some]
            labels += [replace(label, x=label.x + dx, y=label.y + dy) for label in words]
            left += _extent([bead.x for bead in some]) + 1 + _GAP
        top += tall + 1 + _GAP
    return framed(chart.title, beads, labels)


def _extent(places: Sequence[float]) -> float:
    return max(places) - min(places)
