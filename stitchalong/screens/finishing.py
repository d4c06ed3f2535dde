"""A piece is finished: how it came out is asked, and what that makes of one's own gauge is told.

What cannot be is told while it is typed; it hinders nobody, but is left out of the gauge.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import field, replace

from stitchalong.course.words import sentence
from stitchalong.errors import StitchalongError
from stitchalong.measure.units import Units
from stitchalong.plan.text import listed
from stitchalong.screens.beside.sheet import Done, typed
from stitchalong.screens.beside.sheet import field as field_line
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.lines import BLANK, Line, line, wrapped
from stitchalong.screens.panels import Keys
from stitchalong.session.finishing import SIZE, TENSION, THREAD, Ending, finish
from stitchalong.store import PieceSummary, Store
from stitchalong.values import value

_FIELDS = (SIZE, THREAD, TENSION)
_HINTS = (
    "The ring size that it came out at, as US 7, UK N, or the way round the inside, as 54.4mm.",
    "All the thread it took, as 1.9m: what was cut, less what was left over.",
    "A word of your own for how you pulled, such as tight; none is your usual one.",
)
_MOST = 20
"""characters of a field"""


@value
class FinishSheet:
    """Three fields that may all stay empty; then what was learnt from them."""

    store: Store
    piece: PieceSummary
    units: Units = Units.METRIC
    values: tuple[str, ...] = ("",) * len(_FIELDS)
    at: int = 0
    fault: str = ""
    asking: tuple[str, ...] = ()
    """what would be left out, where Enter once more finishes it so"""
    ending: Ending | None = field(default=None, compare=False)
    """made when something is said"""
    learnt: tuple[str, ...] | None = None
    """a line each, once it is finished"""

    @property
    def keys(self) -> Keys:
        if self.learnt is not None:
            return (("Enter", "close"),)
        enter = "finish, and leave that out" if self.asking else "it is finished"
        return (("Enter", enter), ("Escape", "leave it as it is"), ("Up Down", "field"))

    def press(self, key: str, character: str) -> FinishSheet | Done:
        if self.learnt is not None:
            return Done(message=f"“{self.piece.name}” is finished.") if key in ("enter", "escape", "space") else self
        match key:
            case "escape":
                return Done()
            case "up" | "shift+tab":
                return self._marked(max(0, self.at - 1))
            case "down" | "tab":
                return self._marked(min(len(_FIELDS) - 1, self.at + 1))
            case "enter":
                return self._finished()
        text = typed(self.values[self.at], key, character, most=_MOST)
        if text is None:
            return self
        typed_so = replace(self, values=(*self.values[: self.at], text, *self.values[self.at + 1 :]))
        ending = self._held()
        doubt = ending.doubt(_FIELDS[self.at], text.strip())
        return replace(typed_so, fault=_words(doubt) if doubt else "", asking=(), ending=ending)

    def _held(self) -> Ending:
        return self.ending or Ending(self.store, self.piece.id)

    def _faults(self, ending: Ending) -> dict[str, StitchalongError]:
        return ending.faults(*(text.strip() for text in self.values))

    def _marked(self, at: int) -> FinishSheet:
        """With another field marked, and what is wrong there."""
        fault = ""
        ending = self.ending
        if self.values[at].strip():
            ending = self._held()
            error = self._faults(ending).get(_FIELDS[at])
            fault = _words(error) if error else ""
        return replace(self, at=at, fault=fault, asking=(), ending=ending)

    def _finished(self) -> FinishSheet | Done:
        """Finish it; where something cannot be, ask once whether it shall be left out."""
        said = dict(zip(_FIELDS, (text.strip() for text in self.values), strict=True))
        ending = self._held()
        try:
            faults = self._faults(ending) if any(said.values()) else {}
            if faults and not self.asking:
                first = next(iter(faults))
                return replace(
                    self, at=_FIELDS.index(first), fault=_words(faults[first]), asking=tuple(faults), ending=ending
                )
            said |= dict.fromkeys(faults, "")
            if not said[SIZE]:
                said[TENSION] = ""
            learnt = finish(
                self.store,
                self.piece.id,
                size=said[SIZE] or None,
                thread=said[THREAD] or None,
                tension=said[TENSION],
                units=self.units,
                ending=ending,
            )
        except StitchalongError as error:
            return replace(self, fault=_words(error), asking=(), ending=ending)
        return replace(self, learnt=tuple(learnt)) if learnt else Done(message=f"“{self.piece.name}” is finished.")

    def lines(self, width: int, height: int, glyphs: Glyphs) -> list[Line]:
        out = wrapped(f"{self.piece.name}: how did it come out?", width, "strong")
        if self.learnt is not None:
            return [*out, *_told(self.learnt, width)][:height]
        for nth, name in enumerate(_FIELDS):
            out.append(field_line(f"{name:<8}", self.values[nth], nth == self.at, glyphs, width))
        if self.fault:
            out += wrapped(self.fault, width, "message")
            if self.asking:
                left = f"Enter once more finishes it, and leaves its {listed(self.asking, 'and')} out of your gauge."
                out += wrapped(left, width)
            return out[:height]
        out += wrapped(_HINTS[self.at], width, "dim")
        about = "Each may stay empty. What you say makes your own gauge better, for the next piece."
        more = [BLANK, *wrapped(about, width)]
        if self.piece.state == "going" and self.piece.position < self.piece.steps:
            more += wrapped("Not every bead of the plan is counted yet; it may be finished all the same.", width)
        return [*out, *more][:height]


def _words(error: StitchalongError) -> str:
    return " ".join(sentence(str(problem)) for problem in error.problems)


def _told(learnt: Sequence[str], width: int) -> list[Line]:
    out = [line("It is kept. Your own gauge now:"), BLANK]
    for text in learnt:
        out += wrapped(sentence(text), width)
    return out
