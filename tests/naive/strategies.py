"""Random plans that can be stitched.

An outline is drawn first (start, works, edges), then the naive model works it and each round is drawn when
its edge stands there to be looked at, so that a written round has just as many stitches as there are spaces.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from hypothesis import assume
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
styles = st.sampled_from(["star", "more", "brackets", "parentheses"])


@st.composite
def starts(draw: Draw) -> Dict:
    kind = draw(st.sampled_from(["band", "band", "band", "ring", "tube"]))
    if kind == "ring":
        return {"kind": "ring", "beads": draw(st.lists(st.sampled_from("CCSM"), min_size=3, max_size=9))}
    if kind == "tube":
        half = draw(st.integers(3, 12))
        return {"kind": "tube", "beads": [draw(st.sampled_from("CCSM")) for _ in range(2 * half)]}
    start: Dict = {
        "kind": "band",
        "frame": draw(st.sampled_from([("C", "C", "C"), ("C", "S", "D")])),
        "reinforce": draw(st.booleans()),
    }
    sides = draw(st.lists(st.integers(1, 7), min_size=1, max_size=5).filter(lambda s: sum(s) + len(s) >= 3))
    form = draw(st.sampled_from(["sides", "equal", "plain", "any"]))
    if form == "sides":
        start["sides"] = ("S", "M", sides)
        start["spacers"] = [code for side in sides for code in "S" * side + "M"]
    elif form == "equal":
        plain, count = draw(st.integers(2, 7)), draw(st.integers(1, 5))
        begin = draw(st.integers(0, plain))
        group = "S" * (plain - begin) + "M" + "S" * begin
        start["items"] = [("repeat", runs([("single", c) for c in group]), count, draw(styles))]
        start["spacers"] = list(group * count)
    elif form == "plain":
        start["spacers"] = ["S"] * (sum(sides) + len(sides))
    else:
        start["spacers"] = draw(st.lists(st.sampled_from("SSSMD"), min_size=3, max_size=20))
    return start


@st.composite
def plans(draw: Draw) -> Dict:
    """A plan as `work` describes it, every round of it settled."""
    start = draw(starts())
    edges = ["top", "bottom"] if start["kind"] == "band" else ["top"]
    works: list[Dict] = []
    for edge in draw(st.lists(st.sampled_from(edges), min_size=1, max_size=4)):
        works.append(rounds_on(draw, edge))
    plan = {
        "title": "Drawn at random",
        "beads": {code: {"marker": code == "M" and draw(st.booleans())} for code in "CSDPM"},
        "start": start,
        "works": with_moves(draw, works),
    }
    worker = Worker(plan)
    try:
        worker.run()
        settle(plan)
        Worker(plan).run()
    except Unworkable:
        assume(False)
    return plan


def with_moves(draw: Draw, works: list[Dict]) -> list[Dict]:
    """Walks and reinforcing passes between the works; a walk only where more will hang from that edge."""
    all_works: list[Dict] = []
    for i, work in enumerate(works):
        all_works.append(work)
        if draw(st.integers(0, 4)) == 0:
            all_works.append({"do": "reinforce", "edge": work["edge"]})
        if any(w["edge"] == work["edge"] for w in works[i + 1 :]) and draw(st.integers(0, 2)) == 0:
            all_works.append({"do": "walk", "edge": work["edge"], "spaces": some_way(draw)})
    return all_works


def some_way(draw: Draw) -> Callable[[Edge], int]:
    far: int = draw(st.integers(0, 10_000))
    return lambda edge: 1 + far % (len(edge.done) - 1)


def settle(plan: Dict) -> None:
    """Rules that found no round to begin in, and fills of an edge already filled, are taken out."""
    for work in plan["works"]:
        if callable(work.get("fill")):
            work["fill"] = None
        for name in ("increase", "decrease"):
            if work.get(name) and callable(work[name]["from_round"]):
                work[name] = None


# ---- the rounds of one work ----------------------------------------------------------------------


def rounds_on(draw: Draw, edge: str) -> Dict:
    count = draw(st.integers(1, 5))
    work: Dict = {
        "do": "rounds",
        "edge": edge,
        "height": None,
        "increase": None,
        "decrease": None,
        "fill": (lambda worker, edge: fill_round(draw, edge)) if edge == "bottom" else None,
        "reinforce": draw(st.integers(0, 4)) == 0,
    }
    if draw(st.booleans()):
        work["rounds"] = [{"fill": ("single", draw(singles))} for _ in range(count)]
        if draw(st.booleans()):
            work["height"] = draw(st.integers(count, 7))
        name = draw(st.sampled_from(["increase", "increase", "increase", "decrease", None]))
        if name:
            work[name] = rule(draw, name)
        if draw(st.integers(0, 3)) == 0 and work["height"] is None:
            work["rounds"].append({"fill": ("single", "D")})
    else:
        work["rounds"] = [lambda worker, edge: free_round(draw, worker, edge) for _ in range(count)]
    return work


def rule(draw: Draw, name: str) -> Dict:
    how = draw(st.sampled_from(["over", "over", "over", "every", "sides"])) if name == "increase" else "over"
    lasting = st.one_of(st.none(), st.integers(1, 4)) if name == "increase" else st.integers(1, 2)
    rule: Dict = {"with": draw(st.lists(pairs, min_size=1, max_size=2)), "rounds": draw(lasting)}
    if how == "over":
        rule["over"] = "M"

    def begin(worker: Worker, edge: Edge) -> int:
        """This round, where it can be and the draw says so; else some later one."""
        number, spaces = edge.number + 1, len(edge.gaps)
        if how == "over" and not over_markers(worker, edge):
            return number + 1
        if how == "every" and spaces > MOST_SPACES // 3:
            return number + 1
        if draw(st.integers(0, 2)) == 0:
            return number + 1
        if how == "every":
            rule["every"] = True
            rule["rounds"] = min(rule["rounds"] or 3, 3)
        if how == "sides":
            rule["sides"] = some_sides(draw, spaces)
        rule["from_round"] = number
        return number

    rule["from_round"] = begin
    return rule


def some_sides(draw: Draw, spaces: int) -> list[int]:
    """Singles before each pair; what is left follows the last."""
    sides: list[int] = []
    left = spaces
    while left and (not sides or draw(st.integers(0, 3))):
        sides.append(draw(st.integers(0, min(6, left - 1))))
        left -= sides[-1] + 1
    return sides


def over_markers(worker: Worker, edge: Edge) -> list[int]:
    marked = [bead.column for bead in worker.piece.born if bead.code == "M"]
    return [i for i, gap in enumerate(edge.gaps) if gap.column in marked]


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
    kind = draw(st.sampled_from(["fill", "any", "any", "around", "to", "picots"]))
    if kind == "any":
        return {"items": grouped(draw, free_asks(draw, edge, grow))}
    if kind == "picots":
        return {"items": runs([("picot", "DDD")] * spaces)}
    if kind == "around" and grow:
        spec = round_by_sides(draw, spaces, chosen)
        if fits(worker, edge, spec):
            return spec
    if kind == "to" and grow and chosen and not over_both(worker, edge):
        pair = ("together", draw(pairs))
        target = "rib" if any(edge.gaps[i].inside for i in chosen) else "marker"
        flank = draw(st.booleans())
        near = [("lay", ("single", "D"), 1)] if flank else []
        items = [("to", ("single", draw(singles)), target, int(flank)), *near, ("lay", pair, 1)]
        spec = {"items": [("repeat", items, None)]}
        if fits(worker, edge, spec):
            return spec
    return {"fill": ("single", draw(singles))}


def over_both(worker: Worker, edge: Edge) -> bool:
    """Markers and pairs both have spaces here, in different places."""
    marked = over_markers(worker, edge)
    return any(i not in worker.increase_spaces(edge) for i in marked)


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
        group.append(("together", draw(pairs)))
        return {"items": [("repeat", runs(group), None)]}
    if draw(st.booleans()):
        plain, pair = draw(singles), draw(pairs)
        laid: list[Ask] = [("together", pair) if i in chosen else ("single", plain) for i in range(spaces)]
    else:
        laid = [
            ("together", draw(pairs)) if i in chosen else ("single", draw(singles)) for i in range(spaces)
        ]
    turn = draw(st.integers(0, spaces - 1))
    laid = laid[turn:] + laid[:turn]
    for size in range(1, spaces):
        if spaces % size == 0 and laid[:size] * (spaces // size) == laid:
            return {"items": [("repeat", runs(laid[:size]), None)]}
    return {"items": [("repeat", runs(laid), None)]}
