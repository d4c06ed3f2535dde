"""Which beads the needle passes through: bead numbers, stitch by stitch, computed where somebody looks.

Bead numbers count from 1 in the order picked up.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import OrderedDict
from collections.abc import Callable, Iterator

from stitchalong.course.course import Course, Round
from stitchalong.fabric import band
from stitchalong.fabric.stitch import Kind, Stitch

_KEPT = 32
_RULED = frozenset(("fill", "peyote"))
"""techniques whose passes follow from the round below"""


class RoundView:
    """One round with its beads by number. `index` is the round's in the course."""

    def __init__(self, threads: Threads, index: int) -> None:
        course = threads.course
        self.threads = threads
        self.index = index
        self.round: Round = course.rounds[index]
        self._stitches: list[Stitch] = []
        self._space_at: list[int] = []
        self._up_at: list[int] = []
        self._bead_at: list[int] = []
        self.moves: dict[int, Stitch] = {}
        """run -> a stitch of the round that visits no space"""
        self._entry_at: dict[int, int] = {}
        """run -> its first entry among the passes that are told bead by bead"""
        space = up = entry = 0
        for run in range(self.round.first_run, self.round.stop_run):
            stitch = course.stitch_of(run)
            count = course.count_of(run)
            self._entry_at[run] = entry
            entry += count
            if not stitch.visits_space:
                self.moves[run] = stitch
                continue
            self._stitches.append(stitch)
            self._space_at.append(space)
            self._up_at.append(up)
            self._bead_at.append(course.run_bead[run] + 1)
            space += count
            up += count * len(stitch.ups)
        self.ups = up
        self.spaces = space

    # ---- beads of this round --------------------------------------------------------------------

    def up(self, nth: int) -> int:
        """Bead number of the nth up bead (cyclically) that the round leaves, in the order laid."""
        technique, units = self.round.technique, self.round.spaces
        told = self.threads.course.passes.edges.get(self.index)
        if told is not None:
            return told[nth % len(told)]
        if technique == "band":
            return self._base + band.spacer(nth % units, units)
        if technique == "ring":
            return self._base + nth % units + 1
        if technique == "tube":
            return self._base + 2 * (nth % units) + 1
        space, which = self._find_up(nth % self.ups)
        return self.beads_in(space)[which]

    def _find_up(self, nth: int) -> tuple[int, int]:
        """(space, index of the bead in its stitch) of an up bead."""
        run = bisect_right(self._up_at, nth) - 1
        stitch = self._stitches[run]
        while not stitch.ups:  # a run of empty spaces has no up beads of its own
            run -= 1
            stitch = self._stitches[run]
        within, which = divmod(nth - self._up_at[run], len(stitch.ups))
        return self._space_at[run] + within, stitch.ups[which]

    def beads_in(self, space: int) -> list[int]:
        """Bead numbers laid in a space, in the order picked up."""
        run = bisect_right(self._space_at, space) - 1
        size = len(self._stitches[run].beads)
        first = self._bead_at[run] + (space - self._space_at[run]) * size
        return list(range(first, first + size))

    def first_up_in(self, space: int) -> int:
        """How many beads of the stitch in this space come up to its first up bead."""
        run = bisect_right(self._space_at, space) - 1
        ups = self._stitches[run].ups
        return ups[0] + 1 if ups else 0

    # ---- what it hangs from ---------------------------------------------------------------------

    @property
    def below(self) -> RoundView:
        return self.threads.view(self.round.below)

    def lower(self, nth: int) -> int:
        """Bead number of up bead `nth` of the edge below, counted from where the round began."""
        below, begin = self.below, self.round.begin
        if self.round.technique == "fill":
            units = below.round.spaces
            return below._base + band.bottom((begin + 1 - nth) % units, units)
        return below.up((begin + nth) % self.round.spaces)

    def passed(self, nth: int) -> list[int]:
        """The beads passed to go through up bead `nth` that the round leaves: all of those that are one."""
        up = self.up(nth)
        if self.round.technique not in _RULED:
            return [up]
        space, _ = self._find_up(nth % self.ups)
        beads = self.beads_in(space)
        return beads if len(beads) > 1 and self.stitch_in(space).kind is Kind.GROUP else [up]

    def stitch_in(self, space: int) -> Stitch:
        """The stitch that fills a space."""
        return self._stitches[bisect_right(self._space_at, space) - 1]

    def close(self, space: int) -> list[int]:
        """The beads passed to close a space: its up bead."""
        if self.round.technique == "fill":
            return [self.lower((space + 1) % self.round.spaces)]
        return self.below.passed((self.round.begin + space + 1) % self.round.spaces)

    def zigzag(self, spaces: int) -> Iterator[int]:
        """The way along the edge: the beads of each space, then the up bead that closes it."""
        for space in range(spaces):
            yield from self.beads_in(space)
            yield from self.close(space)

    def along(self) -> list[int]:
        """The way along the edge that the round leaves, once round."""
        match self.round.technique:
            case "band":
                return self._top_row()
            case "ring" | "tube":
                return list(range(self._base + 1, self._base + self.round.beads + 1))
        return list(self.zigzag(self.round.spaces))

    # ---- passes ---------------------------------------------------------------------------------

    def through(self, run: int, nth: int = 0) -> list[int]:
        """The beads passed through to finish stitch `nth` of a run of this round (not those just picked up)."""
        course = self.threads.course
        stitch = course.stitch_of(run)
        if self.round.first_pass >= 0:
            return course.passes.entry(self.round.first_pass + self._entry_at[run] + nth)
        if stitch.kind in (Kind.UNIT, Kind.JOIN):
            return [self._base + bead for bead in self._through_start(run, nth, stitch)]
        if stitch.kind is Kind.STRING:
            return []
        if stitch.visits_space:
            space = self._space_at[self._run_index(run)] + nth
            return self.close(space)
        match stitch.kind:
            case Kind.STEP_UP:
                return self._step_up(run, stitch)
            case Kind.WALK:
                return self._walk(int(stitch.detail))
            case Kind.REINFORCE:
                if stitch.detail == "top row":
                    row = self._top_row()
                    return [*row[1:], row[0]]
                return list(self.zigzag(self.round.spaces))
            case Kind.CROSS:
                return self.threads.crossing(self.index)
        raise AssertionError(stitch.kind)

    @property
    def _base(self) -> int:
        """The number of the bead before the first of this round; starts count from it."""
        return self.round.first_bead - 1

    def _top_row(self) -> list[int]:
        return [self._base + bead for bead in band.top_row(self.round.spaces)]

    def _run_index(self, run: int) -> int:
        """Index of a run among those that visit spaces."""
        return run - self.round.first_run - sum(1 for move in self.moves if move < run)

    def _through_start(self, run: int, nth: int, stitch: Stitch) -> list[int]:
        units = self.round.spaces
        match stitch.detail:
            case "ring":
                return [1]
            case "first":
                return [band.top(0, units)]
            case "unit":
                unit = self._space_at[self._run_index(run)] + nth + 1
                return [band.side(unit - 1, units), band.top(unit, units)]
            case "settle":
                last = units - 2
                return [
                    band.side(last, units),
                    band.bottom(last, units),
                    band.side(last - 1, units),
                    band.top(last, units),
                ]
            case "second of five":
                return [band.side(units - 1, units)]
            case "fourth of five":
                return [band.side(units - 2, units), band.top(units - 1, units)]
            case "last of five":
                return [band.top(0, units)]
        return []

    def _step_up(self, run: int, stitch: Stitch) -> list[int]:
        if stitch.detail == "spacer":
            if self.round.technique == "band":
                return [self.up(self._walked())]
            return [self.lower(0)]
        if stitch.detail == "walked":
            return [self.up(self._walked())]
        empty = 0
        while not self.first_up_in(empty):
            empty += 1
        passed = [bead for space in range(empty) for bead in self.close(space)]
        return passed + self.beads_in(empty)[: self.first_up_in(empty)]

    def _walked(self) -> int:
        return next((int(move.detail) for move in self.moves.values() if move.kind is Kind.WALK), 0)

    def _walk(self, beads: int) -> list[int]:
        technique = self.round.technique
        if technique == "band":
            return self._top_row()[1 : 2 * beads + 1]
        if technique == "ring":
            return list(range(self._base + 2, self._base + beads + 1))
        if technique == "tube":
            return list(range(self._base + 2, self._base + 2 * beads + 1))
        target = self.up(beads)
        way: list[int] = []
        for bead in self.zigzag(self.round.spaces):
            if bead == target:
                break
            way.append(bead)
        return way

    def descend(self, nth: int) -> tuple[list[int], int]:
        """From up bead `nth` forward and down to the band: (beads passed, spacer or bottom bead reached, by unit)."""
        way: list[int] = []
        view: RoundView = self
        while view.round.technique != "band":
            space, which = view._find_up(nth % view.ups)
            way.extend(view.beads_in(space)[which + 1 :])
            way.extend(view.close(space))
            nth = view.foot(space + 1)
            view = view.below
        return way, nth

    def foot(self, nth: int) -> int:
        """Up bead `nth` of the edge below as that round numbers it; for a band its unit."""
        units = self.round.spaces
        if self.round.technique == "fill":
            return (self.round.begin + 1 - nth) % units
        return (self.round.begin + nth) % units


class Threads:
    """The rounds of a course with their beads by number; keeps the last few."""

    def __init__(self, course: Course) -> None:
        self.course = course
        self._views: OrderedDict[int, RoundView] = OrderedDict()

    def view(self, index: int) -> RoundView:
        view = self._views.get(index)
        if view is None:
            view = self._views[index] = RoundView(self, index)
            if len(self._views) > _KEPT:
                self._views.popitem(last=False)
        else:
            self._views.move_to_end(index)
        return view

    def code(self, bead: int) -> str:
        """The code of a bead by its number."""
        course = self.course
        run = bisect_right(course.run_bead, bead - 1) - 1
        beads = course.stitch_of(run).beads
        return beads[(bead - 1 - course.run_bead[run]) % len(beads)]

    def through(self, run: int, nth: int = 0) -> list[int]:
        """The beads that a stitch passes through (not those just picked up)."""
        return self.view(self.course.round_of(self.course.run_step[run])).through(run, nth)

    def crossing(self, index: int) -> list[int]:
        """The way from the end of the round before `index` to the other edge of its band."""
        course = self.course
        target = course.rounds[index]
        start = self._band_of(index)
        units, base = start.spaces, start.first_bead - 1
        last = index - 1
        while course.rounds[last].technique == "zip":
            last -= 1  # a seam ends where it began
        way, unit = self._down(last)
        in_band = not way and course.rounds[last].technique == "band"

        def bead(kind: Callable[[int, int], int], at: int) -> int:
            return base + kind(at % units, units)

        back = course.stitch_of(target.first_run).detail == "back"
        if target.edge == "bottom":
            unit = (unit + 1) % units
            if not in_band:
                way.append(bead(band.top, unit))
            way += [bead(band.side, unit), bead(band.bottom, unit)]
            if back:
                fill = self.view(self._first_round(index))
                begin = fill.round.begin
                while unit != (begin + 1) % units:
                    unit = (unit - 1) % units
                    way += [fill.beads_in((begin - unit) % units)[0], bead(band.bottom, unit)]
        else:
            way += [bead(band.side, unit - 1), bead(band.top, unit)]
            if back:
                begin = course.rounds[self._first_round(index)].begin
                while unit != begin:
                    way += [bead(band.spacer, unit), bead(band.top, unit + 1)]
                    unit = (unit + 1) % units
                way.append(bead(band.spacer, begin))
        return way + self._up_again(index) if back else way

    def _band_of(self, index: int) -> Round:
        part = self.course.rounds[index].part
        return next(item for item in self.course.rounds if item.part == part)

    def _on_edge(self, index: int) -> Iterator[int]:
        """The rounds worked before `index` on its edge, the band's own row left out."""
        rounds = self.course.rounds
        part, edge = rounds[index].part, rounds[index].edge
        for nth, item in enumerate(rounds[:index]):
            if (item.part, item.edge) == (part, edge) and item.technique != "band":
                yield nth

    def _first_round(self, index: int) -> int:
        return next(self._on_edge(index))

    def _down(self, index: int) -> tuple[list[int], int]:
        """From the needle at the end of this round down to the band."""
        view = self.view(index)
        if view.round.technique == "band":
            # out of the first top bead, as if one came from the spacer before it
            return [], view.round.spaces - 1
        last = self.course.stitch_of(view.round.stop_run - 1)
        if last.kind is Kind.STEP_UP:
            return view.descend(view._walked())
        if view.below.round.technique == "band":
            return [], view.foot(0)
        return view.below.descend(view.foot(0))

    def _up_again(self, index: int) -> list[int]:
        """Along all step-ups of the edge that is come back to."""
        way: list[int] = []
        for nth in self._on_edge(index):
            view = self.view(nth)
            for run, move in view.moves.items():
                if move.kind is Kind.WALK or (move.kind is Kind.STEP_UP and move.detail != "spacer"):
                    way += view.through(run)
        return way
