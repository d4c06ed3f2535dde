"""The screen on which a plan is made. Nothing is written before that is asked for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen

from stitchalong.chart import Chart
from stitchalong.design.draft import Draft
from stitchalong.design.file import AlreadyThere, write_plan
from stitchalong.design.outcome import outcome_of
from stitchalong.errors import StitchalongError, StoreError
from stitchalong.plan.text import shown
from stitchalong.screens.inks import Look
from stitchalong.screens.lines import Line
from stitchalong.screens.making.board import Board
from stitchalong.screens.making.drawing import draw
from stitchalong.screens.making.fields import FILE, WRITE, Making, Row, in_words
from stitchalong.screens.making.layout import Draw, Seen, paint
from stitchalong.screens.making.pages import begin_page, help_page, leave_page, over_page
from stitchalong.screens.making.reckoning import Reckoning
from stitchalong.screens.panels import Keys, Page, framed, room
from stitchalong.screens.preferences import Preferences

if TYPE_CHECKING:
    from stitchalong.form.shape import Form

_KEYS: Keys = (
    ("Escape", "leave"),
    ("F1", "help"),
    ("Left Right", "change"),
    ("Up Down", "field"),
    ("F2", "picture"),
    ("F3", "form"),
    ("F4", "figures"),
)


@dataclass(frozen=True, slots=True)
class Made:
    """The plan is written."""

    path: Path
    begin: bool
    """whether a piece of it is to be begun"""


class MakingScreen(Screen[Made | None]):
    """Gives what was written, or None."""

    def __init__(self, draft: Draft, look: Look, preferences: Preferences, *, folder: Path, file: str = "") -> None:
        """`folder`: where a file goes that is named without one."""
        super().__init__()
        self.making = Making(draft, file=file)
        self._fresh = self.making
        self._look = look
        self._glyphs = preferences.glyphs
        self._folder = folder
        self._told = ""
        """what just happened"""
        self.reckoning = Reckoning(self, self._show, formed=look.coloured)
        self._page: Page | None = None
        self._answers: Callable[[bool], None] = lambda yes: None

    def compose(self) -> ComposeResult:
        yield Board(self._look)

    def on_mount(self) -> None:
        self.reckoning.begin(self.making.draft)

    def on_unmount(self) -> None:
        self.reckoning.stop()

    def on_resize(self, event: events.Resize) -> None:
        self._show()

    def on_screen_resume(self, event: events.ScreenResume) -> None:
        self._show()

    # ---- showing --------------------------------------------------------------------------------

    def _show(self) -> None:
        width, height = self.size
        if not width or not height or not self.is_attached:
            return
        inner = room(width, height)
        if self._page is not None:
            drawn = framed(self._page.lines(*inner, self._glyphs), self._page.keys, width, height)
        else:
            keys: Keys = (("Enter", "write it" if self.making.at.key == WRITE else "next"), *_KEYS)
            drawn = framed(paint(self._seen(), *inner, self._glyphs), keys, width, height)
        self.query_one(Board).show(drawn)

    def _seen(self) -> Seen:
        reckoned = self.reckoning
        stale = self.making.draft != reckoned.of
        told = self._told or ("" if stale else reckoned.told)
        return Seen(self.making, reckoned.outcome, stale, told, self._drawings())

    def _drawings(self) -> tuple[Draw, ...]:
        out: list[Draw] = []
        reckoned = self.reckoning
        if reckoned.outcome is not None and reckoned.chart is not None:
            colours = {bead.code: bead.colour for bead in reckoned.outcome.plan.beads}
            out.append(partial(self._draw, reckoned.chart, colours))
        if reckoned.form is not None:
            out.append(partial(_formed, reckoned.form, self._look.pens["text"].back))
        return tuple(out)

    def _draw(self, chart: Chart, colours: dict[str, str], width: int, height: int) -> list[Line]:
        return draw(chart, colours, width, height, self._look, self._glyphs)

    # ---- keys -----------------------------------------------------------------------------------

    def on_paste(self, event: events.Paste) -> None:
        event.stop()
        if self._page is None:
            for character in event.text[:200]:
                if character.isprintable():
                    self._make(self.making.press(character, character))
        self._show()

    def on_key(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        if self._page is not None:
            if event.key in ("enter", "escape", "ctrl+c"):
                answers, self._page = self._answers, None
                answers(event.key == "enter")
        else:
            self._press(event)
        self._show()

    def _press(self, event: events.Key) -> None:
        match event.key:
            case "escape" | "ctrl+c" | "ctrl+q":
                self._ask_to_leave()
            case "enter" if self.making.at.key == WRITE:
                self._write(over=False)
            case "f1" | "f2" | "f3" | "f4":
                self._open(event.key)
            case _:
                character = event.character if event.is_printable and event.character else ""
                self._make(self.making.press(event.key, character))

    def _make(self, making: Making) -> None:
        if making.draft != self.making.draft:
            self._told = ""
        self.making = making
        self.reckoning.begin(making.draft)

    def _open(self, key: str) -> None:
        """What is looked at over the form: help, picture, form, figures."""
        from stitchalong.screens.reader import Reader

        found, chart = self.reckoning.outcome, self.reckoning.chart
        if key == "f1":
            self.app.push_screen(Reader(help_page(self.making.draft), self._look, self._glyphs))
        elif found is None:
            self._told = "There is nothing to show yet."
        elif key == "f2" and chart is not None:
            from stitchalong.screens.beside.picture import Picture
            from stitchalong.screens.beside.screen import SheetScreen

            colours = {bead.code: bead.colour for bead in found.plan.beads}
            picture = Picture.of(chart, len(chart.beads), drawn=True)
            self.app.push_screen(SheetScreen(picture, self._look, self._glyphs, colours))
        elif key == "f2":
            self._told = "It has too many beads to be drawn here."
        elif key == "f3":
            from stitchalong.screens.form_screen import FormScreen

            self.app.push_screen(FormScreen(found.course, found.plan, 0, self._look))
        else:
            from stitchalong.screens.figures import READING, figures_page

            page = figures_page(found.plan.title, found.sections(), READING)
            self.app.push_screen(Reader(page, self._look, self._glyphs))

    # ---- ending ---------------------------------------------------------------------------------

    def _ask(self, page: Page, answers: Callable[[bool], None]) -> None:
        self._page, self._answers = page, answers

    def _ask_to_leave(self) -> None:
        if replace(self.making, at=self._fresh.at, typing=False) == self._fresh:
            self._leave(None)
        else:
            self._ask(leave_page(), lambda yes: self._leave(None) if yes else None)

    def _leave(self, made: Made | None) -> None:
        if len(self.app.screen_stack) > 1:
            self.dismiss(made)
        else:
            self.app.exit(made)

    @property
    def path(self) -> Path:
        """The file that the plan goes into."""
        return self._folder / Path(self.making.file_name).expanduser()

    def _write(self, *, over: bool) -> None:
        """Write the plan, or mark what hinders it."""
        hindered = self.making.to_fault()
        if hindered is not None:
            self.making = hindered
            return
        try:
            draft = self.making.draft
            found = outcome_of(draft.wanted(), draft.book, draft.units)
            if self.path.parent == self._folder:
                self._folder.mkdir(parents=True, exist_ok=True)
            write_plan(self.path, found.text, over=over)
        except AlreadyThere:
            self._ask(over_page(shown(str(self.path), 200)), self._answer_over)
        except StitchalongError as error:
            self._told = in_words(error)
            self.making = replace(self.making, at=Row(FILE) if isinstance(error, StoreError) else self.making.at)
        except (OSError, RuntimeError, ValueError) as error:  # the folder, or a home that is not known
            self._told = f"It cannot be written: {shown(str(error), 200)}."
            self.making = replace(self.making, at=Row(FILE))
        else:
            path = self.path
            page = begin_page(shown(str(path), 200), found.plan.title)
            self._ask(page, lambda yes: self._leave(Made(path, yes)))

    def _answer_over(self, yes: bool) -> None:
        if yes:
            self._write(over=True)
        else:
            self.making = replace(self.making, at=Row(FILE), typing=False)
            self._told = "Nothing was written; name another file."


def _formed(form: Form, ground: str, width: int, height: int) -> list[Line]:
    from stitchalong.screens.making.formed import formed

    return formed(form, ground, width, height)
