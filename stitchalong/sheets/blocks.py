"""What a sheet is made of, before it is HTML, Markdown, text or PDF."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from stitchalong.chart.model import Chart


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


@dataclass(frozen=True, slots=True)
class Steps:
    steps: tuple[Step, ...]


Block = Heading | Paragraph | Items | Grid | Picture | Steps


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
