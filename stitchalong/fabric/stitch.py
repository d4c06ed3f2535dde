"""A stitch: beads picked up, then beads passed through.

`Make` is what a plan asks for in one space; `Stitch` is that, standing at its place: with what the
fabric found out about it (increase, inside a pair, flank, …). Both are small shared values: a course holds
each distinct stitch once and counts it in runs.
"""

from __future__ import annotations

from enum import Flag, StrEnum, auto
from functools import lru_cache

from stitchalong.values import value


class Kind(StrEnum):
    """What sort of action a stitch is. The words are those that people and scripts see."""

    STRING = "string"
    """a bead strung for a start"""
    UNIT = "unit"
    """a unit of right-angle weave"""
    SINGLE = "single"
    """one bead in a space"""
    PAIR = "pair"
    """two (or more) beads in a space, each an up bead"""
    PICOT = "picot"
    """beads in a space of which only the tip is an up bead"""
    CORNER = "corner"
    """three beads in a space of which the outer two are up beads"""
    GROUP = "group"
    """beads picked up as one stitch of a technique that says itself which of them are up beads"""
    SKIP = "no bead"
    """a space passed without a bead"""
    JOIN = "join"
    """closes a strand or band into a ring"""
    STEP_UP = "step-up"
    REINFORCE = "reinforce"
    CROSS = "cross"
    WALK = "walk along"
    TURN = "turn"


_IN_SPACES = frozenset({Kind.STRING, Kind.SINGLE, Kind.PAIR, Kind.PICOT, Kind.CORNER, Kind.GROUP, Kind.SKIP})


class Note(Flag):
    """What the fabric knows of a stitch at its place."""

    NONE = 0
    INCREASE = auto()
    """lays more up beads than one in this space"""
    DECREASE = auto()
    """leaves the space without a bead"""
    INSIDE = auto()
    """the space lies between the two beads of a pair"""
    BEFORE = auto()
    """flank: the next space (round and round) is an increase or the inside of a pair"""
    AFTER = auto()
    """flank: the space before this one is an increase or the inside of a pair"""
    RIB = auto()
    """the space lies over a rib or marker column: it bounds two sides and belongs to neither"""
    ENDS_SIDE = auto()
    """a rib or marker column lies on the up bead passed next: a side ends after this stitch"""
    MARKER = auto()
    """lays a marker bead"""


@value
class Make:
    """What is laid in one space: codes in the order picked up, and which of them become up beads."""

    kind: Kind
    beads: tuple[str, ...] = ()
    ups: tuple[int, ...] = ()
    """indexes into `beads`, ascending"""

    @staticmethod
    @lru_cache(maxsize=4096)
    def single(code: str) -> Make:
        return Make(Kind.SINGLE, (code,), (0,))

    @staticmethod
    def together(codes: tuple[str, ...]) -> Make:
        """Beads laid side by side in one space, all of them up beads."""
        return Make(Kind.PAIR, codes, tuple(range(len(codes))))

    @staticmethod
    def as_one(codes: tuple[str, ...]) -> Make:
        """Beads laid side by side that are passed through together: one up bead in all but number."""
        return Make(Kind.GROUP, codes, (len(codes) - 1,))

    @staticmethod
    def picot(codes: tuple[str, ...]) -> Make:
        """Only the tip, the middle bead, is an up bead."""
        return Make(Kind.PICOT, codes, (len(codes) // 2,))

    @staticmethod
    def corner(codes: tuple[str, ...]) -> Make:
        """Three beads, the outer two are up beads; the middle one sits on the bead below."""
        return Make(Kind.CORNER, codes, (0, len(codes) - 1))

    @property
    def increases(self) -> bool:
        return len(self.ups) > 1


NO_BEAD = Make(Kind.SKIP)


@value
class Stitch:
    """A stitch at its place, as a course holds it."""

    kind: Kind
    beads: tuple[str, ...] = ()
    ups: tuple[int, ...] = ()
    notes: Note = Note.NONE
    detail: str = ""
    """tells moves of the same kind apart (`first unit`, `down`, …); a word of the technique's own"""

    @property
    def steps(self) -> int:
        """Key presses: one a bead, and one for an action without a bead."""
        return len(self.beads) or 1

    @property
    def visits_space(self) -> bool:
        """Whether it fills (or passes) a space of its own; a move does not.

        Of a band's stitches those do that carry a spacer.
        """
        if self.kind is Kind.UNIT:
            return self.detail != "first"
        if self.kind is Kind.JOIN:
            return self.detail in ("first of five", "last of five")
        return self.kind in _IN_SPACES

    def has(self, note: Note) -> bool:
        return bool(self.notes & note)
