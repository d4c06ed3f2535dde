"""What somebody wants to stitch, and the plan that says so."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import cycle, islice
from typing import Any

from stitchalong.course.words import sentence
from stitchalong.plan.printed import print_plan
from stitchalong.plan.sizes import even_sides

SQUARE_CORNERS = "3-2-2-1-0"
"""The cycle of corner codes by which four sides lie flat: three increases in five rounds (0.6 · 2 columns a round and
rib, where 1.23 would be flat for beads of 1.6 by 1.3 mm)."""


class Kind(StrEnum):
    """The sorts of piece that can be begun so; the values are what a person reads."""

    FINS = "a ring with fins on one edge"
    FINS_BOTH = "a ring with fins on both edges"
    TUBE = "a plain tube or band"
    TRIANGLE = "a flat triangle"
    SQUARE = "a flat square"
    STRIP = "a flat strip"

    @property
    def finned(self) -> bool:
        return self in (Kind.FINS, Kind.FINS_BOTH)

    @property
    def about(self) -> str:
        """In a sentence or two, for somebody who has to choose."""
        return _ABOUT[self]


_ABOUT = {
    Kind.FINS: "A band closed to a ring; on its upper edge two beads over each marker, round after round, so that fins "
    "rise. The lower edge stays plain.",
    Kind.FINS_BOTH: "A band closed to a ring, with fins that rise from its upper edge and from its lower.",
    Kind.TUBE: "Beads strung and closed, then one bead in every space, round after round: a ring, a bangle, a case.",
    Kind.TRIANGLE: "From three beads outwards, with two beads at each corner in every round; it lies flat.",
    Kind.SQUARE: "From four beads outwards, with as many beads at its corners as let it lie flat.",
    Kind.STRIP: "Worked to and fro with an even number of beads across: a strap, a bookmark, a strip to be closed.",
}


@dataclass(frozen=True, slots=True)
class Colour:
    """A bead of the palette."""

    name: str
    rgb: str
    """`#rrggbb` or a plain name of the plan's"""


@dataclass(frozen=True, slots=True)
class Wanted:
    """A piece as it is wanted."""

    kind: Kind
    title: str
    size: str
    shape: str
    """of all beads"""
    colours: tuple[Colour, ...]
    """in the order of their letters, A first; of finned rings the last one marks the ribs"""
    order: tuple[str, ...]
    """letters of the rounds in order, worked over again"""
    count: int
    """of a finned ring its units, of a tube the beads strung (even), of a strip its columns (even); else 0"""
    sides: int
    """of a finned ring"""
    rounds: int
    """of a finned ring those that rise, of others all (a tube and a strip count the first two)"""

    @property
    def codes(self) -> tuple[str, ...]:
        return tuple(islice(LETTERS, len(self.colours)))


LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def plan_data(wanted: Wanted) -> dict[str, Any]:
    """The plan as plain data."""
    beads: dict[str, dict[str, Any]] = {}
    for code, colour in zip(wanted.codes, wanted.colours, strict=True):
        beads[code] = {"name": colour.name, "colour": colour.rgb, "size": wanted.size, "shape": wanted.shape}
    if wanted.kind.finned:
        beads[wanted.codes[-1]]["marker"] = True
    works = [work for work, _ in _works(wanted)]
    return {
        "title": wanted.title,
        "about": sentence(wanted.kind),
        "beads": beads,
        "work": works,
    }


def plan_text(wanted: Wanted) -> str:
    """The plan as a tidy file with comments, for a person to go on editing."""
    notes = {f"work[{nth}]": note for nth, (_, note) in enumerate(_works(wanted), start=1)}
    notes["beads"] = "A letter for each bead. Change names and colours as you like; #rrggbb is a colour too."
    head = ("A plan for stitchalong, made by `stitchalong new`.", "`stitchalong check` counts it after each change.")
    return print_plan(plan_data(wanted), head=head, notes=notes)


def _works(wanted: Wanted) -> Iterator[tuple[dict[str, Any], str]]:
    match wanted.kind:
        case Kind.FINS | Kind.FINS_BOTH:
            yield from _finned(wanted)
        case Kind.TUBE:
            strung = _strung(wanted.order[:2], wanted.count)
            yield {"start": "tube", "beads": strung}, f"Rounds 1 and 2 are strung at once: {wanted.count} beads."
            yield _rise(_from(wanted.order, 2), wanted.rounds - 2), "One letter a round, over again."
        case Kind.STRIP:
            start = {"start": "strung row", "beads": _strung(wanted.order[:2], wanted.count)}
            yield start, f"Rows 1 and 2 are strung at once: {wanted.count} beads, an even number."
            yield (
                {"stitch": "flat peyote", "rows": _from(wanted.order, 2), "height": wanted.rounds - 2},
                "One letter a row, over again; more or fewer rows make it longer or shorter.",
            )
        case Kind.TRIANGLE:
            yield {"start": "ring", "beads": f"3{wanted.order[0]}"}, "Round 1: a ring of three."
            work = _rise(_from(wanted.order, 1), wanted.rounds - 1)
            yield (
                work | {"increase": {"at": "every space", "from_round": 2}},
                "Two beads at each corner in every round.",
            )
        case Kind.SQUARE:
            yield {"start": "ring", "beads": f"4{wanted.order[0]}"}, "Round 1: a ring of four."
            work = _rise(_from(wanted.order, 1), wanted.rounds - 1)
            yield (
                work | {"corners": {"code": SQUARE_CORNERS, "at": "every space", "from_round": 3}},
                "How many beads stand at each corner, round after round, from round 3 on; so it lies flat.",
            )


def _finned(wanted: Wanted) -> Iterator[tuple[dict[str, Any], str]]:
    main, marker = wanted.codes[0], wanted.codes[-1]
    plain = [units - 1 for units in even_sides(wanted.count, wanted.sides)]
    start = {"start": "MRAW band", "frame": main, "side": main, "marker": marker}
    equal = len(set(plain)) == 1
    yield (
        start | ({"sides": wanted.sides, "units": wanted.count} if equal else {"sides": plain}),
        f"The band: {wanted.count} units. A marker ends each side, so that nobody need count on the way up.",
    )
    rise = _rise(list(wanted.order), wanted.rounds + 1, edge="top")
    rib = f"{marker}{marker}"
    yield (
        rise | {"increase": {"over": marker, "with": rib, "from_round": 2}},
        f"One plain round, then {wanted.rounds} with two beads over each marker: they stack, and the fins rise.",
    )
    if wanted.kind is Kind.FINS_BOTH:
        other = _rise(list(wanted.order), wanted.rounds + 1, edge="bottom")
        yield (
            other | {"fill": main, "increase": {"over": "ribs", "with": rib, "from_round": 2}},
            "The other edge: its spaces are filled, then the same, with the fins facing those of the first.",
        )
    else:
        yield _rise([main], 1, edge="bottom") | {"fill": main}, "The other edge stays plain: filled, and one round."


def _rise(rounds: list[str], height: int, edge: str = "top") -> dict[str, Any]:
    return {"stitch": "peyote", "edge": edge, "rounds": rounds, "height": height}


def _from(order: Sequence[str], done: int) -> list[str]:
    """The letters of the rounds that follow after so many, as one turn of the cycle."""
    return list(islice(cycle(order), done, done + len(order)))


def _strung(pair: Sequence[str], count: int) -> str:
    """Beads of two rounds strung at once: the first bead is of round 2."""
    first, second = pair[0], pair[-1]
    if first == second:
        return f"{count}{first}"
    return f"({second}, {first}) x {count // 2}"
