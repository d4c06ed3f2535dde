"""What is shown in place of the stitching screen for a moment: a text, with the keys that lead on."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from stitchalong.course.words import capital, counted, sentence
from stitchalong.screens import parts
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.lines import BLANK, Line, Span, fit, inset, line, width_of, wrapped
from stitchalong.screens.thread_strip import bead
from stitchalong.screens.view import View
from stitchalong.session import Return
from stitchalong.session.plan_files import CHANGED
from stitchalong.settings.commands import COMMANDS, Command, command, key_words
from stitchalong.values import value

Draw = Callable[[int, Glyphs], list[Line]]
"""lines for a width"""

Keys = tuple[tuple[str, str], ...]
"""keys and what they do, for the footer"""


@value
class Page:
    """A text, scrolled where it is longer than the screen."""

    draw: Draw
    keys: Keys
    top: int = 0
    """the first line shown"""

    def scrolled(self, by: int, width: int, height: int, glyphs: Glyphs) -> Page:
        """Further down or up, as far as there is text."""
        every = len(self.draw(width, glyphs))
        most = every - height + 1 if every > height else 0
        return replace(self, top=max(0, min(most, self.top + by)))

    def lines(self, width: int, height: int, glyphs: Glyphs) -> list[Line]:
        """The lines that fit, with a word where there are more."""
        every = self.draw(width, glyphs)
        if len(every) <= height:
            return every
        shown = every[self.top : self.top + height - 1]
        below = len(every) - self.top - len(shown)
        return [
            *shown,
            line(f"Up, Down: {counted(below, 'line')} more" if below else "Up, Down: this is the end", "dim"),
        ]


def framed(lines: Sequence[Line], keys: Keys, width: int, height: int) -> tuple[Line, ...]:
    """A whole screen: the lines, and the keys in the last row."""
    rows = [inset(some) for some in lines[: height - 1]]
    rows += [BLANK] * (height - 1 - len(rows))
    foot = parts.footer(list(keys), width - 2)
    return tuple(fit(some, width) for some in (*rows, inset(foot)))


def room(width: int, height: int) -> tuple[int, int]:
    """Width and height inside of a frame."""
    return width - 2, height - 1


def plan_changed(some: tuple[Command, ...] = COMMANDS) -> str:
    """That the plan's file says something else now, and how one sees what."""
    key = key_words(command("palette", some).keys[0])
    return f"{capital(CHANGED)}: {key}, “new plan” tells what is new."


def welcome(back: Return, when: str, brief: str, some: tuple[Command, ...] = COMMANDS, news: str = "") -> Page:
    """Where one stopped, to be compared with the work in the hand. `when`: in words; `brief`: where the thread is."""

    def draw(width: int, glyphs: Glyphs) -> list[Line]:
        roomy = width >= 58
        gap = [BLANK] if roomy else []
        out = [line("Welcome back", "strong"), *gap] if roomy else []
        out += wrapped(f"You stopped {when}.", width)
        out += wrapped(sentence(back.where), width, "strong")
        if back.differs:
            out += wrapped(f"Mind: {back.differs}.", width, "strong")
        out += wrapped(news, width, "message") if news else []
        out += gap
        if back.last_beads:
            out += [line("The last beads laid, the latest last:", "dim"), _beads(back, width, glyphs)]
        told = back.comes_out if roomy else brief
        out += [*gap, *wrapped(sentence(told), width)]
        compare = "Compare them with the work in your hand." if roomy else "Compare."
        out += [*gap, *wrapped(f"{compare} The first key only closes this.", width, "dim")]
        return out

    on, go_to = (key_words(command(name, some).keys[0]) for name in ("bead", "go_to"))
    return Page(draw, ((on, "go on (not counted)"), (go_to, "go to")))


def _beads(back: Return, width: int, glyphs: Glyphs) -> Line:
    """As many of the last beads as fit, the latest last."""
    needle = Span(glyphs.needle, "strong")
    spans: list[Span] = [bead(code) for code in back.last_beads]
    while spans and width_of([*spans, needle]) > width:
        del spans[0]
    return (*spans, needle)


def confirm(takes: str) -> Page:
    """A large step back says first what it takes."""

    def draw(width: int, glyphs: Glyphs) -> list[Line]:
        return [
            line("Take back?", "strong"),
            BLANK,
            *wrapped(sentence(takes), width, "strong"),
            BLANK,
            *wrapped("What is taken back can be done again, except for choices.", width, "dim"),
        ]

    return Page(draw, (("Enter", "take back"), ("Escape", "leave it as it is")))


def conflict(name: str) -> Page:
    """Another window went on with this piece."""

    def draw(width: int, glyphs: Glyphs) -> list[Line]:
        return [
            line("This piece was worked on in another window", "strong"),
            BLANK,
            *wrapped(
                f"What you just pressed was not counted: “{name}” has gone on elsewhere, and two windows would "
                "count against each other.",
                width,
            ),
            BLANK,
            *wrapped("Take it over here, from where it stands now, or only watch here what is done there.", width),
        ]

    return Page(draw, (("Enter", "take over"), ("Escape", "watch"), ("q", "leave")))


def open_elsewhere(name: str) -> Page:
    """Another window has this piece."""

    def draw(width: int, glyphs: Glyphs) -> list[Line]:
        return [
            line("This piece is open in another window", "strong"),
            BLANK,
            *wrapped(f"“{name}” is counted in one window at a time. Nothing that was counted there is lost.", width),
            BLANK,
            *wrapped("Take it over here, from where it stands now; or watch here what is done there.", width),
        ]

    return Page(draw, (("Enter", "take over"), ("Space", "watch"), ("q", "leave")))


def failed(why: str) -> Page:
    """Something that counts nothing could not be done."""

    def draw(width: int, glyphs: Glyphs) -> list[Line]:
        return [
            line("That could not be done", "strong"),
            BLANK,
            *wrapped(sentence(why), width),
            BLANK,
            *wrapped("All that was counted is kept.", width),
        ]

    return Page(draw, (("Enter", "try again"), ("Escape", "leave it"), ("q", "leave")))


def not_kept(why: str) -> Page:
    """A press could not be kept."""

    def draw(width: int, glyphs: Glyphs) -> list[Line]:
        return [
            line("This press was not kept", "strong"),
            BLANK,
            *wrapped(sentence(why), width),
            BLANK,
            *wrapped("It is not counted either. All before it is kept. Mend the cause, then press again.", width),
        ]

    return Page(draw, (("Enter", "go on"), ("q", "leave")))


def telling(view: View, message: str) -> Page:
    """All that there is to say here, in full."""

    def draw(width: int, glyphs: Glyphs) -> list[Line]:
        outlook = view.outlook
        where = ", ".join(part for part in (outlook.title, parts.side_words(view)) if part)
        out = [line(where, "strong"), *wrapped(outlook.now, width, "strong")]
        if outlook.big is not None:
            out += wrapped(f"{outlook.big:,} {outlook.big_label}. {outlook.cut}".strip(), width)
        out += wrapped(
            f"{counted(outlook.left_round, 'bead')} left in this {view.word}, {outlook.left_piece:,} in the piece.",
            width,
        )
        out += parts.comes_out(view, width)
        out += parts.coming_up(view, width, lead=("next  ", "then  "))
        for remark in outlook.remarks:
            out += wrapped(remark.text, width, "remark", lead=line("remark  ", "dim"))
        if message:
            out += wrapped(message, width, "message")
        return out

    on = key_words(command("bead", view.showing.commands).keys[0])
    return Page(draw, ((on, "counts on"), ("Escape", "close"), ("Up Down", "scroll")))
