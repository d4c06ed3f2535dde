"""[[work]] tables of the techniques that keep their own account of their edge, each with its own keys.

A class per start and per stitch: a key that a class does not have is refused with the technique's name, and what is
not common to all starts or all stitches is an option (`Foundation.options`, `Rows.options`).
"""

from __future__ import annotations

from typing import Annotated, Any, ClassVar, Literal

from pydantic import BeforeValidator, Field

from stitchalong.plan.fields import (
    CHARTED,
    ChartName,
    Code,
    Count,
    Edge,
    Height,
    Notation,
    Notations,
    Part,
    RoundNumber,
    folded,
)
from stitchalong.plan.table import Table


def named(name: str) -> Any:
    """The type of a key that holds just this name, in any case."""
    return Annotated[Literal[name], BeforeValidator(folded(name))]


class PartTable(Table):
    """A start, which may begin another part of the piece."""

    part: Part | None = Field(
        None, description="The part of the piece that begins here; the first may go without a name."
    )


class RowsTable(Table):
    """Rows to and fro."""

    edge: Edge = Field("top", description="The edge that is worked: top or bottom.")
    rows: Notations = Field(
        description="The rows in order, worked over again until the height is reached.", examples=[["A"]]
    )
    height: Height | None = Field(
        None, description='How many rows: 6, "4 to 6", "4 or more", "as high as you like". Left out: the list.'
    )
    usual: RoundNumber | None = Field(None, description="How many rows an open height usually has.")


class RoundsTable(Table):
    """Rounds, round and round."""

    edge: Edge = Field("top", description="The edge that is worked: top or bottom.")
    rounds: Notations = Field(
        description="The rounds in order, worked over again until the height is reached.", examples=[["A"]]
    )
    height: Height | None = Field(
        None, description='How many rounds: 6, "4 to 6", "4 or more", "as high as you like". Left out: the list.'
    )
    usual: RoundNumber | None = Field(None, description="How many rounds an open height usually has.")


# ---- flat peyote --------------------------------------------------------------------------------

Drop = Annotated[Count, Field(le=10)]


class StrungRowTable(PartTable):
    """Start: beads strung in a row; rows 1 and 2 of flat peyote."""

    said: ClassVar[str] = "a strung row"
    start: named("strung row") = Field(description="How the first edge is made.")  # type: ignore[valid-type]
    beads: Notation | None = Field(None, description="The beads strung, two or more: 10A.", examples=["10A"])
    chart: ChartName | None = Field(None, description=CHARTED)
    drop: Drop = Field(1, description="Beads of one stitch: 2 for two-drop peyote.")


class FlatPeyoteTable(RowsTable):
    """Rows of flat peyote hung from a strung row."""

    said: ClassVar[str] = "flat peyote"
    stitch: named("flat peyote") = Field(description="What is stitched.")  # type: ignore[valid-type]
    rows: Notations | None = Field(  # type: ignore[assignment]
        None, description="The rows in order, worked over again until the height is reached.", examples=[["A"]]
    )
    chart: ChartName | None = Field(None, description=CHARTED)
    turn: Literal["figure eight", "under thread", "through the edge", "turning bead"] | None = Field(
        None, description="With an odd count: how the last bead of an odd row is held. Left out: a figure eight."
    )
    turning_bead: Code | None = Field(None, description="With a turning bead: its code, of a small bead.")


# ---- tubes --------------------------------------------------------------------------------------


class OddTubeTable(PartTable):
    """Start: an odd number of beads strung and closed; laps 1 and 2 of one spiral."""

    said: ClassVar[str] = "an odd tube"
    start: named("odd tube") = Field(description="How the first edge is made.")  # type: ignore[valid-type]
    beads: Notation | None = Field(
        None, description="The beads strung, an odd number, seven or more: 7A.", examples=["7A"]
    )
    chart: ChartName | None = Field(None, description=CHARTED)


class SpiralPeyoteTable(RoundsTable):
    """Laps of peyote hung from an odd tube: one spiral without a step-up."""

    said: ClassVar[str] = "spiral peyote"
    stitch: named("spiral peyote") = Field(description="What is stitched.")  # type: ignore[valid-type]
    rounds: Notations | None = Field(  # type: ignore[assignment]
        None, description="The laps in order, worked over again until the height is reached.", examples=[["A"]]
    )
    pattern: Notation | None = Field(
        None, description="Instead of rounds: the beads picked up one after the other, for ever: A, B, C."
    )
    chart: ChartName | None = Field(None, description=CHARTED)


class DropTubeTable(PartTable):
    """Start: groups of beads strung and closed; rounds 1 and 2."""

    said: ClassVar[str] = "a drop tube"
    start: named("drop tube") = Field(description="How the first edge is made.")  # type: ignore[valid-type]
    beads: Notation | None = Field(
        None, description="The beads strung, in groups, an even number of them.", examples=["24A"]
    )
    chart: ChartName | None = Field(None, description=CHARTED)
    drop: Annotated[int, Field(ge=2, le=10)] = Field(2, description="Beads of one stitch.")


class DropPeyoteTable(RoundsTable):
    """Rounds of peyote in groups, hung from a drop tube."""

    said: ClassVar[str] = "drop peyote"
    stitch: named("drop peyote") = Field(description="What is stitched.")  # type: ignore[valid-type]
    rounds: Notations | None = Field(  # type: ignore[assignment]
        None, description="The rounds in order, worked over again until the height is reached.", examples=[["A"]]
    )
    chart: ChartName | None = Field(None, description=CHARTED)


# ---- edgings ------------------------------------------------------------------------------------


class EdgingTable(Table):
    """What ends an edge: a stitch or none between each two up beads."""

    said: ClassVar[str] = "an edging"
    stitch: named("edging") = Field(description="What is stitched.")  # type: ignore[valid-type]
    edge: Edge = Field("top", description="The edge that is worked: top or bottom.")
    stitches: Notation = Field(
        description="One in each place: picot AAA, A, no bead, or a sequence.", examples=["picot AAA"]
    )


class FringeTable(Table):
    """Strands that hang from an edge: down, round the last bead, and back up."""

    said: ClassVar[str] = "a fringe"
    stitch: named("fringe") = Field(description="What is stitched.")  # type: ignore[valid-type]
    edge: Edge = Field("top", description="The edge that is worked: top or bottom.")
    strands: Notations = Field(
        description="The beads of a strand from the edge down; several strands take turns.", examples=[["5A, B"]]
    )
    every: Annotated[Count, Field(le=100)] = Field(1, description="A strand in every so many places.")
    tip: Annotated[Count, Field(le=30)] = Field(1, description="How many of the last beads turn the thread.")


OWN_STARTS: dict[str, type[Table]] = {
    "strung row": StrungRowTable,
    "odd tube": OddTubeTable,
    "drop tube": DropTubeTable,
}
"""by the name that `start` holds"""

OWN_STITCHES: dict[str, type[Table]] = {
    "flat peyote": FlatPeyoteTable,
    "spiral peyote": SpiralPeyoteTable,
    "drop peyote": DropPeyoteTable,
    "edging": EdgingTable,
    "fringe": FringeTable,
}
"""by the name that `stitch` holds"""
