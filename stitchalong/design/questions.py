"""The questions by which a plan is made, one by one. Who asks is given: lines, a screen, a test."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Protocol, TypeVar

from stitchalong.course.words import counted
from stitchalong.design.wanted import LETTERS, Colour, Kind, Wanted
from stitchalong.errors import UsageError
from stitchalong.measure.beads import BeadSize
from stitchalong.measure.book import Book, known_bead
from stitchalong.measure.fit import Choice, fit
from stitchalong.measure.gauge import MRAW, PEYOTE, Per
from stitchalong.measure.rings import Way, band, tube
from stitchalong.measure.sizes import RingSize, Scale, read_ring_size, ring_size
from stitchalong.measure.units import Units, length, read_length
from stitchalong.measure.wear import bangle
from stitchalong.plan.colours import read_colour
from stitchalong.plan.text import clean, listed, shown

T = TypeVar("T")

MOST_COUNT = 2_000
MOST_ROUNDS = 500
LEAST_ROUNDS: Mapping[Kind, int] = {Kind.TUBE: 3, Kind.STRIP: 3, Kind.TRIANGLE: 2, Kind.SQUARE: 3}


@dataclass(frozen=True, slots=True)
class Question:
    """One question: what is asked, what an empty answer means, and what may be chosen (numbered from 1)."""

    text: str
    usual: str
    choices: tuple[str, ...] = ()


class Ask(Protocol):
    """Asks until the answer can be read. `read` raises UsageError with what is wrong."""

    def __call__(self, question: Question, read: Callable[[str], T]) -> T: ...


def wanted_by(ask: Ask, book: Book, units: Units) -> Wanted:
    """Ask everything. Whatever `ask` raises goes through."""
    kinds = tuple(Kind)
    kind = ask(Question("What shall it be?", "1", tuple(kinds)), lambda word: kinds[_choice(word, kinds)])
    title = ask(Question("What is it called?", "A new piece"), _title)
    bead = ask(Question("Which beads, by size and shape?", "11/0 cylinder"), known_bead)
    least = 2 if kind.finned else 1
    usual = "charcoal, teal, gold" if kind.finned else "charcoal, teal"
    mark = "; the last one marks the ribs" if kind.finned else ""
    colours = ask(
        Question(f"Which colours, with commas between (a name, or a name and #rrggbb){mark}?", usual),
        lambda word: read_colours(word, least),
    )
    codes = LETTERS[: len(colours)]
    plain = codes[:-1] if kind.finned else codes
    told = ", ".join(f"{code} {colour.name}" for code, colour in zip(codes, colours, strict=True))
    order = ask(
        Question(f"The colour of each round in order, by letters, worked over again ({told})?", " ".join(plain)),
        lambda word: read_order(word, codes),
    )
    sides = 1
    if kind.finned:
        sides = ask(Question("How many sides, so how many fins?", "4"), lambda word: _number(word, 2, 12, "sides"))
    count = _count(ask, kind, bead, book, units, sides)
    rounds = ask(_height(kind), lambda word: _number(word, LEAST_ROUNDS.get(kind, 1), MOST_ROUNDS, "rounds"))
    return Wanted(kind, title, bead.size, bead.shape, colours, order, count, sides, rounds)


# ---- how large ----------------------------------------------------------------------------------


def _count(ask: Ask, kind: Kind, bead: BeadSize, book: Book, units: Units, sides: int) -> int:
    if kind is Kind.STRIP:
        return ask(Question("How many beads wide, an even number?", "10"), lambda word: _even(word, 4, "beads"))
    if kind in (Kind.TRIANGLE, Kind.SQUARE):
        return 0
    way = way_for(kind, bead, book)
    what = "units" if kind.finned else "beads strung, an even number"
    text = f"How large: a ring size (US 7, ISO 54), the closed hand (hand 20 cm), or how many {what}?"
    if way is None:
        text = f"How many {what}?"
    usual = "28" if kind.finned else "40"
    least = 2 * sides if kind.finned else 6
    return ask(
        Question(text, usual),
        lambda word: _read_count(ask, word, kind, way, sides, units, least),
    )


def way_for(kind: Kind, bead: BeadSize, book: Book) -> Way | None:
    """How this kind makes a ring out of a count; None where the bead's measures are not known."""
    gauge = book.gauge(bead, MRAW, Per.UNIT) if kind.finned else book.gauge(bead, PEYOTE, Per.COLUMN)
    if gauge is None:
        return None
    return band(gauge) if kind.finned else tube(bead, gauge)


def _read_count(ask: Ask, word: str, kind: Kind, way: Way | None, sides: int, units: Units, least: int) -> int:
    plain = word.strip().casefold()
    number = re.fullmatch(r"(\d+)(?: (?:units|beads))?", plain)
    if number:
        return _number(number[1], least, MOST_COUNT, "units") if kind.finned else _even(number[1], least, "beads")
    if way is None:
        raise UsageError(f"“{shown(word)}” is no number", fix="the bead's measures are not known, so give a number")
    hand = plain.startswith("hand")
    size = ring_size(bangle(read_length(plain[4:])).value, Scale.MM) if hand else read_ring_size(word)
    found = _near(size, way, sides)
    if not found:
        raise UsageError(f"{size} is too small for {counted(sides, 'side')}", fix="a larger size, or fewer sides")
    texts = tuple(_offer(choice, way, units) for choice in found)
    nth = ask(Question("Which of these?", "1", texts), lambda answer: _choice(answer, texts))
    return found[nth].count * (1 if kind.finned else 2)


def _near(size: RingSize, way: Way, sides: int) -> tuple[Choice, ...]:
    """The nearest counts, the nearest with equal sides among them; the best first."""
    found = fit(size, way, sides)
    all_of = [found.nearest, found.larger, found.smaller, found.equal_larger, found.equal_smaller]
    counts = {choice.count: choice for choice in all_of if choice is not None and choice.count >= 2 * sides}
    return tuple(sorted(counts.values(), key=lambda choice: abs(choice.off)))


def _offer(choice: Choice, way: Way, units: Units) -> str:
    sides = f", sides of {' '.join(map(str, choice.sides))}" if len(choice.sides) > 1 else ""
    off = f"{length(abs(choice.off), units)} {'larger' if choice.off > 0 else 'smaller'} than asked for"
    return f"{counted(choice.count, way.word, way.word)}{sides}: {choice.size.text}, {off}"


def _height(kind: Kind) -> Question:
    if kind.finned:
        return Question("How many rounds do the fins rise?", "4")
    if kind is Kind.STRIP:
        return Question("How many rows long, the first two counted?", "60")
    if kind is Kind.TUBE:
        return Question("How many rounds high, the first two counted?", "10")
    return Question("How many rounds from the middle?", "8")


# ---- reading ------------------------------------------------------------------------------------


def _choice(word: str, choices: tuple[str, ...]) -> int:
    plain = word.strip()
    if plain.isascii() and plain.isdigit() and 1 <= int(plain[:9]) <= len(choices):
        return int(plain) - 1
    raise UsageError(f"“{shown(word)}” is none of them", fix=f"a number from 1 to {len(choices)}")


def _number(word: str, least: int, most: int, what: str) -> int:
    plain = word.strip()
    if not (plain.isascii() and plain.isdigit() and least <= int(plain[:9]) <= most):
        raise UsageError(f"“{shown(word)}” cannot be the number of {what}", fix=f"from {least} to {most:,}")
    return int(plain)


def _even(word: str, least: int, what: str) -> int:
    number = _number(word, least, MOST_COUNT, what)
    if number % 2:
        raise UsageError(f"{number} {what} is an odd number", fix=f"{number - 1} or {number + 1}")
    return number


def _title(word: str) -> str:
    title = clean(word)[:200]
    if not title:
        raise UsageError("it needs a name")
    return title


def read_colours(word: str, least: int) -> tuple[Colour, ...]:
    """Reads `charcoal, sea glass #7fb8ad, gold`. Raises UsageError."""
    found = tuple(_colour(part) for part in word.split(",") if part.strip())
    if not least <= len(found) <= len(LETTERS):
        raise UsageError(f"{counted(len(found), 'colour')} will not do", fix=f"from {least} to {len(LETTERS)}")
    return found


def _colour(text: str) -> Colour:
    name, _, code = clean(text).rpartition("#")
    name, rgb = (name.strip(), f"#{code.strip()}") if "#" in text else (clean(text), clean(text))
    try:
        rgb = read_colour(rgb)
    except ValueError as error:
        raise UsageError(f"“{shown(text.strip())}”: {error}") from None
    return Colour(name[:200] or rgb, rgb)


def read_order(word: str, codes: str) -> tuple[str, ...]:
    """Reads `A B A` or `ABA`. Raises UsageError."""
    letters = tuple(word.upper().replace(",", " ").replace(" ", ""))
    if not letters or not set(letters) <= set(codes) or len(letters) > MOST_ROUNDS:
        raise UsageError(
            f"“{shown(word)}” names no rounds", fix=f"letters from {listed(codes)}, such as {codes[0]} {codes[-1]}"
        )
    return letters
