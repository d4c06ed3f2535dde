"""The phrases of all techniques, by what `Round.technique` says. Each stands beside its rule in `fabric`."""

from __future__ import annotations

from stitchalong.fabric import (
    brick,
    cubes,
    drop_tube,
    edging,
    flat_peyote,
    herringbone,
    ladder,
    net,
    odd_tube,
    square,
    strip,
    weave,
    zipping,
)
from stitchalong.fabric.moves import Phrase, Phrases

_SAY: dict[str, Phrases] = {
    "strung row": flat_peyote.SAY,
    "flat peyote": flat_peyote.SAY,
    "odd tube": odd_tube.SAY,
    "spiral peyote": odd_tube.SAY,
    "drop tube": drop_tube.SAY,
    "drop peyote": drop_tube.SAY,
    "edging": edging.SAY,
    "fringe": edging.SAY,
    "right-angle weave row": weave.SAY,
    "right-angle weave ring": weave.SAY,
    "right-angle weave": weave.SAY,
    "tubular right-angle weave": weave.SAY,
    "ladder": ladder.SAY,
    "herringbone": herringbone.SAY,
    "tubular herringbone": herringbone.SAY,
    "brick stitch": brick.SAY,
    "tubular brick stitch": brick.SAY,
    "strand": square.SAY,
    "square stitch": square.SAY,
    "net ring": net.SAY,
    "netting": net.SAY,
    "cube base": cubes.SAY,
    "cubic right-angle weave": cubes.SAY,
    "MRAW strip": strip.SAY,
    "zip": zipping.SAY,
}

_WORDS = {
    "odd tube": "lap",
    "spiral peyote": "lap",
    "cube base": "storey",
    "cubic right-angle weave": "storey",
}

_STRUNG_TWICE = frozenset(("strung row", "flat peyote", "edging", "fringe"))
"""of flat peyote and what ends it: rows 1 and 2 are strung at once"""


def phrase_of(technique: str, detail: str) -> Phrase | None:
    """How a move of this technique is said; None where it has no phrase of its own."""
    return _SAY.get(technique, {}).get(detail)


def word_of(technique: str, flat: bool) -> str:
    """`row` for what is worked to and fro, `lap` for a spiral, `storey` for cubes, else `round`."""
    return "row" if flat else _WORDS.get(technique, "round")


def goes_back(technique: str, number: int) -> bool:
    """Whether a row to and fro runs towards the tail: rows 3, 5, … where two rows are strung at once, else 2, 4, …"""
    return bool(number % 2) == (technique in _STRUNG_TWICE)
