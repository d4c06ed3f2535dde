"""What a sheet is made of, before it is HTML, Markdown, text or PDF."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from enum import StrEnum
from itertools import groupby

from stitchalong.chart.model import Chart

_MANY = 6
"""short steps in a row that are set side by side"""


@dataclass(frozen=True, slots=True)
class Heading:
    text: str


@dataclass(frozen=True, slots=True)
class Paragraph:
    text: str


@dataclass(frozen=True, slots=True)
class Items:
    """A list; `numbered`: its order matters."""

    texts: tuple[str, ...]
    numbered: bool = False


@dataclass(frozen=True, slots=True)
class Grid:
    """A table: a head, rows, and perhaps a last row of sums."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: frozenset[int] = frozenset()
    """columns of numbers, set to the right"""
    colours: tuple[str, ...] = ()
    """`#rrggbb` of each row, shown behind the first cell; empty: none"""
    foot: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Picture:
    """The chart."""

    chart: Chart
    colours: dict[str, str]
    """`#rrggbb` by code"""
    names: dict[str, str]
    letters: bool


@dataclass(frozen=True, slots=True)
class Photo:
    """The piece in three dimensions."""

    png: bytes
    across: float
    """mm on paper"""
    title: str
    told: str
    """what stands below it"""


class Sort(StrEnum):
    """What a note of a step is."""

    BEFORE = "first"
    THEN = "then"
    MIND = "mind"
    THREAD = "thread"
    CHOICE = "you choose"


@dataclass(frozen=True, slots=True)
class Note:
    sort: Sort
    text: str


@dataclass(frozen=True, slots=True)
class Step:
    """One round, with a box to tick."""

    title: str
    notation: str
    stitches: int
    beads: int
    so_far: int
    """beads of the piece when this round is done"""
    unit: str
    """what `stitches` counts, in words: `stitches`, `units`, `beads strung`"""
    sides: tuple[int, ...] = ()
    """stitches of each side in the order worked, a side cut by the step-up in both its parts; a box to tick each"""
    notes: tuple[Note, ...] = ()
    codes: tuple[tuple[str, int], ...] = ()
    """beads of each letter, where there is more than one"""

    @property
    def short(self) -> bool:
        """Whether it is said in a line or two."""
        return not self.sides and not self.codes and len(self.notation) <= 12 and not self.notes


@dataclass(frozen=True, slots=True)
class Steps:
    steps: tuple[Step, ...]
    colours: dict[str, str] = field(default_factory=dict)
    """`#rrggbb` by code"""

    def groups(self) -> Iterator[tuple[bool, list[Step]]]:
        """Stretches of steps, and whether they are so short, and so many, that they stand side by side."""
        waiting: list[Step] = []
        for short, some in groupby(self.steps, key=lambda step: step.short):
            run = list(some)
            if short and len(run) >= _MANY:
                if waiting:
                    yield False, waiting
                yield True, run
                waiting = []
            else:
                waiting += run
        if waiting:
            yield False, waiting


Block = Heading | Paragraph | Items | Grid | Picture | Photo | Steps


@dataclass(frozen=True, slots=True)
class Document:
    title: str
    blocks: tuple[Block, ...]


def side_words(step: Step) -> tuple[str, ...]:
    """What stands at the box of each side."""
    return tuple(str(length) for length in step.sides)


def count_words(step: Step) -> str:
    """`36 stitches, 40 beads; 300 so far`; what is one thing only is said once."""
    beads = f"{step.beads:,} {'bead' if step.beads == 1 else 'beads'}"
    stitches = f"{step.stitches:,} {step.unit}, " if step.unit else ""
    return f"{stitches}{beads}; {step.so_far:,} so far"


def code_words(step: Step) -> str:
    """`24 S, 8 M`; empty for a round of one letter."""
    return ", ".join(f"{count:,} {code}" for code, count in step.codes)
