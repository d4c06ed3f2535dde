"""The edges that rounds hang from, as the form sees them: up beads, and what lies under each space."""

from __future__ import annotations

from dataclasses import dataclass

Body = tuple[int, ...]
"""the beads of one up bead, in the order laid: several where they are passed as one"""


@dataclass(frozen=True, slots=True)
class Gap:
    """What lies under the space between two neighbouring up beads. Beads count from 0."""

    under: tuple[int, ...]
    """from the first up bead to the second; empty inside a pair; several where a space was left empty"""
    rib: bool = False
    """the space lies in a rib: rows meet here at an angle"""
    net: bool = False
    """what lies under it is the rim of a mesh, which the new beads close"""


@dataclass(frozen=True, slots=True)
class Edge:
    """A closed edge: space i lies between up bead i and the one after it."""

    ups: tuple[Body, ...]
    gaps: tuple[Gap, ...]

    def space(self, at: int) -> tuple[int, int, Gap]:
        """The beads at both ends of a space and what lies under it, counted round and round."""
        size = len(self.ups)
        return self.ups[at % size][-1], self.ups[(at + 1) % size][0], self.gaps[at % size]

    def body(self, at: int) -> Body:
        """An up bead, counted round and round."""
        return self.ups[at % len(self.ups)]
