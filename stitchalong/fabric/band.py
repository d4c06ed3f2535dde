"""The modified right-angle weave (MRAW) band, joined into a ring. Common practice, no source.

Unit 1 is a ring of four (top, side, bottom, side); the thread comes out of its top bead. Each further unit picks
up a spacer and three frame beads (top, side, bottom), passes up through the side bead shared with the unit
before, by-passing the spacer, and through the new top bead. With one unit missing, the joining unit in five
moves: a spacer and a top bead; down the first unit's free side bead; the last bottom bead; up the last side
bead and through the new top bead; a last spacer and through the first top bead. In all 3n frame beads and n
spacers.

Units, and with them top beads, bottom beads and spacers, are numbered from 0. Spacer j lies between top beads j and
j + 1; under it side bead j, and the space between bottom beads j and j + 1. Bead numbers (1-based) count in the
order picked up from the band's first bead.
"""

from __future__ import annotations

LEAST_UNITS = 3


def spacer(unit: int, units: int) -> int:
    """Bead number of spacer `unit`."""
    return 4 * units if unit == units - 1 else 5 + 4 * unit


def top(unit: int, units: int) -> int:
    """Bead number of the top bead of this unit."""
    return 4 * unit + 2 if unit else 1


def bottom(unit: int, units: int) -> int:
    """Bead number of the bottom bead of this unit."""
    if unit == 0:
        return 3
    return 4 * units - 1 if unit == units - 1 else 4 * unit + 4


def side(unit: int, units: int) -> int:
    """Bead number of the side bead right of this unit; that of the last unit is the first unit's free side bead."""
    if unit == units - 1:
        return 4
    return 4 * unit + 3 if unit else 2


def top_row(units: int) -> list[int]:
    """Bead numbers of the whole top row from the first top bead: T0 s0 T1 s1 …"""
    return [bead for unit in range(units) for bead in (top(unit, units), spacer(unit, units))]


# Columns of a band's two edges, in halves round the band: spacer j is 2j, what lies between it and the next 2j + 1.


def top_column(at: int, first: int, units: int) -> int:
    """The column at this place of the top edge, whose up bead 0 is spacer `first`."""
    return (2 * first + at) % (2 * units)


def bottom_column(at: int, first: int, units: int) -> int:
    """The column at this place of the row of bottom beads, whose space 0 is that under spacer `first`.

    The second edge is met in descending order of units: crossing along the thread turns the direction.
    """
    return (2 * first + 1 - at) % (2 * units)
