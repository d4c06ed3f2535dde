"""Reads notation into spaces, from a start round the edge."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from stitchalong.course.ground import Ground, make_of
from stitchalong.course.words import counted
from stitchalong.fabric.peyote import Run
from stitchalong.fabric.stitch import Make
from stitchalong.plan.model import Item, Lay, Repeat, Until


@dataclass(slots=True)
class Reading:
    """Reads items into spaces, from a start; `left` is how many spaces the round still has."""

    ground: Ground
    start: int
    text: str
    runs: list[Run] = field(default_factory=list)
    used: int = 0
    fixed: list[int] = field(default_factory=list)
    """spaces (counted from `start`) of the many-bead stitches"""

    @property
    def size(self) -> int:
        return self.ground.edge.size

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

    def _until(self, item: Until) -> int:
        left = self.size - self.used
        if item.target == "end":
            distance = left
        else:
            ground = self.ground
            name, halves = ground.anchors()
            if item.target == "marker":
                name, halves = "marker", ground.edge.places_of(ground.markers)
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
        best = self.size + 1
        for at in halves:
            here = at >> 1
            distance = (here - space) % self.size
            if not at & 1 and distance == 0:
                distance = self.size
            best = min(best, distance)
        return best


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


def has_until(items: Sequence[Item]) -> bool:
    """Whether the reading depends on where ribs or markers stand."""
    return any(
        (isinstance(item, Until) and item.target != "end") or (isinstance(item, Repeat) and has_until(item.items))
        for item in items
    )
