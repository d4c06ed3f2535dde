"""The bonds of a start: a ring, a strung tube, a band of modified right-angle weave."""

from __future__ import annotations

import math

from stitchalong.fabric import band
from stitchalong.form.bonds import WEAK, Bonds
from stitchalong.form.edges import Edge, Gap

MOST_AT_ONCE = 8
"""A ring of more beads opens as it grows, and lies in a circle to begin with."""


def ring(bonds: Bonds, first: int, size: int) -> Edge:
    """`size` beads threaded in a ring, from bead `first` on."""
    beads = range(first, first + size)
    small = size <= MOST_AT_ONCE
    corner = 180 - 360 / size
    wide = bonds.rim(first, first + 1, corner) if small else 2 * bonds.end(first, first + 1)
    radius = wide / (2 * math.sin(math.pi / size))
    for nth, bead in enumerate(beads):
        other = beads[(nth + 1) % size]
        bonds.seed[bead] = _on_circle(radius, nth / size, 0.0)
        bonds.tie(bead, other, bonds.rim(bead, other, corner), WEAK)
        bonds.thread(bead, other)
    bonds.disc = bonds.disc or small
    return Edge(tuple((bead,) for bead in beads), (Gap((), small),) * size)


def tube(bonds: Bonds, first: int, size: int) -> Edge:
    """2 · `size` beads strung for rounds 1 and 2; every second one is an up bead, the first among them."""
    beads = range(first, first + 2 * size)
    around = sum(bonds.measures[bead].along for bead in beads)
    for nth, bead in enumerate(beads):
        other = beads[(nth + 1) % len(beads)]
        rise = bonds.measures[bead].across / 4
        bonds.seed[bead] = _on_circle(around / (2 * math.pi), nth / len(beads), -rise if nth % 2 else rise)
        bonds.tie(bead, other, bonds.side(bead, other))
        bonds.thread(bead, other)
    return Edge(tuple((bead,) for bead in beads[::2]), tuple(Gap((bead,)) for bead in beads[1::2]))


def mraw(bonds: Bonds, first: int, units: int) -> tuple[Edge, Edge]:
    """A band: its upper edge (the spacers in order of units), and its lower one (the bottom beads in descending
    order, as the needle meets them)."""
    spacers, tops, sides, bottoms = (
        [first - 1 + number(unit, units) for unit in range(units)]
        for number in (band.spacer, band.top, band.side, band.bottom)
    )
    _seed_band(bonds, spacers, tops, sides, bottoms, closed=True)
    # a side bead stands behind the top and bottom of its unit
    _frames(bonds, spacers, tops, [sides[-1], *sides], bottoms, closed=True)
    upper = Edge(tuple((spacer,) for spacer in spacers), tuple(Gap((top,)) for top in (*tops[1:], tops[0])))
    down_order = [-nth % units for nth in range(units)]
    lower = Edge(tuple((bottoms[unit],) for unit in down_order), tuple(Gap((sides[unit - 1],)) for unit in down_order))
    return upper, lower


def mraw_strip(bonds: Bonds, first: int, units: int) -> tuple[list[int], list[int]]:
    """A strip that is not joined: its top beads and its spacers, as the next row meets them."""
    begins = [first + 4 * unit for unit in range(units)]
    # the first unit is a ring of top, side, bottom, side; each further one a spacer, top, side, bottom
    tops = [first, *(begin + 1 for begin in begins[1:])]
    sides = [first + 3, first + 1, *(begin + 2 for begin in begins[1:])]
    bottoms = [first + 2, *(begin + 3 for begin in begins[1:])]
    spacers = begins[1:]
    _seed_band(bonds, spacers, tops, sides, bottoms, closed=False)
    _frames(bonds, spacers, tops, sides, bottoms, closed=False)
    return tops[::-1], spacers[::-1]


def _frames(
    bonds: Bonds, spacers: list[int], tops: list[int], sides: list[int], bottoms: list[int], *, closed: bool
) -> None:
    """The rooms of a band, the side beads before and behind each, and the spacers between the tops."""
    units = len(tops)
    for unit in range(units):
        wide = bonds.end(tops[unit], spacers[unit % len(spacers)])
        for row, up in ((tops, 1.0), (bottoms, -1.0)):
            bead = row[unit]
            for side, end in ((sides[unit + 1], 1.0), (sides[unit], -1.0)):
                bonds.tie(bead, side, math.hypot(wide, shoulder(bonds, bead, side)))
                bonds.stiffen(bead, side)
                # a side bead's hole runs up; the frame's thread turns at each corner
                bonds.lies(side, bead, up)
                bonds.lies(bead, side, up * end)
    for unit, spacer in enumerate(spacers):
        left, right = tops[unit], tops[(unit + 1) % units]
        for top in (left, right):
            bonds.tie(top, spacer, bonds.side(top, spacer))
        bonds.thread(left, spacer)
        bonds.thread(spacer, right)
    for unit, spacer in enumerate(spacers):
        kite(bonds, tops[unit], spacer, tops[(unit + 1) % units], sides[unit + 1])
    for unit in range(units):
        before, behind = sides[unit], sides[unit + 1]
        wide = bonds.end(tops[unit], spacers[unit % len(spacers)])
        up, down = (shoulder(bonds, row[unit], behind) for row in (tops, bottoms))
        bonds.cell(tops[unit], behind, bottoms[unit], before, points=((0, up), (wide, 0), (0, -down), (-wide, 0)))


def shoulder(bonds: Bonds, row: int, side: int) -> float:
    """How far a top or bottom bead's middle lies from that of the side bead, along the side bead's hole."""
    return (bonds.measures[row].across + bonds.measures[side].along) / 2


def kite(bonds: Bonds, left: int, middle: int, right: int, side: int) -> None:
    """The cell over (or under) a side bead: two beads of the frame's row and the bead between them."""
    wide, high = bonds.end(left, middle), shoulder(bonds, left, side)
    rise = bonds.over(left, middle) / 2
    bonds.cell(left, middle, right, side, points=((-wide, high), (0, high + rise), (wide, high), (0, 0)))


def _seed_band(
    bonds: Bonds, spacers: list[int], tops: list[int], sides: list[int], bottoms: list[int], *, closed: bool
) -> None:
    units = len(tops)
    pitch = 2 * sum(bonds.end(tops[unit], spacer) for unit, spacer in enumerate(spacers)) / len(spacers)
    high = shoulder(bonds, tops[0], sides[-1])
    rise = high + bonds.over(tops[0], spacers[0]) / 2
    begin = 0.5 if closed else -0.5
    for beads, from_, z in ((tops, 0.0, high), (sides, begin, 0.0), (bottoms, 0.0, -high), (spacers, 0.5, rise)):
        for at, bead in enumerate(beads):
            place = at + from_
            if closed:
                bonds.seed[bead] = _on_circle(units * pitch / (2 * math.pi), place / units, z)
            else:
                bonds.seed[bead] = ((place - units / 2) * pitch, 0.0, z)


def _on_circle(radius: float, turn: float, z: float) -> tuple[float, float, float]:
    angle = 2 * math.pi * turn
    return radius * math.cos(angle), radius * math.sin(angle), z
