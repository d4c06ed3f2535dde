"""Random plans that can be stitched.

An outline is drawn first (start, works, edges), then the naive model works it and each round is drawn when
its edge stands there to be looked at, so that a written round has just as many stitches as there are spaces.
"""

from __future__ import annotations

from collections.abc import Callable

from hypothesis import assume
from hypothesis import strategies as st

from tests.naive.parts import Edge, Unworkable
from tests.naive.rounds import MOST_SPACES, Dict, Draw, fill_round, free_round, pairs, singles, styles
from tests.naive.wording import runs
from tests.naive.work import Worker


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
        piece = Worker(plan).run()
    except Unworkable:
        assume(False)
    # An edge of one or two beads closes the work; nothing is drawn on from there.
    assume(all(sum(len(stitch.ups) for stitch, _, _ in lap.cells) > 2 for lap in piece.rounds if lap.number > 2))
    return plan


def with_moves(draw: Draw, works: list[Dict]) -> list[Dict]:
    """Walks and reinforcing passes between the works; a walk only where the next work hangs from that edge."""
    all_works: list[Dict] = []
    for work, following in zip(works, [*works[1:], None], strict=True):
        all_works.append(work)
        if not work["reinforce"] and draw(st.integers(0, 4)) == 0:
            all_works.append({"do": "reinforce", "edge": work["edge"]})
        if following and following["edge"] == work["edge"] and draw(st.integers(0, 2)) == 0:
            all_works.append({"do": "walk", "edge": work["edge"], "spaces": some_way(draw)})
    return all_works


def some_way(draw: Draw) -> Callable[[Edge], int]:
    far: int = draw(st.integers(0, 10_000))
    return lambda edge: 1 + far % max(1, len([up for s in edge.done for up in s.ups]) - 1)


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
            work["open"] = draw(openings(work["height"]))
        name = draw(st.sampled_from(["increase", "increase", "decrease", "decrease", None]))
        if name:
            work[name] = rule(draw, name)
        if draw(st.integers(0, 3)) == 0 and work["height"] is None:
            work["rounds"].append({"fill": ("single", "D")})
    else:
        work["rounds"] = [lambda worker, edge: free_round(draw, worker, edge) for _ in range(count)]
    return work


def openings(usual: int) -> st.SearchStrategy[tuple[int, int | None] | None]:
    """A number of rounds left open around the usual one; None: not open."""
    most = st.integers(usual + 1, usual + 3)
    return st.one_of(st.none(), st.tuples(st.integers(1, usual), most), st.just((1, None)))


def rule(draw: Draw, name: str) -> Dict:
    ways = ["over", "over", "over", "ribs", "between", "every", "sides", "count"]
    how = draw(st.sampled_from(ways if name == "increase" else ["over", "over", "ribs", "sides", "count"]))
    lasting = st.one_of(st.none(), st.integers(1, 4)) if name == "increase" else st.integers(1, 2)
    rule: Dict = {"with": draw(st.lists(pairs, max_size=2)), "rounds": draw(lasting)}
    if how in ("over", "ribs", "between"):
        rule["over" if how != "between" else how] = "M" if how != "ribs" else how

    def begin(worker: Worker, edge: Edge) -> int:
        """This round, where it can be and the draw says so; else some later one."""
        number, spaces = edge.number + 1, len(edge.gaps)
        if how in ("over", "ribs", "between") and not can_begin(worker, rule, edge):
            return number + 1
        if how in ("every", "sides", "count") and spaces > MOST_SPACES // 3:
            return number + 1
        if draw(st.integers(0, 2)) == 0:
            return number + 1
        if how == "every":
            rule["every"] = True
            rule["rounds"] = min(rule["rounds"] or 3, 3)
        if how == "sides":
            rule["sides"] = some_sides(draw, spaces)
        if how == "count":
            rule["sides"] = draw(st.integers(1, max(1, spaces // 2)))
        rule["from_round"] = number
        return number

    rule["from_round"] = begin
    return rule


def some_sides(draw: Draw, spaces: int) -> list[int]:
    """Singles before each pair; what is left follows the last."""
    sides: list[int] = []
    left = spaces
    while left > 1 and (not sides or draw(st.integers(0, 3))):
        sides.append(draw(st.integers(1, min(6, left - 1))))
        left -= sides[-1] + 1
    return sides


def can_begin(worker: Worker, rule: Dict, edge: Edge) -> bool:
    """Each of the rule's places has a space here, and there is one."""
    try:
        places = worker.columns(rule, edge)
    except Unworkable:
        return False
    if rule.get("between"):
        # Half the markers on up beads and half under spaces: the middle of a side is hardly ever a place.
        above = [any(gap.column is bead.column for gap in edge.gaps) for bead in worker.piece.born if bead.code == "M"]
        if any(above) and not all(above):
            return False
    return bool(places) and all(any(gap.column is column for gap in edge.gaps) for column in places)
