"""The phrases of all techniques, by what `Round.technique` says. Each stands beside its rule in `fabric`."""

from __future__ import annotations

from functools import cache
from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from stitchalong.fabric.moves import Phrase, Phrases

_SAY = {
    "strung row": "flat_peyote",
    "flat peyote": "flat_peyote",
    "odd tube": "odd_tube",
    "spiral peyote": "odd_tube",
    "drop tube": "drop_tube",
    "drop peyote": "drop_tube",
    "edging": "edging",
    "fringe": "edging",
    "right-angle weave row": "weave",
    "right-angle weave ring": "weave",
    "right-angle weave": "weave",
    "tubular right-angle weave": "weave",
    "ladder": "ladder",
    "herringbone": "herringbone",
    "tubular herringbone": "herringbone",
    "brick stitch": "brick",
    "tubular brick stitch": "brick",
    "strand": "square",
    "square stitch": "square",
    "net ring": "net",
    "netting": "net",
    "cube base": "cubes",
    "cubic right-angle weave": "cubes",
    "MRAW strip": "strip",
    "zip": "zipping",
}
"""technique -> its file in `fabric`, which is read when a piece has this technique"""

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
    return _phrases(technique).get(detail)


@cache
def _phrases(technique: str) -> Phrases:
    file = _SAY.get(technique)
    found: Phrases = import_module(f"stitchalong.fabric.{file}").SAY if file else {}
    return found


def word_of(technique: str, flat: bool) -> str:
    """`row` for what is worked to and fro, `lap` for a spiral, `storey` for cubes, else `round`."""
    return "row" if flat else _WORDS.get(technique, "round")


def goes_back(technique: str, number: int) -> bool:
    """Whether a row to and fro runs towards the tail: rows 3, 5, … where two rows are strung at once, else 2, 4, …"""
    return bool(number % 2) == (technique in _STRUNG_TWICE)
