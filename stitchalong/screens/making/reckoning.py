"""What a new plan comes to, reckoned in threads of their own: one at a time, the newest answers next."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any

from textual.screen import Screen

from stitchalong.chart import Chart, chart_of
from stitchalong.design.draft import Draft
from stitchalong.design.outcome import Outcome, outcome_of
from stitchalong.errors import StitchalongError
from stitchalong.form import ready
from stitchalong.screens.aside import Missing, Tell, worked_out
from stitchalong.screens.making.fields import in_words

if TYPE_CHECKING:
    from stitchalong.form.shape import Form

MOST_DRAWN = 20_000
"""beads of a drawing"""
MOST_FORMED = 700
"""beads whose form is quick: under a second"""


class Reckoning:
    """Figures, chart and form of the last answers that could be."""

    def __init__(self, screen: Screen[Any], changed: Callable[[], None], *, formed: bool) -> None:
        """`changed` is called in the screen's thread when there is something new; `formed`: forms are wanted too."""
        self._screen = screen
        self._changed = changed
        self._formed = formed
        self.outcome: Outcome | None = None
        self.chart: Chart | None = None
        self.form: Form | None = None
        self.of: Draft | None = None
        """the answers that were reckoned last"""
        self.told = ""
        """why they come to nothing"""
        self._newest: Draft | None = None
        self._at_work = self._stopped = False
        self._growing: Outcome | None = None

    def begin(self, draft: Draft) -> None:
        """Reckon this, as soon as what is at work is done."""
        self._newest = draft
        if self._at_work or self._stopped or draft == self.of or draft.faults():
            return
        self._at_work = True
        self._screen.run_worker(partial(self._reckon, draft), thread=True)

    def stop(self) -> None:
        """Nobody looks any more."""
        self._stopped = True

    def _call(self, *what: Any) -> None:
        if not self._stopped:
            self._screen.app.call_from_thread(*what)

    # ---- figures and chart ------------------------------------------------------------------------

    def _reckon(self, draft: Draft) -> None:
        found: Outcome | None = None
        chart: Chart | None = None
        told = ""
        try:
            found = outcome_of(draft.wanted(), draft.book, draft.units)
            chart = chart_of(found.course) if found.course.beads <= MOST_DRAWN else None
        except StitchalongError as error:
            told = in_words(error)
        self._call(self._take, draft, found, chart, told)

    def _take(self, draft: Draft, found: Outcome | None, chart: Chart | None, told: str) -> None:
        self._at_work = False
        self.of, self.told = draft, told
        if found is not None:
            self.outcome, self.chart = found, chart
            if found.course.beads > MOST_FORMED:
                self.form = None
        if self._newest is not None:
            self.begin(self._newest)
        self._grow()
        self._changed()

    # ---- the form -----------------------------------------------------------------------------------

    def _grow(self) -> None:
        """Begin on the form of what stands, where that is quick."""
        found = self.outcome
        if found is None or self._growing is not None or not self._formed or self._stopped:
            return
        if found.course.beads <= MOST_FORMED and ready():
            self._growing = found
            self._screen.run_worker(partial(self._shape, found), thread=True)

    def _shape(self, found: Outcome) -> None:
        def wanted(share: float) -> bool:
            return not self._stopped and self.outcome is found

        self._call(self._take_form, found, worked_out(partial(_form, found), wanted))

    def _take_form(self, found: Outcome, form: Form | Missing) -> None:
        self._growing = None
        if self.outcome is found:
            self.form = None if isinstance(form, Missing) else form
            if isinstance(form, Missing) and form.fault:
                self.told = form.told
            self._changed()
        else:
            self._grow()


def _form(found: Outcome, told: Tell) -> Form:
    from stitchalong.form.whole import form_of

    return form_of(found.course, found.plan, told=told)
