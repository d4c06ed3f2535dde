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
    _seed_band(bonds, spacers, tops, sides, bottoms)
    for unit in range(units):
        nxt = (unit + 1) % units
        side, spacer = sides[unit], spacers[unit]
        wide = bonds.end(tops[unit], spacer)
        for row, at in ((tops, unit), (tops, nxt), (bottoms, unit), (bottoms, nxt)):
            bonds.tie(row[at], side, math.hypot(wide, shoulder(bonds, row[at], side)))
            bonds.stiffen(row[at], side)
        for at in (unit, nxt):
            bonds.tie(tops[at], spacer, bonds.side(tops[at], spacer))
        bonds.thread(tops[unit], spacer)
        bonds.thread(spacer, tops[nxt])
        # a side bead's hole runs up; the frame's thread turns at each corner
        for row, end in ((tops, 1.0), (bottoms, -1.0)):
            bonds.lies(side, row[unit], end)
            bonds.lies(side, row[nxt], end)
            bonds.lies(row[unit], side, end)
            bonds.lies(row[nxt], side, -end)
    for unit in range(units):
        nxt = (unit + 1) % units
        kite(bonds, tops[unit], spacers[unit], tops[nxt], sides[unit])
        wide = bonds.end(tops[nxt], spacers[unit])
        up, down = (shoulder(bonds, row[nxt], sides[unit]) for row in (tops, bottoms))
        bonds.cell(
            tops[nxt], sides[nxt], bottoms[nxt], sides[unit], points=((0, up), (wide, 0), (0, -down), (-wide, 0))
        )
    upper = Edge(tuple((spacer,) for spacer in spacers), tuple(Gap((top,)) for top in (*tops[1:], tops[0])))
    down_order = [-nth % units for nth in range(units)]
    lower = Edge(tuple((bottoms[unit],) for unit in down_order), tuple(Gap((sides[unit - 1],)) for unit in down_order))
    return upper, lower


def shoulder(bonds: Bonds, row: int, side: int) -> float:
    """How far a top or bottom bead's middle lies from that of the side bead, along the side bead's hole."""
    return (bonds.measures[row].across + bonds.measures[side].along) / 2


def kite(bonds: Bonds, left: int, middle: int, right: int, side: int) -> None:
    """The cell over (or under) a side bead: two beads of the frame's row and the bead between them."""
    wide, high = bonds.end(left, middle), shoulder(bonds, left, side)
    rise = bonds.over(left, middle) / 2
    bonds.cell(left, middle, right, side, points=((-wide, high), (0, high + rise), (wide, high), (0, 0)))


def _seed_band(bonds: Bonds, spacers: list[int], tops: list[int], sides: list[int], bottoms: list[int]) -> None:
    units = len(spacers)
    radius = sum(bonds.end(tops[unit], spacers[unit]) for unit in range(units)) / math.pi
    for unit in range(units):
        high = shoulder(bonds, tops[unit], sides[unit])
        rise = high + bonds.over(tops[unit], spacers[unit]) / 2
        for bead, at, z in (
            (tops[unit], unit, high),
            (sides[unit], unit + 0.5, 0.0),
            (bottoms[unit], unit, -high),
            (spacers[unit], unit + 0.5, rise),
        ):
            bonds.seed[bead] = _on_circle(radius, at / units, z)


def _on_circle(radius: float, turn: float, z: float) -> tuple[float, float, float]:
    angle = 2 * math.pi * turn
    return radius * math.cos(angle), radius * math.sin(angle), z
