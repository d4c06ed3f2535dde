"""How to begin a plan so that it fits a finger, a hand or a wrist.

With `--json` one object with `format`, `title`, `target` (mm that is looked for), `of` (what is counted), `nearest`,
`smaller`, `larger`, `equal_smaller`, `equal_larger` (each a choice or null), `choices` (a list), `step` and
`equal_step` (mm, the least changes there are), `alternatives` (a list of `kind`, `label` and `choice`), `notes`; of a
strip only those that mean something for it. A choice has `count`, `sides`, `length` (a figure in mm), `size` (null for
a strip), `off` (mm) and `begin`: the line to type, or null where the size stands in the plan itself; `cannot` says why
it cannot be begun so, or is empty.
"""

from __future__ import annotations

import shlex
from argparse import Namespace
from collections.abc import Iterator
from dataclasses import dataclass, replace

from stitchalong.commands.figures import data_of
from stitchalong.commands.reading import Read, located, read
from stitchalong.commands.subject import units_of
from stitchalong.commands.world import NAME, World
from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.course.sides import sides_of
from stitchalong.errors import Exit, PlanError, UsageError
from stitchalong.measure.beads import table
from stitchalong.measure.book import Book
from stitchalong.measure.figure import Figure
from stitchalong.measure.fit import Choice, Fit, Other, fit
from stitchalong.measure.gauge import MRAW, Per
from stitchalong.measure.of_start import DROP_TUBE, WEAVE_RING, asks_for, size_note, way_of, width
from stitchalong.measure.rings import Way, band
from stitchalong.measure.sizes import RingSize, Scale, read_ring_size, ring_size
from stitchalong.measure.strap import Strap, straps
from stitchalong.measure.units import Units, length, length_range, read_length
from stitchalong.measure.wear import MEASURE_WELL, Ease, bangle, bracelet
from stitchalong.plan.model import Band, Foundation, TubeStart
from stitchalong.plan.sizes import resized


def run(asked: Namespace, world: World) -> int:
    """`fit`."""
    units = units_of(asked, world)
    if asked.ease and not asked.wrist:
        raise UsageError("ease is for a bracelet with a clasp", fix="give the wrist: --wrist")
    wanted = _wanted(asked)
    found = read(asked.plan, None, None)
    with located(found.loaded):
        course = compile_plan(found.plan)
    store = world.store()
    try:
        book = Book(store.measured(), asked.tension)
    finally:
        store.close()
    if asked.wrist:
        document, lines = _strap(
            found, book, bracelet(read_length(asked.wrist), Ease(asked.ease or "comfortable")), units
        )
    else:
        document, lines = _ring(_Fitting(asked, found, course, book), wanted, units)
    if asked.json:
        world.say_data({"format": 1, "title": found.plan.title} | document)
    else:
        world.say(found.plan.title)
        world.say_all(lines)
    return Exit.OK


def _wanted(asked: Namespace) -> RingSize | None:
    """The inside that is looked for; None for a strip."""
    if asked.ring:
        return read_ring_size(asked.ring)
    if asked.hand:
        return ring_size(bangle(read_length(asked.hand)).value, Scale.MM)
    return None


# ---- rings and bangles --------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Fitting:
    """A plan, and how it is begun in another size."""

    asked: Namespace
    found: Read
    course: Course
    book: Book

    @property
    def sides(self) -> int:
        """How many: as asked for, or as the plan has."""
        start = self.found.plan.work[0]
        if self.asked.sides is not None:
            if not isinstance(start, Band):
                raise UsageError("only a band has sides that can be named", fix="leave --sides out")
            return int(self.asked.sides)
        return len(sides_of(self.course.runs_of(0)).lengths) if isinstance(start, Band) else 1

    def begin(self, choice: Choice) -> tuple[str | None, str]:
        """The line to type, and why it cannot be begun so. No line where the size stands in the plan itself."""
        plan = self.found.plan
        start = plan.work[0]
        if not isinstance(start, Band | TubeStart):
            return None, ""
        count = choice.count if isinstance(start, Band) else 2 * choice.count
        own = self.sides == len(choice.sides) and self.asked.sides is None
        sides = None if own or len(choice.sides) == 1 else len(choice.sides)
        line = f"{NAME} start {shlex.quote(self.asked.plan)} --units {count}"
        if sides is not None:
            line += f" --sides {sides}"
        try:
            compile_plan(resized(plan, count, sides))
        except PlanError as error:
            problem = error.problems[0]
            return line, f"{problem.what} ({problem.fix})" if problem.fix else problem.what
        return line, ""

    def others(self) -> dict[str, Way]:
        """The same band in other beads of the same shape."""
        asks = asks_for(self.found.plan)
        if asks is None or asks.stitch != MRAW:
            return {}
        found = {}
        for bead in table().values():
            gauge = self.book.gauge(bead, MRAW, Per.UNIT) if bead.shape == asks.bead.shape else None
            if gauge is not None and bead.size != asks.bead.size:
                found[f"{bead.size} {bead.shape}"] = band(gauge)
        return found


def _ring(fitting: _Fitting, wanted: RingSize | None, units: Units) -> tuple[dict[str, object], Iterator[str]]:
    assert wanted is not None
    plan = fitting.found.plan
    start = plan.work[0]
    asks = asks_for(plan)
    way = way_of(plan, fitting.book.gauge(asks.bead, asks.stitch, asks.per) if asks else None)
    choosable = isinstance(start, Band | TubeStart) or (
        isinstance(start, Foundation) and start.start in (WEAVE_RING, DROP_TUBE)
    )
    if way is None or asks is None or not choosable:
        raise UsageError(
            "this plan begins with no ring whose size can be chosen, or its beads' measures are not known",
            fix=f"`{NAME} size` tells what is known of it",
        )
    across = width(fitting.course, plan)
    is_finger = bool(fitting.asked.ring)
    if isinstance(start, TubeStart):
        way = replace(way, least=3)
    found = fit(
        wanted, way, fitting.sides, width=across.value if across and is_finger else None, others=fitting.others()
    )
    notes = [note for note in (size_note(plan),) if note]
    notes += found.advice
    if is_finger:
        notes.append(MEASURE_WELL)
    if found.caution:
        notes.append(found.caution)
    basis = f"reckoned for {asks.bead.size} {asks.bead.shape}: {found.nearest.inside.basis}"
    return _ring_document(fitting, found, notes), _ring_lines(fitting, found, [basis, *notes], units)


def _ring_document(fitting: _Fitting, found: Fit, notes: list[str]) -> dict[str, object]:
    def data(choice: Choice | None) -> dict[str, object] | None:
        return None if choice is None else _choice_data(choice, *fitting.begin(choice))

    return {
        "target": round(found.target, 4),
        "of": found.word,
        "nearest": data(found.nearest),
        "smaller": data(found.smaller),
        "larger": data(found.larger),
        "equal_smaller": data(found.equal_smaller),
        "equal_larger": data(found.equal_larger),
        "choices": [data(choice) for choice in found.choices],
        "step": round(found.step, 4),
        "equal_step": round(found.equal_step, 4),
        "alternatives": [
            {
                "kind": str(other.kind),
                "label": other.label,
                "choice": _choice_data(other.choice, *_begin_other(fitting, other.kind, other.choice)),
            }
            for other in found.alternatives
        ],
        "notes": notes,
    }


def _begin_other(fitting: _Fitting, kind: Other, choice: Choice) -> tuple[str | None, str]:
    """Another bead cannot be asked for: it stands in the plan."""
    return (None, "") if kind is Other.BEAD else fitting.begin(choice)


def _choice_data(choice: Choice, line: str | None, cannot: str) -> dict[str, object]:
    return {
        "count": choice.count,
        "sides": list(choice.sides),
        "length": data_of(choice.inside),
        "size": str(choice.size),
        "off": round(choice.off, 4),
        "begin": line,
        "cannot": cannot,
    }


def _ring_lines(fitting: _Fitting, found: Fit, notes: list[str], units: Units) -> Iterator[str]:
    looked_for = f"looked for: {length(found.target, units)} around inside"
    asked = fitting.asked
    wider = found.target - found.finger.circumference
    if asked.ring and wider > 0.05:
        own = length(found.finger.circumference, units)
        yield f"{looked_for}: {found.finger} is {own}, and so wide a band asks for {length(wider, units)} more"
    else:
        yield f"{looked_for}, for {found.finger}" if asked.ring else f"{looked_for}, for a hand of {asked.hand.strip()}"
    line, cannot = fitting.begin(found.nearest)
    yield f"nearest: {_choice_words(found, found.nearest, units)}"
    if cannot:
        yield f"    cannot be begun so: {cannot}"
    elif line is not None:
        yield f"    to begin it: {line}"
    else:
        yield f"    to begin it: change the plan's start to {found.nearest.count} {found.word}"
    for word, choice in (("smaller", found.smaller), ("larger", found.larger)):
        if choice is None:
            yield f"{word}: none"
        elif choice.count != found.nearest.count:
            yield f"{word}: {_choice_words(found, choice, units)}"
    if len(found.nearest.sides) > 1:
        for word, choice in (("smaller", found.equal_smaller), ("larger", found.equal_larger)):
            if choice is not None and choice.count != found.nearest.count:
                yield f"{word}, with equal sides: {_choice_words(found, choice, units)}"
    yield f"one step apart ({length(found.step, units)}, {found.step_us:.2f} US sizes):"
    for choice in found.choices:
        line, cannot = fitting.begin(choice)
        tail = "cannot be begun so" if cannot else line or ""
        yield f"  {_choice_words(found, choice, units)}{'; ' if tail else ''}{tail}"
    if len(found.nearest.sides) > 1:
        step = f"{length(found.equal_step, units)}, {found.equal_step_us:.1f} US sizes"
        yield f"with equal sides a step is {step}; other ways, the nearest first:"
    for other in found.alternatives[:6]:
        line, cannot = _begin_other(fitting, other.kind, other.choice)
        tail = "cannot be begun so" if cannot else line or "another bead in the plan"
        yield f"  {other.label}: {_choice_words(found, other.choice, units)}; {tail}"
    yield from notes


def _choice_words(found: Fit, choice: Choice, units: Units) -> str:
    """`26 units, sides 7 6 7 6: 58.2 mm (55.9 to 60.6), US 8½, 0.9 mm more than looked for`."""
    words = f"{choice.count} {found.word}"
    if len(choice.sides) > 1:
        sides = " ".join(map(str, choice.sides)) if len(choice.sides) <= 12 else f"{len(choice.sides)} of them"
        words += f", equal sides of {choice.sides[0]}" if choice.equal else f", sides {sides}"
    words += f": {length_range(choice.inside, units)}"
    if choice.size.scale is not Scale.MM:
        words += f", {choice.size}"
    if abs(choice.off) < 0.05:
        return f"{words}, as looked for"
    return f"{words}, {length(abs(choice.off), units)} {'more' if choice.off > 0 else 'less'}"


# ---- bracelets ----------------------------------------------------------------------------------


def _strap(found: Read, book: Book, target: Figure, units: Units) -> tuple[dict[str, object], Iterator[str]]:
    word, choices, nearest = straps(found.plan, book, target.value)

    def data(one: Strap) -> dict[str, object]:
        return {
            "count": one.count,
            "sides": [],
            "length": data_of(one.length),
            "size": None,
            "off": round(one.off, 4),
            "begin": None,
            "cannot": "",
        }

    notes = [f"{target.basis}; the clasp's own length is to be taken off"]
    document: dict[str, object] = {
        "target": round(target.value, 4),
        "of": word,
        "nearest": data(nearest),
        "choices": [data(one) for one in choices],
        "notes": notes,
    }

    def lines() -> Iterator[str]:
        yield f"looked for: {length_range(target, units)} long, clasp and all"
        yield f"nearest: {nearest.count} {word}: {length_range(nearest.length, units)}"
        if word == "rows":
            yield f"    to begin it: write height = {nearest.count - 2} into the plan; the strung row is rows 1 and 2"
        else:
            yield f"    to begin it: change the plan's start to {nearest.count} units"
        for one in choices:
            more = "more" if one.off > 0 else "less"
            yield f"  {one.count} {word}: {length_range(one.length, units)}, {length(abs(one.off), units)} {more}"
        yield f"reckoned: {nearest.length.basis}"
        yield from notes

    return document, lines()
