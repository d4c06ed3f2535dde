"""The bonds of right-angle weave, flat, round and cubic: rooms whose beads meet at right angles.

A bead lies on each side of a square room; two of them meet at each of its corners, the square shoulders of cylinders
touching there, so that a room is a bead's length and thickness wide (geometry; of beads with rounded ends the middle
between this and spheres that touch, as the gauge of the weave has it).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from stitchalong.form.bonds import WEAK, Birth, Bonds
from stitchalong.form.edges import Edge, Gap
from stitchalong.form.thread import Group, Strand

_SIDES = 4


class Woven:
    """Works storeys in order, each on the ceilings of the one before."""

    def __init__(self, bonds: Bonds, strand: Strand) -> None:
        self.bonds = bonds
        self._strand = strand
        self._needle = 0
        self._known: set[frozenset[int]] = set()
        self._closed = False
        self._floors: list[int] = []
        self._walls: list[int] = []
        """of the storey below, from the left; flat, one more than there are rooms"""
        self._ceilings: list[int] = []
        self._storeys = 0

    def row(self, index: int, *, closed: bool) -> None:
        """The first storey, floors and all."""
        rooms = self._rooms(index)
        tops = set(self._strand.edge(index))
        ceilings = [next(bead for bead in room if bead in tops) for room in rooms]
        floors = [_across(room, ceiling) for room, ceiling in zip(rooms, ceilings, strict=True)]
        self._closed = closed
        self._storey(rooms, floors, ceilings)

    def base(self, index: int) -> None:
        """The floor of a tower of cubes: a ring."""
        self._closed = True
        self._ceilings = self._strand.edge(index)
        self._needle = self._ceilings[0]
        self._around(self._ceilings)
        self._seed(self._ceilings, (), ())

    def storey(self, index: int, *, ringed: bool = False) -> None:
        """A further storey. `ringed`: the thread also goes round its ceilings."""
        below = {bead: at for at, bead in enumerate(self._ceilings)}
        rooms: list[Group] = [()] * len(below)
        for room in self._rooms(index):
            floor = [bead for bead in room if bead in below]
            # the way round four ceilings is no room
            if len(floor) == 1:
                rooms[below[floor[0]]] = room
        floors = self._ceilings
        ceilings = [_across(room, floor) for room, floor in zip(rooms, floors, strict=True)]
        self._storey(rooms, floors, ceilings)
        if ringed:
            self._around(ceilings)

    def edge(self, index: int) -> Edge:
        """The edge of a ring of rooms: its ceilings, and below each space the wall between two of them."""
        size = len(self._ceilings)
        place = {bead: at for at, bead in enumerate(self._ceilings)}
        ups = self._strand.edge(index)
        gaps: list[Gap] = []
        for one, other in zip(ups, ups[1:] + ups[:1], strict=True):
            here, there = place[one], place[other]
            gaps.append(Gap((self._walls[there if (here + 1) % size == there else here],)))
        return Edge(tuple((bead,) for bead in ups), tuple(gaps))

    # ---- the thread -----------------------------------------------------------------------------

    def _rooms(self, index: int) -> list[Group]:
        """The rooms closed in this round, their beads in the order the thread goes round: back to a bead after four."""
        way = [self._needle] if self._ceilings else []
        for entry in self._strand.entries(index):
            way += [*entry.beads, *entry.through]
        self._needle = way[-1]
        found: list[Group] = []
        for at in range(_SIDES, len(way)):
            room = tuple(way[at - _SIDES : at])
            if way[at] == room[0] and len(set(room)) == _SIDES and frozenset(room) not in self._known:
                self._known.add(frozenset(room))
                found.append(room)
        return found

    # ---- one storey -----------------------------------------------------------------------------

    def _storey(self, rooms: Sequence[Group], floors: list[int], ceilings: list[int]) -> None:
        walls = self._walls_of(rooms, floors, ceilings)
        if self._storeys:
            self._give_birth(floors, walls, ceilings)
        else:
            self._seed(floors, walls, ceilings)
        around = len(walls)
        for at, (floor, ceiling) in enumerate(zip(floors, ceilings, strict=True)):
            self._room(floor, walls[(at + 1) % around], ceiling, walls[at])
        # where four rooms meet
        if self._storeys:
            for at in range(0 if self._closed else 1, len(floors)):
                self.bonds.cell(floors[at - 1], walls[at], floors[at], self._walls[at])
        self._floors, self._walls, self._ceilings = floors, walls, ceilings
        self._storeys += 1

    def _walls_of(self, rooms: Sequence[Group], floors: Sequence[int], ceilings: Sequence[int]) -> list[int]:
        """The wall between each room and the one before it; flat, also the last."""
        own = [set(room) - {floor, ceiling} for room, floor, ceiling in zip(rooms, floors, ceilings, strict=True)]
        if self._closed:
            return [next(iter(own[at - 1] & here)) for at, here in enumerate(own)]
        if len(own) == 1:
            return sorted(own[0])
        between = [next(iter(one & other)) for one, other in pairwise(own)]
        return [*(own[0] - {between[0]}), *between, *(own[-1] - {between[-1]})]

    def _room(self, floor: int, right: int, ceiling: int, left: int) -> None:
        bonds = self.bonds
        for one, other in ((floor, right), (right, ceiling), (ceiling, left), (left, floor)):
            bonds.tie(one, other, bonds.corner(one, other))
        # it stays square
        for one, other in ((floor, ceiling), (left, right)):
            bonds.tie(one, other, self._pitch(one, other), WEAK)
        bonds.cell(floor, right, ceiling, left)
        for lying in (floor, ceiling):
            bonds.lies(lying, right, 1.0)
            bonds.lies(lying, left, -1.0)
        for standing in (left, right):
            bonds.lies(standing, ceiling, 1.0)
            bonds.lies(standing, floor, -1.0)

    def _around(self, beads: Sequence[int]) -> None:
        """A closed ring, each bead at an angle to the next."""
        size = len(beads)
        corner = math.radians(180 - 360 / size)
        for at, bead in enumerate(beads):
            after, second = beads[(at + 1) % size], beads[(at + 2) % size]
            side = self._pitch(bead, after) * math.sin(corner / 2)
            self.bonds.tie(bead, after, side)
            if size > 3:
                self.bonds.tie(bead, second, 2 * side * math.sin(corner / 2), WEAK)
            self.bonds.lies(bead, after, 1.0)
            self.bonds.lies(after, bead, -1.0)

    def _pitch(self, one: int, other: int) -> float:
        return self.bonds.corner(one, other) * math.sqrt(2)

    # ---- where they lie first -------------------------------------------------------------------

    def _seed(self, floors: Sequence[int], walls: Sequence[int], ceilings: Sequence[int]) -> None:
        pitch = self._pitch(floors[0], floors[0])
        rooms = len(floors)
        for at in range(max(rooms, len(walls))):
            if at < len(walls):
                self.bonds.seed[walls[at]] = self._place(at, rooms, pitch, pitch / 2)
            if at < rooms:
                self.bonds.seed[floors[at]] = self._place(at + 0.5, rooms, pitch, 0.0)
            if at < len(ceilings):
                self.bonds.seed[ceilings[at]] = self._place(at + 0.5, rooms, pitch, pitch)

    def _place(self, at: float, rooms: int, pitch: float, z: float) -> tuple[float, float, float]:
        """Rooms stand side by side, or are the walls of a prism."""
        if not self._closed:
            return (at - rooms / 2) * pitch, 0.0, z
        radius = pitch / (2 * math.sin(math.pi / rooms))
        if at % 1:
            radius *= math.cos(math.pi / rooms)
        angle = 2 * math.pi * at / rooms
        return radius * math.cos(angle), radius * math.sin(angle), z

    def _give_birth(self, floors: Sequence[int], walls: Sequence[int], ceilings: Sequence[int]) -> None:
        """As the storey below lies."""
        for at, ceiling in enumerate(ceilings):
            floor, lower = floors[at], self._floors[at]
            self.bonds.births[ceiling] = Birth((floor, floor), 0.0, (lower,), self._reach(ceiling, floor))
        for at, wall in enumerate(walls):
            column = min(at, len(floors) - 1)
            floor, lower, below = floors[column], self._floors[column], self._walls[at]
            self.bonds.births[wall] = Birth((floor, below), 1.0, (lower, below), self._reach(wall, floor))

    def _reach(self, bead: int, floor: int) -> float:
        return self._pitch(bead, floor) / self.bonds.measures[bead].across


def _across(room: Group, bead: int) -> int:
    return room[(room.index(bead) + 2) % _SIDES]
