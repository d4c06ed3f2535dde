"""From a count to the inner circumference of a ring or bangle, for the ways in which one can be begun.

- a *band* (MRAW): units × gauge.
- a *tube*: N beads strung, their holes running round the finger. Flat-ended beads touch along their inner
  edges, so that the inner circumference is N · length; rounded ends touch nearer the hole, which takes off up
  to π · outside. The published hoop of 50 size-10/0 cylinders, about 32 mm outside
  (lovemyartjewelry.blogspot.com/2013/10), agrees with the first for cylinders to 2 %.
- a *ring of right-angle weave*: units · gauge along the middle of the work, less up to π · outside inside. Geometry,
  no source.
- a *circle* of beads that stand side by side (a ladder joined, brick stitch or herringbone on it): the middles lie on
  a polygon of N sides one bead thick, the inside is its circle less π · outside. Geometry, no source.
- a *strip* of flat peyote zipped into a ring, rows running round: R · outside / 2 along the middle of the
  work, less π · outside inside. A real strip stretches a little when bent and comes out larger (from memory).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from stitchalong.measure.beads import BeadSize
from stitchalong.measure.figure import Figure
from stitchalong.measure.gauge import PEYOTE, Gauge, Per, default_gauge


@dataclass(frozen=True, slots=True)
class Way:
    """A way to make a ring: what a count of it gives."""

    inside: Callable[[int], Figure]
    """inner circumference in mm of so many; grows with the count"""
    word: str
    """what is counted, in the plural"""
    step: int = 1
    """the count goes up by so many"""
    least: int = 3
    rest: int = 0
    """what is left of every count over whole steps: 1 of odd ones in steps of 2"""


def band(gauge: Gauge) -> Way:
    """A joined MRAW band, by its units."""
    return Way(gauge.length, "units")


def around(bead: BeadSize, column: Gauge) -> Callable[[int], Figure]:
    """Inner circumference in mm of so many columns of peyote closed into a tube."""
    wall = math.pi * (bead.outside or 0.0)
    flat = bead.flat_ended

    def inside(columns: int) -> Figure:
        round_it = column.length(columns)
        value = max(0.0, round_it.value - (0.0 if flat else wall))
        return Figure(value, max(0.0, round_it.low - wall), round_it.high, column.each.basis)

    return inside


def tube(bead: BeadSize, column: Gauge | None = None) -> Way | None:
    """A strung tube of even-count peyote, by its stitches a round: twice as many beads are strung.

    None where the bead's measures are not known.
    """
    column = column or default_gauge(bead, PEYOTE, Per.COLUMN)
    if bead.outside is None or column is None:
        return None
    inside = around(bead, column)
    return Way(lambda stitches: inside(2 * stitches), "stitches a round")


def weave(bead: BeadSize, unit: Gauge) -> Way:
    """A ring of right-angle weave, by its units: their length runs along the middle of the work."""
    wall = math.pi * (bead.outside or 0.0)

    def inside(units: int) -> Figure:
        round_it = unit.length(units)
        value, low = (max(0.0, part - wall) for part in (round_it.value, round_it.low))
        return Figure(value, low, round_it.high, unit.each.basis)

    return Way(inside, "units")


def circle(bead: BeadSize, column: Gauge, step: int = 1) -> Way:
    """Beads standing side by side in a circle, by their number."""
    wall = math.pi * (bead.outside or 0.0)

    def inside(beads: int) -> Figure:
        round_it = column.each.times(math.pi / math.sin(math.pi / max(beads, 2)))
        value, low, high = (max(0.0, part - wall) for part in (round_it.value, round_it.low, round_it.high))
        return Figure(value, low, high, column.each.basis)

    return Way(inside, "beads around", step, least=max(3, 2 * step))


def column_in_circle(bead: BeadSize, beads: int, inside: float) -> float:
    """What `circle` began with: mm of a column, where so many beads came out at this inside."""
    return (inside + math.pi * (bead.outside or 0.0)) * math.sin(math.pi / beads) / math.pi


def strip(bead: BeadSize, row: Gauge | None = None) -> Way | None:
    """A flat peyote strip zipped into a ring, by its rows (zig-zag); None where the bead's measures are
    not known."""
    row = row or default_gauge(bead, PEYOTE, Per.ROW)
    if bead.outside is None or row is None:
        return None
    wall = math.pi * bead.outside

    def inside(rows: int) -> Figure:
        round_it = row.length(rows)
        value, low, high = (max(0.0, part - wall) for part in (round_it.value, round_it.low, round_it.high))
        return Figure(value, low, high, row.each.basis)

    return Way(inside, "rows", step=2, least=8)


def outside_diameter(inside: float, wall: float) -> float:
    """Millimetres across the outside of a ring; `wall` is the thickness of the work."""
    return inside / math.pi + 2 * wall
