"""[[work]] tables of weaves, ladders, nets and what hangs from them."""

from __future__ import annotations

from typing import ClassVar

from pydantic import Field

from stitchalong.plan.fields import Code, Notation
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


WEAVE_STARTS: dict[str, type[Table]] = {
    "right-angle weave row": WeaveRowTable,
    "right-angle weave ring": WeaveRingTable,
    "ladder": LadderTable,
}
"""by the name that `start` holds"""

WEAVE_STITCHES: dict[str, type[Table]] = {
    "right-angle weave": WeaveTable,
    "tubular right-angle weave": TubularWeaveTable,
    "herringbone": HerringboneTable,
    "tubular herringbone": TubularHerringboneTable,
}
"""by the name that `stitch` holds"""
