"""The tray: what to count out, and what it means when some are left over."""

from __future__ import annotations

from dataclasses import dataclass, replace

from stitchalong.course.tray import Heap, Pile, left_typed
from stitchalong.course.words import sentence
from stitchalong.errors import UsageError
from stitchalong.screens.beside.sheet import Done, field, typed
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.lines import BLANK, Line, Span, line, width_of, wrapped
from stitchalong.screens.thread_strip import bead
from stitchalong.session import Session


@dataclass(frozen=True, slots=True)
class Trays:
    """Heaps for this side, this round and the rounds ahead; a line to type what is left over."""

    session: Session
    left: str = ""
    told: tuple[str, ...] = ()

    keys = (("Enter", "what it means"), ("Escape", "close"))

    def press(self, key: str, character: str) -> Trays | Done:
        match key:
            case "escape":
                return Done()
            case "enter":
                return replace(self, told=self._meaning())
        text = typed(self.left, key, character, most=60)
        return self if text is None else replace(self, left=text, told=())

    def _meaning(self) -> tuple[str, ...]:
        try:
            findings = self.session.left_over(left_typed(self.left))
        except UsageError as error:
            return (sentence(str(error)),)
        return tuple(sentence(finding.words) for finding in findings)

    def lines(self, width: int, height: int, glyphs: Glyphs) -> list[Line]:
        tray = self.session.tray()
        out = [line("Beads to count out", "strong")]
        heaps = [*([tray.side] if tray.side else []), tray.round, *tray.ahead]
        for heap in heaps:
            out += self._heap(heap, width, glyphs)
        if tray.ahead:
            out += _beads("all together", tray.together, "", width, glyphs)
        code = next((code for code, _ in tray.round.needed), "A")
        foot = [BLANK, field(f"left over (1{code}), short (-1{code})", self.left, True, glyphs, width)]
        for text in self.told:
            foot += wrapped(text, width, "strong")
        if not self.told:
            foot += wrapped("Count a round out exactly; what is left at its end tells what went wrong.", width, "dim")
        room = height - len(foot)
        return [*out[:room], *foot] if room > 1 else foot[-height:]

    def _heap(self, heap: Heap, width: int, glyphs: Glyphs) -> list[Line]:
        used = sum(count for _, count in heap.used)
        return _beads(heap.label, heap.left, f"{used} used" if used else "", width, glyphs)


def _beads(label: str, beads: Pile, more: str, width: int, glyphs: Glyphs) -> list[Line]:
    """A heap, on as many lines as it takes; no bead is parted from its number."""
    pieces: list[Line] = [(bead(code), Span(f"{glyphs.times}{count:,}")) for code, count in beads]
    pieces = pieces or [(Span("none"),)]
    if more:
        pieces.append((Span(more, "dim"),))
    lines: list[Line] = []
    here: Line = (Span(f"{label}:"[:width], "dim"),)
    for piece in pieces:
        if width_of((*here, *piece)) + 2 > width:
            lines.append(here)
            here = ()
        here = (*here, Span("  "), *piece)
    return [*lines, here]
