"""What is learnt of ribs while an edge is worked: in which columns they stand, and what the other edge knows."""

from __future__ import annotations

from stitchalong.course.bench import Bench
from stitchalong.course.edges import WorkingEdge
from stitchalong.fabric import band
from stitchalong.fabric.peyote import Laid


def learn(bench: Bench, state: WorkingEdge, laid: Laid) -> None:
    """Note the columns in which increases and empty spaces fell; those not foreseen call for another pass."""
    key = bench.key(state.name)
    old_seeds, old_bounds = bench.found.get(key, (frozenset(), frozenset()))
    spaces = set(laid.parting)
    columns = {mark.column for mark in state.edge.marks if mark.at & 1 and mark.at >> 1 in spaces}
    seeds = {seed for seed in state.seeds if seed[2] in columns}
    bench.late = bench.late or not columns <= state.bounds
    whole = 2 * len(state.codes)
    state.shared_ribs |= {column for column in columns if column < whole}
    for column, space in laid.born:
        if space not in spaces:
            continue
        state.ribs.add(column)
        state.bounds.add(column)
        level, at = state.trace(2 * space + 1)
        if level == 0:
            number_at = band.bottom_column if state.name == "bottom" else band.top_column
            shared = number_at(at, state.first, len(state.codes))
            state.shared_ribs.add(shared)
            seeds.add((0, at, shared))
        elif level < len(state.levels):
            seeds.add((level, at, bench.new_seed()))
        else:
            continue
        bench.late = True
    state.ribs |= columns
    state.bounds |= columns
    bench.found[key] = (old_seeds | seeds, old_bounds | columns | {column for _, _, column in seeds})


def mark_facing(bench: Bench, state: WorkingEdge) -> None:
    """Mark on an edge that is come back to the ribs that the other edge has got meanwhile."""
    assert bench.band is not None
    units = bench.band.units
    columns = bench.facing(state.name)
    if state.name == "bottom":
        state.mark((band.bottom_column(column, state.first, units), column) for column in columns)
    else:
        state.mark(((column - 2 * state.first) % (2 * units), column) for column in columns)
