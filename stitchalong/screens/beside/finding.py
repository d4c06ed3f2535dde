"""Find my place: what can be seen goes in, the places that fit come out as one types."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from stitchalong.course.find import Clues, Fit, Found, codes_typed, fit_words
from stitchalong.course.words import capital, sentence
from stitchalong.errors import UsageError
from stitchalong.screens.beside.sheet import Done, entries, typed
from stitchalong.screens.beside.sheet import field as shown_field
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.lines import Line, line, wrapped
from stitchalong.session import Session

_FIELDS = ("last beads", "since increase", "round", "colour")
_HINTS = (
    "Type the last beads on the thread, the one at the needle last: A A B B A. The other way round is tried, too.",
    "How many beads lie after the last increase.",
    "Which round it is, roughly.",
    "The letter of the bead that most of the round is laid in.",
)


@dataclass(frozen=True, slots=True)
class Finding:
    """The form, and what was found by it."""

    session: Session
    values: tuple[str, ...] = ("",) * len(_FIELDS)
    at: int = 0
    """the field; behind the last one, the place marked"""
    found: Found | None = None
    fault: str = ""
    clues: Clues = field(default_factory=Clues)

    @property
    def keys(self) -> tuple[tuple[str, str], ...]:
        go = "go there" if self._fit() else "see the places"
        return (("Enter", go), ("Escape", "leave"), ("Up Down", "field"))

    def _fits(self) -> tuple[Fit, ...]:
        return self.found.fits if self.found else ()

    def _fit(self) -> Fit | None:
        nth = self.at - len(_FIELDS)
        return self._fits()[nth] if 0 <= nth < len(self._fits()) else None

    def press(self, key: str, character: str) -> Finding | Done:
        last = len(_FIELDS) + len(self._fits()) - 1
        match key:
            case "escape":
                return Done()
            case "up" | "shift+tab":
                return replace(self, at=max(0, self.at - 1))
            case "down" | "tab":
                return replace(self, at=min(last, self.at + 1))
            case "enter":
                fit = self._fit()
                if fit is not None:
                    return Done(lambda: self.session.go_to(fit.position))
                return replace(self, at=len(_FIELDS)) if self._fits() else self
        if self.at >= len(_FIELDS):
            return self
        text = typed(self.values[self.at], key, character, digits=self.at in (1, 2), most=1 if self.at == 3 else 60)
        if text is None:
            return self
        values = (*self.values[: self.at], text, *self.values[self.at + 1 :])
        return replace(self, values=values)._looked()

    def _looked(self) -> Finding:
        beads, since, number, colour = (value.strip() for value in self.values)
        if not any((beads, since, number, colour)):
            return replace(self, found=None, fault="")
        try:
            clues = Clues(
                codes_typed(beads),
                since_increase=int(since) if since else None,
                round=int(number) if number else None,
                colour=colour.upper() or None,
            )
            return replace(self, found=self.session.find(clues), fault="", clues=clues)
        except UsageError as error:
            problem = error.problems[0]
            text = capital(problem.what)
            return replace(self, found=None, fault=f"{text}: {problem.fix}." if problem.fix else f"{text}.")

    def lines(self, width: int, height: int, glyphs: Glyphs) -> list[Line]:
        out = [line("Find my place", "strong")]
        for nth, name in enumerate(_FIELDS):
            out.append(shown_field(f"{name:<14}", self.values[nth], nth == self.at, glyphs, width))
        if self.fault:
            return [*out, *wrapped(self.fault, width, "message")][:height]
        if self.found is None:
            return [*out, *wrapped(_HINTS[min(self.at, len(_FIELDS) - 1)], width, "dim")][:height]
        sure = self.found.sure
        out += wrapped(sentence(sure), width, "strong")
        return [*out, *self._places(width, height - len(out), glyphs)][:height]

    def _places(self, width: int, rows: int, glyphs: Glyphs) -> list[Line]:
        """The places, the marked one with what comes next there."""
        fits, fit = self._fits(), self._fit()
        told: list[Line] = []
        if fit is not None:
            against = fit_words(fit, self.clues)
            told = wrapped(f"There: {fit.now}", width)
            told += wrapped(f"It fits {against}.", width, "dim") if against else []
        words = []
        for one in fits:
            doubt = "? " if one.misread is not None else ""
            words.append(f"{doubt}{one.title}, {one.laid}, {one.left or 'next: ' + one.now}")
        return [*entries(words, self.at - len(_FIELDS) if fit else -1, rows - len(told), width, glyphs), *told]
