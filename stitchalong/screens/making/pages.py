"""What is asked when a new plan is left or written, and its help."""

from __future__ import annotations

from stitchalong.design.draft import Draft
from stitchalong.errors import UsageError
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.lines import BLANK, Line, Span, line, wrapped
from stitchalong.screens.panels import Keys, Page

_KEYS = (
    ("Up Down", "Mark another row. Enter goes on to the next."),
    ("Left Right", "Change what is marked: the next kind, bead, colour, one more or one less."),
    ("letters", "Type an answer in its place; Backspace takes a letter back."),
    ("Delete", "The usual answer again. Of a colour: it goes."),
    ("F2", "The picture, over the whole screen; arrows move it."),
    ("F3", "Its form, to be turned by keys. Needs numpy."),
    ("F4", "All figures: counts, size, beads, thread, doubts."),
    ("Escape", "Leave. Nothing is written but by “write the plan”, the last row."),
)


def help_page(draft: Draft) -> Page:
    """Keys, and each question with what is worth knowing."""

    def write(width: int, glyphs: Glyphs) -> list[Line]:
        out = [line("Making a plan", "strong")]
        for key, words in _KEYS:
            out += wrapped(words, width, lead=(Span(f"{key:<12}", "key"),))
        for key in draft.keys:
            try:
                question = draft.question(key)
            except UsageError:
                continue
            out += [BLANK, *wrapped(question.text, width, "strong"), *wrapped(question.help, width)]
        return out

    return Page(write, (("Escape", "close"), ("Up Down", "scroll"), ("Page Up, Page Down", "by pages")))


def leave_page() -> Page:
    return _asking(
        "Leave without writing it?", "What was chosen is not kept.", (("Enter", "leave"), ("Escape", "stay"))
    )


def over_page(name: str) -> Page:
    keys = (("Enter", "write over it"), ("Escape", "keep it"))
    return _asking("Write over it?", f"There is {name} already. What it holds would be lost.", keys)


def begin_page(name: str, title: str) -> Page:
    keys = (("Enter", "begin it now"), ("Escape", "later"))
    return _asking(f"“{title}” is written", f"It lies in {name}. Begin a piece of it now?", keys)


def _asking(title: str, words: str, keys: Keys) -> Page:
    def write(width: int, glyphs: Glyphs) -> list[Line]:
        return [*wrapped(title, width, "strong"), BLANK, *wrapped(words, width)]

    return Page(write, keys)
