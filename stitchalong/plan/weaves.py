"""[[work]] tables of weaves, ladders, nets and what hangs from them."""

from __future__ import annotations

from typing import ClassVar

from pydantic import Field

from stitchalong.plan.fields import Notation
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


WEAVE_STARTS: dict[str, type[Table]] = {
    "right-angle weave row": WeaveRowTable,
    "right-angle weave ring": WeaveRingTable,
}
"""by the name that `start` holds"""

WEAVE_STITCHES: dict[str, type[Table]] = {
    "right-angle weave": WeaveTable,
    "tubular right-angle weave": TubularWeaveTable,
}
"""by the name that `stitch` holds"""
