"""Find a command by its words, and do it."""

from __future__ import annotations

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen

from stitchalong.screens.canvas import Canvas
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.inks import Look
from stitchalong.screens.lines import Line, Span, line, wrapped
from stitchalong.screens.panels import framed
from stitchalong.settings.commands import COMMANDS, Command, Scope, commands, key_words

LONGEST = 40
"""characters of what is typed"""


def found(scope: Scope, words: str, every: tuple[Command, ...] = COMMANDS) -> list[Command]:
    """Commands that have all these words (or parts of words) in title, help, word or other words for them.

    Those with them in the title come first.
    """
    wanted = words.casefold().split()
    some = [item for item in commands(scope, every) if item.id != "palette"]
    in_title = [item for item in some if all(word in item.title.casefold() for word in wanted)]
    anywhere = [item for item in some if all(word in _all_words(item) for word in wanted)]
    return in_title + [item for item in anywhere if item not in in_title]


def _all_words(item: Command) -> str:
    return f"{item.title} {item.help} {item.word} {item.also}".casefold()


class Palette(Screen[str | None]):
    """Type words, mark a command with Up and Down; gives the command's id, or None."""

    def __init__(self, scope: Scope, look: Look, glyphs: Glyphs, every: tuple[Command, ...] = COMMANDS) -> None:
        super().__init__()
        self._every = every
        self._scope: Scope = scope
        self._look = look
        self._glyphs = glyphs
        self._words = ""
        self._at = 0

    def compose(self) -> ComposeResult:
        yield Canvas(self._look)

    def on_resize(self, event: events.Resize) -> None:
        self._show()

    def on_paste(self, event: events.Paste) -> None:
        event.stop()
        self._type(event.text)

    def on_key(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        some = found(self._scope, self._words, self._every)
        match event.key:
            case "escape" | "ctrl+p" | "ctrl+c":
                self.dismiss(None)
                return
            case "enter":
                self.dismiss(some[self._at].id if some else None)
                return
            case "up":
                self._at = max(0, self._at - 1)
            case "down":
                self._at = min(max(0, len(some) - 1), self._at + 1)
            case "backspace":
                self._words, self._at = self._words[:-1], 0
            case _ if event.character and event.is_printable:
                self._type(event.character)
        self._show()

    def _type(self, text: str) -> None:
        self._words = (self._words + "".join(char for char in text if char.isprintable()))[:LONGEST]
        self._at = 0
        self._show()

    def _show(self) -> None:
        width, height = self.size
        if width and height:
            keys = (("Enter", "do it"), ("Escape", "close"), ("Up Down", "mark"))
            self.query_one(Canvas).show(framed(self._lines(width - 2, height - 1), keys, width, height))

    def _lines(self, width: int, height: int) -> list[Line]:
        some = found(self._scope, self._words, self._every)
        out: list[Line] = [
            (Span("Find a command: ", "strong"), Span(self._words + "_", "key")),
        ]
        if not some:
            return [*out, line("No command has these words.", "message")]
        told = wrapped(some[self._at].help, width, "dim")[: max(0, height - 4)]
        rows = max(1, height - 1 - len(told))
        first = max(0, min(self._at - rows // 2, len(some) - rows))
        for nth in range(first, min(len(some), first + rows)):
            item = some[nth]
            mark = f"{self._glyphs.mark} " if nth == self._at else "  "
            keys = key_words(item.keys[0]) if item.keys else ""
            out.append((Span(mark + item.title, "marked" if nth == self._at else "text"), Span(f"  {keys}", "key")))
        return [*out, *told]
