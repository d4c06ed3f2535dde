"""A screen that shows a piece's form: as far as it is stitched, or whole; to be turned by keys.

The form is worked out in a thread of its own. A frame is drawn when a key asks for one, never by a clock, and keys that
came in together share one: a terminal takes some twenty kilobytes a frame.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from rich.cells import cell_len
from textual import events
from textual.app import ComposeResult
from textual.screen import Screen

from stitchalong.course.course import Course
from stitchalong.course.words import counted
from stitchalong.errors import StitchalongError
from stitchalong.form import require
from stitchalong.form.view import NEARER, STEP, Marks, View
from stitchalong.plan.model import Plan
from stitchalong.screens.aside import Missing, Tell, worked_out
from stitchalong.screens.canvas import Canvas
from stitchalong.screens.drawing import Drawing, ground_of
from stitchalong.screens.inks import Look
from stitchalong.screens.lines import BLANK, fit, inset, line, wrapped
from stitchalong.screens.parts import footer

if TYPE_CHECKING:
    from stitchalong.form.runs import Run
    from stitchalong.form.shape import Form

_LATELY = 3
"""beads that count as just laid"""
_LEAST = (24, 9)
"""columns and lines of a screen on which a form can be told"""
_KEYS = (("Escape", "close"), ("arrows", "turn"), ("i, o", "nearer, further"), ("p, n", "rounds"))
_CLOSING = frozenset(("escape", "enter", "q", "ctrl+c"))


class Head(Canvas):
    """What is shown, in a line."""

    DEFAULT_CSS = "Head { height: 1; }"


class Foot(Canvas):
    """A doubt and the keys."""

    DEFAULT_CSS = "Foot { height: 2; }"


class FormScreen(Screen[None]):
    """Shows the form of a piece until it is closed."""

    def __init__(self, course: Course, plan: Plan, laid: int, look: Look) -> None:
        """`laid`: beads laid so far; with none, or all, the whole is shown."""
        super().__init__()
        self._course = course
        self._plan = plan
        self._laid = laid
        self._look = look
        self._view = View()
        self._whole = not 0 < laid < course.beads
        self._letters = False
        self._forms: dict[bool, Form] = {}
        """of the whole, and of what is stitched"""
        self._told = ""
        """what is said in a form's place"""
        self._waiting = self._gone = False

    def compose(self) -> ComposeResult:
        yield Head(self._look)
        yield Drawing()
        yield Foot(self._look)

    def on_mount(self) -> None:
        self._work_out()

    def on_unmount(self) -> None:
        self._gone = True

    def on_resize(self, event: events.Resize) -> None:
        self._later()

    # ---- working it out -------------------------------------------------------------------------

    def _work_out(self) -> None:
        """Begin on the form that is wanted, if it is not there."""
        try:
            require()
        except StitchalongError as error:
            self._told = str(error)
            return
        if self._whole not in self._forms:
            self._told = "working it out …"
            whole = self._whole
            self.run_worker(lambda: self._in_thread(whole), thread=True, exclusive=True, exit_on_error=False)

    def _in_thread(self, whole: bool) -> None:
        shown = ""

        def wanted(share: float) -> bool:
            nonlocal shown
            if self._gone or self._whole is not whole:
                return False
            words = f"working it out: {int(10 * share) * 10} %"
            if words != shown:
                shown = words
                self.app.call_from_thread(self._say, words)
            return True

        def work(told: Tell) -> Form:
            from stitchalong.form.whole import form_of

            return form_of(self._course, self._plan, beads=None if whole else self._laid + 1, told=told)

        form = worked_out(work, wanted)
        if self._gone:
            return
        if not isinstance(form, Missing):
            self.app.call_from_thread(self._take, whole, form)
        elif form.told:
            self.app.call_from_thread(self._say, form.told)

    def _say(self, words: str) -> None:
        self._told = words
        self._later()

    def _take(self, whole: bool, form: Form) -> None:
        self._forms[whole] = form
        self._told = ""
        self._later()

    # ---- drawing --------------------------------------------------------------------------------

    def _later(self) -> None:
        """Draw once the keys that wait are read."""
        if not self._waiting:
            self._waiting = True
            self.call_later(self._draw)

    def _draw(self) -> None:
        self._waiting = False
        width, height = self.size
        if not width or not height:
            return
        self.query_one(Head).show([fit(inset(line(self._heading(width - 2), "strong")), width)])
        form = self._forms.get(self._whole)
        doubt = line(self._doubt(form, width - 2), "dim") if form is not None else BLANK
        keys = footer([*_KEYS[:2], *self._more_keys(), *_KEYS[2:]], width - 2)
        self.query_one(Foot).show([fit(inset(some), width) for some in (doubt, keys)])
        self.query_one(Drawing).show(self._rows(form, width, max(1, height - 3)))

    def _more_keys(self) -> list[tuple[str, str]]:
        more = [("l", "colour" if self._letters else "letters")] if self._look.coloured else []
        if 0 < self._laid < self._course.beads:
            more.append(("w", "as far as stitched" if self._whole else "the whole"))
        return more

    def _heading(self, width: int) -> str:
        """As much as fits."""
        form = self._forms.get(self._whole)
        what = "as it will be" if self._whole else f"with {counted(self._laid, 'bead')} of {self._course.beads:,}"
        if form is not None and self._view.shown is not None:
            rounds = sum(1 for stop in form.stops if stop <= self._view.shown)
            what += f", {counted(rounds, 'round')} shown"
        title = f"{self._plan.title}: {what}"
        whole = f"{title}. One likely form; no size is taken from it"
        return next((text for text in (whole, title) if cell_len(text) <= width), what)

    def _doubt(self, form: Form, width: int) -> str:
        """The first doubt that fits; where none does, that there are some."""
        doubts = (*form.doubts, "doubts: see the command form") if form.doubts else ("",)
        return next((text for text in doubts if cell_len(text) <= width), "")

    def _rows(self, form: Form | None, width: int, height: int) -> Sequence[tuple[Run, ...]]:
        from stitchalong.form.runs import Run

        if width < _LEAST[0] or height + 3 < _LEAST[1]:
            told = "the window is too small to show a form"
        elif form is None:
            told = self._told
        else:
            from stitchalong.form.cells import cells, plain

            marks = self._marks()
            if self._look.coloured and not self._letters:
                return cells(form, self._view, width, height, marks=marks, ground=ground_of(self._look))
            letters = self._letters
            drawn = plain(form, self._view, width, height, marks=marks, letters=letters)
            return [(Run(text, None, None),) for text in drawn]
        return [(Run(f" {some[0].text}", None, None),) for some in wrapped(told, max(1, width - 2))][:height]

    def _marks(self) -> Marks:
        if self._whole:
            return Marks()
        return Marks(frozenset(range(max(0, self._laid - _LATELY), self._laid)), self._laid)

    # ---- keys -----------------------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        if event.key in _CLOSING:
            self.dismiss()
            return
        view = self._moved(event.key)
        if view is not None:
            self._view = view
        elif event.key == "w" and 0 < self._laid < self._course.beads:
            self._whole = not self._whole
            self._view = View(self._view.turn, self._view.tilt, self._view.zoom)
            self._work_out()
        elif event.key == "l" and self._look.coloured:
            self._letters = not self._letters
        else:
            return
        self._later()

    def _moved(self, key: str) -> View | None:
        """The view that a key asks for; None for a key that asks for none."""
        view = self._view
        form = self._forms.get(self._whole)
        match key:
            case "left" | "right":
                return view.turned(STEP if key == "right" else -STEP)
            case "up" | "down":
                return view.tilted(STEP if key == "up" else -STEP)
            case "i" | "o":
                return view.zoomed(NEARER if key == "i" else 1 / NEARER)
            case "p" | "n" if form is not None:
                return view.stepped(form.stops, 1 if key == "n" else -1)
            case "home":
                return View()
        return None
