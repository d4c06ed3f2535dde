"""Flat peyote: rows to and fro on a strung row.

The rule. N columns are strung together; they are rows 1 and 2 at once, the last bead strung belongs to row 1. Row r
lies over row r - 2: a stitch picks up one bead, skips the bead of row r - 2 that it will lie on, and passes through the
next bead of row r - 1. So the up beads are those of the row before, met in the opposite order.

Even N: every row has N / 2 stitches and ends by passing through the edge bead, the last of the row before; the first
stitch of the next row turns by itself. In all N * R / 2 beads in R rows.

Odd N: rows 1, 3, 5, … have (N + 1) / 2 stitches, rows 2, 4, … one fewer. At the end of rows 3, 5, … the edge has no up
bead to pass through: there the last bead is picked up and a turn finishes the row. In all N * R / 2 beads for even R,
(N * R + 1) / 2 for odd R.

With a drop of d each column position is a group of d beads: picked up together, passed through together, one up bead
in all but number. Then N counts groups.

The order of the figure-eight turn is that printed in a magazine's basics (Beading Basics: Stitches, 2006) for N = 5:
through 2 and 1, pick up bead 8, through 2, 3, 7, 2, 1, 8. The under-thread turn and the turn through the edge bead are
described there, too, and in several columns on odd-count turns. The turning bead: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.fabric.moves import Move, Phrase, Phrases
from stitchalong.fabric.stitch import Kind, Make
from stitchalong.values import value

Group = tuple[int, ...]
"""bead numbers of one up bead (several with a drop)"""

TURNS = ("figure eight", "under thread", "through the edge", "turning bead")
"""how the odd-count turn can be made; the first is the usual one"""
LEAST = 2
"""groups across"""


@value
class Strip:
    """The edge between two rows. Rows and groups are told in the order and direction in which their row was worked."""

    upper: tuple[Group, ...]
    """the row just worked: the up beads, met from the last to the first"""
    lower: tuple[Group, ...]
    """the row before it: the next row lies over it, group by group"""
    row: int
    """number of the row just worked"""

    @property
    def across(self) -> int:
        """Groups across, N."""
        return len(self.upper) + len(self.lower)

    @property
    def odd(self) -> bool:
        return bool(self.across % 2)

    @property
    def spaces(self) -> int:
        """Stitches of the next row."""
        return len(self.lower)

    @property
    def in_last(self) -> bool:
        """Whether the needle is in the last group of the row just worked, facing back; else it is outside the edge."""
        return self.row > 2 and len(self.upper) > len(self.lower)

    @property
    def edge(self) -> tuple[tuple[Group, ...], tuple[Group, ...]]:
        """The up groups as the needle meets them on its way back, and what lies between each and the next."""
        ups = tuple(group[::-1] for group in reversed(self.upper))
        # the row passed through these, the first of them by its second stitch where it began inside
        passed = self.lower[::-1][len(self.lower) > len(self.upper) :]
        return ups, passed[: len(ups) - 1][::-1]

    @property
    def leaves(self) -> list[int]:
        """Bead numbers of the up beads, as the next row meets them."""
        return [bead for group in reversed(self.upper) for bead in reversed(group)]


def strung(makes: Sequence[Make], first: int) -> tuple[list[Move], Strip]:
    """Rows 1 and 2: groups strung one after the other; the last one belongs to row 1."""
    moves = [Move(Kind.STRING, make.beads, (), make.ups) for make in makes]
    groups = _numbered(makes, first)
    # row 3 runs against the strand, and row 1 is told in the direction of row 3
    return moves, Strip(tuple(groups[-2::-2][::-1]), tuple(group[::-1] for group in groups[::-2]), 2)


def row(
    strip: Strip, makes: Sequence[Make], first: int, turn: str = TURNS[0], turning: str = ""
) -> tuple[list[Move], Strip]:
    """The next row: `strip.spaces` stitches, the first new bead having the number `first`.

    `turning` is the code of the small bead that a turn with a turning bead picks up outside the edge.

    Raises ValueError for another number of stitches or an unknown turn.
    """
    if len(makes) != strip.spaces or turn not in TURNS:
        raise ValueError(f"{len(makes)} stitches for {strip.spaces} spaces, turn {turn!r}")
    groups = _numbered(makes, first)
    # after an odd-count turn the needle is in the last group of the row already
    ups = [group[::-1] for group in reversed(strip.upper)][len(strip.upper) > len(makes) :]
    hard = len(ups) < len(makes)
    if turn == "under thread" and strip.row == 2:
        turn = TURNS[0]  # there is no thread along the edge yet
    outside = hard and turn in (TURNS[0], "through the edge")
    if outside:
        # picked up outside the edge, so in the direction back
        groups[-1] = groups[-1][::-1]
    after = Strip(tuple(groups), strip.upper, strip.row + 1)
    moves: list[Move] = []
    for nth, make in enumerate(makes):
        through: Group = ()
        beads, detail = make.beads, "group" if len(make.beads) > 1 else ""
        if nth < len(ups):
            through = ups[nth]
        if outside and nth == len(ups) - 1:
            through += strip.lower[-1]
            detail = "out at the edge"
        elif nth == len(makes) - 1:
            detail = "last" if hard else "edge"
            beads = beads[::-1] if outside else beads
        kind = make.kind
        if hard and turn == "turning bead" and nth == len(makes) - 1:
            kind, beads, detail = Kind.GROUP, (*beads, turning), "with a turning bead"
        moves.append(Move(kind, beads, through, make.ups, detail=detail))
    if hard:
        moves += _turn(turn, after, strip)
    return moves, after


def _turn(turn: str, after: Strip, strip: Strip) -> list[Move]:
    """The turn at the end of an odd row, move by move; it ends out of the row's last group, facing back."""
    new, edge = after.upper[-1][::-1], strip.lower[-1]
    back = Move(Kind.TURN, through=new, detail="back")
    if turn == "under thread":
        return [Move(Kind.TURN, detail="hook"), back]
    if turn == "turning bead":
        return [Move(Kind.TURN, through=new, detail="past the turning bead")]
    if turn == "through the edge":
        return [Move(Kind.TURN, through=edge, detail="edge again"), back]
    up, inner, beside = strip.upper[0], strip.lower[-2][::-1], after.upper[-2]
    return [
        Move(Kind.TURN, through=up + inner, detail="first loop"),
        Move(Kind.TURN, through=beside + up[::-1] + edge, detail="second loop"),
        back,
    ]


def _numbered(makes: Sequence[Make], first: int) -> list[Group]:
    groups: list[Group] = []
    for make in makes:
        groups.append(tuple(range(first, first + len(make.beads))))
        first += len(make.beads)
    return groups


SAY: Phrases = {
    "": Phrase("pass through the next up bead, {last}"),
    "group": Phrase("pass through all of the next up group, {way}"),
    "edge": Phrase("pass through the bead at the edge, {last}: the row is done, and the thread turns by itself"),
    "out at the edge": Phrase("pass through the last up bead, {first}, and out through the edge bead below, {last}"),
    "last": Phrase("it is the last bead of this row; now the turn holds it"),
    "first loop": Phrase(
        "turn, first loop of the eight: back through {first}, then down through {last} beside it",
        "the turn, a figure eight",
    ),
    "second loop": Phrase("turn, second loop of the eight: back towards the edge through {way}"),
    "hook": Phrase(
        "turn: bring the needle under the thread that runs along the edge right below; do not pull hard",
        "the turn, under the thread",
    ),
    "edge again": Phrase(
        "turn: once more through the edge bead, {last}, in the same direction as before",
        "the turn, through the edge bead",
    ),
    "with a turning bead": Phrase("the last of these is the turning bead: it stays outside the edge"),
    "past the turning bead": Phrase(
        "turn: skip the turning bead and go back through the bead added before it, {last}; the row is done",
        "the turn, round a turning bead",
    ),
    "back": Phrase("turn: back through the bead just added, {last}; the row is done"),
}
"""said of strung rows and of rows"""
