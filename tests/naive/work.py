"""Follows a plan on a `Piece`. A plan here is a plain dict of this package's own making:

    {"title": str,
     "beads": {code: {"marker": bool}},
     "start": {"kind": "band", "frame": (top, side, bottom), "spacers": [code, …], "reinforce": bool}
              or {"kind": "ring" | "tube", "beads": [code, …]},
     "works": [{"do": "rounds", "edge": "top" | "bottom", "rounds": [round, …], "height": int | None,
                "increase": rule | None, "decrease": rule | None, "fill": round | None, "reinforce": bool},
               {"do": "walk", "edge": …, "spaces": int},
               {"do": "reinforce", "edge": …}]}

A round is {"fill": ask} (one ask for every space that no rule claims; also with an ask for "ribs", "before",
"after" and "middle", and "over": [(code, ask), …]) or {"items": [item, …]}. An ask is a pair of a form and its
codes. An item is ("lay", ask, count), ("to", ask, target, before) or ("repeat", items, times) with times None
for *around*. A rule is {"over": code or "ribs"}, {"between": code}, {"sides": how many, or [singles before each
pair]} or {"every": True}, with "with" (a list of codes laid in turn; empty: two of the fill), "from_round" and
"rounds" (how many; None: to the end). A written round may have "begins": "rib" or "marker".

While a random plan is being drawn, a round may be a function of the edge that gives the round; it is replaced
by what it gave.
"""

from __future__ import annotations

from typing import Any

from tests.naive.parts import Column, Edge, Unworkable, turned
from tests.naive.piece import Piece

Ask = tuple[str, str]
Dict = dict[str, Any]


class Worker:
    """One plan, worked from beginning to end."""

    def __init__(self, plan: Dict, piece: Piece | None = None) -> None:
        self.plan = plan
        self.piece = piece or Piece()
        self.told: list[list[list[Ask]]] = []
        """for each work what was asked in each round, space by space; a fill round comes first"""

    def run(self) -> Piece:
        """Raises Unworkable."""
        self.begin(self.plan["start"])
        for place, work in enumerate(self.plan["works"]):
            self.told.append([])
            if work["do"] == "rounds":
                self.rounds(work, place)
            elif work["do"] == "walk":
                if callable(work["spaces"]):
                    work["spaces"] = work["spaces"](self.piece.edges[work["edge"]])
                self.piece.walk_along(work["edge"], work["spaces"])
            else:
                self.piece.reinforce(work["edge"])
        return self.piece

    def begin(self, start: Dict) -> None:
        if start["kind"] == "band":
            top, side, bottom = start["frame"]
            self.piece.weave_band(top, side, bottom, start["spacers"], start["reinforce"])
        elif start["kind"] == "ring":
            self.piece.string_ring(start["beads"])
        else:
            self.piece.string_tube(start["beads"])

    # ---- rounds ----------------------------------------------------------------------------------

    def rounds(self, work: Dict, place: int) -> None:
        piece, name = self.piece, work["edge"]
        self.come_to(name, place)
        edge = piece.edges[name]
        if name == "bottom" and edge.number < 0:
            work["fill"] = self.settled(work["fill"], edge)
            self.lay(edge, self.asks(work["fill"], edge, {}))
            if self.plan["start"]["reinforce"]:
                piece.reinforce(name)
        targets: dict[str, list[Column]] = {}
        first = edge.number + 1
        for i in range(work["height"] or len(work["rounds"])):
            if edge.done or not edge.begun:
                piece.step_up(name)
            which = i % len(work["rounds"])
            work["rounds"][which] = self.settled(work["rounds"][which], edge)
            claims = self.claims(work, edge, first, targets, work["rounds"][which])
            self.lay(edge, self.asks(work["rounds"][which], edge, claims))
        for rule in ("increase", "decrease"):
            if work.get(rule) and rule not in targets and not callable(work[rule]["from_round"]):
                raise Unworkable("a rule that never fires")
        if work.get("reinforce"):
            piece.reinforce(name)

    def lay(self, edge: Edge, asks: list[Ask]) -> None:
        self.told[-1].append(asks)
        self.piece.lay(edge.name, asks)

    def settled(self, spec: Any, edge: Edge) -> Dict:
        settled: Dict = spec(self, edge) if callable(spec) else spec
        return settled

    def come_to(self, name: str, place: int) -> None:
        """The needle goes to that edge; the one it leaves is stepped up first if more will hang from it."""
        piece = self.piece
        if piece.at == name:
            return
        leaving = piece.edges[piece.at]
        later = [w for w in self.plan["works"][place:] if w["do"] == "rounds" and w["edge"] == leaving.name]
        if leaving.done and later:
            piece.step_up(leaving.name)
        piece.cross(name)

    # ---- what goes where -------------------------------------------------------------------------

    def claims(
        self, work: Dict, edge: Edge, first: int, targets: dict[str, list[Column]], spec: Dict
    ) -> dict[int, Ask]:
        """What the rules lay in this round, by space."""
        number = edge.number + 1
        claims: dict[int, Ask] = {}
        for name in ("increase", "decrease"):
            rule = work.get(name)
            if not rule:
                continue
            since = rule["from_round"] if rule["from_round"] is not None else first
            if callable(since):
                since = since(self, edge)
            last = since + rule["rounds"] - 1 if rule["rounds"] else number
            if not since <= number <= last:
                continue
            if name not in targets:
                targets[name] = self.columns(rule, edge)
            spaces = [i for i, gap in enumerate(edge.gaps) if gap.column in targets[name]]
            if number == since and not all(any(g.column is c for g in edge.gaps) for c in targets[name]):
                raise Unworkable(f"round {number} has no space for every place of the rule")
            if name == "decrease" and any((i + 1) % len(edge.gaps) in spaces for i in spaces):
                raise Unworkable("a side has no space left between two decreases")
            for i in spaces:
                if name == "decrease":
                    claims[i] = ("no bead", "")
                elif rule["with"]:
                    claims[i] = ("together", rule["with"][(number - since) % len(rule["with"])])
                else:
                    claims[i] = ("together", spec["fill"][1] * 2)
        return claims

    def columns(self, rule: Dict, edge: Edge) -> list[Column]:
        """The columns a rule holds to, found in its first round."""
        spaces = len(edge.gaps)
        if rule.get("every"):
            return [gap.column for gap in edge.gaps]
        if rule.get("sides"):
            sides = rule["sides"]
            if isinstance(sides, int):
                ends = [-(-(i + 1) * spaces // sides) for i in range(sides)]
                sides = [end - start - 1 for start, end in zip([0, *ends], ends, strict=False)]
            chosen, space = [], 0
            for singles in sides:
                space += singles
                chosen.append(edge.gaps[space].column)
                space += 1
            return chosen
        if rule.get("over") == "ribs":
            own = self.rib_columns(edge.name)
            return own or [column for name in self.piece.edges for column in self.rib_columns(name)]
        marked = [bead.column for bead in self.piece.born if bead.code in (rule.get("over"), rule.get("between"))]
        if rule.get("over"):
            return marked
        between = sides_between(edge, marked)
        if not marked or any(len(side) % 2 == 0 for side in between):
            raise Unworkable("no space in the middle of a side")
        return [edge.gaps[side[len(side) // 2]].column for side in between]

    def marker_codes(self) -> set[str]:
        """Codes that the palette or a rule makes markers."""
        codes = {code for code, bead in self.plan["beads"].items() if bead["marker"]}
        for work in self.plan["works"]:
            for rule in (work.get("increase"), work.get("decrease")):
                for way in ("over", "between"):
                    if rule and rule.get(way):
                        codes.add(rule[way])
        return codes

    def asks(self, spec: Dict, edge: Edge, claims: dict[int, Ask]) -> list[Ask]:
        """One ask for each space, from the needle."""
        spaces = len(edge.gaps)
        if "fill" in spec:
            return self.by_rule(spec, edge, claims)
        chosen = self.increase_spaces(edge)
        if not any(item[0] == "repeat" and item[2] is None for item in spec["items"]):
            if spec.get("begins") and not chosen:
                raise Unworkable("no rib or marker to begin at")
            begin = chosen[0] if spec.get("begins") else 0
            return turned(self.unrolled(spec["items"], edge, begin), -begin % spaces)
        if not chosen:
            if self.increase_columns(edge):
                raise Unworkable("no rib or marker has a space here")
            return self.unrolled(spec["items"], edge, 0)
        # By sides, and turned until its pairs (where it has none: what is not of one bead) lie on increase spaces.
        fits: list[list[Ask]] = []
        for begin in range(spaces):
            try:
                laid = turned(self.unrolled(spec["items"], edge, begin), -begin % spaces)
            except Unworkable:
                continue
            pairs = [i for i, ask in enumerate(laid) if ask[0] in ("together", "corner")]
            other = [i for i, ask in enumerate(laid) if ask[0] != "single"]
            alike = not pairs and all(ask == laid[0] for ask in laid)
            right = alike or all(i in chosen for i in pairs or other)
            if right and laid not in fits:
                fits.append(laid)
        if len(fits) != 1:
            raise Unworkable(f"{len(fits)} ways to turn the round")
        return fits[0]

    def by_rule(self, spec: Dict, edge: Edge, claims: dict[int, Ask]) -> list[Ask]:
        """A fill, then what goes over a code, in the middle of sides, before and after ribs, and at them."""
        spaces = len(edge.gaps)
        laid: list[Ask] = [spec["fill"]] * spaces
        columns = self.place_columns(edge)
        ribs = [i for i, gap in enumerate(edge.gaps) if gap.column in columns]
        if "ribs" in spec and not ribs:
            raise Unworkable("no rib has a space here")
        for code, ask in spec.get("over", []):
            for i, gap in enumerate(edge.gaps):
                if gap.below is not None and gap.below.code == code:
                    laid[i] = ask
        if "middle" in spec:
            for side in sides_between(edge, columns):
                for i in side[(len(side) - 1) // 2 : len(side) // 2 + 1]:
                    laid[i] = spec["middle"]
        for i in ribs:
            if "before" in spec:
                laid[i - 1] = spec["before"]
        for i in ribs:
            if "after" in spec:
                laid[(i + 1) % spaces] = spec["after"]
        for i in ribs:
            if "ribs" in spec:
                laid[i] = spec["ribs"]
        return [claims.get(i, ask) for i, ask in enumerate(laid)]

    def place_columns(self, edge: Edge) -> list[Column]:
        """What a round by places calls ribs: the edge's own; before there are any, the markers or the others."""
        return self.rib_columns(edge.name) or self.increase_columns(edge)

    def rib_columns(self, name: str) -> list[Column]:
        """Columns where pairs, corners and skips were laid on this edge so far."""
        laid = [cell for lap in self.piece.rounds if lap.edge == name for cell in lap.cells]
        return [column for stitch, column, _ in laid if stitch.increase or stitch.decrease]

    def marker_columns(self) -> list[Column]:
        codes = self.marker_codes()
        return [bead.column for bead in self.piece.born if bead.code in codes]

    def increase_columns(self, edge: Edge) -> list[Column]:
        """The edge's own ribs and the markers; where there are none, the ribs of the other edge."""
        own = self.rib_columns(edge.name) + self.marker_columns()
        return own or [column for name in self.piece.edges for column in self.rib_columns(name)]

    def rib_spaces(self, edge: Edge) -> list[int]:
        """Insides of pairs and spaces over the edge's own ribs."""
        columns = self.rib_columns(edge.name)
        return [i for i, gap in enumerate(edge.gaps) if gap.inside or gap.column in columns]

    def increase_spaces(self, edge: Edge) -> list[int]:
        """Those over ribs; where there are none, those over markers; else those over the other edge's ribs."""
        columns = self.increase_columns(edge)
        return self.rib_spaces(edge) or [i for i, gap in enumerate(edge.gaps) if gap.column in columns]

    def unrolled(self, items: list[Any], edge: Edge, begin: int) -> list[Ask]:
        """The items as one ask a space, reading from that space."""
        spaces = len(edge.gaps)
        goals: dict[str, list[Column]] = {"rib": self.rib_columns(edge.name), "marker": self.marker_columns()}
        if not self.rib_spaces(edge):
            goals["rib"] = goals["rib"] + goals["marker"]
        ahead: dict[str, list[int]] = {"end": [spaces]}
        for name, columns in goals.items():
            # A place on an up bead is come to after the space before it.
            over = [i for i, gap in enumerate(edge.gaps) if gap.column in columns]
            over += [i for i, up in enumerate(edge.ups) if up.column in columns]
            ahead[name] = sorted((i - begin) % spaces for i in over)
        laid = self.spelled(items, spaces, ahead, 0)
        if len(laid) != spaces:
            raise Unworkable(f"{len(laid)} stitches for {spaces} spaces")
        return laid

    def spelled(self, items: list[Any], spaces: int, ahead: dict[str, list[int]], done: int) -> list[Ask]:
        laid: list[Ask] = []
        for item in items:
            here = done + len(laid)
            if item[0] == "lay":
                laid += [item[1]] * item[2]
            elif item[0] == "to":
                goals = [i - item[3] for i in ahead[item[2]] if i >= here]
                if not goals or goals[0] < here:
                    raise Unworkable("nothing to go to")
                laid += [item[1]] * (goals[0] - here)
            elif item[2] is not None:
                for _ in range(item[2]):
                    laid += self.spelled(item[1], spaces, ahead, done + len(laid))
            else:
                while done + len(laid) < spaces:
                    more = self.spelled(item[1], spaces, ahead, done + len(laid))
                    if not more:
                        raise Unworkable("a repeat without a stitch")
                    laid += more
        return laid


def sides_between(edge: Edge, columns: list[Column]) -> list[list[int]]:
    """The spaces of each side, as these columns bound them."""
    spaces = len(edge.gaps)
    bounds = [i for i, gap in enumerate(edge.gaps) if gap.column in columns]
    begins = [i for i in range(spaces) if edge.ups[i].column in columns or edge.gaps[i - 1].column in columns]
    if not begins:
        return [] if bounds else [list(range(spaces))]
    sides: list[list[int]] = []
    for begin in begins:
        side: list[int] = []
        while (begin + len(side)) % spaces not in bounds:
            side.append((begin + len(side)) % spaces)
            if (begin + len(side)) % spaces in begins:
                break
        sides.append(side)
    return sides
