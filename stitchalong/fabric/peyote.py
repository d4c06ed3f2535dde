"""Peyote on a closed edge.

The rule. A round visits the spaces in order from the up bead where the needle is. In each space it lays what
is asked for and passes through the up bead that closes the space; the last stitch passes through the up bead
where the round began. What was laid, in that order, is the next edge, and its spaces follow:

- two beads laid in neighbouring spaces have a space between them, over the up bead that they share;
- two beads laid in one space have a space between them, in the column of that space;
- beside a space left empty the two neighbours come together: their space lies in its column (and the columns of
  the two up beads beside it come to nothing).

A bead laid alone stands in the column of its space, so a column has a space in every other round, unless
pairs (or empty spaces) are stacked in it: then in every round.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Collection, Sequence
from dataclasses import field

from stitchalong.fabric.edge import Edge, Mark
from stitchalong.fabric.stitch import Make, Note
from stitchalong.values import value

Run = tuple[Make, int]
"""so many equal stitches, as asked for"""

FlaggedRun = tuple[Make, int, int]
"""so many equal stitches, with the value of their `Note`"""

_INCREASE, _DECREASE = Note.INCREASE.value, Note.DECREASE.value
_INSIDE, _BEFORE, _AFTER = Note.INSIDE.value, Note.BEFORE.value, Note.AFTER.value
_RIB, _ENDS_SIDE = Note.RIB.value, Note.ENDS_SIDE.value


@value
class Laid:
    """A round as the fabric took it."""

    runs: tuple[FlaggedRun, ...]
    edge: Edge
    """the next edge; its up bead 0 is the first that was laid"""
    changes: tuple[tuple[int, int], ...]
    """(space, up beads laid there) wherever that is not one, ascending"""
    born: tuple[tuple[int, int], ...]
    """(column, space) of each column that had no mark before: an increase or an empty space begins there"""
    parting: tuple[int, ...]
    """the spaces, ascending, whose columns are ribs from here on: where the count changes and is meant to"""

    _firsts: list[int] = field(default_factory=list, init=False, repr=False, compare=False)
    """for each change the first up bead laid in its space (or, where it is empty, in the next)"""

    def __post_init__(self) -> None:
        shift = 0
        for at, ups in self.changes:
            self._firsts.append(at + shift)
            shift += ups - 1

    def up_before(self, space: int) -> int:
        """How many up beads were laid in the spaces before this one: the index of its first on the next edge."""
        before = bisect_left(self.changes, (space,))
        if not before:
            return space
        at, ups = self.changes[before - 1]
        return self._firsts[before - 1] + ups + space - at - 1

    def ups_in(self, space: int) -> int:
        """How many up beads were laid in this space."""
        here = bisect_left(self.changes, (space,))
        return self.changes[here][1] if here < len(self.changes) and self.changes[here][0] == space else 1

    def space_of(self, up: int) -> int:
        """The space in which this up bead of the next edge was laid."""
        here = bisect_right(self._firsts, up) - 1
        if here < 0:
            return up
        at, ups = self.changes[here]
        within = up - self._firsts[here]
        return at if within < ups else at + 1 + within - ups

    def carried(self, before: int, at: int) -> int | None:
        """Where a column that stands at this place (in halves) of the edge of `before` up beads stands on the next one.

        None where it comes to nothing, beside a space left empty.
        """
        space = at >> 1
        first = self.up_before(space)
        if at & 1:
            return (2 * first + self.ups_in(space) - 1) % (2 * self.edge.size)
        if not self.ups_in(space) or not self.ups_in((space - 1) % before):
            return None
        return (2 * first - 1) % (2 * self.edge.size)


def spaces_in(runs: Sequence[Run]) -> int:
    """Spaces that these stitches fill."""
    return sum(count for _, count in runs)


def lay(
    edge: Edge,
    runs: Sequence[Run],
    bounds: Collection[int],
    new_column: Callable[[], int],
    *,
    strays: Collection[int] = (),
    lost: Collection[int] = (),
) -> Laid:
    """Lay one round on a closed edge.

    `runs` fill every space of the edge exactly, from space 0 (the caller has seen to it). `bounds` are the columns
    that part sides on this edge. `new_column` numbers a column that is born here. `strays` are spaces in which the
    count changes by accident: they grow or shrink their side and part nothing. `lost` are spaces that were meant to
    change it and do not: their column is a rib all the same.

    Raises ValueError where the runs do not fill the edge.
    """
    size = edge.size
    if spaces_in(runs) != size:
        raise ValueError(f"{spaces_in(runs)} stitches for {size} spaces")
    flags: dict[int, int] = {}
    changes: list[tuple[int, int]] = []
    space = 0
    for make, count in runs:
        ups = len(make.ups)
        if ups != 1:
            flag = _INCREASE if ups else _DECREASE
            for at in range(space, space + count):
                flags[at] = flag if at in strays else flag | _RIB
                changes.append((at, ups))
        space += count
    flags.update(dict.fromkeys(lost, _RIB))
    marked: set[int] = set()
    for at, column, inside in edge.marks:
        if at & 1:
            marked.add(at >> 1)
            flag = (_RIB if column in bounds else 0) | (_INSIDE if inside else 0)
            if flag:
                flags[at >> 1] = flags.get(at >> 1, 0) | flag
        elif column in bounds:
            before = (at >> 1) - 1 if at else size - 1
            flags[before] = flags.get(before, 0) | _ENDS_SIDE
    for at in [at for at, flag in flags.items() if flag & (_INCREASE | _INSIDE)]:
        before, after = (at - 1) % size, (at + 1) % size
        flags[before] = flags.get(before, 0) | _BEFORE
        flags[after] = flags.get(after, 0) | _AFTER
    begun = sorted({at for at, _ in changes} | set(lost))
    born = [(new_column(), at) for at in begun if at not in marked]
    return Laid(
        tuple(_flagged(runs, flags)),
        _next_edge(edge, changes, born, new_column),
        tuple(changes),
        tuple(born),
        tuple(at for at in begun if at not in strays),
    )


def _flagged(runs: Sequence[Run], flags: dict[int, int]) -> list[FlaggedRun]:
    """The runs, cut where the flags change."""
    out: list[FlaggedRun] = []
    places = sorted(flags)
    here = 0
    start = 0
    for make, count in runs:
        stop = start + count
        while here < len(places) and places[here] < stop:
            at = places[here]
            if at > start:
                out.append((make, at - start, 0))
            if out and out[-1][0] is make and out[-1][2] == flags[at] and at == start:
                out[-1] = (make, out[-1][1] + 1, flags[at])
            else:
                out.append((make, 1, flags[at]))
            start = at + 1
            here += 1
        if stop > start:
            out.append((make, stop - start, 0))
        start = stop
    return out


def _next_edge(
    edge: Edge,
    changes: Sequence[tuple[int, int]],
    born: Sequence[tuple[int, int]],
    new_column: Callable[[], int],
) -> Edge:
    size = edge.size + sum(ups - 1 for _, ups in changes)
    if size <= 0:
        return Edge(0)
    whole = 2 * size
    empty = {space for space, ups in changes if not ups}
    marks: list[Mark] = []
    columns = [(mark.at, mark.column) for mark in edge.marks]
    if born:
        columns = sorted(columns + [(2 * space + 1, column) for column, space in born])
    here = shift = 0
    for at, column in columns:
        space = at >> 1
        while here < len(changes) and changes[here][0] < space:
            shift += changes[here][1] - 1
            here += 1
        first = space + shift
        if at & 1:
            ups = changes[here][1] if here < len(changes) and changes[here][0] == space else 1
            marks.append(Mark((2 * first + ups - 1) % whole, column, ups == 2))
        elif not (space in empty or (space - 1) % edge.size in empty):
            marks.append(Mark((2 * first - 1) % whole, column))
    # three or more together: their insides are spaces too, each in a column of its own
    shift = 0
    for space, ups in changes:
        if ups > 2:
            first = space + shift
            marks.extend(Mark(2 * (first + inner) + 1, new_column(), True) for inner in range(ups - 1))
        shift += ups - 1
    marks.sort()
    return Edge(size, tuple(marks))


@value
class StepUp:
    """How a closed round ends."""

    empty: int
    """spaces left without a bead at the start of the round, whose up beads are passed"""
    own: int
    """beads of the first stitch with beads that are passed, up to its first up bead"""

    @property
    def passes(self) -> int:
        """All beads passed, with the up bead where the round began: two in plain peyote."""
        return 1 + self.empty + self.own


def step_up(runs: Sequence[FlaggedRun]) -> StepUp:
    """The step-up of a round laid in this order. Raises ValueError for a round without an up bead."""
    empty = 0
    for make, count, _ in runs:
        if make.ups:
            return StepUp(empty, make.ups[0] + 1)
        empty += count
    raise ValueError("a round with no bead has no step-up")


def turned(runs: Sequence[FlaggedRun], spaces: int) -> tuple[FlaggedRun, ...]:
    """The same round, begun `spaces` further on."""
    if not spaces:
        return tuple(runs)
    head: list[FlaggedRun] = []
    tail: list[FlaggedRun] = []
    left = spaces
    for make, count, flag in runs:
        if left >= count:
            head.append((make, count, flag))
            left -= count
        elif left:
            head.append((make, left, flag))
            tail.append((make, count - left, flag))
            left = 0
        else:
            tail.append((make, count, flag))
    return (*tail, *head)
