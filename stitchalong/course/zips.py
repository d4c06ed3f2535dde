"""`[[work]] zip = …`: two edges found, held against each other, and joined without a bead."""

from __future__ import annotations

from stitchalong.course import hints
from stitchalong.course.bench import Bench
from stitchalong.course.edges import ToldEdge, WorkingEdge
from stitchalong.course.techniques.told import emit
from stitchalong.course.threads import Threads
from stitchalong.course.words import counted
from stitchalong.errors import PlanError
from stitchalong.fabric import flat_peyote, zipping
from stitchalong.fabric.moves import Move
from stitchalong.plan.model import Zip
from stitchalong.plan.text import shown
from stitchalong.values import value


@value
class _Side:
    """A closed edge as the zip meets it."""

    name: str
    """in messages"""
    ups: tuple[tuple[int, ...], ...]
    """bead numbers of each up bead, from the one where the thread is (or would be)"""
    ribs: frozenset[int]
    """in halves from there"""
    number: int
    last_round: int


def zip_edges(bench: Bench, item: Zip) -> None:
    """Append the seam. Raises PlanError for edges that do not interlock, and says what would."""
    for part in item.parts:
        if part not in bench.parts:
            known = ", ".join(f'"{shown(name)}"' for name in bench.parts)
            raise _refuse(bench, f'there is no part "{shown(part)}" here', f"parts begun before: {known}")
    if bench.part not in item.parts:
        raise _refuse(
            bench,
            f'the thread at hand is that of "{shown(bench.part)}"',
            "put the zip right behind the work on one of its parts",
        )
    if len(item.parts) == 1:
        _ends(bench)
        return
    sides = [_side(bench, part, edge) for part, edge in item.ends]
    mine = item.parts.index(bench.part)
    if item.edges[mine] != bench.here:
        raise _refuse(bench, f"the thread is on the {bench.here} edge", "work on the edge to be zipped last", "edges")
    here, there = sides[mine], sides[1 - mine]
    moves = zipping.closed(here.ups, there.ups, _meeting(bench, here, there))
    _close(
        bench,
        item.edges[mine],
        here.number + 1,
        here.last_round,
        moves,
        "Lay the parts together so that the "
        "up beads of one stand in the gaps of the other, all around, and that no part is turned by one bead.",
    )
    for part, edge in item.ends:
        bench.zipped.add((part, edge))


def _ends(bench: Bench) -> None:
    """First and last row of a strip of flat peyote."""
    told = bench.told.get("top")
    birth = next(one for one in bench.out.rounds if one.part == bench.part)
    if told is None or not isinstance(told.state, flat_peyote.Strip) or birth.technique != "strung row":
        raise _refuse(
            bench, "only a strip of flat peyote on a strung row has two ends that can be zipped", 'zip = ["box", "lid"]'
        )
    strip = told.state
    if strip.row % 2:
        raise _refuse(
            bench,
            f"after {counted(strip.row, 'row')} both ends have their up beads in the same places and do not interlock: "
            f"it takes an even number of rows; {strip.row - 1} and {strip.row + 1} do",
        )
    if strip.row < 4:
        raise _refuse(bench, "a strip of two rows cannot be rolled up", "4 rows or more do")
    drop = len(strip.upper[0])
    last_bead = birth.first_bead + birth.beads - 1
    first_row = [
        tuple(range(last_bead - at * drop, last_bead - (at + 1) * drop, -1)) for at in range(0, strip.across, 2)
    ]
    # both are met from the end of the strand, where the last row ended
    moves = zipping.ends(first_row, [group[::-1] for group in reversed(strip.upper)])
    _close(
        bench,
        "top",
        told.number + 1,
        told.last_round,
        moves,
        "Roll the strip up without a twist; the up beads of one end go into the gaps of the other.",
    )
    bench.zipped.add((bench.part, "top"))


def _side(bench: Bench, part: str, edge: str) -> _Side:
    name = f'the {edge} edge of "{shown(part)}"'
    if (part, edge) in bench.zipped:
        raise _refuse(bench, f"{name} is zipped already", key="edges")
    told, state = bench.told_parts[part].get(edge), bench.parts[part].get(edge)
    if told is not None:
        return _of_told(bench, name, told)
    if state is None:
        raise _refuse(bench, f"nothing has been worked on {name}", "work a round there first", "edges")
    return _of_state(bench, name, state)


def _of_told(bench: Bench, name: str, told: ToldEdge) -> _Side:
    if not told.closed:
        raise _refuse(bench, f"{name}, left by {told.technique}, has no up beads all around", "zip closed edges")
    return _Side(name, tuple((bead,) for bead in told.beads), frozenset(), told.number, told.last_round)


def _of_state(bench: Bench, name: str, state: WorkingEdge) -> _Side:
    size = state.edge.size
    view = Threads(bench.out.course(bench.markers, ())).view(state.last_round)
    ups = tuple(tuple(view.passed((state.begin + nth) % size)) for nth in range(size))
    ribs = frozenset((at - 2 * state.turn) % (2 * size) for at in state.edge.places_of(state.ribs))
    return _Side(name, ups, ribs, state.number, state.last_round)


def _meeting(bench: Bench, here: _Side, there: _Side) -> int:
    """The up bead of the other edge in the first gap."""
    size = len(here.ups)
    if len(there.ups) != size:
        more, fewer = sorted((here, there), key=lambda one: -len(one.ups))
        raise _refuse(
            bench,
            f"{more.name} has {counted(len(more.ups), 'up bead')} and {fewer.name} {len(fewer.ups)}: "
            "they do not interlock",
            f"work them until both have {len(more.ups)}, or both {len(fewer.ups)}",
        )
    place = zipping.meeting(here.ribs, there.ribs, size)
    if place is not None:
        return place
    if zipping.alike(here.ribs, there.ribs, size):
        raise _refuse(
            bench,
            f"at the ribs {here.name} and {there.name} stand alike, gap against gap or bead against bead: "
            "they do not interlock",
            "one must end on a pair round and the other on a plain round: work one plain round more on one of them",
        )
    mine, others = zipping.sides(here.ribs, size), zipping.sides(there.ribs, size)[::-1]
    raise _refuse(
        bench,
        f"the sides do not match: {' '.join(map(str, mine))} against {' '.join(map(str, others))} "
        "(the other edge is met backwards)",
        "both need the same up beads on each side, one in the opposite order of the other",
    )


def _close(bench: Bench, edge: str, number: int, below: int, moves: list[Move], hint: str) -> None:
    out = bench.out
    out.open_round()
    hints.say(out, hint)
    emit(bench, moves)
    out.close_round(
        part=bench.part,
        edge=edge,
        number=number,
        technique="zip",
        work=bench.index,
        spaces=0,
        below=below,
        begin=0,
        place=bench.place(bench.index),
    )


def _refuse(bench: Bench, what: str, fix: str | None = None, key: str = "zip") -> PlanError:
    return PlanError(what, fix=fix, place=bench.place(bench.index, key=key))
