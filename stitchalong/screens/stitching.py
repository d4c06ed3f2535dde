"""The stitching screen: keys become moves of the session, and what the session tells is shown.

What is not needed for the first picture is imported where it is used.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import tzinfo
from typing import TYPE_CHECKING, Any

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen

from stitchalong.course.walker import Unit
from stitchalong.cues.cue import Outlet
from stitchalong.cues.rests import Rests
from stitchalong.screens import panels
from stitchalong.screens.aloud import Aloud
from stitchalong.screens.canvas import Canvas
from stitchalong.screens.deeds import NotDone, attempt, in_words, unshown
from stitchalong.screens.guarding import FRONT, TAP, click, judge
from stitchalong.screens.inks import Look
from stitchalong.screens.keeping import Keeping
from stitchalong.screens.keymap import UNITS, digit_of, keymap
from stitchalong.screens.layout import paint, thread_room
from stitchalong.screens.lines import Line
from stitchalong.screens.mouse import Clicked
from stitchalong.screens.overlays import OVERLAYS, Beneath, overlay
from stitchalong.screens.panels import Page, framed, room
from stitchalong.screens.preferences import Preferences
from stitchalong.screens.switching import SWITCHES, switch
from stitchalong.screens.view import Showing, Viewer
from stitchalong.session import Session, Told
from stitchalong.settings.commands import Scope
from stitchalong.settings.held import HeldKeys
from stitchalong.settings.when import spoken

if TYPE_CHECKING:
    from stitchalong.screens.beside.sheet import Done
    from stitchalong.screens.forms import Form
    from stitchalong.settings.settings import Settings

MOST_DIGITS = 7
"""of a count; no piece has more than a million beads"""

Act = Callable[[], None] | None

_MOVING = frozenset(("bead", "stitch", *UNITS, "again", "all_again"))
_SCROLLING = ("up", "down")
_FROM_ZERO = frozenset(("step_up", "warn"))
"""commands to which a count of 0 means something"""


class StitchingScreen(Screen[None]):
    """One session on the screen."""

    scope: Scope = "stitching"
    """which commands it has"""

    def __init__(
        self,
        session: Session,
        outlet: Outlet,
        *,
        look: Look,
        preferences: Preferences,
        clock: Callable[[], float],
        zone: tzinfo | None = None,
    ) -> None:
        """`clock` gives epoch seconds; `zone` None is the computer's own."""
        super().__init__()
        self.session = session
        self._outlet = outlet
        self._aloud = Aloud(outlet, session)
        self.keeping = Keeping(self)
        self._look = look
        self.given: dict[str, Any] = {"look": look, "preferences": preferences, "clock": clock, "zone": zone}
        self._glyphs = preferences.glyphs
        self._units = preferences.units
        self._clock = clock
        self._zone = zone
        self._viewer = Viewer(session)
        self._guard = HeldKeys(preferences.guard, *preferences.held)
        self._rests = Rests(*preferences.reminders)
        self.take_keys(preferences)
        shown = Showing(remarks=preferences.remarks, large=preferences.large, commands=self._commands)
        self._showing = replace(shown, means=outlet.describe(), scope=self.scope)
        if session.plan_changed and session.came_back is None:
            self._say(panels.plan_changed(self._commands))
        self._panel: Page | Form | None = self._welcome()
        self._act: Act = None
        """what Enter does in the panel"""
        self._otherwise: Act = None
        """what another key does there; None: it leaves the panel"""
        self._fronted = -FRONT
        """when the window came to the front"""
        self._counted: tuple[str, int, int] | None = None
        """the last key that moved, and the positions before and after it"""

    def take_keys(self, preferences: Preferences) -> None:
        """Which key asks for what, a click among them where it counts beads."""
        self._commands = preferences.commands
        self._keys = keymap(self.scope, self._commands)
        if preferences.tap and self.scope == "stitching":
            self._keys[TAP] = "bead"

    def compose(self) -> ComposeResult:
        yield Canvas(self._look, self._colours())

    def _colours(self) -> dict[str, str]:
        return {bead.code: bead.colour for bead in self.session.palette}

    # ---- showing --------------------------------------------------------------------------------

    def on_resize(self, event: events.Resize) -> None:
        self.show()

    def show(self) -> None:
        """Draw what stands; only what changed is painted."""
        width, height = self.size
        if not width or not height or self.keeping.holds():
            return
        lines: tuple[Line, ...]
        if self._panel is not None:
            inner = self._panel.lines(*room(width, height), self._glyphs)
            lines = framed(inner, self._panel.keys, width, height)
        else:
            view = self._viewer.view(replace(self._showing, unkept=self.keeping.late), *thread_room(width))
            lines = paint(view, width, height, self._glyphs)
        self.query_one(Canvas).show(lines)

    def listen(self, listening: bool, at: float = 0.0) -> None:
        """The window came to the front, or left it, at `at` by the clock of events."""
        self._fronted = at if listening else self._fronted
        if listening != self._showing.listening:
            self._aloud.words("listening" if listening else "not listening")
            self._showing = replace(self._showing, listening=listening)
            self.show()

    def means_changed(self) -> None:
        """The outlet tells cues by other means now."""
        self._showing = replace(self._showing, means=self._outlet.describe())
        self.show()
        if not self._aloud.greeted:
            self._greet()

    def _greet(self) -> None:
        self._aloud.greet()

    def _say(self, message: str) -> None:
        self._showing = replace(self._showing, message=message)

    def _say_aloud(self, message: str) -> None:
        self._say(message)
        self._aloud.sentence(message)

    def _open(self, panel: Page | Form | None, on_enter: Act = None, otherwise: Act = None) -> None:
        self._panel, self._act, self._otherwise = panel, on_enter, otherwise

    def _close(self) -> None:
        self._panel = self._act = self._otherwise = None

    def _welcome(self) -> Page | None:
        back = self.session.came_back
        if back is None:
            return None
        brief = self._viewer.view(self._showing, 0, 0).brief[1]
        news = panels.plan_changed(self._commands) if self.session.plan_changed else ""
        return panels.welcome(back, spoken(back.when, self._clock(), self._zone), brief, self._commands, news)

    # ---- keys -----------------------------------------------------------------------------------

    def on_paste(self, event: events.Paste) -> None:
        event.stop()
        self._say("Something was pasted; it is not counted.")
        self.show()

    def on_clicked(self, message: Clicked) -> None:
        click(self, message.button, message.at)
        self.show()

    def on_key(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        self._showing = replace(self._showing, listening=True)
        self._aloud.greeted = True
        digit = digit_of(event.character)
        if self._panel is not None and not isinstance(self._panel, Page):
            self._fill_in(self._panel, event.key, digit)
        elif digit:
            self._digit(digit)
        elif event.key == "escape" or event.key in self._keys or event.key in _SCROLLING:
            judge(self, event.key, event.time)
        self.keeping.show_soon()

    def _digit(self, digit: str) -> None:
        self._close()
        count = (self._showing.count + digit)[:MOST_DIGITS]
        self._showing = replace(self._showing, count=count, message="")

    def _key(self, key: str) -> None:
        count, self._showing = self._showing.count, replace(self._showing, count="", message="")
        wanted = self._keys.get(key, "")
        if self._panel is not None:
            if not self._in_panel(key, wanted):
                return
        elif key == "escape":
            return
        if count and int(count) == 0 and wanted not in _FROM_ZERO:
            self._say_aloud("0 counts nothing.")
        elif wanted:
            before = self.session.position
            self._run(wanted, int(count) if count else None)
            after = self.session.position
            self._counted = (key, before, after) if before != after else None

    def _in_panel(self, key: str, wanted: str) -> bool:
        """What a key does to the panel; True if it is a command to be done as well."""
        panel = self._panel
        assert isinstance(panel, Page)
        width, height = room(*self.size)
        if key in _SCROLLING and len(panel.draw(width, self._glyphs)) > height:
            self._panel = panel.scrolled(1 if key == "down" else -1, width, height, self._glyphs)
            return False
        if key in _SCROLLING:
            return False
        act, reading = self._act, self._act is None
        if act is not None and (key == "enter" or wanted in ("quit", "take_over")):
            self._close()
            if key == "enter" or wanted == "take_over":
                act()
            return wanted == "quit"
        otherwise = self._otherwise
        was_welcome = self.session.came_back is not None
        self.session.came_back = None
        self._close()
        if otherwise is not None:
            otherwise()
            return False
        if act is not None:
            self._say_aloud("Nothing was changed.")
            return False
        if was_welcome and (key == "escape" or wanted in _MOVING):
            self._aloud.here()
            return False
        return reading and key != "escape"

    def _fill_in(self, form: Form, key: str, digit: str) -> None:
        from stitchalong.screens.forms import Chosen, GoTo

        if key in ("escape", "ctrl+c", "ctrl+q"):
            self._close()
            return
        result = form.press(key, digit)
        if not isinstance(result, Chosen):
            self._panel = result
            return
        self._close()
        act = self.session.go_to if isinstance(form, GoTo) else self.session.step_up_elsewhere
        self._do(lambda: act(result.value))

    # ---- commands -------------------------------------------------------------------------------

    def _run(self, wanted: str, count: int | None) -> None:
        fault = unshown(self.session, lambda: self._carry_out(wanted, count))
        if fault is not None:
            self._refuse(fault)

    def _carry_out(self, wanted: str, count: int | None) -> None:
        session = self.session
        times = count or 1
        match wanted:
            case "bead":
                self._do(lambda: session.press(times), counted_on=times > 1)
            case "stitch":
                self._do(lambda: session.finish_stitch(times), counted_on=times > 1)
            case _ if wanted in UNITS:
                self._back(UNITS[wanted], times)
            case "again":
                self._do(lambda: session.redo(times))
            case "all_again":
                self._do(session.redo_all)
            case "go_to":
                from stitchalong.screens.asking import go_to_form

                self._open(go_to_form(session))
            case "step_up":
                self._step_up(count)
            case "another" | "on":
                self._do(lambda: session.choose(wanted == "another"))
            case _ if wanted in SWITCHES:
                self._switch(wanted, count)
            case _ if wanted in OVERLAYS:
                self._lay_over(wanted, count)
            case "new_plan":
                from stitchalong.screens.replanning import ask

                ask(self)
            case "time":
                self._say_aloud(session.time_told())
            case "figures":
                from stitchalong.screens.figures import of_session

                self._open(of_session(session, self._units))
            case "say":
                self._tell(session.speech.again(session.outlook))
            case "where":
                self._tell(session.speech.where(session.outlook))
            case "watch":
                self._only_watch()
            case "quit":
                self.app.exit()

    def _do(self, action: Callable[[], Told], *, counted_on: bool = False) -> None:
        """Do what moves, show what it led to, and tell it; of a count, what it went past too."""
        before = self.session.outlook
        told = attempt(self.session, action)
        if isinstance(told, NotDone):
            self._refuse(told)
            return
        rest = self._rests.stitched(self._clock()) if told.outlook != before else None
        self._say(in_words(told, self.session, before, rest, counted_on=counted_on))
        self.keeping.deliver(told.cue)
        if rest and not told.cue.urgent:
            self.keeping.deliver(rest)

    def _refuse(self, told: NotDone) -> None:
        if told.panel is None:
            self._say(told.what)
        else:
            self.keeping.forget()
            acts = (self._take_over, self._only_watch) if told.elsewhere else (lambda: None, None)
            self._open(told.panel, *acts)
        self._aloud.fault(told.what, urgent=told.panel is not None)

    def _take_over(self) -> None:
        from stitchalong.screens.handing import go_on_anew

        go_on_anew(self)

    def _only_watch(self) -> None:
        from stitchalong.screens.handing import only_watch

        only_watch(self)

    def _back(self, unit: Unit, times: int) -> None:
        session = self.session
        target = session.undo_target(unit, times)
        if session.is_large(target) and (unit is not Unit.BEAD or times > 1):
            takes = session.undo_takes(target)
            self._open(panels.confirm(takes), lambda: self._do(lambda: session.undo(unit, times)))
            self._aloud.sentence(f"{takes}. Enter takes it back, Escape leaves it.")
        else:
            self._do(lambda: session.undo(unit, times))

    def _step_up(self, spaces: int | None) -> None:
        from stitchalong.screens.asking import step_up_form

        form = step_up_form(self.session, spaces)
        if form is None:
            self._do(lambda: self.session.step_up_elsewhere(0))
        else:
            self._open(form)

    def _lay_over(self, wanted: str, count: int | None) -> None:
        over = Beneath(
            self.session, self._outlet, self._look, self._glyphs, self._units, self._commands, self.scope,
            self.given["preferences"].file, self._prefer,
        )  # fmt: skip
        self.app.push_screen(overlay(wanted, count, over), self._came_back)

    def _prefer(self, before: Settings, after: Settings) -> None:
        from stitchalong.screens.preferring import prefer

        prefer(self, before, after)

    def _came_back(self, left: Done | str | None) -> None:
        """A screen over the work was left: what it asks for is done."""
        if isinstance(left, str):
            self._run(left, None)
        elif left is not None and left.act is not None:
            self._do(left.act)
        elif left is not None and left.message:
            self._say_aloud(left.message)
        self.show()

    def _switch(self, wanted: str, count: int | None) -> None:
        switched = switch(wanted, count, self.session, self._showing, self._guard, self._outlet)
        self._showing = switched.showing
        say = self._say_aloud if switched.aloud else self._say
        say(switched.told)

    def _tell(self, aloud: str) -> None:
        self._open(panels.telling(self._viewer.view(self._showing, 0, 0), ""))
        self._aloud.words(aloud)
