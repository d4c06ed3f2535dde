"""Random rounds, each drawn for an edge that stands there to be looked at."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from hypothesis import strategies as st

from tests.naive.parts import Edge, Unworkable
from tests.naive.wording import runs
from tests.naive.work import Ask, Worker

Dict = dict[str, Any]
Draw = Callable[[Any], Any]

MOST_SPACES = 40
"""An edge is not made to grow beyond this; long rounds show nothing that short ones do not."""

singles = st.sampled_from("CSDCSDM")
pairs = st.sampled_from(["MM", "PP", "CS", "DD"])
ribs: st.SearchStrategy[Ask] = st.one_of(st.tuples(st.just("together"), pairs), st.just(("corner", "CPC")))
"""What is laid at a rib."""
styles = st.sampled_from(["star", "more", "brackets", "parentheses"])


def fill_round(draw: Draw, edge: Edge) -> Dict:
    if draw(st.booleans()):
        return {"fill": ("single", draw(st.sampled_from("CSD")))}
    return {"items": grouped(draw, [("single", draw(st.sampled_from("CSD"))) for _ in edge.ups])}


def grouped(draw: Draw, asks: list[Ask]) -> list[Any]:
    """A round told as runs, or, where it repeats itself, now and then as a repeat."""
    for size in range(1, len(asks) // 2 + 1):
        times = len(asks) // size
        if asks[:size] * times == asks and draw(st.booleans()):
            return [("repeat", runs(asks[:size]), times, draw(styles))]
    return runs(asks)


def free_round(draw: Draw, worker: Worker, edge: Edge) -> Dict:
    """A round that no rule has a part in."""
    spaces = len(edge.ups)
    chosen = worker.increase_spaces(edge)
    grow = spaces <= MOST_SPACES
    kind = draw(st.sampled_from(["fill", "places", "any", "any", "around", "to", "from", "picots"]))
    if kind == "places":
        return round_by_places(draw, worker, edge, grow)
    if kind == "any":
        return checked(draw, free_asks(draw, edge, grow))
    if kind == "from" and grow and chosen and plain_sides(worker, edge):
        return begun_at_a_rib(draw, worker, edge, chosen)
    if kind == "picots":
        return {"items": runs([("picot", "DDD")] * spaces)}
    if kind == "around" and grow and spaces > 1:
        spec = round_by_sides(draw, spaces, chosen)
        if fits(worker, edge, spec):
            return spec
    if kind == "to" and grow and chosen and (worker.rib_spaces(edge) or not worker.rib_columns(edge.name)):
        pair = ("together", draw(pairs))
        target = "rib" if worker.rib_columns(edge.name) else draw(st.sampled_from(["rib", "marker"]))
        flank = draw(st.booleans())
        near = [("lay", ("single", "D"), 1)] if flank else []
        items = [("to", ("single", draw(singles)), target, int(flank)), *near, ("lay", pair, 1)]
        spec = {"items": [("repeat", items, None)]}
        if fits(worker, edge, spec):
            return spec
    return {"fill": ("single", draw(singles))}


def checked(draw: Draw, asks: list[Ask]) -> Dict:
    """The round written out, now and then with a check at its end."""
    checks = [None, f"{len(asks)} stitches", f"{sum(len(codes) for _, codes in asks)} beads"]
    return {"total": draw(st.sampled_from(checks)), "items": grouped(draw, asks)}


def begun_at_a_rib(draw: Draw, worker: Worker, edge: Edge, chosen: list[int]) -> Dict:
    """Written out with `from rib:` or `from marker:`, the pair there told first; other pairs at ribs only."""
    asks: list[Ask] = []
    for i in range(len(edge.ups)):
        pair = i == chosen[0] or (i in chosen and draw(st.booleans()))
        asks.append(("together", draw(pairs)) if pair else ("single", draw(singles)))
    asks = asks[chosen[0] :] + asks[: chosen[0]]
    begins = "rib" if worker.rib_columns(edge.name) or not worker.marker_columns() else "marker"
    return {**checked(draw, asks), "begins": begins}


def plain_sides(worker: Worker, edge: Edge) -> bool:
    """No rib or marker on an up bead, no skip: there is one meaning only in beginning at a rib."""
    skips = [s for lap in worker.piece.rounds if lap.edge == edge.name for s, _, _ in lap.cells if s.decrease]
    columns = worker.increase_columns(edge)
    return not skips and not any(up.column in columns for up in edge.ups)


def fits(worker: Worker, edge: Edge, spec: Dict) -> bool:
    try:
        worker.asks(spec, edge, {})
    except Unworkable:
        return False
    return True


def free_asks(draw: Draw, edge: Edge, grow: bool) -> list[Ask]:
    """Anything in any space, but no two empty spaces side by side, and an edge of three beads at least."""
    asks: list[Ask] = []
    for gap in edge.gaps:
        dice = draw(st.integers(0, 19))
        form = "single"
        if grow and ((gap.inside and dice < 14) or dice < 2):
            form = "together"
        elif dice == 17:
            form = "picot"
        elif dice == 18 and grow:
            form = "corner"
        elif dice == 19 and len(edge.gaps) > 4 and not (asks and asks[-1][0] == "no bead"):
            form = "no bead"
        if form == "no bead" and len(asks) == len(edge.gaps) - 1 and asks[0][0] == "no bead":
            form = "single"
        asks.append((form, codes_for(draw, form)))
    return asks


def codes_for(draw: Draw, form: str) -> str:
    codes: str = {"picot": "DCD", "corner": "CPC", "no bead": ""}.get(form) or ""
    if form in ("single", "together"):
        codes = draw(singles if form == "single" else pairs)
    return codes


def round_by_sides(draw: Draw, spaces: int, chosen: list[int]) -> Dict:
    """A round with *around*: pairs on the increase spaces, told from some other place."""
    if not chosen:
        sizes = [size for size in range(2, spaces + 1) if spaces % size == 0]
        size = draw(st.sampled_from(sizes))
        group: list[Ask] = [("single", draw(singles)) for _ in range(size - 1)]
        group.append(draw(ribs))
        return {"items": [("repeat", runs(group), None)]}
    plain, at_rib, mixed = draw(singles), draw(st.one_of(ribs, st.just(("picot", "DCD")))), draw(st.booleans())
    laid: list[Ask] = []
    for i in range(spaces):
        if i in chosen:
            laid.append(draw(ribs) if mixed else at_rib)
        else:
            laid.append(("single", draw(singles) if mixed else plain))
    turn = draw(st.integers(0, spaces - 1))
    laid = laid[turn:] + laid[:turn]
    for size in range(1, spaces):
        if spaces % size == 0 and laid[:size] * (spaces // size) == laid:
            return {"items": [("repeat", runs(laid[:size]), None)]}
    return {"items": [("repeat", runs(laid), None)]}


def round_by_places(draw: Draw, worker: Worker, edge: Edge, grow: bool) -> Dict:
    """A fill, and what goes at the ribs, beside them, in the middle of sides and over a code."""
    spec: Dict = {"fill": ("single", draw(singles))}
    if grow and worker.increase_spaces(edge) and draw(st.booleans()):
        spec["ribs"] = ("together", draw(pairs))
    for place in ("before", "after", "middle"):
        if draw(st.booleans()):
            spec[place] = ("single", draw(singles))
    if draw(st.booleans()) and all(gap.below is not None for gap in edge.gaps):
        spec["over"] = [(code, ("single", draw(singles))) for code in draw(st.sampled_from(["S", "C", "MD"]))]
    return spec
