"""Looking through what the notation gave: which codes a round names, how many stitches and beads it lists."""

from __future__ import annotations

from stitchalong.plan.model import Item, Lay, Round, Ruled, Until


def codes_in(round: Round | Lay) -> set[str]:
    """The bead codes a round names, those under `over` included."""
    if isinstance(round, Lay):
        return set(round.codes)
    if isinstance(round, Ruled):
        named = {code for lay in ruled_lays(round) for code in lay.codes}
        return named | {below for below, _ in round.over}
    return {code for item in round.items for code in _codes(item)}


def ruled_lays(round: Ruled) -> list[Lay]:
    """Every stitch a rule can lay."""
    places = (round.fill, round.ribs, round.beside, round.before, round.after, round.middle)
    return [lay for lay in places if lay is not None] + [lay for _, lay in round.over]


def _codes(item: Item) -> set[str]:
    if isinstance(item, Lay):
        return set(item.codes)
    if isinstance(item, Until):
        return set(item.lay.codes)
    return {code for inner in item.items for code in _codes(inner)}


def count_of(items: tuple[Item, ...] | list[Item]) -> tuple[int, int]:
    """(stitches, beads) of items; `A to rib` and a repeat around count once, for they depend on the edge."""
    stitches = beads = 0
    for item in items:
        if isinstance(item, Lay):
            stitches += item.count
            beads += item.count * len(item.codes)
        elif isinstance(item, Until):
            stitches += 1
            beads += len(item.lay.codes)
        else:
            inner = count_of(item.items)
            stitches += (item.times or 1) * inner[0]
            beads += (item.times or 1) * inner[1]
    return stitches, beads
