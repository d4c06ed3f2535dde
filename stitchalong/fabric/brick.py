"""Brick stitch: beads standing on the bridges of thread between the beads of the row below.

The rule. n beads side by side have n - 1 bridges between them (round and round n). A stitch picks up one bead, passes
the needle under the next bridge and back up through the bead. A row begins with two beads on its first bridge: picked
up together, under the bridge, back up through the second.

To and fro: begun under the first bridge, every bridge used once, a row has n beads; a second bead on the last bridge
makes it n + 1; begun under the second bridge it has n - 1. A row of two can be followed by a single bead on its one
bridge, which ends the piece.

Round and round: two beads on the first bridge and one on each further bridge but the last make n; down through the
first bead and up through the last joins the round and makes the bridge that was missing. Two stitches on one bridge add
a bead.

The beginning of a row, the bridges and the rows of 1, 2, 3 … 7 beads are printed in a magazine's column
(interweave.com, how-to-bead-shamrock-brick-stitch), the round in thealluringbeadboutique.com,
tubular-brick-stitch-basics; the join: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.fabric.ladder import Top
from stitchalong.fabric.moves import Move, Phrase, Phrases
from stitchalong.fabric.stitch import Kind, Make, Note

WIDTHS = {"same": 0, "one more": 1, "one fewer": -1}
"""how much wider than the row below a row is"""


def row(top: Top, codes: Sequence[str], first: int) -> tuple[list[Move], Top]:
    """The next row to and fro, as many beads as the row below or one more or fewer. Raises ValueError for any other."""
    below, size = len(top.beads), len(codes)
    if size < 1 or abs(size - below) > 1 or below < 2:
        raise ValueError(f"{size} beads on {below}")
    new = tuple(range(first, first + size))
    after = Top(new[::-1], False)
    if size == 1:
        return [Move(Kind.SINGLE, (codes[0],), new, (0,), detail="point")], after
    moves = [_first(codes, new, "second bridge" if size < below else "first bridge")]
    moves += [Move(Kind.SINGLE, (codes[at],), new[at : at + 1], (0,)) for at in range(2, min(size, below))]
    if size > below:
        moves.append(Move(Kind.SINGLE, (codes[-1],), new[-1:], (0,), Note.INCREASE, "again"))
    return moves, after


def round_(top: Top, makes: Sequence[Make], first: int) -> tuple[list[Move], Top]:
    """The next round: a stitch for each bead below, of one bead or of several on one bridge.

    The first two stitches share the first bridge. Raises ValueError for another number of stitches.
    """
    if len(makes) != len(top.beads):
        raise ValueError(f"{len(makes)} stitches on {len(top.beads)} beads")
    codes = [code for make in makes for code in make.beads]
    new = tuple(range(first, first + len(codes)))
    more = [nth > 0 for make in makes for nth in range(len(make.beads))]
    moves = [_first(codes, new, "first bridge")]
    if more[1]:
        # the second stitch goes on the same bridge as the first with its increase
        more[len(makes[0].beads)] = True
    for at in range(2, len(codes)):
        notes, detail = (Note.INCREASE, "again") if more[at] else (Note.NONE, "")
        moves.append(Move(Kind.SINGLE, (codes[at],), new[at : at + 1], (0,), notes, detail))
    moves.append(Move(Kind.JOIN, through=(new[0], new[-1]), detail="join"))
    return moves, Top((new[-1], *new[:-1]), True)


def _first(codes: Sequence[str], new: Sequence[int], detail: str) -> Move:
    return Move(Kind.GROUP, tuple(codes[:2]), tuple(new[1:2]), (0, 1), detail=detail)


SAY: Phrases = {
    "": Phrase("pass under the next bridge, then back up through the bead just added, {last}"),
    "first bridge": Phrase("pass under the first bridge, then back up through the second of the two, {last}"),
    "second bridge": Phrase(
        "skip the first bridge, pass under the second, then back up through the second of the two, {last}"
    ),
    "again": Phrase("pass under the same bridge once more, then back up through the bead just added, {last}"),
    "point": Phrase("pass under the only bridge, then back up through the bead just added, {last}"),
    "join": Phrase("down through the first bead of this round, {first}, and up through the last, {last}"),
}
