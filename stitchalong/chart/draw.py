"""From a course to its chart: each part in the way that suits what it begins with, one part below the other."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stitchalong.chart.laid import beads, cells
from stitchalong.chart.model import Bead, Chart, Label, framed
from stitchalong.chart.panels import PITCH, Panels, Row, Slot, places_of
from stitchalong.chart.rings import Rings
from stitchalong.chart.rows import Lines
from stitchalong.course.course import Course, Round
from stitchalong.course.sides import sides_of
from stitchalong.fabric import band

_PART_GAP = 3.0
_FRAME = 2.5
"""from the spacers of a band down to its bottom beads"""


def chart_of(course: Course) -> Chart:
    """The whole piece. Time and memory grow with its beads; make it once and ask for windows of it."""
    found: list[Bead] = []
    labels: list[Label] = []
    top = 0.0
    for part in course.part_names:
        indexes = [index for index, item in enumerate(course.rounds) if item.part == part]
        placed, words = _part(course, indexes)
        _complete(course, indexes, placed)
        if len(course.part_names) > 1:
            words = [*words, Label(part, min(bead.x for bead in placed), min(bead.y for bead in placed) - 2)]
        shift = top - min([bead.y for bead in placed] + [label.y for label in words])
        found += [replace(bead, y=bead.y + shift) for bead in placed]
        labels += [replace(label, y=label.y + shift) for label in words]
        top = max(bead.y for bead in found) + _PART_GAP
    return framed(course.title, found, labels)


def _part(course: Course, indexes: list[int]) -> tuple[list[Bead], list[Label]]:
    start = course.rounds[indexes[0]]
    if any(course.rounds[index].first_pass >= 0 for index in indexes) or start.technique not in (
        "band",
        "tube",
        "ring",
    ):
        lines = Lines(course, indexes)
        for index in indexes:
            lines.add(index)
        return lines.beads, []
    if start.technique == "ring":
        rings = Rings(course)
        for index in indexes:
            rings.add(index)
        return rings.beads, []
    return _laid_open(course, indexes)


def _complete(course: Course, indexes: list[int], placed: list[Bead]) -> None:
    """Beads that no drawing has a place for (those of moves) lie in a line of their own, so that none is missing."""
    have = {bead.number for bead in placed}
    missing = [one for index in indexes for one in beads(course, index) if one[0] not in have]
    if missing:
        low = max(bead.y for bead in placed) + 2 if placed else 0.0
        placed += [Bead(number, code, float(at), low) for at, (number, code) in enumerate(missing)]


# ---- bands and tubes ----------------------------------------------------------------------------


def _laid_open(course: Course, indexes: list[int]) -> tuple[list[Bead], list[Label]]:
    first = indexes[0]
    start = course.rounds[first]
    is_band = start.technique == "band"
    places, panels, closed = _born(course, indexes)
    open_ = Panels(places, panels, closed)
    up_cells = list(cells(course, first))
    if not is_band:
        strung = up_cells
        up_cells, under = strung[::2], strung[1::2]
        size = len(places)
        turned = [*places, places[0] + open_.turn]
        low = [Slot(open_.between(turned[at], turned[at + 1], 1)[0], under[at], 0) for at in range(size)]
        open_.rows.append(Row(tuple(low), 0.5))
        spacers = [Slot(place, cell, 0) for place, cell in zip(places, up_cells, strict=True)]
    else:
        spacers = [
            Slot(place, replace(cell, beads=cell.beads[:1], codes=cell.codes[:1], ups=(0,)), 0)
            for place, cell in zip(places, up_cells, strict=True)
        ]
    open_.rows.append(Row(tuple(spacers), 0.0))
    edges: dict[str, list[int]] = {}
    tipped: set[str] = set()
    """edges whose last row has beads that stand out of it"""
    heights = {"top": 0.0, "bottom": _FRAME + 0.5}
    for index in indexes[1:]:
        item = course.rounds[index]
        laid = list(cells(course, index))
        backwards = item.edge == "bottom"
        if item.technique == "fill":
            mine = [places[(item.begin - space) % len(places)] for space in range(len(laid))]
            mine = _descending(mine, open_.turn)
            slots = [Slot(place, cell, 0) for place, cell in zip(mine, laid, strict=True)]
        else:
            below = edges[item.edge] if item.below != first else places
            slots, mine = open_.new_places(laid, below, item.begin, backwards)
            heights[item.edge] += (0.5 if backwards else -0.5) * (3 if item.edge in tipped else 1)
            tipped -= {item.edge}
        if any(len(cell.beads) > len(cell.ups) for cell in laid):
            tipped.add(item.edge)
        edges[item.edge] = mine
        open_.rows.append(Row(tuple(slots), heights[item.edge], backwards))
    found, middles = open_.draw()
    if is_band:
        found += _frame(course, start, found, places, closed)
    above = min(bead.y for bead in found) - 1.5
    labels = [Label(f"side {panel + 1}", x - 1.8, above) for panel, x in middles.items() if panels > 1]
    return found, labels


def _born(course: Course, indexes: list[int]) -> tuple[list[int], int, bool]:
    """Places of the up beads that a band or tube is born with: by its own sides, or where it has none, by those of the
    round that fills a band's other edge."""
    first = indexes[0]
    item = course.rounds[first]
    runs = [(stitch, count) for stitch, count in course.runs_of(first) if stitch.visits_space]
    if item.technique == "tube":
        single = [(stitch, 1) for stitch, count in runs for _ in range(count)]
        return places_of(sides_of(single[::2]), item.spaces)
    own = sides_of(runs)
    if len(own.stretches) == 1:
        fill = next((index for index in indexes if course.rounds[index].technique == "fill"), None)
        if fill is not None and len(sides_of(course.runs_of(fill)).stretches) > 1:
            other, panels, closed = places_of(sides_of(course.runs_of(fill)), item.spaces)
            begin = course.rounds[fill].begin
            mirrored = [0] * item.spaces
            for space, place in enumerate(other):
                mirrored[(begin - space) % item.spaces] = -place
            return _ascending(mirrored, 2 * panels), panels, closed
    return places_of(own, item.spaces)


def _ascending(places: list[int], turn: int) -> list[int]:
    """The same places, each at least as far round as the one before."""
    out: list[int] = []
    for place in places:
        if turn:
            place %= turn
            while out and place < out[-1]:
                place += turn
        out.append(place)
    return out


def _descending(places: list[int], turn: int) -> list[int]:
    """The same places, each at most as far round as the one before."""
    return [-place for place in _ascending([-place for place in places], turn)]


def _frame(course: Course, start: Round, placed: list[Bead], places: list[int], closed: bool) -> Iterator[Bead]:
    """The frame beads of a band: tops and bottoms between the spacers, sides under them. Beside a rib they stay with
    their panel."""
    units, base = start.spaces, start.first_bead - 1
    codes = dict(beads(course, course.rounds.index(start)))
    at = {bead.number: bead.x for bead in placed}
    spacer_x = [at[base + band.spacer(unit, units)] for unit in range(units)]
    for unit in range(units):
        here, before = spacer_x[unit], spacer_x[unit - 1]
        if here - before == PITCH or closed or not (places[unit - 1] & 1 or here < before):
            x = before + PITCH / 2
        else:
            x = here - PITCH / 2
        number = base + band.top(unit, units)
        yield Bead(number, codes[number], x, 0.5)
        number = base + band.bottom(unit, units)
        yield Bead(number, codes[number], x, _FRAME)
        number = base + band.side(unit, units)
        yield Bead(number, codes[number], here, 1.5)
