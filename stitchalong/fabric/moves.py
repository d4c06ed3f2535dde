"""What a technique of rows tells: stitches and moves with every bead they pass through, and how each is said."""

from __future__ import annotations

from collections.abc import Mapping

from stitchalong.fabric.stitch import Kind, Note
from stitchalong.values import value


@value
class Move:
    """One stitch, or one move without a bead, told bead by bead.

    Bead numbers count from 1 in the order picked up, over the whole piece.
    """

    kind: Kind
    beads: tuple[str, ...] = ()
    """codes in the order picked up"""
    through: tuple[int, ...] = ()
    """numbers of the beads passed through after picking up, in order; those just picked up only where the needle
    goes through them again"""
    ups: tuple[int, ...] = ()
    """indexes into `beads` of what becomes an up bead"""
    notes: Note = Note.NONE
    detail: str = ""
    """a word of the technique's own, by which its phrase is found"""


@value
class Phrase:
    """How a move is said.

    Fields in `now`: `{first}`, `{last}` and `{way}` are the beads passed through (the first, the last, all of them with
    commas), `{number}` is how many they are, in words with `bead` or `beads`.
    """

    now: str
    """what to do once the beads are picked up, without a full stop: `pass through the next up bead, {last}`"""
    special: str = ""
    """short words that announce it; empty: those of its kind"""


Phrases = Mapping[str, Phrase]
"""a technique's phrases by the `detail` of its moves; that of "" serves those that have none"""
