"""Herringbone stitch: two beads a stitch, side by side in stacks of two columns.

The rule. On an even ladder of 2s beads, the thread coming up out of the first: pick up two, pass down through the next
bead of the row below and up through the bead after it; s stitches in a round, 2s beads.

Round and round the last stitch comes up through the bead where the round began, and the step-up goes on through the
first bead of this round: two beads in all. Columns stay upright. To and fro the last stitch goes down and has nothing
to come up through; a turn brings the thread back up through that bead and on through the last bead of this row: under
the thread at the edge, or with a small bead. The turn finishes this row.

In R rows 2s * R beads, the ladder being row 1; turning beads come on top.

A tube is widened in two rounds: one bead between every two stacks, then two above it; from then on these two are a
stack, and a round has twice the stitches. The two rounds have 3s and 4s beads. Common practice, no source.

The round and its step-up through two are printed in rojagatodesigns.blogspot.com/2008/12 and in
thesprucecrafts.com/tubular-herringbone-stitch-necklace-pattern-339716. The turns: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.fabric.ladder import Top
from stitchalong.fabric.moves import Move, Phrase, Phrases
from stitchalong.fabric.stitch import Kind, Make, Note


def round_(top: Top, makes: Sequence[Make], first: int, *, steps_up: bool) -> tuple[list[Move], Top]:
    """The next round of a tube. Raises ValueError for another number of stitches."""
    moves, new = _stitches(top, makes, first)
    if steps_up:
        moves.append(Move(Kind.STEP_UP, through=new[:1], detail="2"))
    return moves, Top(new, True)


def row(
    top: Top, makes: Sequence[Make], first: int, *, turns: bool, turning_bead: str | None = None
) -> tuple[list[Move], Top]:
    """The next row; `turns`: another follows. Raises ValueError for another number of stitches."""
    moves, new = _stitches(top, makes, first)
    back = (top.beads[-1], new[-1])
    if turns and turning_bead is not None:
        moves.append(Move(Kind.TURN, (turning_bead,), back, detail="turning bead"))
    elif turns:
        moves += [Move(Kind.TURN, detail="hook"), Move(Kind.TURN, through=back, detail="back")]
    return moves, Top(new[::-1], False)


def widened(
    top: Top, makes: Sequence[Make], between: Sequence[str], first: int, *, steps_up: bool
) -> tuple[list[Move], Top]:
    """A round with beads between the stacks: one, or in the next round two, which then are a stack of their own.

    Raises ValueError for another number of stitches.
    """
    plain, _ = _stitches(top, makes, first)
    moves: list[Move] = []
    edge: list[int] = []
    for stitch in plain:
        down, up = stitch.through
        moves.append(Move(stitch.kind, stitch.beads, (down,), stitch.ups, detail="down"))
        notes, detail = (Note.INCREASE, "two between") if len(between) > 1 else (Note.NONE, "one between")
        moves.append(Move(Kind.GROUP, tuple(between), (up,), tuple(range(len(between))), notes, detail))
        edge += [first, first + 1]
        first += 2
        if len(between) > 1:
            edge += range(first, first + len(between))
        first += len(between)
    if steps_up:
        moves.append(Move(Kind.STEP_UP, through=(edge[0],), detail="2"))
    return moves, Top(tuple(edge), True)


def _stitches(top: Top, makes: Sequence[Make], first: int) -> tuple[list[Move], tuple[int, ...]]:
    below = top.beads
    if 2 * len(makes) != len(below):
        raise ValueError(f"{len(makes)} stitches on {len(below)} beads")
    moves: list[Move] = []
    for nth, make in enumerate(makes):
        last = nth == len(makes) - 1
        up = below[:1] if last and top.closed else below[2 * nth + 2 : 2 * nth + 3]
        detail = ("round" if top.closed else "row") if last else ""
        moves.append(Move(Kind.GROUP, make.beads, (below[2 * nth + 1], *up), (0, 1), detail=detail))
    return moves, tuple(range(first, first + len(below)))


SAY: Phrases = {
    "": Phrase("pass down through the next bead, {first}, and up through the bead after it, {last}"),
    "round": Phrase("pass down through the next bead, {first}, and up through the bead where the round began, {last}"),
    "row": Phrase("pass down through the last bead, {last}: there is nothing to come up through; now the turn follows"),
    "down": Phrase("pass down through the next bead, {last}; the space between the stacks comes next"),
    "one between": Phrase(
        "it lies between two stacks; pass up through the next stack, {last}", "a bead between stacks"
    ),
    "two between": Phrase("they lie side by side between two stacks; pass up through the next stack, {last}"),
    "hook": Phrase(
        "turn: bring the needle under the thread that runs along the edge beside the bead; do not pull hard",
        "the turn, under the thread",
    ),
    "back": Phrase("turn: back up through {first} and on up through the bead added last, {last}; the row is done"),
    "turning bead": Phrase(
        "turn: back up through {first} and on up through the bead added last, {last}; the row is done",
        "the turn, with a small bead",
    ),
}
