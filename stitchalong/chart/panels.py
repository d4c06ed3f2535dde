"""Bands and tubes laid open: the sides that lie between two ribs become panels, side by side.

Where there is no rib the work is cut open at one place, and a place is a column, two from bead to bead.

A *place* says where round the piece an up bead is: panel s is 2s, the rib between panel s and the next 2s + 1. Places
count on beyond a whole turn, so that a round that begins within a panel comes back to it one turn later. A new bead
takes its place from the two up beads that it lies between; of a pair over a rib one bead belongs to either side.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from stitchalong.chart.laid import Cell
from stitchalong.chart.model import SMALL, Bead
from stitchalong.course.sides import Sides

PITCH = 2.0
"""from one bead of a row to the next: the row between fills the gaps"""
GAP = 3.0
"""from panel to panel; the ribs stand in it"""
TIP = 1.0
"""how far the tip of a picot stands out of its row"""


@dataclass(frozen=True, slots=True)
class Slot:
    """One up bead of a row, with what its stitch lays beside it."""

    place: int
    cell: Cell
    """whose beads are drawn here"""
    nth: int
    """which up bead of the stitch this is"""


@dataclass(frozen=True, slots=True)
class Row:
    """A round, or part of one, drawn in one line of beads."""

    slots: tuple[Slot, ...]
    """in working order"""
    height: float
    backwards: bool = False
    """worked from right to left as it is drawn"""


class Panels:
    """One part of a piece: its rows in panels."""

    def __init__(self, places: Sequence[int], panels: int, closed: bool) -> None:
        """`places` of the first row's up beads; `closed`: no rib anywhere, places are columns."""
        self.panels = panels
        self.closed = closed
        self.turn = 2 * len(places) if closed else 2 * panels
        self.rows: list[Row] = []

    def new_places(
        self, laid: Sequence[Cell], below: Sequence[int], begin: int, backwards: bool
    ) -> tuple[list[Slot], list[int]]:
        """The slots of a round that begins at up bead `begin` of the edge below, and the places of its own up beads."""
        turn = -self.turn if backwards else self.turn
        size = len(below)
        slots: list[Slot] = []
        places: list[int] = []
        for space, cell in enumerate(laid):
            low, high = (below[at % size] + at // size * turn for at in (begin + space, begin + space + 1))
            mine = self.between(low, high, len(cell.ups))
            places += mine
            slots += [Slot(place, cell, nth) for nth, place in enumerate(mine)]
        return slots, places

    def between(self, low: int, high: int, count: int) -> list[int]:
        """The places of `count` up beads that lie between two neighbours."""
        if self.closed:
            return [low + (high - low) * (nth + 1) // (count + 1) for nth in range(count)]
        return _between(low, high, count)

    # ---- drawing --------------------------------------------------------------------------------

    def draw(self) -> tuple[list[Bead], dict[int, float]]:
        """All beads, and the middle of each panel."""
        if self.closed:
            found = [
                bead
                for row in self.rows
                for slot in row.slots
                for bead in _drawn(slot, slot.place % self.turn * PITCH / 2, row.height, row.backwards)
            ]
            return found, {}
        ordered = [self._ordered(row) for row in self.rows]
        widest: dict[int, int] = defaultdict(lambda: 1)
        for groups in ordered:
            for place, slots in groups.items():
                widest[place] = max(widest[place], len(slots))
        middles: dict[int, float] = {}
        x = 0.0
        for panel in range(self.panels):
            width = PITCH * widest[2 * panel]
            middles[2 * panel] = x + width / 2
            rib = max(GAP, 1.0 * widest[2 * panel + 1] + 1)
            middles[2 * panel + 1] = x + width + rib / 2
            x += width + rib
        found = []
        before: dict[tuple[int, bool], int] = {}
        shifted: dict[tuple[int, bool], float] = {}
        for row, groups in zip(self.rows, ordered, strict=True):
            for place, slots in groups.items():
                here = place, row.backwards
                pitch = 1.0 if place & 1 else PITCH
                if not place & 1 and (len(slots) - before.get(here, len(slots) + 1)) % 2 == 0:
                    # as many as in the row before, or a pair more: half a step aside, into its gaps
                    shifted[here] = PITCH / 2 - shifted.get(here, 0.0)
                before[here] = len(slots)
                start = middles[place] - pitch * (len(slots) - 1) / 2 + shifted.get(here, 0.0)
                for at, slot in enumerate(slots):
                    found += _drawn(slot, start + pitch * at, row.height, row.backwards)
        return found, {panel: middles[2 * panel] for panel in range(self.panels)}

    def _ordered(self, row: Row) -> dict[int, list[Slot]]:
        """The slots of each place from left to right: in a panel that the round began within, its end comes first."""
        slots = list(reversed(row.slots)) if row.backwards else list(row.slots)
        groups: dict[int, list[Slot]] = {}
        wound = sorted(slots, key=lambda slot: (slot.place % self.turn, -(slot.place // self.turn)))
        for slot in wound:
            groups.setdefault(slot.place % self.turn, []).append(slot)
        return groups


def _between(low: int, high: int, count: int) -> list[int]:
    if not count:
        return []
    if low == high:
        return [low] * count
    step = 1 if high > low else -1
    first = low if not low & 1 else low + step
    last = high if not high & 1 else high - step
    if count == 1:
        # between a panel and its rib: in the panel; between two panels: on the rib
        middle = (low + high) // 2
        return [first if abs(high - low) == 1 and not low & 1 else last if abs(high - low) == 1 else middle]
    return [first, *[(low + high) // 2] * (count - 2), last]


def places_of(sides: Sides, spaces: int) -> tuple[list[int], int, bool]:
    """Places of a row's beads by the sides it has, how many panels there are, and whether there is no rib at all (then
    they are columns)."""
    panels = len(sides.lengths)
    if panels == 1 and len(sides.stretches) == 1 and sides.lengths[0] == spaces:
        return [2 * space for space in range(spaces)], 1, True
    places: list[int] = []
    last, before = -1, None
    for space in range(spaces):
        stretch = sides.stretch_of(space)
        if stretch is None:
            last = last + 1 if last >= 0 and not last & 1 else last + 2 if last >= 0 else -1
            places.append(last)
            before = None
            continue
        place = 2 * stretch.side
        while place < last or (place == last and stretch is not before and before is not None):
            place += 2 * panels
        places.append(place)
        last, before = place, stretch
    return places, panels, False


def _drawn(slot: Slot, x: float, y: float, backwards: bool) -> Iterator[Bead]:
    """The beads of a slot: the up bead, and with the first of a stitch those that do not stand up."""
    cell, up = slot.cell, slot.cell.ups[slot.nth]
    if len(cell.beads) == len(cell.ups):
        yield Bead(cell.beads[up], cell.codes[up], x, y)
        return
    out = 1 if backwards else -1
    two = len(cell.beads) == 2
    yield Bead(cell.beads[up], cell.codes[up], x - 0.35 if two else x, y + out * (0.4 if two else TIP), SMALL)
    if slot.nth:
        return
    others = [at for at in range(len(cell.beads)) if at not in cell.ups]
    for nth, at in enumerate(others):
        aside = 0.35 if two else (nth - (len(others) - 1) / 2) * 1.3 * -out
        yield Bead(cell.beads[at], cell.codes[at], x + aside, y + out * 0.4, SMALL)
