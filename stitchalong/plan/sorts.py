"""Sorts of work, told from a plan's own words at a glance: for lists, without the schema and without the notation."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

SORTS = (
    ("bands with peyote", ("mraw band", "mraw strip")),
    ("tubes of peyote", ("tube", "odd tube", "drop tube")),
    ("round by round from a ring", ("ring",)),
    ("flat peyote", ("strung row",)),
    ("right-angle weave", ("right-angle weave row", "right-angle weave ring", "cube base")),
    ("herringbone", ("herringbone", "tubular herringbone")),
    ("brick stitch", ("brick stitch", "tubular brick stitch")),
    ("square stitch", ("square stitch",)),
    ("netting", ("net ring", "netting")),
    ("ladders", ("ladder",)),
)
"""each with the starts or stitches that tell it; in the order of a list"""

OTHER = "other work"
_VAGUE = frozenset(("ladder", "strand", "strung row"))
"""starts that more than one sort of work begins with: the first stitch on them tells"""


def sort_of(data: Any) -> str:
    """The sort of a plan's data, as it stands in its file; `other work` where that is not seen."""
    words = list(_words(data))
    if words and words[0] in _VAGUE:
        words = [*words[1:], words[0]]
    for word in words:
        for sort, tells in SORTS:
            if word in tells:
                return sort
    return OTHER


def order_of(sort: str) -> int:
    """Where a sort stands in a list."""
    return next((nth for nth, (name, _) in enumerate(SORTS) if name == sort), len(SORTS))


def _words(data: Any) -> Iterator[str]:
    """The starts and stitches, in order, in small letters."""
    work = data.get("work") if isinstance(data, dict) else None
    for item in work if isinstance(work, list) else []:
        for key in ("start", "stitch"):
            word = item.get(key) if isinstance(item, dict) else None
            if isinstance(word, str):
                yield " ".join(word.split()).casefold()
