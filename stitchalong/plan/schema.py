"""The TOML document a designer writes: which keys there are and what each may hold.

Only shapes are checked here: kinds of values, lengths, bounds. What the words mean together is checked in
`checked`, which needs no pydantic. `json_schema` publishes the same for editors.
"""

from __future__ import annotations

from functools import reduce
from operator import or_
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal

from pydantic import BeforeValidator, Discriminator, Field, Tag

from stitchalong.plan.fields import (
    CHARTED,
    MAX_LINES,
    MAX_REMARKS,
    MAX_WORKS,
    About,
    ChartName,
    Code,
    Colour,
    Count,
    Edge,
    Height,
    Millimetres,
    Notation,
    Notations,
    Part,
    Price,
    RoundNumber,
    RoundOrBirth,
    Say,
    Sides,
    Title,
    Units,
    Words,
    folded,
    framed,
)
from stitchalong.plan.rule_tables import Corners, DecreaseTable, IncreaseTable
from stitchalong.plan.table import Table
from stitchalong.plan.tables import OWN_STARTS, OWN_STITCHES, PartTable
from stitchalong.plan.weaves import WEAVE_STARTS, WEAVE_STITCHES, ZipTable


class ThreadTable(Table):
    """The thread."""

    name: Words = Field("", description="What the thread is.")
    colour: Words = Field("", description="Its colour, in words.")
    note: Words = Field("", description="A note, such as a number to order it by.")


class BeadTable(Table):
    """One bead of the palette."""

    name: Title = Field(description="What the bead is called.", examples=["sea glass"])
    colour: Colour = Field(
        description="#rrggbb, #rgb, or a plain name such as red, teal or charcoal.", examples=["#7fb8ad"]
    )
    size: Words = Field("", description="As the trade writes it: 11/0.")
    shape: Words = Field("", description="cylinder, round, …")
    note: Words = Field("", description="A note, such as a number to order it by.")
    marker: bool = Field(False, description="true: this bead marks a column, so that nobody need count.")
    length: Millimetres | None = Field(None, description="Millimetres along the hole, measured.")
    width: Millimetres | None = Field(None, description="Millimetres across, measured.")
    hole: Millimetres | None = Field(None, description="Millimetres of the hole, measured.")
    price: Price | None = Field(None, description="Of one gram, in your own currency.")


class FrameTable(Table):
    """The frame beads of a band."""

    top: Code = Field(description="Code of the top beads.", examples=["C"])
    side: Code = Field(description="Code of the side beads.", examples=["C"])
    bottom: Code = Field(description="Code of the bottom beads.", examples=["C"])


class BandTable(PartTable):
    """Start: a band of modified right-angle weave, joined into a ring."""

    said: ClassVar[str] = "an MRAW band"
    start: Annotated[Literal["MRAW band"], BeforeValidator(folded("MRAW band"))] = Field(
        description="How the first edge is made."
    )
    frame: Annotated[FrameTable, BeforeValidator(framed, json_schema_input_type=Code | FrameTable)] = Field(
        description="The code of all frame beads, or one each for top, side and bottom.", examples=["C"]
    )
    units: Units | None = Field(None, description="How many units; may be left out where the spacers or sides say it.")
    spacers: Notation | None = Field(
        None, description="The spacers in the order laid: *6S, M* 4 times.", examples=["*6S, M* 4 times"]
    )
    side: Code | None = Field(None, description="Instead of spacers: the code of the plain spacers.")
    marker: Code | None = Field(None, description="With side: the code of the spacer that ends each side.")
    sides: Sides | None = Field(
        None, description="With side: how many sides, or the plain spacers of each: [6, 7, 6, 5]."
    )
    reinforce: bool = Field(True, description="Whether each edge is passed through once more before it is worked.")


class RingTable(PartTable):
    """Start: beads strung and closed into a ring; round 1."""

    said: ClassVar[str] = "a ring"
    start: Annotated[Literal["ring"], BeforeValidator(folded("ring"))] = Field(
        description="How the first edge is made."
    )
    beads: Notation = Field(description="The beads strung, three or more: 6A.", examples=["6A"])


class TubeTable(PartTable):
    """Start: an even number of beads strung and closed; rounds 1 and 2."""

    said: ClassVar[str] = "a tube"
    start: Annotated[Literal["tube"], BeforeValidator(folded("tube"))] = Field(
        description="How the first edge is made."
    )
    beads: Notation | None = Field(
        None, description="The beads strung, an even number, six or more: 20A.", examples=["20A"]
    )
    chart: ChartName | None = Field(None, description=CHARTED)


class PeyoteTable(Table):
    """Rounds of peyote hung from an edge."""

    said: ClassVar[str] = "peyote"
    stitch: Annotated[Literal["peyote"], BeforeValidator(folded("peyote"))] = Field(description="What is stitched.")
    edge: Edge = Field("top", description="The edge that is worked: top or bottom.")
    rounds: Notations | None = Field(
        None, description="The rounds in order, worked over again until the height is reached.", examples=[["A"]]
    )
    chart: ChartName | None = Field(None, description=CHARTED)
    height: Height | None = Field(
        None,
        description='How many rounds: 6, "4 to 6", "4 or more", "as high as you like". Left out: the list.',
    )
    usual: RoundNumber | None = Field(None, description="How many rounds an open height usually has.")
    increase: IncreaseTable | None = Field(None, description="Pairs stacked in columns.")
    decrease: DecreaseTable | None = Field(None, description="Spaces passed without a bead, in columns.")
    corners: Corners | None = Field(None, description="Corner codes of a disc: 2-1-0, or a table with its place.")
    fill: Notation | None = Field(
        None, description="On the bottom edge of a band: what fills the spaces between the bottom beads."
    )
    reinforce: bool = Field(False, description="Whether the last round is passed through once more.")


class WalkTable(Table):
    """Before the step-up of the round just done: pass along so many spaces without a bead."""

    said: ClassVar[str] = "walking along"
    walk: Count = Field(description="How many spaces.")
    edge: Edge = Field("top", description="The edge: top or bottom.")


class ReinforceTable(Table):
    """Go through the last round of this edge again, adding nothing."""

    said: ClassVar[str] = "a reinforcing pass"
    reinforce: Edge = Field(description="The edge: top or bottom.")


class RemarkTable(Table):
    """A word to the stitcher at a place."""

    say: Say = Field(description="The words.", examples=["Keep it snug."])
    edge: Edge | None = Field(None, description="The edge; left out: the top one.")
    round: RoundOrBirth | None = Field(None, description="Before this round or row; left out: at the beginning.")
    stitch: Count | None = Field(None, description="Before this stitch of the round, counted from 1.")
    part: Part | None = Field(None, description="The part of the piece; left out: the first.")


STARTS = {"MRAW band": "band", "ring": "ring", "tube": "tube", **{name: name for name in (*OWN_STARTS, *WEAVE_STARTS)}}
STITCHES = {"peyote": "peyote", **{name: name for name in (*OWN_STITCHES, *WEAVE_STITCHES)}}
KINDS: dict[str, type[Table]] = {
    "band": BandTable,
    "ring": RingTable,
    "tube": TubeTable,
    "peyote": PeyoteTable,
    "walk": WalkTable,
    "reinforce": ReinforceTable,
    "zip": ZipTable,
    **OWN_STARTS,
    **OWN_STITCHES,
    **WEAVE_STARTS,
    **WEAVE_STITCHES,
}


def kind_of(work: object) -> str | None:
    """Which kind of [[work]] this is; None where it does not say."""
    if isinstance(work, Table):
        return next(kind for kind, table in KINDS.items() if type(work) is table)
    if not isinstance(work, dict):
        return None
    for key, kinds in (("start", STARTS), ("stitch", STITCHES)):
        if key in work:
            name = folded(*kinds)(work[key])
            return kinds.get(name) if isinstance(name, str) else None
    return next((kind for kind in ("walk", "reinforce", "zip") if kind in work), None)


if TYPE_CHECKING:
    WorkTable = Table
else:
    WorkTable = Annotated[
        reduce(or_, (Annotated[table, Tag(kind)] for kind, table in KINDS.items())), Discriminator(kind_of)
    ]


class ChartTable(Table):
    """Colours as one sees them in the finished work: letters in a grid, or a small picture. One pixel is one bead."""

    lines: Annotated[list[Notation], Field(min_length=1, max_length=MAX_LINES)] | None = Field(
        None, description="The lines from the top, a letter for each column: AABBA.", examples=[["AABBA"]]
    )
    picture: Words | None = Field(
        None, description="Instead: a PNG beside the plan or in a folder below it.", examples=["gull.png"]
    )
    colours: dict[Code, Colour] | None = Field(
        None,
        description="With a picture: which beads it is read with, and their colours in it. Left out: the palette's.",
        json_schema_extra={"additionalProperties": False},
    )
    begins: Literal["bottom left", "bottom right", "top left", "top right"] = Field(
        "bottom left", description="The corner where the first bead is strung."
    )


class Document(Table):
    """A plan: the beads, and the work in order."""

    title: Title = Field(description="What the piece is called.", examples=["Gorse ring"])
    about: About = Field("", description="A few words about it.")
    dollar_schema: str | None = Field(
        None, alias="$schema", description="For editors; has no meaning here.", exclude=True
    )
    plain_schema: str | None = Field(
        None, alias="schema", description="For editors; has no meaning here.", exclude=True
    )
    thread: ThreadTable | None = Field(None, description="The thread.")
    beads: dict[Code, BeadTable] = Field(
        min_length=1,
        description="The palette: a table for each bead code, A to Z.",
        json_schema_extra={"additionalProperties": False},
    )
    work: list[WorkTable] = Field(min_length=1, max_length=MAX_WORKS, description="The work in order, a start first.")
    charts: dict[ChartName, ChartTable] | None = Field(None, description="Colour charts by name.")
    remarks: list[RemarkTable] = Field(
        default_factory=list, max_length=MAX_REMARKS, description="Words to the stitcher at places."
    )


def json_schema() -> dict[str, Any]:
    """The published JSON schema (draft 2020-12) of a plan."""
    schema = _without_null(Document.model_json_schema(by_alias=True))
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}


def _without_null(schema: Any) -> Any:
    """TOML has no null: a key that may be left out is simply left out."""
    if isinstance(schema, list):
        return [_without_null(part) for part in schema if part != {"type": "null"}]
    if not isinstance(schema, dict):
        return schema
    found = {key: _without_null(part) for key, part in schema.items() if not (key == "default" and part is None)}
    if len(found.get("anyOf", ())) == 1:
        found |= found.pop("anyOf")[0]
    return found
