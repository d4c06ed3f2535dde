"""What a stitcher decides while stitching. The same plan and the same choices always give the same course.

A choice names its place by part, edge and round, so that it holds whatever came before; made at a position it
changes nothing before it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import asdict

from stitchalong.values import value


@value
class Another:
    """After this round of an open-ended rise: one round more, or on to what follows."""

    edge: str
    round: int
    more: bool
    part: str = "main"


@value
class StepUpElsewhere:
    """After this round, pass along the edge and begin the next round so many spaces further on."""

    edge: str
    round: int
    spaces: int
    part: str = "main"


@value
class Deviation:
    """In one space of this round the work differs from the plan, and that is accepted as it is."""

    edge: str
    round: int
    space: int
    """0-based, in working order from where the round began"""
    laid: tuple[str, ...]
    """codes of the beads that are there, in the order picked up; empty: the space was missed"""
    part: str = "main"
    somewhere: bool = False
    """it is known only that it is somewhere on this side; the space is its middle"""

    def __post_init__(self) -> None:
        # data that was kept is not trusted
        if not (isinstance(self.space, int) and isinstance(self.round, int) and isinstance(self.laid, list | tuple)):
            raise TypeError("a space and a round are numbers, what was laid is a list of codes")
        object.__setattr__(self, "laid", tuple(map(str, self.laid)))


Choice = Another | StepUpElsewhere | Deviation

_KINDS = {"another": Another, "step-up": StepUpElsewhere, "as it is": Deviation}


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
            out.append(kind(**fields))
        except TypeError as error:
            raise ValueError(f"not a choice: {item!r}") from error
    return tuple(out)
