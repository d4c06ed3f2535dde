"""Which count fits a finger, a hand or a wrist: a size is typed, counts come out, and one is begun."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from stitchalong.course.words import sentence
from stitchalong.errors import UsageError
from stitchalong.measure import fit_words
from stitchalong.measure.fit import Choice, Other
from stitchalong.measure.fitting import Begun, Fitted, Fitting
from stitchalong.measure.of_start import asks_for, way_of
from stitchalong.measure.sizes import Scale, read_ring_size, ring_size
from stitchalong.measure.strap import Strap, straps, to_write
from stitchalong.measure.units import Units, length, length_range
from stitchalong.measure.wear import Ease, bangle, bracelet, read_hand, read_wrist
from stitchalong.screens.beside.sheet import Done, entries, field, typed
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.lines import BLANK, Line, line, wrapped
from stitchalong.screens.measuring.telling import fault_words
from stitchalong.screens.panels import Keys

_FINGER, _HAND, _WRIST = "finger", "hand", "wrist"
_HINTS = {
    _FINGER: "Its size, as US 7, UK N½, ISO 54, JP 14, 54.4 mm or 17.3 mm across.",
    _HAND: "The closed hand, thumb and little finger together, at its widest: as 20cm or 8 in.",
    _WRIST: "The wrist, measured snugly: as 16cm or 6 1/2 in.",
}
_MOST = 20
"""characters of a size"""


@dataclass(frozen=True, slots=True)
class Wanted:
    """A plan is to be begun so."""

    units: int
    sides: int | None


@dataclass(frozen=True, slots=True)
class _Entry:
    """A line of the list: a count, with what is said when it is marked."""

    words: str
    told: tuple[str, ...]
    choice: Choice | None = None
    kind: Other | None = None


@dataclass(frozen=True, slots=True)
class FitSheet:
    """What is typed, and what comes of it."""

    title: str
    fitting: Fitting
    units: Units
    sorts: tuple[str, ...]
    """what of the wearer can be measured for this plan"""
    sort: str
    text: str = ""
    fault: str = ""
    word: str = ""
    """what is counted"""
    said: tuple[str, ...] = ()
    """below the list, as far as there is room"""
    possible: str = ""
    """what can be begun, where the nearest cannot"""
    caution: str = ""
    """said again before it is begun"""
    entries: tuple[_Entry, ...] = ()
    at: int = 0
    asking: Begun | None = None
    """before it is begun, once more"""

    @classmethod
    def of(cls, title: str, fitting: Fitting, units: Units) -> FitSheet:
        """Raises UsageError for a plan that fits nobody in particular, or whose beads are not known."""
        sorts = _sorts(fitting)
        if not sorts:
            raise UsageError("the size of this plan cannot be chosen, or its beads' measures are not known")
        return cls(title, fitting, units, sorts, sorts[0])

    @property
    def keys(self) -> Keys:
        if self.asking is not None:
            return (("Enter", "begin"), ("Escape", "back to the list"))
        more = (("Left Right", " or ".join(self.sorts)),) if len(self.sorts) > 1 else ()
        enter = (("Enter", "begin it so"),) if self.entries and self.sort != _WRIST else ()
        return (*enter, ("Escape", "leave"), ("Up Down", "mark"), *more)

    # ---- keys -----------------------------------------------------------------------------------

    def press(self, key: str, character: str) -> FitSheet | Done:
        if self.asking is not None:
            if key == "enter" and self.asking.units is not None:
                return Done(chosen=Wanted(self.asking.units, self.asking.sides))
            return replace(self, asking=None) if key in ("escape", "backspace", "left") else self
        match key:
            case "escape":
                return Done()
            case "left" | "right" | "tab":
                nth = self.sorts.index(self.sort) + (-1 if key == "left" else 1)
                return replace(self, sort=self.sorts[nth % len(self.sorts)], text="")._looked()
            case "up":
                return replace(self, at=max(0, self.at - 1), fault="")
            case "down":
                return replace(self, at=min(max(0, len(self.entries) - 1), self.at + 1), fault="")
            case "enter":
                return self._begun()
        text = typed(self.text, key, character, most=_MOST)
        return self if text is None else replace(self, text=text)._looked()

    def _begun(self) -> FitSheet:
        entry = self.entries[self.at] if self.entries else None
        if entry is None or entry.choice is None:
            return self
        begun = self.fitting.begin_other(entry.kind, entry.choice)
        if begun.cannot:
            return replace(self, fault=f"{sentence(f'it cannot be begun so: {begun.cannot}')} {self.possible}".strip())
        if begun.units is None:
            other = "Another bead stands in the plan: change it there."
            written = sentence(to_write(self.fitting.plan, self.word, entry.choice.count))
            return replace(self, fault=other if entry.kind is Other.BEAD else written)
        return replace(self, asking=begun, fault="")

    def _looked(self) -> FitSheet:
        """Reckoned anew, from what is typed."""
        empty = replace(self, fault="", word="", said=(), possible="", caution="", entries=(), at=0)
        if not self.text.strip():
            return empty
        try:
            return empty._strip() if self.sort == _WRIST else empty._ring()
        except UsageError as error:
            return replace(empty, fault=fault_words(error))

    def _ring(self) -> FitSheet:
        finger = self.sort == _FINGER
        size = read_ring_size(self.text) if finger else ring_size(bangle(read_hand(self.text)).value, Scale.MM)
        fitted = self.fitting.find(size, finger=finger)
        found = _listed(fitted, self.units)
        at = next(nth for nth, entry in enumerate(found) if entry.choice == fitted.found.nearest)
        caution = sentence(fitted.found.caution) if fitted.found.caution else ""
        possible = self._possible(fitted)
        said = (*([possible] if possible else []), *self._said(fitted))
        return replace(
            self, word=fitted.found.word, said=said, possible=possible, caution=caution, entries=found, at=at
        )

    def _possible(self, fitted: Fitted) -> str:
        if not self.fitting.begin(fitted.found.nearest).cannot:
            return ""
        other = self.fitting.possible(fitted.found)
        return sentence(fit_words.possible_words(fitted.found, other, self.units))

    def _said(self, fitted: Fitted) -> tuple[str, ...]:
        caution = (fitted.found.caution,) if fitted.found.caution else ()
        detail = fit_words.detail(fitted, self.units)
        said = (fit_words.steps(fitted.found, self.units), *fitted.notes, *caution, *detail)
        return tuple(sentence(text) for text in said)

    def _strip(self) -> FitSheet:
        wrist = read_wrist(self.text)
        target = bracelet(wrist, Ease.COMFORTABLE)
        plan = self.fitting.plan
        word, some, nearest = straps(plan, self.fitting.book, target.value)
        found = tuple(_strap_entry(one, word, to_write(plan, word, one.count), self.units) for one in some)
        eases = ", ".join(f"{ease} {length(bracelet(wrist, ease).value, self.units)}" for ease in Ease)
        said = (
            f"Looked for: {length_range(target, self.units)} long, clasp and all, for a comfortable fit.",
            f"By the fit: {eases}.",
            f"Reckoned {nearest.length.basis}.",
        )
        return replace(self, word=word, said=said, entries=found, at=some.index(nearest))

    # ---- lines ----------------------------------------------------------------------------------

    def lines(self, width: int, height: int, glyphs: Glyphs) -> list[Line]:
        if self.asking is not None:
            return self._question(width)[:height]
        out = wrapped(f"What fits: {self.title}", width, "strong")[:1]
        out.append(field(f"{self.sort:<6}", self.text, True, glyphs, width))
        if self.fault:
            out += wrapped(self.fault, width, "message")
        if not self.entries:
            return [*out, *([] if self.fault else wrapped(_HINTS[self.sort], width, "dim"))][:height]
        told = [shown for text in self.entries[self.at].told for shown in wrapped(text, width, "strong")]
        rows = max(1, height - len(out) - len(told))
        listed = entries([entry.words for entry in self.entries], self.at, rows, width, glyphs)
        out += [*told, *listed]
        return [*out, *_as_fits(self.said, width, height - len(out))][:height]

    def _question(self, width: int) -> list[Line]:
        entry = self.entries[self.at]
        out = [line("Begin it so?", "strong"), BLANK, *wrapped(f"{self.title}: {entry.words}.", width, "strong")]
        return [*out, BLANK, *wrapped(self.caution, width)] if self.caution else out


def _sorts(fitting: Fitting) -> tuple[str, ...]:
    asks = asks_for(fitting.plan)
    if asks is not None and way_of(fitting.plan, fitting.book.gauge(asks.bead, asks.stitch, asks.per)) is not None:
        return _FINGER, _HAND
    try:
        straps(fitting.plan, fitting.book, 160.0)
    except UsageError:
        return ()
    return (_WRIST,)


def _listed(fitted: Fitted, units: Units) -> tuple[_Entry, ...]:
    """Counts one step apart, the nearest with equal sides, and the other ways."""
    found = fitted.found
    out = []
    for choice in (*found.choices, *fit_words.equal_ones(found)):
        out.append(_entry(fitted, choice, "", None, units))
    for one in found.alternatives:
        if one.kind is not Other.UNEQUAL:
            out.append(_entry(fitted, one.choice, f"{one.label}: ", one.kind, units))
    return tuple(out)


def _entry(fitted: Fitted, choice: Choice, label: str, kind: Other | None, units: Units) -> _Entry:
    found = fitted.found
    words = f"{label}{fit_words.counted_sides(found, choice)}, {fit_words.short(choice, units)}"
    if kind is None and choice == found.nearest:
        words += ", the nearest"
    return _Entry(words, (fit_words.size_words(found, choice, units),), choice, kind)


def _strap_entry(one: Strap, word: str, written: str, units: Units) -> _Entry:
    _, long, off = fit_words.strap_row(one, units)
    return _Entry(f"{one.count:,} {word}: {long}, {off}", (f"To begin it: {written}.",))


def _as_fits(texts: Sequence[str], width: int, rows: int) -> list[Line]:
    """As many of these as fit whole, in order, a blank line before them."""
    out: list[Line] = [BLANK]
    for text in dict.fromkeys(texts):
        more = wrapped(text, width, "dim")
        if len(out) + len(more) <= rows:
            out += more
    return out if len(out) > 1 else []
