"""[[work]] tables of weaves, ladders, nets and what hangs from them."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import BeforeValidator, Field

from stitchalong.plan.fields import Code, Edge, Notation, Part, folded
from stitchalong.plan.table import Table
from stitchalong.plan.tables import PartTable, RoundsTable, RowsTable, named

# ---- right-angle weave --------------------------------------------------------------------------


class WeaveRowTable(PartTable):
    """Start: a row of units of right-angle weave."""

    said: ClassVar[str] = "a right-angle weave row"
    start: named("right-angle weave row") = Field(description="How the first edge is made.")  # type: ignore[valid-type]
    beads: Notation = Field(
        description="The beads in the order picked up: 4 for the first unit, 3 for each further one.", examples=["31A"]
    )


class WeaveRingTable(PartTable):
    """Start: units of right-angle weave closed into a ring."""

    said: ClassVar[str] = "a right-angle weave ring"
    start: named("right-angle weave ring") = Field(description="How the first edge is made.")  # type: ignore[valid-type]
    beads: Notation = Field(
        description="The beads in the order picked up: 4, then 3 for each further unit, 2 to close; 3 a unit in all.",
        examples=["36A"],
    )


class WeaveTable(RowsTable):
    """Rows of right-angle weave, to and fro. A row is written unit by unit."""

    said: ClassVar[str] = "right-angle weave"
    stitch: named("right-angle weave") = Field(description="What is stitched.")  # type: ignore[valid-type]


class TubularWeaveTable(RoundsTable):
    """Rounds of right-angle weave. A round is written unit by unit."""

    said: ClassVar[str] = "tubular right-angle weave"
    stitch: named("tubular right-angle weave") = Field(description="What is stitched.")  # type: ignore[valid-type]


class CubeBaseTable(PartTable):
    """Start: beads closed into a ring; the first floor of cubic right-angle weave."""

    said: ClassVar[str] = "a cube base"
    start: named("cube base") = Field(description="How the first edge is made.")  # type: ignore[valid-type]
    beads: Notation = Field(description="The beads strung: 4A for cubes.", examples=["4A"])


class CubicWeaveTable(RoundsTable):
    """Storeys of cubic right-angle weave. A storey is written wall by wall: of 3 beads, of 2, of 1."""

    said: ClassVar[str] = "cubic right-angle weave"
    stitch: named("cubic right-angle weave") = Field(description="What is stitched.")  # type: ignore[valid-type]


class StripTable(PartTable):
    """Start: a strip of modified right-angle weave that is not joined."""

    said: ClassVar[str] = "an MRAW strip"
    start: named("MRAW strip") = Field(description="How the first edge is made.")  # type: ignore[valid-type]
    frame: Code = Field(description="The code of all frame beads.", examples=["C"])
    spacers: Notation = Field(description="The spacers in order; there is one unit more.", examples=["12S"])


# ---- ladders ------------------------------------------------------------------------------------


class LadderTable(PartTable):
    """Start: beads stitched side by side; row 1."""

    said: ClassVar[str] = "a ladder"
    start: named("ladder") = Field(description="How the first edge is made.")  # type: ignore[valid-type]
    beads: Notation = Field(description="The beads in order, two or more: 8A.", examples=["8A"])
    joined: bool = Field(False, description="true: the ladder is joined into a ring.")


class HerringboneTable(RowsTable):
    """Rows of herringbone, to and fro. A row is written stitch by stitch, two beads each."""

    said: ClassVar[str] = "herringbone"
    stitch: named("herringbone") = Field(description="What is stitched.")  # type: ignore[valid-type]
    turning_bead: Code | None = Field(
        None, description="The small bead with which each turn is made. Left out: under the thread at the edge."
    )


class TubularHerringboneTable(RoundsTable):
    """Rounds of herringbone. A round is written stitch by stitch, two beads each."""

    said: ClassVar[str] = "tubular herringbone"
    stitch: named("tubular herringbone") = Field(description="What is stitched.")  # type: ignore[valid-type]
    between: Code | None = Field(
        None, description="Widen in two rounds: the bead that goes between the stacks, one and then two of it."
    )


Width = Annotated[Literal["same", "one more", "one fewer"], BeforeValidator(folded("same", "one more", "one fewer"))]


class BrickTable(RowsTable):
    """Rows of brick stitch, to and fro. A row is written bead by bead."""

    said: ClassVar[str] = "brick stitch"
    stitch: named("brick stitch") = Field(description="What is stitched.")  # type: ignore[valid-type]
    width: Width = Field(
        "same", description="Whether each row is as wide as the one below, one bead more or one fewer."
    )


class TubularBrickTable(RoundsTable):
    """Rounds of brick stitch. Two beads written together are two stitches on one bridge: an increase."""

    said: ClassVar[str] = "tubular brick stitch"
    stitch: named("tubular brick stitch") = Field(description="What is stitched.")  # type: ignore[valid-type]


# ---- square stitch and netting ------------------------------------------------------------------


class StrandTable(PartTable):
    """Start: beads strung; row 1 of square stitch."""

    said: ClassVar[str] = "a strand"
    start: named("strand") = Field(description="How the first edge is made.")  # type: ignore[valid-type]
    beads: Notation = Field(description="The beads strung, two or more: 8A.", examples=["8A"])


class SquareTable(RowsTable):
    """Rows of square stitch, to and fro."""

    said: ClassVar[str] = "square stitch"
    stitch: named("square stitch") = Field(description="What is stitched.")  # type: ignore[valid-type]
    straighten: bool = Field(False, description="Whether each row and the one below are passed through once more.")


Loop = Annotated[int, Field(ge=1, le=99)]


class NetRingTable(PartTable):
    """Start: a ring of anchors, each followed by the beads of a loop."""

    said: ClassVar[str] = "a net ring"
    start: named("net ring") = Field(description="How the first edge is made.")  # type: ignore[valid-type]
    beads: Notation = Field(
        description="The beads strung, an anchor first: *A, 3B* 10 times.", examples=["*A, 3B* 10 times"]
    )
    loop: Loop = Field(3, description="Beads between two anchors, an odd number: 3, 5, 7.")


class NettingTable(RoundsTable):
    """Rounds of netting. A round is written loop by loop."""

    said: ClassVar[str] = "netting"
    stitch: named("netting") = Field(description="What is stitched.")  # type: ignore[valid-type]
    loop: Loop | None = Field(None, description="Beads of a loop, an odd number. Left out: as in the net ring.")


# ---- zipping ------------------------------------------------------------------------------------


def _parts(value: object) -> object:
    return [value] if isinstance(value, str) else value


class ZipTable(Table):
    """Zip two edges together; no bead is added."""

    said: ClassVar[str] = "zipping"
    zip: Annotated[
        list[Part],
        BeforeValidator(_parts, json_schema_input_type=str | list[str]),
        Field(min_length=1, max_length=2),
    ] = Field(
        description="The two parts whose edges are zipped; or one, a flat strip, whose first and last row are.",
        examples=[["main", "lid"]],
    )
    edges: Annotated[list[Edge], Field(min_length=2, max_length=2)] | None = Field(
        None, description="Of two parts, which edge of each. Left out: the top ones.", examples=[["top", "top"]]
    )


WEAVE_STARTS: dict[str, type[Table]] = {
    "right-angle weave row": WeaveRowTable,
    "right-angle weave ring": WeaveRingTable,
    "cube base": CubeBaseTable,
    "MRAW strip": StripTable,
    "ladder": LadderTable,
    "strand": StrandTable,
    "net ring": NetRingTable,
}
"""by the name that `start` holds"""

WEAVE_STITCHES: dict[str, type[Table]] = {
    "right-angle weave": WeaveTable,
    "tubular right-angle weave": TubularWeaveTable,
    "cubic right-angle weave": CubicWeaveTable,
    "herringbone": HerringboneTable,
    "tubular herringbone": TubularHerringboneTable,
    "brick stitch": BrickTable,
    "tubular brick stitch": TubularBrickTable,
    "square stitch": SquareTable,
    "netting": NettingTable,
}
"""by the name that `stitch` holds"""
