"""Follows a plan on a `Piece`. A plan here is a plain dict of this package's own making:

    {"title": str,
     "beads": {code: {"marker": bool}},
     "start": {"kind": "band", "frame": (top, side, bottom), "spacers": [code, …], "reinforce": bool}
              or {"kind": "ring" | "tube", "beads": [code, …]},
     "works": [{"do": "rounds", "edge": "top" | "bottom", "rounds": [round, …], "height": int | None,
                "increase": rule | None, "decrease": rule | None, "fill": round | None, "reinforce": bool},
               {"do": "walk", "edge": …, "spaces": int},
               {"do": "reinforce", "edge": …}]}

A round is {"fill": ask} (one ask for every space that no rule claims) or {"items": [item, …]}. An ask is a
pair of a form and its codes. An item is ("lay", ask, count), ("to", ask, target, before) or ("repeat", items,
times) with times None for *around*. A rule is {"over": code} or {"sides": [singles before each pair]} or
{"every": True}, with "with" (a list of codes laid in turn), "from_round" and "rounds" (how many; None: to the
end).

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

    def run(self) -> Piece:
        """Raises Unworkable."""
        self.begin(self.plan["start"])
        for place, work in enumerate(self.plan["works"]):
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
            piece.lay(name, self.asks(work["fill"], edge, {}))
            if self.plan["start"]["reinforce"]:
                piece.reinforce(name)
        targets: dict[str, list[Column]] = {}
        first = edge.number + 1
        for i in range(work["height"] or len(work["rounds"])):
            if edge.done or not edge.begun:
                piece.step_up(name)
            which = i % len(work["rounds"])
            work["rounds"][which] = self.settled(work["rounds"][which], edge)
            claims = self.claims(work, edge, first, targets)
            piece.lay(name, self.asks(work["rounds"][which], edge, claims))
        for rule in ("increase", "decrease"):
            if work.get(rule) and rule not in targets and not callable(work[rule]["from_round"]):
                raise Unworkable("a rule that never fires")
        if work.get("reinforce"):
            piece.reinforce(name)

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

    def claims(self, work: Dict, edge: Edge, first: int, targets: dict[str, list[Column]]) -> dict[int, Ask]:
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
            if not spaces:
                raise Unworkable(f"round {number} has no space for the rule")
            for i in spaces:
                laid = rule["with"][(number - since) % len(rule["with"])] if name == "increase" else ""
                claims[i] = ("together", laid) if laid else ("no bead", "")
        return claims

    def columns(self, rule: Dict, edge: Edge) -> list[Column]:
        """The columns a rule holds to, found in its first round."""
        if rule.get("every"):
            return [gap.column for gap in edge.gaps]
        if rule.get("sides"):
            chosen, space = [], 0
            for singles in rule["sides"]:
                space += singles
                chosen.append(edge.gaps[space].column)
                space += 1
            return chosen
        return [bead.column for bead in self.piece.born if bead.code == rule["over"]]

    def marker_codes(self) -> set[str]:
        """Codes that the palette or a rule makes markers."""
        codes = {code for code, bead in self.plan["beads"].items() if bead["marker"]}
        for work in self.plan["works"]:
            for rule in (work.get("increase"), work.get("decrease")):
                if rule and rule.get("over"):
                    codes.add(rule["over"])
        return codes

    def asks(self, spec: Dict, edge: Edge, claims: dict[int, Ask]) -> list[Ask]:
        """One ask for each space, from the needle."""
        spaces = len(edge.gaps)
        if "fill" in spec:
            fill: Ask = spec["fill"]
            return [claims.get(i, fill) for i in range(spaces)]
        chosen = self.increase_spaces(edge)
        if not any(item[0] == "repeat" and item[2] is None for item in spec["items"]):
            return self.unrolled(spec["items"], spaces, chosen, 0)
        if not chosen:
            return self.unrolled(spec["items"], spaces, chosen, 0)
        # By sides, and turned until every stitch of many beads lies on an increase space.
        fits: list[list[Ask]] = []
        for begin in range(spaces):
            told = [i - begin for i in chosen if i >= begin] + [
                i - begin + spaces for i in chosen if i < begin
            ]
            try:
                laid = turned(self.unrolled(spec["items"], spaces, told, 0), -begin % spaces)
            except Unworkable:
                continue
            if all(i in chosen for i, ask in enumerate(laid) if len(ask[1]) > 1) and laid not in fits:
                fits.append(laid)
        if len(fits) != 1:
            raise Unworkable(f"{len(fits)} ways to turn the round")
        return fits[0]

    def increase_spaces(self, edge: Edge) -> list[int]:
        """Insides of pairs and spaces over columns where pairs were laid here; else those over markers."""
        laid = [cell for lap in self.piece.rounds if lap.edge == edge.name for cell in lap.cells]
        ribs = [column for stitch, column, _ in laid if stitch.increase]
        found = [i for i, gap in enumerate(edge.gaps) if gap.inside or gap.column in ribs]
        if not found:
            codes = self.marker_codes()
            marked = [bead.column for bead in self.piece.born if bead.code in codes]
            found = [i for i, gap in enumerate(edge.gaps) if gap.column in marked]
        return found

    def unrolled(self, items: list[Any], spaces: int, chosen: list[int], done: int) -> list[Ask]:
        """The items as one ask a space; `chosen`: the increase spaces, from where the reading begins."""
        laid = self.spelled(items, spaces, chosen, done)
        if len(laid) != spaces - done:
            raise Unworkable(f"{len(laid)} stitches for {spaces - done} spaces")
        return laid

    def spelled(self, items: list[Any], spaces: int, chosen: list[int], done: int) -> list[Ask]:
        laid: list[Ask] = []
        for item in items:
            here = done + len(laid)
            if item[0] == "lay":
                laid += [item[1]] * item[2]
            elif item[0] == "to":
                ahead = [i for i in chosen if i >= here] if item[2] != "end" else [spaces]
                if not ahead or ahead[0] - item[3] < here:
                    raise Unworkable("nothing to go to")
                laid += [item[1]] * (ahead[0] - item[3] - here)
            elif item[2] is not None:
                for _ in range(item[2]):
                    laid += self.spelled(item[1], spaces, chosen, done + len(laid))
            else:
                while done + len(laid) < spaces:
                    more = self.spelled(item[1], spaces, chosen, done + len(laid))
                    if not more:
                        raise Unworkable("a repeat without a stitch")
                    laid += more
        return laid
