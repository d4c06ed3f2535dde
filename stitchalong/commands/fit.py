"""How to begin a plan so that it fits a finger, a hand or a wrist.

With `--json` one object with `format`, `title`, `target` (mm that is looked for), `of` (what is counted), `nearest`,
`smaller`, `larger`, `equal_smaller`, `equal_larger` (each a choice or null), `choices` (a list), `step` and
`equal_step` (mm, the least changes there are), `alternatives` (a list of `kind`, `label` and `choice`), `notes`; of a
strip only those that mean something for it. A choice has `count`, `sides`, `length` (a figure in mm), `size` (of its
inside) and `fits` (the finger it is right for, which of a wide band is smaller; both null for a strip), `off` (mm) and
`begin`: the line to type, or null where the size stands in the plan itself; `cannot` says why it cannot be begun so, or
is empty. Where the nearest cannot be begun, `possible` is the nearest choice that can, or null; else it is left out.
"""

from __future__ import annotations

import shlex
from argparse import Namespace
from collections.abc import Iterator

from stitchalong.commands.figures import data_of
from stitchalong.commands.reading import Read, located, read
from stitchalong.commands.subject import units_of
from stitchalong.commands.table import columns
from stitchalong.commands.world import NAME, World
from stitchalong.course.compile import compile_plan
from stitchalong.errors import Exit, UsageError
from stitchalong.measure import fit_words
from stitchalong.measure.book import Book
from stitchalong.measure.fit import Alternative, Choice, Other
from stitchalong.measure.fitting import Begun, Fitted, Fitting
from stitchalong.measure.sizes import RingSize, Scale, read_ring_size, ring_size
from stitchalong.measure.strap import Strap, straps, to_write
from stitchalong.measure.units import Units, length_range
from stitchalong.measure.wear import Ease, bangle, bracelet, read_hand, read_wrist


def run(asked: Namespace, world: World) -> int:
    """`fit`."""
    units = units_of(asked, world)
    if asked.ease and not asked.wrist:
        raise UsageError("ease is for a bracelet with a clasp", fix="give the wrist: --wrist")
    wanted = None if asked.wrist else _wanted(asked)
    found = read(asked.plan, None, None)
    with located(found.loaded):
        course = compile_plan(found.plan)
    store = world.store()
    try:
        book = Book(store.measured(), asked.tension)
    finally:
        store.close()
    if wanted is None:
        document, lines = _strap(asked, found, book, units)
    else:
        fitting = Fitting(found.plan, course, book, asked.sides)
        fitted = fitting.find(wanted, finger=bool(asked.ring))
        document, lines = _document(asked, fitting, fitted), _lines(asked, fitting, fitted, units)
    if asked.json:
        world.say_data({"format": 1, "title": found.plan.title} | document)
    else:
        world.say(found.plan.title)
        world.say_all(lines)
    return Exit.OK


def _wanted(asked: Namespace) -> RingSize:
    """The inside that is looked for."""
    if asked.ring:
        return read_ring_size(asked.ring)
    return ring_size(bangle(read_hand(asked.hand)).value, Scale.MM)


# ---- rings and bangles --------------------------------------------------------------------------


def _line(asked: Namespace, begun: Begun) -> str | None:
    """What to type."""
    if begun.units is None:
        return None
    return f"{NAME} start {shlex.quote(asked.plan)} {fit_words.options(begun)}"


def _document(asked: Namespace, fitting: Fitting, fitted: Fitted) -> dict[str, object]:
    found = fitted.found

    def data(choice: Choice | None) -> dict[str, object] | None:
        return None if choice is None else _data(choice, fitting.begin(choice))

    def _data(choice: Choice, begun: Begun) -> dict[str, object]:
        return {
            "count": choice.count,
            "sides": list(choice.sides),
            "length": data_of(choice.inside),
            "size": str(choice.size),
            "fits": str(choice.fits),
            "off": round(choice.off, 4),
            "begin": _line(asked, begun),
            "cannot": begun.cannot,
        }

    def other(one: Alternative) -> dict[str, object]:
        choice = _data(one.choice, fitting.begin_other(one.kind, one.choice))
        return {"kind": str(one.kind), "label": one.label, "choice": choice}

    cannot = fitting.begin(found.nearest).cannot
    return {
        **({"possible": data(fitting.possible(found))} if cannot else {}),
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
        "alternatives": [other(one) for one in found.alternatives],
        "notes": list(fitted.every),
    }


def _lines(asked: Namespace, fitting: Fitting, fitted: Fitted, units: Units) -> Iterator[str]:
    """The answer in three lines; other ways and cautions; with `--all` every count near it, and where it comes from."""
    found = fitted.found
    who = asked.ring.strip() if asked.ring else f"a hand of {asked.hand.strip()}"
    yield from (line for line in fit_words.answer(fitted, who, units) if line)
    begun = fitting.begin(found.nearest)
    if begun.cannot:
        yield f"it cannot be begun so: {begun.cannot}" if asked.all else "it cannot be begun so; --all says why"
        other = fitting.possible(found)
        line = _line(asked, fitting.begin(other)) if other is not None else None
        yield fit_words.possible_words(found, other, units) + (f": {line}" if line else "")
    else:
        line = _line(asked, begun)
        yield f"to begin it: {line or to_write(fitting.plan, found.word, found.nearest.count)}"
    yield from _every(fitting, fitted, units) if asked.all else _others(fitting, fitted, units)


def _others(fitting: Fitting, fitted: Fitted, units: Units) -> Iterator[str]:
    found = fitted.found
    ways = fit_words.ways(found)
    yield f"{fit_words.steps(found, units)}{'; other ways:' if ways else ''}"
    for one in ways:
        begun = fitting.begin_other(one.kind, one.choice)
        yield f"  {fit_words.way_words(found, one, units)}; {fit_words.start_words(begun, one.kind is Other.BEAD)}"
    if fitted.for_hand:
        yield fit_words.hand_words(fitted, units)
    yield from fitted.notes
    if found.caution:
        yield found.caution
    yield "--all tells each count near it, more ways, how to measure, and where the figures come from"


def _every(fitting: Fitting, fitted: Fitted, units: Units) -> Iterator[str]:
    found = fitted.found
    yield ""
    yield f"{fit_words.steps(found, units)}:"
    rows = [("", *fit_words.heads(found), "to begin it")]
    for choice in (*found.choices, *fit_words.equal_ones(found)):
        begun = fitting.begin(choice)
        rows.append(("", *fit_words.row(found, choice, units), fit_words.start_words(begun)))
    yield from columns(rows, right=frozenset((1,)))
    if found.alternatives:
        yield ""
        yield "other ways, the nearest first:"
        rows = [("", "", *fit_words.heads(found), "to begin it")]
        for one in found.alternatives:
            begun = fitting.begin_other(one.kind, one.choice)
            words = fit_words.start_words(begun, one.kind is Other.BEAD)
            rows.append(("", one.label, *fit_words.row(found, one.choice, units), words))
        yield from columns(rows, right=frozenset((2,)))
    yield ""
    yield from fit_words.detail(fitted, units)


# ---- bracelets ----------------------------------------------------------------------------------


def _strap(asked: Namespace, found: Read, book: Book, units: Units) -> tuple[dict[str, object], Iterator[str]]:
    target = bracelet(read_wrist(asked.wrist), Ease(asked.ease or "comfortable"))
    word, choices, nearest = straps(found.plan, book, target.value)

    def data(one: Strap) -> dict[str, object]:
        return {
            "count": one.count,
            "sides": [],
            "length": data_of(one.length),
            "size": None,
            "fits": None,
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
        yield from fit_words.strap_answer(f"a wrist of {asked.wrist.strip()}", word, choices, nearest, units)
        yield f"to begin it: {to_write(found.plan, word, nearest.count)}"
        if asked.all:
            yield from columns([("", *fit_words.strap_row(one, units)) for one in choices], right=frozenset((1,)))
        yield f"looked for: {length_range(target, units)} long, clasp and all"
        yield f"reckoned: {nearest.length.basis}"
        yield from notes

    return document, lines()
