"""A drawing of a form as lines of cells; plain values, no numpy, so that words can stand in a drawing's place."""

from __future__ import annotations

from dataclasses import dataclass

Colour = tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class Run:
    """Cells of one look, side by side."""

    text: str
    ink: Colour | None
    """None: as the terminal has it"""
    paper: Colour | None


Line = tuple[Run, ...]
