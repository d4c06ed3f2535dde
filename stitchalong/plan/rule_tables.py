"""Tables of rules: where rounds of peyote grow, shrink or turn a corner by themselves."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BeforeValidator, Field

from stitchalong.plan.fields import Code, Notations, Over, RoundNumber, Stretches
from stitchalong.plan.table import Table

MAX_CODE = 100
"""digits of a corner code"""


def _coded(value: Any) -> Any:
    """`2-1-0` or a list of such (or what was made of them before), as lists of digits."""
    texts = value if isinstance(value, list) else [value]
    found = []
    for text in texts:
        digits = text.replace(" ", "").split("-") if isinstance(text, str) else []
        if isinstance(text, list):
            digits = [str(digit) for digit in text]
        if not digits or len(digits) > MAX_CODE or any(digit not in ("0", "1", "2", "3") for digit in digits):
            raise ValueError('must be beads at a corner, round after round, as in "2-1-0": each 0, 1, 2 or 3')
        found.append([int(digit) for digit in digits])
    if not 1 <= len(found) <= MAX_CODE:
        raise ValueError("must be one corner code, or one for each corner in turn")
    return found


def _cornered(value: Any) -> Any:
    return {"code": value} if isinstance(value, str | list) else value


Codes = Annotated[
    Any, AfterValidator(_coded), BeforeValidator(lambda value: value, json_schema_input_type=str | list[str])
]


class IncreaseTable(Table):
    """Pairs stacked in columns. Exactly one of over, between, sides and at says where."""

    over: Over | None = Field(None, description="Over the beads of this code, or over the ribs of the other edge.")
    between: Code | None = Field(None, description="In the middle between two beads of this code.")
    sides: Stretches | None = Field(None, description="By counting: how many sides, or the singles before each pair.")
    at: Literal["every space"] | None = Field(None, description="In every space.")
    with_: Notations | None = Field(
        None, alias="with", description="What is laid, MM; or a list, one for each round, worked over again."
    )
    from_round: RoundNumber | None = Field(None, description="The first round of this edge that increases.")
    rounds: RoundNumber | None = Field(None, description="How many rounds it lasts; left out: to the end.")


class DecreaseTable(Table):
    """Spaces passed without a bead, in columns. Exactly one of over and sides says where."""

    over: Over | None = Field(None, description="Over the beads of this code, or over the ribs.")
    sides: Stretches | None = Field(
        None, description="By counting: how many sides, or the singles before each empty space."
    )
    way: Literal["every round", "single", "gradual", "double"] = Field(
        "every round",
        description="every round: the space stays empty; single: no bead, then one over the gap; gradual: no bead, "
        "then two thin ones passed as one; double: the two spaces beside the bead are empty, then one bead over it.",
    )
    with_: Notations | None = Field(None, alias="with", description="What is laid over the gap: TT as one.")
    from_round: RoundNumber | None = Field(None, description="The first round of this edge that decreases.")
    rounds: RoundNumber | None = Field(None, description="How many rounds it lasts; left out: to the end.")


class CornersTable(Table):
    """The corners of a disc: a code says how many beads stand at each corner, round after round.

    2 is a pair, 3 a corner of three, 1 a single bead; 0 means that the corner is a bead here, not a space.
    """

    code: Codes = Field(
        description="2-1-0, worked over again; or a list of codes, one for each corner in turn.", examples=["2-1-0"]
    )
    over: Over | None = Field(None, description="At the beads of this code, or at the ribs.")
    sides: Stretches | None = Field(None, description="By counting: how many sides, or the singles before each corner.")
    at: Literal["every space"] | None = Field(None, description="In every space; so where nothing else is said.")
    with_: Notations | None = Field(
        None,
        alias="with",
        description="One code for all corner beads, B; or what is laid at a corner in each round that lays something.",
    )
    from_round: RoundNumber | None = Field(None, description="The round of this edge in which the code begins.")
    rounds: RoundNumber | None = Field(None, description="How many rounds it lasts; left out: to the end.")


Corners = Annotated[CornersTable, BeforeValidator(_cornered, json_schema_input_type=str | list[str] | CornersTable)]
