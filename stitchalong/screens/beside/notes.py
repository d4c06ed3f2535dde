"""Notes: pinned to the bead laid last, listed with their places, taken off again."""

from __future__ import annotations

from dataclasses import dataclass, replace

from stitchalong.course.words import sentence
from stitchalong.errors import StoreError
from stitchalong.screens.beside.sheet import Done, entries, field, typed
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.lines import Line, line, wrapped
from stitchalong.session import Session


@dataclass(frozen=True, slots=True)
class NotesSheet:
    """A line to be typed; below it the notes of this piece."""

    session: Session
    text: str = ""
    at: int = -1
    """the note marked; -1: the line that is typed"""
    fault: str = ""

    @property
    def keys(self) -> tuple[tuple[str, str], ...]:
        if self.at < 0:
            return (("Enter", "pin it here"), ("Escape", "leave"), ("Down", "notes"))
        return (("Enter", "go there"), ("Delete", "take it off"), ("Escape", "leave"), ("Up Down", "note"))

    def press(self, key: str, character: str) -> NotesSheet | Done:
        notes = self.session.notes
        match key:
            case "escape":
                return Done()
            case "up" | "down":
                step = 1 if key == "down" else -1
                return replace(self, at=max(-1, min(len(notes) - 1, self.at + step)), fault="")
            case "enter" if self.at >= 0:
                return Done(lambda: self.session.go_to(notes[self.at].position))
            case "enter":
                return self._pinned()
            case "delete" if self.at >= 0:
                return self._unpinned()
        if self.at >= 0:
            return self
        text = typed(self.text, key, character)
        return self if text is None else replace(self, text=text, fault="")

    def _pinned(self) -> NotesSheet | Done:
        if not self.text.strip():
            return replace(self, fault="Type what to remember here.")
        try:
            note = self.session.pin_note(self.text)
        except StoreError as error:
            return replace(self, fault=sentence(str(error)))
        return Done(message=f"Pinned here: {note.text}")

    def _unpinned(self) -> NotesSheet:
        try:
            self.session.unpin_note(self.session.notes[self.at])
        except StoreError as error:
            return replace(self, fault=sentence(str(error)))
        return replace(self, at=min(self.at, len(self.session.notes) - 1))

    def lines(self, width: int, height: int, glyphs: Glyphs) -> list[Line]:
        out = [line("A note for this place", "strong")]
        out.append(field("note", self.text, self.at < 0, glyphs, width))
        if self.fault:
            out += wrapped(self.fault, width, "message")
        notes = self.session.notes
        if not notes:
            return [*out, *wrapped("It is shown when you pass here again.", width, "dim")][:height]
        out.append(line("Notes of this piece:", "dim"))
        most = self.session.course.steps
        words = [f"{self.session.lookout.at(min(note.position, most)).title}: {note.text}" for note in notes]
        return [*out, *entries(words, self.at, height - len(out), width, glyphs)][:height]
