"""Reads notation into spaces, from a start round the edge."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass, field

from stitchalong.course.ground import Ground, make_of
from stitchalong.course.words import counted
from stitchalong.fabric.peyote import Run
from stitchalong.fabric.stitch import Make
from stitchalong.plan.model import Item, Lay, Repeat, Until


class Targets:
    """Where ribs and markers stand, looked up once for all readings of a round."""

    def __init__(self, ground: Ground) -> None:
        self._ground = ground
        self._found: dict[str, tuple[str, list[int]]] = {}

    def of(self, target: str) -> tuple[str, list[int]]:
        """What a target is called in messages, and its places in halves, ascending."""
        if target not in self._found:
            ground = self._ground
            marker = target == "marker"
            self._found[target] = ("marker", ground.edge.places_of(ground.markers)) if marker else ground.anchors()
        return self._found[target]


@dataclass(slots=True)
class Reading:
    """Reads items into spaces, from a start; `left` is how many spaces the round still has."""

    ground: Ground
    start: int
    text: str
    targets: Targets
    runs: list[Run] = field(default_factory=list)
    used: int = 0
    fixed: list[int] = field(default_factory=list)
    """spaces (counted from `start`) of the many-bead stitches"""

    @property
    def size(self) -> int:
        return self.ground.edge.size

    @classmethod
    def of(cls, ground: Ground, start: int, text: str) -> Reading:
        """A reading alone."""
        return cls(ground, start, text, Targets(ground))

    def take(self, make: Make, count: int) -> None:
        if count <= 0:
            return
        if len(make.beads) != 1:
            # only so many as there are spaces can matter
            self.fixed.extend(range(self.used, self.used + min(count, self.size + 1)))
        self.runs.append((make, count))
        self.used += count

    def read(self, items: Sequence[Item]) -> None:
        for item in items:
            if self.used > self.size:
                return
            match item:
                case Lay():
                    self.take(make_of(item), item.count)
                case Until():
                    self.take(make_of(item.lay), self._until(item))
                case Repeat(items=inner, times=times):
                    for _ in range(times or 1):
                        before = self.used
                        self.read(inner)
                        if self.used > self.size or self.used == before:
                            break

    def repeat(self, since: int, before: int, times: int) -> None:
        """Take what was read since run `since` and space `before` so many times more."""
        group, spaces = self.runs[since:], self.used - before
        fixed = [at for at in self.fixed if at >= before]
        if len(group) == 1:
            self.runs[since] = (group[0][0], group[0][1] * (times + 1))
        else:
            self.runs += group * times
        self.fixed += [at + nth * spaces for nth in range(1, times + 1) for at in fixed]
        self.used += spaces * times

    def _until(self, item: Until) -> int:
        left = self.size - self.used
        if item.target == "end":
            distance = left
        else:
            ground = self.ground
            name, halves = self.targets.of(item.target)
            if not halves:
                raise ground.refuse(
                    f"there is no {item.target} on this edge yet",
                    "write the number of stitches, or mark a bead with `marker = true`",
                    span=item.span,
                    text=self.text,
                )
            distance = self._distance((self.start + self.used) % self.size, halves)
            if distance > left:
                raise ground.refuse(
                    f"there is no {name} between here and the end of the {ground.word}",
                    f"say `{item.lay.codes[0] if item.lay.codes else 'no bead'} to end`",
                    span=item.span,
                    text=self.text,
                )
        count = distance - item.before
        if count < 0:
            raise self.ground.refuse(
                f"only {counted(distance, 'space')} before the {item.target}, not {item.before}",
                span=item.span,
                text=self.text,
            )
        return count

    def _distance(self, space: int, halves: Sequence[int]) -> int:
        """Spaces from here to the next of these places (0 where this space lies over one)."""
        here = bisect_left(halves, 2 * space + 1)
        at = halves[here] if here < len(halves) else halves[0] + 2 * self.size
        return (at >> 1) - space


def aligned_stitches(reading: Reading) -> list[int]:
    """Which stitches have to fall on increase spaces: pairs and corners; without any, picots and empty spaces,
    unless they are the whole round."""
    pairs: list[int] = []
    others: list[int] = []
    at = 0
    for make, count in reading.runs:
        if make.increases:
            pairs.extend(range(at, at + count))
        elif len(make.beads) != 1:
            others.extend(range(at, at + count))
        at += count
    if pairs:
        return pairs
    return others if len(others) < at else []


def depends(items: Sequence[Item]) -> bool:
    """Whether how much is read depends on where it begins."""
    return any(isinstance(item, Until) or (isinstance(item, Repeat) and depends(item.items)) for item in items)


def has_until(items: Sequence[Item]) -> bool:
    """Whether the reading depends on where ribs or markers stand."""
    return any(
        (isinstance(item, Until) and item.target != "end") or (isinstance(item, Repeat) and has_until(item.items))
        for item in items
    )
