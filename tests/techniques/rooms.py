"""A naive right-angle weave: rooms on a grid, each side numbered when it is first met. Shares nothing with the program.

The rooms take turns to be worked one way round and the other, like a chessboard; a room begins behind the side that it
shares with the room before it, and its missing sides are laid in that order. Two beads touch where they meet at a
corner of a room.
"""

from __future__ import annotations

import networkx as nx

Corner = tuple[int, int]


class Rooms:
    """`units` by `rows`, flat or closed into a tube."""

    def __init__(self, units: int, rows: int, *, closed: bool) -> None:
        self.number: dict[frozenset[Corner], int] = {}
        self.rooms: list[list[int]] = []
        self.closed = closed
        around = units if closed else units + 1
        column, step, shared = 0, 1, frozenset(((0, 0), (0, 0)))
        for row in range(rows):
            for unit in range(units):
                near, far = column % around, (column + 1) % around
                walk = [(near, row), (near, row + 1), (far, row + 1), (far, row)]
                if len(self.rooms) % 2:
                    walk.reverse()
                sides = [frozenset((one, other)) for one, other in zip(walk, walk[1:] + walk[:1], strict=True)]
                if shared in sides:
                    at = sides.index(shared) + 1
                    sides = sides[at:] + sides[:at]
                elif walk[0] != (near, row):
                    raise AssertionError("only the first room shares nothing")
                for side in sides:
                    self.number.setdefault(side, len(self.number) + 1)
                self.rooms.append([self.number[side] for side in sides])
                onward = far if step > 0 else near
                shared = frozenset(((onward, row), (onward, row + 1)))
                if unit < units - 1:
                    column += step
                else:
                    shared = frozenset(((near, row + 1), (far, row + 1)))
                    step = step if closed else -step
        self._corners: dict[int, set[Corner]] = {bead: set(side) for side, bead in self.number.items()}

    @property
    def laid(self) -> int:
        return len(self.number)

    def touch(self, one: int, other: int) -> bool:
        return bool(self._corners[one] & self._corners[other])


def grid(units: int, rows: int, *, closed: bool) -> nx.Graph:
    """The corners and the beads between them as networkx knows such grids."""
    if closed:
        return nx.cartesian_product(nx.cycle_graph(units), nx.path_graph(rows + 1))
    return nx.grid_2d_graph(units + 1, rows + 1)
