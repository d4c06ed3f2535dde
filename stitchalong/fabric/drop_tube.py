"""Tubular peyote with a drop: groups of beads picked up together, passed through together.

The rule. 2n groups are strung and closed, rounds 1 and 2 at once; the first group belongs to round 2, and the needle
comes out of it. A stitch picks up a group, skips one and passes through the whole next group; the last stitch of a
round passes through the group where the round began, and the step-up through the first group of this round. With
groups of d beads each round adds n groups, n * d beads.

Common practice, no source: the rule of the plain even tube with a group for each bead.
"""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.fabric.moves import Move, Phrase, Phrases
from stitchalong.fabric.stitch import Kind, Make
from stitchalong.values import value

LEAST = 3
"""groups of a round"""

Group = tuple[int, ...]


@value
class Crown:
    """The edge, as the next round meets it."""

    ups: tuple[Group, ...]
    """bead numbers of the up groups; the needle comes out of the first"""
    under: tuple[Group, ...]
    """the groups that the next round lies over"""

    @property
    def leaves(self) -> list[int]:
        return [bead for group in self.ups for bead in group]


def ring(groups: Sequence[Make], first: int) -> tuple[list[Move], Crown]:
    """Rounds 1 and 2: an even number of groups, strung and closed."""
    numbers = _numbered(groups, first)
    moves = [Move(Kind.STRING, make.beads, (), make.ups) for make in groups]
    moves.append(Move(Kind.JOIN, through=numbers[0], detail="ring"))
    return moves, Crown(tuple(numbers[::2]), tuple(numbers[1::2]))


def round_(crown: Crown, groups: Sequence[Make], first: int, *, steps_up: bool) -> tuple[list[Move], Crown]:
    """The next round. Raises ValueError for another number of groups."""
    n = len(crown.ups)
    if len(groups) != n:
        raise ValueError(f"{len(groups)} groups for {n} spaces")
    numbers = _numbered(groups, first)
    moves = [
        Move(make.kind, make.beads, crown.ups[(nth + 1) % n], make.ups, detail="last" if nth == n - 1 else "")
        for nth, make in enumerate(groups)
    ]
    if steps_up:
        passed = len(crown.ups[0]) + len(numbers[0])
        moves.append(Move(Kind.STEP_UP, through=numbers[0], detail=str(passed)))
    return moves, Crown(tuple(numbers), crown.ups[1:] + crown.ups[:1])


def _numbered(groups: Sequence[Make], first: int) -> list[Group]:
    found: list[Group] = []
    for make in groups:
        found.append(tuple(range(first, first + len(make.beads))))
        first += len(make.beads)
    return found


SAY: Phrases = {
    "": Phrase("pass through all of the next up group, {way}"),
    "last": Phrase("pass through the up group where the round began, {way}"),
    "ring": Phrase("pass through the whole first group strung, {way}: the ring is closed"),
}
