"""What one key of a plan may hold: kinds of text, counts and notation, for the schema's tables."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BeforeValidator, Field, StringConstraints

from stitchalong.plan.colours import read_colour
from stitchalong.plan.text import clean
from stitchalong.plan.tokens import MAX_COUNT, MAX_TEXT

MAX_WORKS = 2_000
MAX_ROUNDS = 20_000
MAX_LINE = 200
MAX_ABOUT = 20_000
MAX_SAY = 2_000
MAX_REMARKS = 20_000
MAX_LINES = 5_000
"""of a chart"""
MAX_SIDES = 10_000


def _filled(text: str) -> str:
    if not text:
        raise ValueError("is empty")
    return text


def _listed(value: object) -> object:
    return [value] if isinstance(value, str) else value


def framed(value: object) -> object:
    return {"top": value, "side": value, "bottom": value} if isinstance(value, str) else value


def folded(*known: str) -> Callable[[object], object]:
    """Accepts the known words in any case."""

    def fold(value: object) -> object:
        word = " ".join(value.split()).casefold() if isinstance(value, str) else value
        return next((name for name in known if name.casefold() == word), value)

    return fold


_HEIGHT = re.compile(r"([0-9]{1,7})(?: ?(?:to|-|–) ?([0-9]{1,7})| or more)?")
OPEN_HEIGHT = "as high as you like"


def _height(value: object) -> object:
    """A whole number or one of the phrases, blanks evened out."""
    if isinstance(value, int) and not isinstance(value, bool):
        if not 1 <= value <= MAX_ROUNDS:
            raise ValueError(f"must be from 1 to {MAX_ROUNDS:,} rounds")
        return str(value)
    if isinstance(value, str):
        words = " ".join(value.split()).casefold()
        if words == OPEN_HEIGHT:
            return words
        match = _HEIGHT.fullmatch(words)
        if match:
            return f"{match[1]} to {match[2]}" if match[2] else words
    raise ValueError(f'must be a number of rounds, "4 to 6", "4 or more" or "{OPEN_HEIGHT}"')


def _sides(value: Any, least: int = 1) -> Any:
    """How many sides, or the count of each, `least` or more."""
    counts = value if isinstance(value, list) else [value]
    if not counts or any(not isinstance(count, int) or isinstance(count, bool) for count in counts):
        raise ValueError("must be a whole number of sides, or the count of each as in [6, 7, 6, 5]")
    if len(counts) > MAX_SIDES or any(not least <= count <= MAX_COUNT for count in counts):
        raise ValueError(f"counts of sides go from {least} to {MAX_COUNT:,}, and there are at most {MAX_SIDES:,} sides")
    return value


def _stretches(value: Any) -> Any:
    """How many sides, or the singles before each increase, of which there may be none."""
    return _sides(value, least=0 if isinstance(value, list) else 1)


Words = Annotated[str, Field(max_length=MAX_LINE), AfterValidator(clean)]
Title = Annotated[str, Field(min_length=1, max_length=MAX_LINE), AfterValidator(clean), AfterValidator(_filled)]
About = Annotated[str, Field(max_length=MAX_ABOUT), AfterValidator(lambda text: clean(text, keep_lines=True))]
Part = Annotated[str, Field(min_length=1, max_length=40), AfterValidator(clean), AfterValidator(_filled)]
"""the name of a part of the piece"""
ChartName = Annotated[str, Field(min_length=1, max_length=40), AfterValidator(clean), AfterValidator(_filled)]
CHARTED = "Instead of that: the name of the chart that says the colours, of the start and of what hangs from it."
Say = Annotated[str, Field(min_length=1, max_length=MAX_SAY), AfterValidator(clean), AfterValidator(_filled)]
Notation = Annotated[str, Field(max_length=MAX_TEXT), AfterValidator(clean)]
Notations = Annotated[
    list[Notation],
    BeforeValidator(_listed, json_schema_input_type=str | list[str]),
    Field(min_length=1, max_length=MAX_ROUNDS),
]
Code = Annotated[str, StringConstraints(pattern="^[A-Z]$")]
Over = Annotated[str, StringConstraints(pattern="^([A-Z]|ribs)$")]
Colour = Annotated[str, Field(max_length=MAX_LINE), AfterValidator(read_colour)]
Millimetres = Annotated[float, Field(gt=0, le=1000, allow_inf_nan=False)]
Price = Annotated[float, Field(ge=0, le=1_000_000, allow_inf_nan=False)]
Units = Annotated[int, Field(ge=3, le=MAX_COUNT)]
RoundOrBirth = Annotated[int, Field(ge=0, le=MAX_ROUNDS)]
"""a round, or 0 for what an edge is born with"""
RoundNumber = Annotated[int, Field(ge=1, le=MAX_ROUNDS)]
Count = Annotated[int, Field(ge=1, le=MAX_COUNT)]
Height = Annotated[str, BeforeValidator(_height, json_schema_input_type=int | str)]
Sides = Annotated[Any, BeforeValidator(_sides, json_schema_input_type=int | list[int])]
Stretches = Annotated[Any, BeforeValidator(_stretches, json_schema_input_type=int | list[int])]
Edge = Annotated[Literal["top", "bottom"], BeforeValidator(folded("top", "bottom"))]
