"""Rules that go through a cycle of rounds at each of their columns: corner codes, and decreases in steps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from stitchalong.course.edges import WorkingEdge
from stitchalong.course.ground import Ground, make_of
from stitchalong.course.rules import Stack
from stitchalong.course.words import counted
from stitchalong.fabric.edge import Edge
from stitchalong.fabric.peyote import Laid
from stitchalong.fabric.stitch import NO_BEAD, Kind, Make
from stitchalong.plan.model import Corners, Decrease, Lay, Rule, Ruled

Step = Lay | int | None
"""in one round at one column: what is laid, or so many beads of the fill, or nothing because a bead stands there"""

SKIP = Lay("no bead", ())


def rule_at_work(rule: Rule, state: WorkingEdge, facing: frozenset[int]) -> Stack:
    """The rule, ready for its first round."""
    if isinstance(rule, Corners):
        return Cycle(rule, state, facing, cycles=[_corner_steps(code, rule.lays) for code in rule.codes])
    if isinstance(rule, Decrease) and rule.way == "double":
        return Double(rule, state, facing)
    if isinstance(rule, Decrease) and rule.way != "every round":
        return Cycle(rule, state, facing, cycles=[[SKIP, rule.lay or (1 if rule.way == "single" else -2), None]])
    return Stack(rule, state, facing)


def _corner_steps(code: Sequence[int], lays: Sequence[Lay]) -> list[Step]:
    steps: list[Step] = []
    laid = 0
    for digit in code:
        if not digit:
            steps.append(None)
            continue
        lay = lays[laid % len(lays)] if lays else None
        laid += 1
        if lay is not None and digit > 1 and lay.form == "single":
            lay = Lay("together" if digit == 2 else "corner", lay.codes * digit)
        steps.append(lay or digit)
    return steps


def _laid_at(step: Step) -> int:
    """Beads that a step lays at a corner."""
    return len(step.codes) if isinstance(step, Lay) and step.form != "as one" else step if isinstance(step, int) else 1


@dataclass(slots=True)
class Cycle(Stack):
    """Steps worked over again at each column, those of several cycles by turns."""

    cycles: list[list[Step]] = field(default_factory=list)
    order: list[int] = field(default_factory=list)
    """columns, as the first round met them"""
    unmarked: frozenset[int] = frozenset()
    """spaces of the first round where a column begins although its count does not change"""

    def claims(self, ground: Ground, ruled: Ruled, number: int, last: bool) -> dict[int, Make]:
        rule = self.rule
        self.unmarked = frozenset()
        if self.first is None:
            if rule.from_round is not None and number < rule.from_round:
                return {}
            self.spaces = self._begin(ground, number, last)
            if not self.spaces:
                return {}
            self.first = number
            found = {space: self._make(at, 0, ruled) for at, space in enumerate(self.spaces)}
            self.unmarked = frozenset(space for space, make in found.items() if make and len(make.ups) == 1)
        else:
            nth = number - self.first
            if rule.rounds is not None and nth >= rule.rounds:
                return {}
            found = {}
            places = ground.edge.places_by_column()
            for at, column in enumerate(self.order):
                make = self._make(at, nth, ruled)
                if column not in places:
                    continue  # what was laid otherwise than planned has made an end of it
                spaces = [place >> 1 for place in places[column] if place & 1]
                if (make is None) == bool(spaces):
                    raise ground.refuse(
                        f"at the {self.word}s a bead stands where round {number} wants a space"
                        if make
                        else f"round {number} has a space where a bead should stand at the {self.word}s",
                        f"let the {self.word}s last {counted(nth, 'round')}",
                    )
                found.update(dict.fromkeys(spaces, make))
        claimed = {space: make for space, make in found.items() if make is not None}
        self._refuse_worn_out(ground, [space for space, make in claimed.items() if make.kind is Kind.SKIP], number)
        return claimed

    def remarks(self, number: int) -> Sequence[str]:
        nth = number - self.first if self.first is not None else -1
        cycle = self.cycles[0]
        if not 0 <= nth < len(cycle) or (self.rule.rounds is not None and nth >= self.rule.rounds):
            return ()
        said = []
        if isinstance(self.rule, Corners):
            if cycle[nth] is None:
                said.append("The corner is a bead in this round, not a space: one bead in every space, none left out.")
            before = _laid_at(cycle[nth - 1]) if nth else 1
            if before == 2:
                said.append("A pair is two beads: come out between them, there is a space inside.")
            elif before == 3:
                said.append("Pass over the middle bead of each corner: the outer two are the up beads.")
        elif nth == 1:
            said.append("One stitch goes over each gap; without it the round stays short.")
        elif nth == 2 and isinstance(self.rule, Decrease) and self.rule.way == "gradual":
            said.append("Go through the two thin beads as if they were one.")
        return said

    def _make(self, at: int, nth: int, ruled: Ruled) -> Make | None:
        """What column `at` takes in the nth round of the cycle; None where a bead stands there."""
        cycle = self.cycles[at % len(self.cycles)]
        step = cycle[nth % len(cycle)]
        if step is None or isinstance(step, Lay):
            return None if step is None else make_of(step)
        fill = make_of(ruled.fill).beads[:1]
        if step == -2:
            return Make.as_one(fill * 2)
        return (Make.single(fill[0]), Make.together(fill * 2), Make.corner(fill * 3))[step - 1]

    def adopt(self, before: Edge, laid: Laid) -> None:
        if self.order or not self.spaces:
            return
        fresh = {space: column for column, space in laid.born}
        for space in self.spaces:
            here = before.columns_at(2 * space + 1) or [fresh[space]]
            self.order.append(next((column for column in here if column in self.columns), here[0]))
        self.columns = set(self.order)


@dataclass(slots=True)
class Double(Stack):
    """Two spaces in a row left empty, those beside the bead of a column; then one bead over the gap; and again."""

    standing: list[int] = field(default_factory=list)
    """of the round at hand: the up beads beside which the spaces are left empty"""
    groups: list[set[int]] = field(default_factory=list)
    """the columns that came together at each place"""

    def claims(self, ground: Ground, ruled: Ruled, number: int, last: bool) -> dict[int, Make]:
        rule = self.rule
        assert isinstance(rule, Decrease)
        size = ground.edge.size
        if self.first is None:
            if rule.from_round is not None and number < rule.from_round:
                return {}
            beads = self._beads(ground, number, last)
            if not beads:
                return {}
            self.first = number
        else:
            nth = number - self.first
            if rule.rounds is not None and nth >= rule.rounds:
                return {}
            stand = ground.edge.places_by_column()
            places = [
                place for group in self.groups for place in sorted({at for one in group for at in stand.get(one, ())})
            ]
            if nth % 2:
                make = make_of(rule.lay) if rule.lay else make_of(ruled.fill)
                return {place >> 1: make for place in places}
            beads = [place >> 1 for place in places]
        spaces = [space % size for bead in beads for space in (bead - 1, bead)]
        if len(set(spaces)) < len(spaces) or size - len(spaces) < 3 or self._meet(spaces, size):
            if number == self.first:
                raise ground.refuse("two double decreases leave no bead between them", "put them further apart")
            raise ground.refuse(
                f"a side has no space left between two decreases; the last round that works is {number - 1}",
                f"let the decrease last {counted(number - self.first, 'round')}",
            )
        self.standing = beads
        return dict.fromkeys(spaces, NO_BEAD)

    def _meet(self, spaces: Sequence[int], size: int) -> bool:
        """Whether two doubles stand side by side, so that no bead would be left between them."""
        taken = set(spaces)
        return any((space + 1) % size in taken for space in spaces[1::2])

    def _beads(self, ground: Ground, number: int, last: bool) -> list[int]:
        rule = self.rule
        if rule.sides is not None:
            # by counting: the bead behind each counted space
            return [(space + 1) % ground.edge.size for space in self._begin(ground, number, last)]
        assert rule.over is not None
        columns = self._columns_of(ground, rule.over)
        places = self.state.edge.places_of(columns)
        if any(place & 1 for place in places):
            name = "the ribs" if rule.over == "ribs" else rule.over
            if rule.from_round is None and not last:
                return []
            raise ground.refuse(
                f"round {number} has a space over {name}; a double decrease goes past a bead", self._when(number, [])
            )
        return [place >> 1 for place in places]

    def adopt(self, before: Edge, laid: Laid) -> None:
        if not self.standing:
            return
        columns: dict[int, list[int]] = {}
        for space, _ in laid.changes:
            columns[space] = [*before.columns_at(2 * space + 1)]
        for column, space in laid.born:
            columns.setdefault(space, []).append(column)
        self.groups = [{*columns[(bead - 1) % before.size], *columns[bead % before.size]} for bead in self.standing]
        self.columns = set().union(*self.groups)
        self.standing = []
