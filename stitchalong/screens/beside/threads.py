"""The thread: a new one and its length, or what is left of the one in use."""

from __future__ import annotations

from dataclasses import dataclass, replace

from stitchalong.course.words import sentence
from stitchalong.errors import UsageError
from stitchalong.measure.spool import checked_length
from stitchalong.measure.units import INCH, Units
from stitchalong.screens.beside.sheet import Done, field, typed
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.lines import Line, line, wrapped
from stitchalong.session import Session, Told


@dataclass(frozen=True, slots=True)
class ThreadSheet:
    """What is known of the thread, and a length to be typed."""

    session: Session
    units: Units = Units.METRIC
    new: bool = True
    length: str = ""
    fault: str = ""

    keys = (("Enter", "keep it"), ("Escape", "leave"), ("Left Right", "new or in use"))

    @property
    def _unit(self) -> tuple[str, float]:
        return ("in", INCH) if self.units is Units.INCH else ("cm", 10.0)

    def press(self, key: str, character: str) -> ThreadSheet | Done:
        match key:
            case "escape":
                return Done()
            case "left" | "right" | "tab":
                return replace(self, new=not self.new)
            case "enter":
                return self._kept()
        text = typed(self.length, key, character, digits=True, most=5)
        return self if text is None else replace(self, length=text, fault="")

    def _kept(self) -> ThreadSheet | Done:
        if not self.length:
            return replace(self, fault="Type how long it is.")
        length = int(self.length) * self._unit[1]

        def act() -> Told:
            return self.session.new_thread(length) if self.new else self.session.thread_left(length)

        try:
            checked_length(length)
        except UsageError as error:
            return replace(self, fault=sentence(str(error)))
        return Done(act)

    def lines(self, width: int, height: int, glyphs: Glyphs) -> list[Line]:
        out = [line("The thread", "strong")]
        known = self.session.thread_words(self.units)
        if known:
            out += wrapped(sentence(known), width, "strong")
        elif self.session.thread_entries():
            out += wrapped("The plan does not say how large its beads are, so what is left is not known.", width)
        else:
            out += wrapped("Nothing was said of it yet.", width, "dim")
        unit = self._unit[0]
        name = f"a new thread, {unit}" if self.new else f"left of this thread, {unit}"
        out.append(field(name, self.length, True, glyphs, width))
        about = (
            "Its whole length; the tail is taken off."
            if self.new
            else "What hangs out of the work; this makes the reckoning your own."
        )
        return [*out, *wrapped(self.fault or about, width, "message" if self.fault else "dim")][:height]
