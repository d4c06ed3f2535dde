"""Recount: the number counted in the hand, held against the plan; then what may have happened, and what to do."""

from __future__ import annotations

from dataclasses import dataclass, replace

from stitchalong.course.recount import PULL_BACK, Fault, Recount, Slip, Where
from stitchalong.course.words import capital, counted, sentence
from stitchalong.errors import UsageError
from stitchalong.screens.beside.sheet import Done, entries, field, typed
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.lines import Line, line, wrapped
from stitchalong.session import Session


@dataclass(frozen=True, slots=True)
class Recounting:
    """What is counted, the number, and what it may mean. Before the first stitch there is nothing to count."""

    session: Session
    nth: int = 0
    """which checkpoint"""
    number: str = ""
    found: Recount | None = None
    at: int = 0
    """the fault marked"""
    place: int = 0
    """and which of its places"""

    @property
    def keys(self) -> tuple[tuple[str, str], ...]:
        if self.found is None or not self.found.faults:
            several = len(self.session.checkpoints()) > 1
            return (("Enter", "compare"), ("Escape", "leave"), *((("Left Right", "what"),) if several else ()))
        where = self._where()
        if self._only_presses():
            return (("Enter", "set the count"), ("Escape", "leave"), ("Up Down", "what else it may be"))
        return (
            *((("Enter", "go back to there"),) if where else ()),
            ("a", "accept as it is"),
            ("Escape", "leave"),
            ("Up Down", "fault"),
            *((("Left Right", "place"),) if where else ()),
        )

    def _fault(self) -> Fault | None:
        return self.found.faults[self.at] if self.found and self.found.faults else None

    def _where(self) -> Where | None:
        fault = self._fault()
        return fault.places[self.place] if fault and fault.places else None

    def _only_presses(self) -> bool:
        fault = self._fault()
        return fault is not None and fault.slip is Slip.PRESSES

    def press(self, key: str, character: str) -> Recounting | Done:
        if key == "escape":
            return Done()
        if self.found is None or not self.found.faults:
            return self._counting(key, character)
        fault, where = self._fault(), self._where()
        assert fault is not None
        found = self.found
        match key:
            case "up" | "down":
                step = 1 if key == "down" else -1
                return replace(self, at=(self.at + step) % len(found.faults), place=0)
            case "left" | "right" if fault.places:
                step = 1 if key == "right" else -1
                return replace(self, place=(self.place + step) % len(fault.places))
            case "enter" if where is not None:
                return Done(lambda: self.session.go_to(where.position))
            case "backspace":
                return replace(self, found=None, number=self.number[:-1], at=0, place=0)
        if character.casefold() == "a" and not self._only_presses():
            return Done(lambda: self.session.accept(found, fault if where else None, where))
        return self

    def _counting(self, key: str, character: str) -> Recounting | Done:
        some = self.session.checkpoints()
        if not some:
            return self
        match key:
            case "left" | "right":
                return replace(self, nth=(self.nth + (1 if key == "right" else -1)) % len(some), found=None)
            case "enter" if self.number:
                try:
                    found = self.session.recount(some[self.nth], int(self.number))
                except UsageError as error:
                    return Done(message=f"{error}.")
                if not found.faults:
                    return Done(message=sentence(found.words))
                return replace(self, found=found)
        text = typed(self.number, key, character, digits=True, most=7)
        return self if text is None else replace(self, number=text)

    def lines(self, width: int, height: int, glyphs: Glyphs) -> list[Line]:
        some = self.session.checkpoints()
        out = [line("Recount", "strong")]
        if not some:
            return [*out, *wrapped("Nothing is laid yet that could be counted.", width)][:height]
        if self.found is None or not self.found.faults:
            one = some[self.nth]
            what = one.label if one.title in one.label else f"{one.label}, {one.title}"
            out += wrapped(f"{capital(what)}: the plan has {counted(one.expected, one.unit)}.", width)
            out.append(field("counted in the hand", self.number, True, glyphs, width))
            return [*out, *wrapped("Count what lies there in your hand, and type the number.", width, "dim")][:height]
        found = self.found
        out = wrapped(sentence(found.words), width, "strong")
        detail = self._detail(width)
        words = []
        for fault in found.faults:
            doubt = "" if fault.times == 1 else f" ({fault.times} times)" if fault.times else " (and something else)"
            words.append(fault.words + doubt)
        out += entries(words, self.at, max(2, height - len(out) - len(detail)), width, glyphs)
        return [*out, *detail][:height]

    def _detail(self, width: int) -> list[Line]:
        """Where to look for the marked fault, for what, and how to mend it."""
        fault, where = self._fault(), self._where()
        assert fault is not None
        out: list[Line] = []
        if self._only_presses() and where is not None:
            way = f"{counted(abs(where.back), 'bead')} {'back' if where.back > 0 else 'further on'}"
            out += wrapped(f"Enter sets the count {way}.", width)
            out += wrapped(f"What to see: {fault.look}.", width, "dim")
            return [*out, *wrapped(fault.mend, width)]
        if where is not None:
            of = f" ({self.place + 1} of {len(fault.places) + fault.more})" if len(fault.places) > 1 else ""
            out += wrapped(f"Look {where.words}{of}, {counted(where.back, 'bead')} back.", width)
        out += wrapped(f"What to see: {fault.look}.", width, "dim")
        out += wrapped(fault.mend, width)
        return out if PULL_BACK in fault.mend else [*out, *wrapped(PULL_BACK, width, "dim")]
