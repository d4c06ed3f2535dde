"""The edges that rounds hang from, as the form sees them: up beads, and what lies under each space."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Gap:
    """What lies under the space between two neighbouring up beads. Beads count from 0."""

    under: tuple[int, ...]
    """from the first up bead to the second; empty inside a pair; several where a space was left empty"""
    rib: bool = False
    """the space lies in a rib: rows meet here at an angle"""


@dataclass(frozen=True, slots=True)
class Edge:
    """A closed edge: space i lies between up bead i and the one after it."""

    ups: tuple[int, ...]
    gaps: tuple[Gap, ...]

    def space(self, at: int) -> tuple[int, int, Gap]:
        """The two up beads of a space and what lies under it, counted round and round."""
        size = len(self.ups)
        return self.ups[at % size], self.ups[(at + 1) % size], self.gaps[at % size]
