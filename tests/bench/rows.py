"""A row of the table."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Row:
    what: str
    found: str
    goal: str
    least: str


def times(value: float) -> str:
    """A ratio."""
    return f"{value:.2f} ×"


def ms(seconds: float) -> str:
    return f"{seconds * 1e3:.3g} ms"
