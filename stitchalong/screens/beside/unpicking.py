"""Beads taken out of the work, and presses that were none."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from stitchalong.course.recount import PULL_BACK
from stitchalong.course.words import counted, sentence
from stitchalong.screens.beside.sheet import Done, typed
from stitchalong.screens.beside.sheet import field as shown_field
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.lines import Line, line, wrapped
from stitchalong.session import Session
from stitchalong.session.taking_out import Burst


@dataclass(frozen=True, slots=True)
class Unpicking:
    """How many beads came out; or the last burst of presses in one go."""

    session: Session
    number: str = ""
    burst: Burst | None = field(default=None)

    @property
    def keys(self) -> tuple[tuple[str, str], ...]:
        presses = (("b", "take back the burst"),) if self.burst else ()
        return (("Enter", "take out"), *presses, ("Escape", "leave"))

    def press(self, key: str, character: str) -> Unpicking | Done:
        if key == "escape":
            return Done()
        if key == "enter":
            return Done(lambda: self.session.unpick(int(self.number))) if self.number else self
        if character.casefold() == "b" and self.burst:
            return Done(self.session.take_back_burst)
        text = typed(self.number, key, character, digits=True, most=7)
        return self if text is None else replace(self, number=text)

    def lines(self, width: int, height: int, glyphs: Glyphs) -> list[Line]:
        out = [line("Beads taken out", "strong")]
        out.append(shown_field("how many", self.number, True, glyphs, width))
        if self.number:
            target = self.session.unpick_target(int(self.number))
            laid = self.session.outlook.beads_done
            words = self.session.undo_takes(target) if target is not None else f"{counted(laid, 'bead')} are laid"
            out += wrapped(sentence(words), width, "strong")
        if self.burst:
            out += wrapped(f"The last presses came in a burst: {self.burst.words}.", width)
        return [*out, *wrapped(PULL_BACK, width, "dim")][:height]
