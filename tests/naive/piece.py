"""Beads in plain lists, laid one by one as a person with a needle would.

Nothing is counted ahead and nothing is computed from numbers of columns: a column is only ever found by
looking at which bead or space lies below. Units: beads; ids count from 1 in the order picked up.
"""

from __future__ import annotations

from itertools import pairwise

from tests.naive.parts import Bead, Column, Edge, Gap, Round, Stitch, Unworkable, turned


class Piece:
    """One object being stitched."""

    def __init__(self) -> None:
        self.beads: list[Bead] = []
        self.log: list[Stitch] = []
        """every stitch and move, in order"""
        self.rounds: list[Round] = []
        self.edges: dict[str, Edge] = {}
        self.at = "top"
        self.needle: Bead
        self.tops: list[Bead] = []
        self.side_beads: list[Bead] = []
        self.bottoms: list[Bead] = []
        self.spacers: list[Bead] = []
        self.walked: dict[str, Bead] = {}
        """the bead to step up into, by edge, where the needle has walked along"""
        self.born: list[Bead] = []
        """the beads that name columns: spacers, the strung beads"""

    # ---- small motions ---------------------------------------------------------------------------

    def pick_up(self, code: str, column: Column) -> Bead:
        bead = Bead(len(self.beads) + 1, code, column)
        self.beads.append(bead)
        return bead

    def touch(self, *chain: Bead) -> None:
        """Each bead of the chain lies against the next."""
        for one, other in pairwise(chain):
            one.touches.add(other.id)
            other.touches.add(one.id)

    def note(self, lap: Round, kind: str, beads: list[Bead], through: list[Bead], step_up: int = 0) -> Stitch:
        """A stitch that is no space of a round. The needle ends in the last bead passed."""
        stitch = Stitch(kind, beads, [], through, lap)
        stitch.step_up = step_up
        self.log.append(stitch)
        if through:
            self.needle = through[-1]
        return stitch

    # ---- starts ----------------------------------------------------------------------------------

    def string_ring(self, codes: list[str]) -> None:
        """k beads on the thread, closed through the first: round 1, and every one an up bead."""
        lap = Round("top", 1)
        for i, code in enumerate(codes):
            self.string_one(lap, code, Column(f"ring bead {i}"))
        between = [Column(f"after ring bead {i}") for i in range(len(codes))]
        lap.cells = [(s, s.beads[0].column, c) for (s, _, _), c in zip(lap.cells, between, strict=True)]
        self.close_strand(lap)
        edge = Edge("top", 1)
        edge.ups = list(lap.beads)
        edge.gaps = [Gap(c) for c in between]
        edge.begun = True
        self.edges["top"] = edge
        self.rounds.append(lap)
        self.born = list(lap.beads)

    def string_tube(self, codes: list[str]) -> None:
        """2n beads: the first strung is of round 2, the second of round 1, and so on by turns."""
        first, second = Round("top", 1), Round("top", 2)
        for i, code in enumerate(codes):
            self.string_one(first if i % 2 else second, code, Column(f"strung bead {i}"))
            # One strand, told as one: under the later of its two rounds.
            self.log[-1].lap = second
        for lap, after in ((second, first.beads), (first, turned(second.beads, 1))):
            lap.cells = [(s, s.beads[0].column, b.column) for (s, _, _), b in zip(lap.cells, after, strict=True)]
        self.close_strand(second)
        edge = Edge("top", 2)
        edge.ups = list(second.beads)
        edge.gaps = [Gap(low.column, below=low) for low in first.beads]
        edge.begun = True
        self.edges["top"] = edge
        self.rounds += [first, second]
        self.born = list(self.beads)

    def string_one(self, lap: Round, code: str, column: Column) -> None:
        bead = self.pick_up(code, column)
        if len(self.beads) > 1:
            self.touch(self.beads[-2], bead)
        stitch = self.note(lap, "string", [bead], [])
        lap.beads.append(bead)
        lap.cells.append((stitch, column, column))

    def close_strand(self, lap: Round) -> None:
        self.log[-1].last = True
        self.touch(self.beads[-1], self.beads[0])
        self.note(lap, "join", [], [self.beads[0]])

    def weave_band(self, top: str, side: str, bottom: str, spacers: list[str], reinforce: bool) -> None:
        """A joined band of modified right-angle weave; one unit for each spacer, three at least.

        `side_beads[i]` is right of unit i; the first unit's left one is the last unit's right one.
        """
        n = len(spacers)
        above = [Column(f"spacer {i}") for i in range(n)]
        upright = [Column(f"unit {i}") for i in range(n)]
        leaning = [Column(f"right of unit {i}") for i in range(n)]

        def frame(i: int, left: Bead) -> None:
            self.touch(self.tops[i], self.side_beads[i], self.bottoms[i], left, self.tops[i])

        lap = Round("top", 0)
        t = self.pick_up(top, upright[0])
        right = self.pick_up(side, leaning[0])
        b = self.pick_up(bottom, upright[0])
        free = self.pick_up(side, leaning[n - 1])
        self.tops, self.side_beads, self.bottoms = [t], [right], [b]
        frame(0, free)
        self.note(lap, "unit", [t, right, b, free], [t])
        for i in range(1, n - 1):
            s = self.pick_up(spacers[i - 1], above[i - 1])
            t = self.pick_up(top, upright[i])
            right = self.pick_up(side, leaning[i])
            b = self.pick_up(bottom, upright[i])
            shared = self.side_beads[-1]
            self.spacers.append(s)
            self.tops.append(t)
            self.side_beads.append(right)
            self.bottoms.append(b)
            frame(i, shared)
            self.touch(self.tops[i - 1], s, t)
            self.note(lap, "unit", [s, t, right, b], [shared, t])
        self.note(lap, "join", [], [self.side_beads[-1], self.bottoms[-1], self.side_beads[-2], self.tops[-1]])
        s = self.pick_up(spacers[n - 2], above[n - 2])
        t = self.pick_up(top, upright[n - 1])
        self.touch(self.tops[-1], s, t)
        self.note(lap, "join", [s, t], [])
        self.note(lap, "join", [], [free])
        b = self.pick_up(bottom, upright[n - 1])
        self.note(lap, "join", [b], [])
        shared = self.side_beads[-1]
        self.tops.append(t)
        self.side_beads.append(free)
        self.bottoms.append(b)
        self.spacers.append(s)
        frame(n - 1, shared)
        self.note(lap, "join", [], [shared, t])
        s = self.pick_up(spacers[n - 1], above[n - 1])
        self.spacers.append(s)
        self.touch(t, s, self.tops[0])
        self.note(lap, "join", [s], [self.tops[0]])

        lap.beads = list(self.beads)
        # The ribs of a band are looked for along its spacers: each stands for the move that picks it up.
        self.log[-1].last = True
        lays = [move for s in self.spacers for move in self.log if s in move.beads]
        lap.cells = [(move, above[i], upright[(i + 1) % n]) for i, move in enumerate(lays)]
        self.rounds.append(lap)
        if reinforce:
            row = [bead for pair in zip(self.tops, self.spacers, strict=True) for bead in pair]
            self.note(lap, "reinforce", [], turned(row, 1))
        edge = Edge("top", 0)
        edge.ups = list(self.spacers)
        edge.gaps = [Gap(top.column, below=top) for top in turned(self.tops, 1)]
        self.edges["top"] = edge
        self.edges["bottom"] = Edge("bottom", -1)
        self.born = list(self.spacers)

    # ---- a round of peyote -----------------------------------------------------------------------

    def lay(self, name: str, asks: list[tuple[str, str]]) -> Round:
        """One round, a stitch in every space: `asks` are (form, codes), one for each space in turn.

        Forms: `single`, `together`, `picot`, `corner`, `no bead`. The needle must stand on the edge.
        """
        edge = self.edges[name]
        spaces = len(edge.ups)
        if len(asks) != spaces:
            raise Unworkable(f"{len(asks)} stitches for {spaces} spaces")
        if self.at != name or self.needle is not edge.ups[0] or edge.done:
            raise Unworkable("the needle does not stand where the round begins")
        lap = Round(name, edge.number + 1)
        if any(move.kind == "cross" for move in self.log[-2:]):
            # The way to a round from the other edge is told with it.
            place = len(self.log) - 1
            while self.log[place].kind != "cross":
                place -= 1
            for move in self.log[place:]:
                move.lap = lap
        stitches: list[Stitch] = []
        for i, (form, codes) in enumerate(asks):
            left, right, gap = edge.ups[i], edge.ups[(i + 1) % spaces], edge.gaps[i]
            stitch = self.stitch_in(lap, gap, left, right, form, codes)
            stitches.append(stitch)
            lap.beads += stitch.beads
            lap.cells.append((stitch, gap.column, right.column))
            self.log.append(stitch)
        if not lap.beads:
            raise Unworkable("a round without a bead")
        self.needle = edge.ups[0]
        stitches[-1].last = True
        self.mark_flanks(stitches)
        edge.number = lap.number
        edge.done = stitches
        self.rounds.append(lap)
        return lap

    def stitch_in(self, lap: Round, gap: Gap, left: Bead, right: Bead, form: str, codes: str) -> Stitch:
        """Pick up, pass through the up bead on the far side of the space."""
        beads: list[Bead] = []
        middle = len(codes) // 2
        for i, code in enumerate(codes):
            # One bead lies in the column of its space; beads beside each other lie left and right of it.
            alone = len(codes) == 1 or (form in ("picot", "corner") and i == middle)
            beads.append(self.pick_up(code, gap.column if alone else Column(f"{code} beside {gap.column}")))
        ups = {
            "single": beads,
            "together": beads,
            "picot": beads[middle : middle + 1],
            "corner": [beads[0], beads[-1]] if beads else [],
            "no bead": [],
        }[form]
        kind = {"together": "pair"}.get(form, form)
        stitch = Stitch(kind, beads, list(ups), [right], lap)
        stitch.gap = gap
        for bead in beads:
            bead.stitch = stitch
        # Without a bead the two up beads are drawn together.
        self.touch(left, *beads, right)
        return stitch

    def step_up(self, name: str) -> None:
        """On through what is empty, into the first up bead laid: the needle stands on the new edge."""
        edge = self.edges[name]
        if name == "top" and not edge.begun:
            # In a top bead of the band: one spacer more.
            place = self.tops.index(self.needle)
            self.note(self.rounds[0], "step-up", [], [self.spacers[place]], 1)
            edge.ups = turned(edge.ups, place)
            edge.gaps = turned(edge.gaps, place)
            edge.begun = True
            return
        stitches = edge.done
        closing = [s.through[0] for s in stitches]
        through: list[Bead] = []
        first = 0
        while not stitches[first].beads:
            through.append(closing[first])
            first += 1
        for bead in stitches[first].beads:
            through.append(bead)
            if bead is stitches[first].ups[0]:
                break
        edge.ups, edge.gaps = self.next_edge(turned(stitches, first))
        walked = self.walked.pop(name, None)
        if walked is None:
            self.note(stitches[0].lap, "step-up", [], through, 1 + len(through))
        else:
            self.note(stitches[0].lap, "step-up", [], [walked], 1)
            place = edge.ups.index(walked)
            edge.ups, edge.gaps = turned(edge.ups, place), turned(edge.gaps, place)
        edge.done = []

    def walk_along(self, name: str, spaces: int) -> None:
        """Along the beads just laid, up to the one that begins so many spaces of the next round further on.

        What is left for the step-up is that one bead.
        """
        stitches = self.edges[name].done
        way = [bead for stitch in stitches for bead in [*stitch.beads, stitch.through[0]]]
        ups = [bead for stitch in stitches for bead in stitch.ups]
        if spaces >= len(ups):
            raise Unworkable("once round or more")
        goal = ups[spaces]
        self.note(stitches[0].lap, "walk along", [], way[: way.index(goal)])
        self.walked[name] = goal

    def reinforce(self, name: str) -> None:
        """Once more through the round just done, back to where the needle is."""
        edge = self.edges[name]
        through = [bead for stitch in edge.done for bead in [*stitch.beads, stitch.through[0]]]
        self.note(edge.done[0].lap, "reinforce", [], through)

    def next_edge(self, stitches: list[Stitch]) -> tuple[list[Bead], list[Gap]]:
        """What was laid, in order, is the next edge. The first stitch has beads."""
        ups: list[Bead] = []
        gaps: list[Gap] = []
        passed: list[Column] = []
        for i, stitch in enumerate(stitches):
            for j, up in enumerate(stitch.ups):
                ups.append(up)
                if j + 1 < len(stitch.ups):
                    gaps.append(Gap(stitch.space.column, inside=True))
            # Up to the next stitch that lays anything: the up beads and the empty spaces on the way.
            passed.append(stitch.through[0].column)
            following = stitches[(i + 1) % len(stitches)]
            if following.ups:
                below = stitch.through[0] if len(passed) == 1 else None
                gaps.append(Gap(passed[len(passed) // 2], below=below))
                passed = []
            else:
                passed.append(following.space.column)
        return ups, gaps

    def mark_flanks(self, stitches: list[Stitch]) -> None:
        """The spaces right before and right after an increase or the inside of a pair, round and round."""
        for i, stitch in enumerate(stitches):
            after, before = stitches[i - 1], stitches[(i + 1) % len(stitches)]
            opens = before.increase or before.inside
            follows = after.increase or after.inside
            if opens and follows:
                stitch.flank = "both"
            elif opens:
                stitch.flank = "before"
            elif follows:
                stitch.flank = "after"

    # ---- from edge to edge -----------------------------------------------------------------------

    def way_down(self) -> list[Bead]:
        """Forward and down from the needle, to a bead that no stitch of peyote laid."""
        bead, way = self.needle, []
        while bead.stitch is not None:
            beads = bead.stitch.beads
            way += [*beads[beads.index(bead) + 1 :], bead.stitch.through[0]]
            bead = way[-1]
        return way

    def cross(self, to: str) -> None:
        """To the other edge, without a bead."""
        target = self.edges[to]
        back = target.begun
        way = self.way_down()
        foot = way[-1] if way else self.needle
        if to == "bottom":
            if foot in self.spacers:
                foot = self.tops[(self.spacers.index(foot) + 1) % len(self.tops)]
                way.append(foot)
            unit = self.tops.index(foot)
            way += [self.side_beads[unit], self.bottoms[unit]]
        else:
            unit = self.bottoms.index(foot)
            way += [self.side_beads[unit - 1], self.tops[unit]]
        if not target.begun and to == "bottom":
            target.ups = [self.bottoms[unit - i] for i in range(len(self.bottoms))]
            above = [self.spacers[unit - 1 - i] for i in range(len(self.bottoms))]
            target.gaps = [Gap(spacer.column) for spacer in above]
            target.begun = True
        elif target.begun and target.ups[0] is not way[-1]:
            way += self.way_between(way[-1], target.ups[0])
        self.note(self.rounds[-1], "cross", [], way).any_way = back
        self.at = to

    def way_between(self, start: Bead, goal: Bead) -> list[Bead]:
        """Some way from bead to touching bead; there are many, and a shortest one is taken."""
        came: dict[int, int] = {start.id: 0}
        ring = [start.id]
        while goal.id not in came:
            outer: list[int] = []
            for here in ring:
                for there in sorted(self.beads[here - 1].touches):
                    if there not in came:
                        came[there] = here
                        outer.append(there)
            ring = outer
        way: list[Bead] = []
        here = goal.id
        while here != start.id:
            way.insert(0, self.beads[here - 1])
            here = came[here]
        return way
