"""Increases and decreases asked for by rule: which spaces they take, round after round."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from stitchalong.course.edges import WorkingEdge
from stitchalong.course.ground import Ground, make_of
from stitchalong.course.words import counted
from stitchalong.errors import Place, PlanError
from stitchalong.fabric.edge import Edge
from stitchalong.fabric.peyote import Laid
from stitchalong.fabric.stitch import NO_BEAD, Kind, Make
from stitchalong.plan.model import Corners, Decrease, Increase, Peyote, Rule, Ruled, Written


@dataclass(slots=True)
class Stack:
    """A rule at work: pairs (or empty spaces) stacked in columns."""

    rule: Rule
    state: WorkingEdge
    facing: frozenset[int]
    columns: set[int] = field(default_factory=set)
    spaces: list[int] = field(default_factory=list)
    """where it fired first"""
    first: int | None = None
    """the round in which it first fired"""

    @property
    def word(self) -> str:
        return {Increase: "increase", Decrease: "decrease", Corners: "corner"}[type(self.rule)]

    @property
    def key(self) -> str:
        """The rule's key in the plan."""
        return "corners" if isinstance(self.rule, Corners) else self.word

    @property
    def unmarked(self) -> frozenset[int]:
        """Spaces of the round at hand in which a column of the rule begins although the count does not change."""
        return frozenset()

    def remarks(self, number: int) -> Sequence[str]:
        """What is said before this round, once its spaces are claimed."""
        return ()

    def claims(self, ground: Ground, ruled: Ruled, number: int, last: bool) -> dict[int, Make]:
        """The spaces that the rule takes in this round. Raises PlanError where it cannot begin or go on."""
        rule = self.rule
        if self.first is None:
            if rule.from_round is not None and number < rule.from_round:
                return {}
            spaces = self._begin(ground, number, last)
            if not spaces:
                return {}
            self.first = number
            self.spaces = spaces
        else:
            if rule.rounds is not None and number >= self.first + rule.rounds:
                return {}
            spaces = self.state.edge.spaces_over(self.columns)
        if isinstance(rule, Decrease):
            self._refuse_worn_out(ground, spaces, number)
            return dict.fromkeys(spaces, NO_BEAD)
        make = self._pair(ruled, number)
        return dict.fromkeys(spaces, make)

    def _pair(self, ruled: Ruled, number: int) -> Make:
        assert isinstance(self.rule, Increase)
        assert self.first is not None
        if self.rule.pair:
            return make_of(self.rule.pair[(number - self.first) % len(self.rule.pair)])
        fill = make_of(ruled.fill)
        if fill.kind is not Kind.SINGLE:
            return fill
        return Make.together(fill.beads * 2)

    def _refuse_worn_out(self, ground: Ground, spaces: Sequence[int], number: int) -> None:
        size = ground.edge.size
        taken = set(spaces)
        worn = any((space + 1) % size in taken for space in spaces)
        if worn or size == len(spaces):
            assert self.first is not None
            if number == self.first:
                raise ground.refuse("two decreases side by side leave no bead between them", "put them further apart")
            raise ground.refuse(
                f"a side has no space left between two decreases; the last round that works is {number - 1}",
                f"let the decrease last {counted(number - self.first, 'round')}",
            )

    def _begin(self, ground: Ground, number: int, last: bool) -> list[int]:
        rule = self.rule
        if not isinstance(rule, Decrease) and rule.every_space:
            return list(range(ground.edge.size))
        if rule.sides is not None:
            return _counted_places(ground, rule.sides, self.word)
        if isinstance(rule, Increase) and rule.between is not None:
            return self._between(ground, rule.between, number)
        assert rule.over is not None
        columns = self._columns_of(ground, rule.over)
        spaces = self.state.edge.spaces_over(columns)
        standing = self.state.edge.places_of(columns)
        if len(spaces) < len(standing):
            if rule.from_round is None and not last and not spaces:
                return []
            name = "the ribs" if rule.over == "ribs" else rule.over
            some = "has no space" if not spaces else f"has {counted(len(spaces), 'space')} for {len(standing)} places"
            raise ground.refuse(f"round {number} {some} over {name}", self._when(number, spaces))
        self.columns = columns
        return spaces

    def _when(self, number: int, spaces: Sequence[int]) -> str:
        """In which rounds all places would have a space: every other one, or none where they are of both parities."""
        if spaces:
            return "no round has a space over all of them at once; lay the markers an even number of beads apart"
        first = self.state.number - len(self.state.levels) + 1
        return f"begin in {number - 1} or {number + 1}" if number > first else f"begin in {number + 1}"

    def adopt(self, before: Edge, laid: Laid) -> None:
        """After its first round: the columns in which the rule now stands."""
        if self.columns or not self.spaces:
            return
        fresh = {space: column for column, space in laid.born}
        for space in self.spaces:
            here = before.columns_at(2 * space + 1)
            self.columns.update(here or [fresh[space]])

    def refuse_unused(self, work: Peyote, last: int, place: Place) -> None:
        """Raise PlanError for a rule that never fired."""
        if self.first is not None:
            return
        if all(isinstance(item, Written) for item in work.rounds):
            raise PlanError(
                f"the {self.word} never happens: every round is written out", fix="leave it out", place=place
            )
        begins = self.rule.from_round
        why = f"it begins in round {begins}, and" if begins is not None else "no round has its spaces;"
        raise PlanError(
            f"the {self.word} never happens: {why} the last round is {last}",
            fix=f"begin in round {last} or before, or work more rounds" if begins is not None else "work more rounds",
            place=place,
        )

    def _columns_of(self, ground: Ground, over: str) -> set[int]:
        if over == "ribs":
            columns = set(self.state.ribs) or set(self.facing)
            if not columns:
                raise ground.refuse("there are no ribs yet to go over", "name a marker bead, or count the sides")
            return columns
        columns = self.state.columns_of_code(over)
        if not columns:
            raise ground.refuse(
                f"there is no {over} on the {self.state.name} edge to {self.word} over",
                f"lay {over} as a marker in the start, or count the sides with `sides = 4`",
            )
        return columns

    def _between(self, ground: Ground, code: str, number: int) -> list[int]:
        edge = ground.edge
        halves = edge.places_of(self._columns_of(ground, code))
        middles: list[int] = []
        for index, low in enumerate(halves):
            high = halves[index + 1] if index + 1 < len(halves) else halves[0] + 2 * edge.size
            total = low + high
            if total % 4 != 2:
                raise ground.refuse(
                    f"round {number} has no space in the middle between two {code}",
                    f"{self._when(number, ())}, or make the sides equal",
                )
            middles.append((total // 2 % (2 * edge.size)) >> 1)
        return sorted(middles)


def _counted_places(ground: Ground, sides: tuple[int, ...] | int, word: str) -> list[int]:
    """Spaces found by counting from the needle."""
    size = ground.edge.size
    if isinstance(sides, int):
        if size < sides:
            raise ground.refuse(f"{counted(size, 'space')} are too few for {sides} sides")
        return [-(-(index + 1) * size // sides) - 1 for index in range(sides)]
    needed = sum(sides) + len(sides)
    if needed > size:
        raise ground.refuse(
            f"sides of {', '.join(map(str, sides))} and {counted(len(sides), word)} take {needed} spaces; "
            f"the round has {size}",
            "make the sides smaller, or begin in a longer round",
        )
    places = []
    here = 0
    for side in sides:
        here += side
        places.append(here)
        here += 1
    return places
