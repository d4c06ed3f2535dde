"""What is only doubtful in a plan that can be stitched: colours, rounds without a visible beginning, warping."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from stitchalong.course.course import Course
from stitchalong.errors import Place, Problem
from stitchalong.fabric.stitch import Kind, Note
from stitchalong.measure.beads import normal_shape, normal_size, table
from stitchalong.measure.eyes import alike
from stitchalong.measure.flat import Verdict
from stitchalong.measure.of_course import counts, flat_parts
from stitchalong.plan.model import Bead, Plan, RingStart
from stitchalong.plan.text import did_you_mean, listed

_SHOWS = Note.INCREASE | Note.DECREASE | Note.INSIDE | Note.RIB | Note.ENDS_SIDE | Note.MARKER
_ROUNDS = frozenset(("peyote", "tube", "ring"))
_LEAST = 3
"""rounds alike in a row from which the beginning is lost"""
MOST_PAIRS = 40
"""of colours that are told one by one"""


def doubts(course: Course, plan: Plan) -> Iterator[Problem]:
    """Everything doubtful, each with its place."""
    yield from _sizes(course, plan)
    yield from _colours(course, plan)
    yield from _beginnings(course, plan.source)
    yield from _warping(course, plan)


def _sizes(course: Course, plan: Plan) -> Iterator[Problem]:
    """Sizes that nothing is known of: a slip of the pen, or beads to be measured."""
    unknown: dict[tuple[str, str], list[str]] = {}
    laid = counts(course, plan)
    for bead in plan.beads:
        if bead.size and bead.code in laid and None in (bead.length, bead.width):
            size, shape = normal_size(bead.size), normal_shape(bead.shape)
            if not any(row.size == size and shape in ("", row.shape) for row in table().values()):
                unknown.setdefault((size, shape), []).append(bead.code)
    for (size, shape), codes in unknown.items():
        yield Problem(
            f"no measures are known of “{f'{size} {shape}'.strip()}” ({listed(codes, 'and')}), "
            "so no size, weight or thread is reckoned from it",
            Place(plan.source or None, key=f"beads.{codes[0]}"),
            f"{_sizes_near(size, shape)} Or give length and width in the plan, in millimetres",
            doubtful=True,
        )


def _sizes_near(size: str, shape: str) -> str:
    shapes = dict.fromkeys(row.shape for row in table().values())
    if shape and shape not in shapes:
        return (did_you_mean(shape, shapes) or f"Shapes known: {listed(shapes, 'and')}.").replace("did", "Did", 1)
    some = dict.fromkeys(row.size for row in table().values() if shape in ("", row.shape))
    return (did_you_mean(size, some) or f"Sizes known: {listed(some, 'and')}.").replace("did", "Did", 1)


def _colours(course: Course, plan: Plan) -> Iterator[Problem]:
    used = [bead for bead in plan.beads if bead.code in counts(course, plan)]
    told = 0
    for one, other in combinations(used, 2):
        if _told_by_touch(one, other) or told >= MOST_PAIRS:
            continue
        whom = alike(one.colour, other.colour)
        if whom:
            told += 1
            names = f"{one.code} ({one.name}) and {other.code} ({other.name})"
            yield Problem(
                f"{names} look alike {listed(whom, 'and')}",
                Place(plan.source or None, key=f"beads.{other.code}"),
                "a lighter or darker bead for one of them, or mind the letters",
                doubtful=True,
            )


def _told_by_touch(one: Bead, other: Bead) -> bool:
    """Whether both are known to differ in size or shape. One that says neither may be as the other."""
    return bool(
        (one.size and other.size and one.size != other.size) or (one.shape and other.shape and one.shape != other.shape)
    )


def _beginnings(course: Course, source: str) -> Iterator[Problem]:
    """Stretches of closed rounds in one bead with nothing to see where a round begins."""
    stretch: list[int] = []
    before: tuple[str, str, frozenset[str]] | None = None
    for index, item in enumerate(course.rounds):
        plain = _plain(course, index)
        here = (item.part, item.edge, plain) if plain is not None else None
        if here is None or here != before:
            yield from _lost(course, stretch, source)
            stretch = []
        if here is not None:
            stretch.append(index)
        before = here
    yield from _lost(course, stretch, source)


def _plain(course: Course, index: int) -> frozenset[str] | None:
    """The one bead of a closed round that shows nothing; None for any other round."""
    item = course.rounds[index]
    if item.flat or item.technique not in _ROUNDS:
        return None
    codes: set[str] = set()
    for stitch, _ in course.runs_of(index):
        if stitch.notes & _SHOWS or stitch.kind in (Kind.PICOT, Kind.CORNER, Kind.GROUP):
            return None
        codes.update(stitch.beads)
    return frozenset(codes) if len(codes) == 1 else None


def _lost(course: Course, stretch: list[int], source: str) -> Iterator[Problem]:
    if len(stretch) < _LEAST:
        return
    first, last = course.rounds[stretch[0]], course.rounds[stretch[-1]]
    begin = first.numbers[0] if first.numbers else first.number
    yield Problem(
        f"rounds {begin} to {last.number} on the {first.edge} edge are all of one bead: "
        "nobody can see where a round begins",
        Place(source or None, key=f"work[{last.work + 1}]"),
        "lay one bead of another colour in the first round, or hang a thread loop at the step-up",
        doubtful=True,
    )


def _warping(course: Course, plan: Plan) -> Iterator[Problem]:
    """Of flat pieces that grow from a ring: those that come out too full. A fin on a band is meant to rise."""
    if not isinstance(plan.work[0], RingStart):
        return
    for part in flat_parts(course, plan):
        found = part.flatness
        if found.verdict in (Verdict.SADDLE, Verdict.RUFFLE):
            yield Problem(
                f"rounds {part.first} to {part.last} {_word(found.verdict)}: they grow to {found.angle:.0f} degrees, "
                f"and flat is 360{'; ' + found.doubt if found.doubt else ''}",
                Place(plan.source or None, key=f"work[{course.rounds[-1].work + 1}]"),
                "fewer increases, or leave it if that is meant",
                doubtful=True,
            )


def _word(verdict: Verdict) -> str:
    return "will ruffle" if verdict is Verdict.RUFFLE else "will warp to a saddle"
