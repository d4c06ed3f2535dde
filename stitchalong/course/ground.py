"""The ground that a round is laid on, and small work with runs of stitches."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import field, replace

from stitchalong.course.effort import Effort
from stitchalong.course.words import counted
from stitchalong.errors import Place, PlanError
from stitchalong.fabric.edge import Edge
from stitchalong.fabric.peyote import Run
from stitchalong.fabric.stitch import NO_BEAD, Make
from stitchalong.plan.model import Lay, Total
from stitchalong.values import value


@value
class Ground:
    """What a round is laid on."""

    edge: Edge
    ribs: frozenset[int]
    """columns in which pairs, corners or empty spaces have stood on this edge"""
    markers: frozenset[int]
    """columns of marker beads"""
    facing: frozenset[int]
    """rib columns of the band's other edge"""
    below: Callable[[], Sequence[str]]
    """the code of the bead under each space (two rounds down)"""
    place: Place
    number: int
    word: str = "round"
    """or `row`"""
    effort: Effort = field(default_factory=Effort)

    def refuse(
        self, what: str, fix: str | None = None, *, span: tuple[int, int] | None = None, text: str = ""
    ) -> PlanError:
        place = replace(self.place, source=text or None, span=span) if text else self.place
        return PlanError(what, fix=fix, place=place)

    def anchors(self) -> tuple[str, list[int]]:
        """What `rib` means here and where it stands (in halves): ribs, else markers, else what faces them."""
        for name, columns in (("rib", self.ribs), ("marker", self.markers), ("rib", self.facing)):
            places = self.edge.places_of(columns) if columns else []
            if places:
                return name, places
        return "rib", []


def make_of(lay: Lay) -> Make:
    """The fabric's value for a stitch of notation."""
    match lay.form:
        case "single":
            return Make.single(lay.codes[0])
        case "together":
            return Make.together(lay.codes)
        case "as one":
            return Make.as_one(lay.codes)
        case "picot":
            return Make.picot(lay.codes)
        case "corner":
            return Make.corner(lay.codes)
        case _:
            return NO_BEAD


def runs_from(fill: Make, size: int, special: dict[int, Make]) -> list[Run]:
    """Runs that fill `size` spaces with `fill`, but for the special spaces."""
    runs: list[Run] = []
    here = 0
    for space in sorted(special):
        if space > here:
            runs.append((fill, space - here))
        make = special[space]
        if runs and runs[-1][0] == make and (space == here):
            runs[-1] = (make, runs[-1][1] + 1)
        else:
            runs.append((make, 1))
        here = space + 1
    if size > here:
        runs.append((fill, size - here))
    return runs


def merged(runs: Sequence[Run]) -> list[Run]:
    """Equal neighbours made one run."""
    out: list[Run] = []
    for make, count in runs:
        if out and out[-1][0] == make:
            out[-1] = (make, out[-1][1] + count)
        elif count:
            out.append((make, count))
    return out


def turn_runs(runs: Sequence[Run], spaces: int) -> list[Run]:
    """The cyclic list of stitches, read from `spaces` further on."""
    head: list[Run] = []
    tail: list[Run] = []
    left = spaces
    for make, count in runs:
        taken = min(left, count)
        left -= taken
        if taken:
            head.append((make, taken))
        if count > taken:
            tail.append((make, count - taken))
    return merged([*tail, *head])


def stretches(halves: Sequence[int], size: int) -> Iterator[tuple[int, int]]:
    """The spaces between neighbouring places (in halves), cyclically: (first, how many)."""
    for index, low in enumerate(halves):
        high = halves[index + 1] if index + 1 < len(halves) else halves[0] + 2 * size
        first = (low + 1) // 2
        yield first, high // 2 - first


def sides_of(ground: Ground) -> list[int]:
    """Spaces of each side from the needle's, cyclically; empty where nothing bounds a side."""
    _, halves = ground.anchors()
    out = [count for _, count in stretches(halves, ground.edge.size)]
    # the last one is the side that the needle stands in
    return out[-1:] + out[:-1]


def increase_spaces(ground: Ground) -> set[int] | None:
    """The spaces over ribs, else over markers, else over what faces them; None where the edge has nothing such."""
    known = False
    for columns in (ground.ribs, ground.markers, ground.facing):
        if columns and ground.edge.places_of(columns):
            known = True
            spaces = set(ground.edge.spaces_over(columns))
            if spaces:
                return spaces
    return set() if known else None


def check_total(ground: Ground, total: Total | None, runs: Sequence[Run], text: str) -> None:
    """Hold a round against the count that the designer wrote behind it."""
    if total is None:
        return
    if total.of == "beads":
        have = sum(len(make.beads) * count for make, count in runs)
    else:
        have = sum(count for _, count in runs)
    if have != total.number:
        unit = "bead" if total.of == "beads" else "stitch"
        plural = "beads" if total.of == "beads" else "stitches"
        raise ground.refuse(
            f"the {ground.word} has {counted(have, unit, plural)}, not {total.number}",
            f"correct the check in brackets or the {ground.word}",
            span=total.span,
            text=text,
        )
