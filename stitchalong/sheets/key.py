"""The short ways of writing that a sheet uses, each with what it means."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from stitchalong.plan.model import Item, Lay, Repeat, Written
from stitchalong.plan.wording import aloud, print_lay

_ORDER = ("single", "together", "as one", "picot", "corner", "no bead", "repeat")
_MEANS = {
    "single": "one bead in each space",
    "together": "both in one space, side by side: an increase",
    "as one": "laid side by side in one space; the next round passes through them as if they were one bead",
    "picot": "all in one space; the next round passes through the middle one alone",
    "corner": "all in one space; the next round passes through the outer two",
    "no bead": "pass straight on into the next up bead: a decrease",
    "repeat": "the group so many times in all",
}


def abbreviations(rounds: Iterable[Written], *, increases: bool) -> tuple[tuple[str, str], ...]:
    """(as it is written, what it means) of each form that occurs, by its first example.

    `increases`: beads together in one space are an increase here; in other techniques they are one stitch.
    """
    found: dict[str, tuple[str, str]] = {}
    for written in rounds:
        for item in _walk(written.items):
            form = "repeat" if isinstance(item, Repeat) else item.form
            if form in found:
                continue
            if isinstance(item, Repeat):
                found[form] = (f"(…) x {item.times}", f"{_MEANS[form]}: {item.times} times")
                continue
            means = _MEANS[form]
            if form == "together" and not (increases and len(item.codes) == 2):
                means = "picked up and laid as one stitch"
            found[form] = (print_lay(item), f"{aloud(item)}: {means}")
    return tuple(found[form] for form in _ORDER if form in found)


def _walk(items: Iterable[Item]) -> Iterator[Lay | Repeat]:
    for item in items:
        if isinstance(item, Lay):
            yield item
        elif isinstance(item, Repeat):
            yield item
            yield from _walk(item.items)
