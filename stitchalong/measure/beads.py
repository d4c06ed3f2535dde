"""What one bead measures and weighs: a table of sizes (`beads.toml`), and what a plan says of its own
beads."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from types import MappingProxyType

from stitchalong.measure.figure import Figure
from stitchalong.plan.model import Bead

GLASS = 2.5
"""mg a mm³, soda-lime glass: 2.52 for containers, 2.53 for windows (liquisearch.com/soda-lime_glass/
typical_compositions_and_properties), 2.4 to 2.5 on other pages. Metal-coated and lined beads weigh more
(from memory)."""
WEIGHT_SPREAD = 0.15
"""how far a weight from geometry may be off: what the published beads per gram leave"""

ROUNDED = 0.8
"""share of the straight tube that is glass in a bead with rounded ends: 0.77 to 0.97 by published beads
per gram"""
FLAT_ENDED = frozenset({"cylinder", "cube", "bugle"})
"""shapes whose ends are flat, so that the glass fills the whole length"""

_HOLE_SHARE = {"cylinder": 0.5, "bugle": 0.5}
"""Hole as a share of the outside where nobody measured it; other shapes 0.4. After the rows of the table."""

_SHAPES = {"seed": "round", "rocaille": "round", "square": "cube", "tube": "bugle", "teardrop": "drop"}


@dataclass(frozen=True, slots=True)
class BeadSize:
    """A bead's measures in millimetres; what is not known is None."""

    size: str
    shape: str
    outside: float | None
    """across the hole, over the glass"""
    length: float | None
    """along the hole"""
    hole: float | None
    per_gram: tuple[float, float] | None
    """published, low and high"""
    spread: float
    """of the measures, as a share"""
    source: str

    @property
    def flat_ended(self) -> bool:
        return self.shape in FLAT_ENDED

    def milligrams(self) -> Figure | None:
        """Weight of one bead: density × section × length × shape factor, ± 15 % and as far as published beads
        per gram lie.

        Where a measure is missing, from published beads per gram; None where there are none either.
        """
        if self.outside is not None and self.length is not None:
            hole = self.hole if self.hole is not None else self.outside * _HOLE_SHARE.get(self.shape, 0.4)
            section = self.outside**2 * (1 if self.shape == "cube" else math.pi / 4) - math.pi / 4 * hole**2
            factor = 1.0 if self.flat_ended else ROUNDED
            weight = GLASS * section * self.length * factor
            figure = Figure.around(weight, WEIGHT_SPREAD, "from the bead's measures and the density of glass")
            return figure.reaching(*(1000 / number for number in self.per_gram or ()))
        if self.per_gram is not None:
            low, high = (1000 / number for number in reversed(self.per_gram))
            figure = Figure.around((low + high) / 2, WEIGHT_SPREAD, "from published beads per gram")
            return figure.reaching(low, high)
        return None


@dataclass(frozen=True, slots=True)
class Sized:
    """What is known of a plan's bead: its measures, or why there are none."""

    size: BeadSize | None
    note: str = ""


def normal_size(size: str) -> str:
    """`11/0` for `11/0`, `11`, `11°`, `size 11`; `3 mm` for `3mm`; `#2` as it is."""
    plain = size.strip().lower().removeprefix("size").strip().replace(",", ".")
    if found := re.fullmatch(r"(\d{1,2})(?:/0|°|º|o)?", plain):
        return f"{found[1]}/0"
    if found := re.fullmatch(r"(\d+(?:\.\d+)?)\s*mm", plain):
        return f"{float(found[1]):g} mm"
    return plain


def normal_shape(shape: str) -> str:
    """`round` for `Seed`, `cube` for `square`; any other word in lower case."""
    plain = " ".join(shape.lower().split())
    return _SHAPES.get(plain, plain)


@cache
def table() -> Mapping[tuple[str, str], BeadSize]:
    """The sizes that ship with the program, by (size, shape), in the order of the file."""
    import tomllib  # a piece that is only counted needs none of this

    text = files("stitchalong.measure").joinpath("beads.toml").read_text(encoding="utf-8")
    rows = tomllib.loads(text)["bead"]
    return MappingProxyType({(row["size"], row["shape"]): _row(row) for row in rows})


def _row(row: dict[str, object]) -> BeadSize:
    def measure(name: str) -> float | None:
        value = row.get(name)
        return float(value) if isinstance(value, int | float) else None

    per_gram = row.get("per_gram")
    bounds = (float(per_gram[0]), float(per_gram[1])) if isinstance(per_gram, list) else None
    spread = measure("spread")
    assert spread is not None
    return BeadSize(
        size=str(row["size"]),
        shape=str(row["shape"]),
        outside=measure("outside"),
        length=measure("length"),
        hole=measure("hole"),
        per_gram=bounds,
        spread=spread,
        source=str(row["source"]),
    )


def look_up(size: str, shape: str) -> BeadSize | None:
    """The row for a size and a shape as a person writes them; None where there is none."""
    return table().get((normal_size(size), normal_shape(shape)))


OWN = "measured, by the plan"
OWN_SPREAD = 0.03
"""of measures that a plan gives: half a tenth of a millimetre on a bead of 1.6 mm"""


def sized(bead: Bead) -> Sized:
    """What a plan's bead measures: the table's row, with what the plan measured in its place."""
    row = look_up(bead.size, bead.shape)
    own = (bead.width, bead.length, bead.hole)
    if any(value is not None for value in own):
        outside, length, hole = own
        base = row or BeadSize(normal_size(bead.size), normal_shape(bead.shape), None, None, None, None, 0.0, "")
        whole = outside is not None and length is not None
        mixed = BeadSize(
            base.size,
            base.shape,
            outside if outside is not None else base.outside,
            length if length is not None else base.length,
            hole if hole is not None else base.hole,
            None if whole else base.per_gram,
            OWN_SPREAD if whole else max(OWN_SPREAD, base.spread),
            OWN if whole or not base.source else f"{OWN}; the rest: {base.source}",
        )
        if mixed.hole is not None and mixed.outside is not None and mixed.hole >= mixed.outside:
            note = f"bead {bead.code}: a hole of {mixed.hole:g} mm does not fit into a bead {mixed.outside:g} mm wide"
            return Sized(replace(mixed, hole=None), note)
        missing = mixed.outside is None or mixed.length is None
        return Sized(mixed, _incomplete(bead, mixed) if missing else "")
    if row is not None:
        missing = row.outside is None or row.length is None
        return Sized(row, _incomplete(bead, row) if missing else "")
    if not bead.size or not bead.shape:
        what = "size and shape" if not bead.size and not bead.shape else "size" if not bead.size else "shape"
        return Sized(None, f"bead {bead.code}: the plan does not say its {what}, so nothing is reckoned from it")
    return Sized(
        None,
        f"bead {bead.code}: no measures known for {bead.size} {bead.shape}; "
        "give length, width and hole in the plan, in millimetres",
    )


def _incomplete(bead: Bead, size: BeadSize) -> str:
    what = " and ".join(name for name, value in (("width", size.outside), ("length", size.length)) if value is None)
    return f"bead {bead.code}: its {what} is not known; give it in the plan, in millimetres"


def columns_per_inch(size: BeadSize) -> float | None:
    """Flat peyote, beads side by side along a row, without room for thread."""
    return None if size.length is None else 25.4 / size.length


def rows_per_inch(size: BeadSize) -> float | None:
    """Flat peyote, rows as the trade counts them, zig-zag: each adds half a bead's thickness."""
    return None if size.outside is None else 2 * 25.4 / size.outside
