"""A piece is finished: how it came out is asked, and what that makes of one's own gauge is told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from stitchalong.course.words import sentence
from stitchalong.errors import StitchalongError
from stitchalong.measure.units import Units
from stitchalong.screens.beside.sheet import Done, field, typed
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.lines import BLANK, Line, line, wrapped
from stitchalong.screens.panels import Keys
from stitchalong.session.finishing import finish
from stitchalong.store import PieceSummary, Store
from stitchalong.values import value

_FIELDS = ("size", "thread", "tension")
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
    learnt: tuple[str, ...] | None = None
    """a line each, once it is finished"""

    @property
    def keys(self) -> Keys:
        if self.learnt is not None:
            return (("Enter", "close"),)
        return (("Enter", "it is finished"), ("Escape", "leave it as it is"), ("Up Down", "field"))

    def press(self, key: str, character: str) -> FinishSheet | Done:
        if self.learnt is not None:
            return Done(message=f"“{self.piece.name}” is finished.") if key in ("enter", "escape", "space") else self
        match key:
            case "escape":
                return Done()
            case "up" | "shift+tab":
                return replace(self, at=max(0, self.at - 1))
            case "down" | "tab":
                return replace(self, at=min(len(_FIELDS) - 1, self.at + 1))
            case "enter":
                return self._finished()
        text = typed(self.values[self.at], key, character, most=_MOST)
        if text is None:
            return self
        return replace(self, values=(*self.values[: self.at], text, *self.values[self.at + 1 :]), fault="")

    def _finished(self) -> FinishSheet | Done:
        size, thread, tension = (text.strip() for text in self.values)
        try:
            learnt = finish(
                self.store, self.piece.id, size=size or None, thread=thread or None, tension=tension, units=self.units
            )
        except StitchalongError as error:
            return replace(self, fault=" ".join(sentence(str(problem)) for problem in error.problems))
        return replace(self, learnt=tuple(learnt)) if learnt else Done(message=f"“{self.piece.name}” is finished.")

    def lines(self, width: int, height: int, glyphs: Glyphs) -> list[Line]:
        out = wrapped(f"{self.piece.name}: how did it come out?", width, "strong")
        if self.learnt is not None:
            return [*out, *_told(self.learnt, width)][:height]
        for nth, name in enumerate(_FIELDS):
            out.append(field(f"{name:<8}", self.values[nth], nth == self.at, glyphs, width))
        if self.fault:
            return [*out, *wrapped(self.fault, width, "message")][:height]
        out += wrapped(_HINTS[self.at], width, "dim")
        about = "Each may stay empty. What you say makes your own gauge better, for the next piece."
        more = [BLANK, *wrapped(about, width)]
        if self.piece.state == "going" and self.piece.position < self.piece.steps:
            more += wrapped("Not every bead of the plan is counted yet; it may be finished all the same.", width)
        return [*out, *more][:height]


def _told(learnt: Sequence[str], width: int) -> list[Line]:
    out = [line("It is kept. Your own gauge now:"), BLANK]
    for text in learnt:
        out += wrapped(sentence(text), width)
    return out
