"""A plan in the making: what was answered so far, and what comes of it. The same for whoever asks: lines, a screen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from stitchalong.design.across import width_of
from stitchalong.design.asked import ASKED, KINDS, LEAST_ROUNDS, MOST_SIDES, SPARE_COLOURS, Question
from stitchalong.design.reading import (
    MOST_ROUNDS,
    colour_parts,
    read_choice,
    read_colours,
    read_even,
    read_number,
    read_order,
    read_title,
)
from stitchalong.design.sized import Offers, read_rows, read_size, way_for
from stitchalong.design.wanted import LETTERS, Colour, Kind, Wanted
from stitchalong.errors import StitchalongError, UsageError
from stitchalong.measure.beads import BeadSize
from stitchalong.measure.book import Book, known_bead
from stitchalong.measure.rings import Way
from stitchalong.measure.units import Units
from stitchalong.plan.colours import NAMED


@dataclass(frozen=True, slots=True)
class Draft:
    """What is answered. Reading a value raises UsageError where the answer to its question cannot be."""

    book: Book
    units: Units
    answers: Mapping[str, str] = field(default_factory=dict)
    """by key, as given; what is not answered is as usual"""

    @property
    def keys(self) -> tuple[str, ...]:
        """What is asked, in order, as far as answers stand."""
        return tuple(key for key, asked in ASKED.items() if asked.when(self))

    def question(self, key: str) -> Question:
        return ASKED[key].question(self)

    def text(self, key: str) -> str:
        """The answer as given, or the usual one."""
        return self.answers.get(key) or self.question(key).usual

    def answered(self, key: str, text: str) -> Draft:
        """With this answer, which may yet be wrong; an empty one is the usual.

        Another size makes other counts to choose from. What cannot be of another kind of piece becomes the usual.
        """
        gone = () if key in ("which", "title", "order", "rounds") else ("which",)
        draft = replace(self, answers={name: one for name, one in self.answers.items() if name not in gone})
        draft = replace(draft, answers={**draft.answers, key: text})
        if key == "kind" and key not in (faults := draft.faults()):
            draft = replace(draft, answers={name: one for name, one in draft.answers.items() if name not in faults})
        return draft

    def check(self, key: str) -> None:
        """Raises UsageError where the answer cannot be."""
        ASKED[key].read(self)

    def faults(self) -> dict[str, StitchalongError]:
        """What cannot be, by key: of what leans on another fault only that one."""
        found: dict[str, StitchalongError] = {}
        try:
            keys = self.keys
        except UsageError as error:
            return {"kind": error}
        for key in keys:
            if any(base in found for base in ASKED[key].leans_on):
                continue
            try:
                self.check(key)
            except UsageError as error:
                found[key] = error
        return found

    def stepped(self, key: str, by: int) -> Draft:
        """The next answer, or the one before, where there is an order; else as it is."""
        step = ASKED[key].step
        try:
            return self.answered(key, step(self, by)) if step is not None else self
        except UsageError:
            return self.answered(key, "")

    def wanted(self) -> Wanted:
        """All of it. Raises UsageError for the first answer that cannot be."""
        for key in self.keys:
            self.check(key)
        bead = self.bead
        return Wanted(
            self.kind, self.title, bead.size, bead.shape, self.colours, self.order, self.count, self.sides, self.rounds
        )

    # ---- values -----------------------------------------------------------------------------------

    @property
    def kind(self) -> Kind:
        return KINDS[read_choice(self.answers.get("kind") or "1", len(KINDS))]

    @property
    def title(self) -> str:
        return read_title(self.text("title"))

    @property
    def bead(self) -> BeadSize:
        return known_bead(self.text("bead"))

    @property
    def colours(self) -> tuple[Colour, ...]:
        return read_colours(self.text("colours"), 2 if self.kind.finned else 1)

    @property
    def codes(self) -> str:
        return LETTERS[: len(self.colours)]

    @property
    def order(self) -> tuple[str, ...]:
        return read_order(self.text("order"), self.codes)

    @property
    def sides(self) -> int:
        return read_number(self.text("sides"), 2, MOST_SIDES, "sides") if self.kind.finned else 1

    @property
    def way(self) -> Way | None:
        return way_for(self.kind, self.bead, self.book)

    @property
    def size(self) -> int | Offers:
        """A count, or some to choose from."""
        if self.kind is Kind.STRIP:
            return read_even(self.text("size"), 4, "beads")
        return read_size(self.text("size"), self.kind, self.way, self.sides, self.units, self.width)

    @property
    def width(self) -> float | None:
        """mm of a ring without its fins, which a wide one asks room for; None where that is not known."""
        try:
            return width_of(self.kind, self.bead, self.rounds)
        except UsageError:
            return None

    @property
    def count(self) -> int:
        """Units or beads to begin with; 0 for what begins with a few."""
        if "size" not in self.keys:
            return 0
        size = self.size
        if isinstance(size, Offers):
            return size.counts[read_choice(self.text("which"), len(size.counts))]
        return size

    @property
    def rounds(self) -> int:
        least = LEAST_ROUNDS.get(self.kind, 1)
        if self.kind is Kind.STRIP:
            return read_rows(self.text("rounds"), self.bead, self.book, least, MOST_ROUNDS)
        return read_number(self.text("rounds"), least, MOST_ROUNDS, "rounds")

    # ---- colours one by one -----------------------------------------------------------------------

    @property
    def colour_texts(self) -> tuple[str, ...]:
        return colour_parts(self.text("colours"))

    def with_colour(self, nth: int, text: str) -> Draft:
        """With another colour in this place; an empty one goes, and one place behind the last makes one more.

        Of what marks ribs the last colour stays the last.
        """
        parts = list(self.colour_texts)
        if nth < len(parts):
            parts[nth : nth + 1] = [text] if text else []
        elif text:
            parts.insert(len(parts) - (self.kind.finned and len(parts) > 1), text)
        return self.answered("colours", ", ".join(parts))

    def colour_stepped(self, nth: int, by: int) -> Draft:
        """The next of the colours that have a name; behind the last place, one more that is not there yet."""
        parts = self.colour_texts
        names = [name for name in NAMED if name != "gray"]
        if nth < len(parts):
            at = names.index(parts[nth]) if parts[nth] in names else -1 if by > 0 else 0
            return self.with_colour(nth, names[(at + by) % len(names)])
        return self.with_colour(nth, next((name for name in (*SPARE_COLOURS, *names) if name not in parts), names[0]))
