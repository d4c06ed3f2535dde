"""The help screen's text: all keys from the one list of commands, and cautions."""

from __future__ import annotations

from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.lines import BLANK, Line, Span, line, wrapped
from stitchalong.screens.panels import Page
from stitchalong.settings.cautions import CAUTIONS
from stitchalong.settings.commands import COMMANDS, Command, Scope, by_group, key_words

READING = (
    ("(C)", "A bead, with its code letter on its colour."),
    ("(M+M)", "Beads laid together in one space."),
    ("( )", "A space passed without a bead."),
    ("step-up", "An action without a bead: one key, like a bead."),
)


def help_page(scope: Scope, some: tuple[Command, ...] = COMMANDS) -> Page:
    """Keys, how to read the strip, cautions."""

    def draw(width: int, glyphs: Glyphs) -> list[Line]:
        out: list[Line] = []
        for group, items in by_group(scope, some):
            out += [BLANK] if out else []
            out.append(line(group, "strong"))
            for item in items:
                keys = ", ".join(key_words(key) for key in item.keys)
                out += wrapped(item.title, width, lead=(Span(f"{keys}  ", "key"),))
                out += wrapped(item.help, width, "dim", lead=line("    "))
        if scope == "stitching":
            out += [BLANK, line("A number before a key", "strong")]
            out += wrapped(
                "repeats it: 7 then Space counts seven beads. Escape drops the number.", width, lead=line("    ")
            )
            out += [BLANK, line("A click or a tap", "strong")]
            out += wrapped(
                "on the work counts one bead. Hold Shift to mark text with the mouse, or switch it off: counting.tap.",
                width,
                lead=line("    "),
            )
            out += [BLANK, line("Reading the thread", "strong")]
            for sign, words in READING:
                out += wrapped(words, width, lead=(Span(f"{sign:<9}", "key"),))
        out += [BLANK, line("Cautions", "strong")]
        for words in CAUTIONS:
            out += wrapped(words, width, lead=line(f"{glyphs.dot} "))
        return out

    return Page(draw, (("Escape", "close"), ("Up Down", "scroll"), ("Page Up, Page Down", "by pages")))
