"""A drawing of a piece: every bead once, at its place. Lengths are in beads: a bead is 1 wide and 1 high."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from enum import Enum

SMALL = 0.66
"""width of a bead that shares the room of one with others"""


class State(Enum):
    """How a bead is shown."""

    DONE = "done"
    NEXT = "next"
    COMING = "coming"


@dataclass(frozen=True, slots=True)
class Bead:
    """One bead in its place."""

    number: int
    """1-based, in the order picked up"""
    code: str
    x: float
    y: float
    """its middle; x to the right, y down"""
    width: float = 1.0
    height: float = 1.0
    turn: float = 0.0
    """degrees, clockwise, about its middle"""


@dataclass(frozen=True, slots=True)
class Label:
    """A word beside the beads."""

    text: str
    x: float
    y: float
    """the middle of its line"""


@dataclass(frozen=True, slots=True)
class Chart:
    """A drawing. All of it lies within `width` and `height`, from 0."""

    title: str
    width: float
    height: float
    beads: tuple[Bead, ...]
    """in the order picked up, all of them: `beads[n - 1]` is bead n"""
    labels: tuple[Label, ...] = ()
    _by_height: list[Bead] = field(default_factory=list, compare=False, repr=False)

    def state(self, bead: Bead, done: int) -> State:
        """How a bead is shown when so many are laid."""
        if bead.number <= done:
            return State.DONE
        return State.NEXT if bead.number == done + 1 else State.COMING

    def within(self, left: float, top: float, right: float, bottom: float) -> list[Bead]:
        """The beads whose middle lies in this window (its ends too), from the top down."""
        if not self._by_height:
            self._by_height.extend(sorted(self.beads, key=lambda bead: bead.y))
        first = bisect_left(self._by_height, top, key=lambda bead: bead.y)
        last = bisect_right(self._by_height, bottom, key=lambda bead: bead.y)
        return [bead for bead in self._by_height[first:last] if left <= bead.x <= right]

    def needle(self, done: int) -> Bead | None:
        """The bead to keep in sight when so many are laid: the next one, at the end the last."""
        return self.beads[min(done, len(self.beads) - 1)] if self.beads else None

    def mirrored(self) -> Chart:
        """For the left hand: right and left changed. Letters stay readable."""
        return replace(
            self,
            beads=tuple(replace(bead, x=self.width - bead.x, turn=-bead.turn) for bead in self.beads),
            labels=tuple(replace(label, x=self.width - label.x) for label in self.labels),
            _by_height=[],
        )


MARGIN = 1.0


def framed(title: str, beads: Iterable[Bead], labels: Iterable[Label] = ()) -> Chart:
    """A chart of these beads and labels, moved so that all of it lies within its frame."""
    placed = sorted(beads, key=lambda bead: bead.number)
    words = list(labels)
    if not placed:
        return Chart(title, 2 * MARGIN, 2 * MARGIN, ())
    # a bead that is turned needs more room than its sides say
    reach = [(bead, max(bead.width, bead.height) * (0.71 if bead.turn % 90 else 0.5)) for bead in placed]
    left = min(bead.x - far for bead, far in reach)
    top = min([bead.y - far for bead, far in reach] + [label.y - 1 for label in words])
    right = max(bead.x + far for bead, far in reach)
    bottom = max([bead.y + far for bead, far in reach] + [label.y + 1 for label in words])
    right = max([right] + [label.x + len(label.text) * 0.6 for label in words])
    dx, dy = MARGIN - left, MARGIN - top
    return Chart(
        title,
        right - left + 2 * MARGIN,
        bottom - top + 2 * MARGIN,
        tuple(replace(bead, x=bead.x + dx, y=bead.y + dy) for bead in placed),
        tuple(replace(label, x=max(label.x, left) + dx, y=label.y + dy) for label in words),
    )
