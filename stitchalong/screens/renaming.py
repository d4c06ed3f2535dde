"""Another name for a piece: one line to be typed."""

from __future__ import annotations

from dataclasses import replace

from stitchalong.screens.beside.sheet import Done, field, typed
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.lines import BLANK, Line, line, wrapped
from stitchalong.store.names import NAME_LIMIT
from stitchalong.values import value


@value
class NameSheet:
    """The name typed so far; closed with `chosen`, or with nothing where it stays as it was."""

    before: str
    text: str
    untouched: bool = True
    """the first letter typed takes the place of the name that stood there"""

    keys = (("Enter", "keep it"), ("Escape", "leave it as it is"))

    def press(self, key: str, character: str) -> NameSheet | Done:
        match key:
            case "escape":
                return Done()
            case "enter":
                name = self.text.strip()
                return Done(chosen=name if name and name != self.before else None)
        replaced = self.untouched and key != "backspace"
        text = typed("" if replaced else self.text, key, character, most=NAME_LIMIT)
        return self if text is None else replace(self, text=text, untouched=False)

    def lines(self, width: int, height: int, glyphs: Glyphs) -> list[Line]:
        out = [line("Another name for this piece", "strong"), BLANK]
        out.append(field("name", self.text, True, glyphs, width))
        return [
            *out,
            *wrapped(
                "What you type takes its place; Backspace first goes on with the name that is there.", width, "dim"
            ),
        ][:height]
