"""What a stitcher decides while stitching. The same plan and the same choices always give the same course.

A choice names its place by part, edge and round, so that it holds whatever came before; made at a position it
changes nothing before it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass


@dataclass(frozen=True, slots=True)
class Another:
    """After this round of an open-ended rise: one round more, or on to what follows."""

    edge: str
    round: int
    more: bool
    part: str = "main"


@dataclass(frozen=True, slots=True)
class StepUpElsewhere:
    """After this round, pass along the edge and begin the next round so many spaces further on."""

    edge: str
    round: int
    spaces: int
    part: str = "main"


Choice = Another | StepUpElsewhere

_KINDS = {"another": Another, "step-up": StepUpElsewhere}


def to_data(choices: Iterable[Choice]) -> list[dict[str, object]]:
    """Plain data, for JSON."""
    names = {cls: name for name, cls in _KINDS.items()}
    return [{"choice": names[type(choice)], **asdict(choice)} for choice in choices]


def from_data(data: Sequence[dict[str, object]]) -> tuple[Choice, ...]:
    """Choices from plain data. Raises ValueError for data that is no choice."""
    out: list[Choice] = []
    for item in data:
        fields = dict(item)
        kind = _KINDS.get(str(fields.pop("choice", "")))
        if kind is None:
            raise ValueError(f"not a choice: {item!r}")
        try:
            out.append(kind(**fields))  # type: ignore[arg-type, call-arg]
        except TypeError as error:
            raise ValueError(f"not a choice: {item!r}") from error
    return tuple(out)
