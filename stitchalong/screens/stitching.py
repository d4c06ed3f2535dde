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
        self.outlet = outlet
        self.aloud = Aloud(outlet, session)
        self.keeping = Keeping(self)
        self.look = look
        self.given: dict[str, Any] = {"look": look, "preferences": preferences, "clock": clock, "zone": zone}
        self.glyphs = preferences.glyphs
        self.units = preferences.units
        self._clock = clock
        self._zone = zone
        self.viewer = Viewer(session)
        self.guard = HeldKeys(preferences.guard, *preferences.held)
        self.rests = Rests(*preferences.reminders)
        self.take_keys(preferences)
        shown = Showing(remarks=preferences.remarks, large=preferences.large, commands=self._commands)
        self.showing = replace(shown, means=outlet.describe(), scope=self.scope)
        if session.plan_changed and session.came_back is None:
            self.say(panels.plan_changed(self._commands))
        self.panel: Page | Form | None = self.welcome()
        self.act: Act = None
        """what Enter does in the panel"""
        self._otherwise: Act = None
        """what another key does there; None: it leaves the panel"""
        self.fronted = -FRONT
        """when the window came to the front"""
        self.counted: tuple[str, int, int] | None = None
        """the last key that moved, and the positions before and after it"""

    def take_keys(self, preferences: Preferences) -> None:
        """Which key asks for what, a click among them where it counts beads."""
        self._commands = preferences.commands
        self.keys = keymap(self.scope, self._commands)
        if preferences.tap and self.scope == "stitching":
            self.keys[TAP] = "bead"

    def compose(self) -> ComposeResult:
        yield Canvas(self.look, self.colours())

    def colours(self) -> dict[str, str]:
        """Of the beads, by code."""
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
        if self.panel is not None:
            inner = self.panel.lines(*room(width, height), self.glyphs)
            lines = framed(inner, self.panel.keys, width, height)
        else:
            view = self.viewer.view(replace(self.showing, unkept=self.keeping.late), *thread_room(width))
            lines = paint(view, width, height, self.glyphs)
        self.query_one(Canvas).show(lines)

    def listen(self, listening: bool, at: float = 0.0) -> None:
        """The window came to the front, or left it, at `at` by the clock of events."""
        self.fronted = at if listening else self.fronted
        if listening != self.showing.listening:
            self.aloud.words("listening" if listening else "not listening")
            self.showing = replace(self.showing, listening=listening)
            self.show()

    def means_changed(self) -> None:
        """The outlet tells cues by other means now."""
        self.showing = replace(self.showing, means=self.outlet.describe())
        self.show()
        if not self.aloud.greeted:
            self.greet()

    def greet(self) -> None:
        """Say aloud where the piece stands."""
        self.aloud.greet()

    def say(self, message: str) -> None:
        """Show this with the next picture."""
        self.showing = replace(self.showing, message=message)

    def _say_aloud(self, message: str) -> None:
        self.say(message)
        self.aloud.sentence(message)

    def open(self, panel: Page | Form | None, on_enter: Act = None, otherwise: Act = None) -> None:
        """Show a panel; what Enter does there, and what another key."""
        self.panel, self.act, self._otherwise = panel, on_enter, otherwise

    def _close(self) -> None:
        self.panel = self.act = self._otherwise = None

    def welcome(self) -> Page | None:
        """What is shown first; None: the work."""
        back = self.session.came_back
        if back is None:
            return None
        brief = self.viewer.view(self.showing, 0, 0).brief[1]
        news = panels.plan_changed(self._commands) if self.session.plan_changed else ""
        return panels.welcome(back, spoken(back.when, self._clock(), self._zone), brief, self._commands, news)

    # ---- keys -----------------------------------------------------------------------------------

    def on_paste(self, event: events.Paste) -> None:
        event.stop()
        self.say("Something was pasted; it is not counted.")
        self.show()

    def on_clicked(self, message: Clicked) -> None:
        click(self, message.button, message.at)
        self.show()

    def on_key(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        self.showing = replace(self.showing, listening=True)
        self.aloud.greeted = True
        digit = digit_of(event.character)
        if self.panel is not None and not isinstance(self.panel, Page):
            self._fill_in(self.panel, event.key, digit)
        elif digit:
            self._digit(digit)
        elif event.key == "escape" or event.key in self.keys or event.key in _SCROLLING:
            judge(self, event.key, event.time)
        self.keeping.show_soon()

    def _digit(self, digit: str) -> None:
        self._close()
        count = (self.showing.count + digit)[:MOST_DIGITS]
        self.showing = replace(self.showing, count=count, message="")

    def obey(self, key: str) -> None:
        """Do what a key asks for."""
        count, self.showing = self.showing.count, replace(self.showing, count="", message="")
        wanted = self.keys.get(key, "")
        if self.panel is not None:
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
            self.counted = (key, before, after) if before != after else None

    def _in_panel(self, key: str, wanted: str) -> bool:
        """What a key does to the panel; True if it is a command to be done as well."""
        panel = self.panel
        assert isinstance(panel, Page)
        width, height = room(*self.size)
        if key in _SCROLLING and len(panel.draw(width, self.glyphs)) > height:
            self.panel = panel.scrolled(1 if key == "down" else -1, width, height, self.glyphs)
            return False
        if key in _SCROLLING:
            return False
        act, reading = self.act, self.act is None
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
            self.aloud.here()
            return False
        return reading and key != "escape"

    def _fill_in(self, form: Form, key: str, digit: str) -> None:
        from stitchalong.screens.forms import Chosen, GoTo

        if key in ("escape", "ctrl+c", "ctrl+q"):
            self._close()
            return
        result = form.press(key, digit)
        if not isinstance(result, Chosen):
            self.panel = result
            return
        self._close()
        act = self.session.go_to if isinstance(form, GoTo) else self.session.step_up_elsewhere
        self.do(lambda: act(result.value))

    # ---- commands -------------------------------------------------------------------------------

    def _run(self, wanted: str, count: int | None) -> None:
        fault = unshown(self.session, lambda: self._carry_out(wanted, count))
        if fault is not None:
            self.refuse(fault)

    def _carry_out(self, wanted: str, count: int | None) -> None:
        session = self.session
        times = count or 1
        match wanted:
            case "bead":
                self.do(lambda: session.press(times), counted_on=times > 1)
            case "stitch":
                self.do(lambda: session.finish_stitch(times), counted_on=times > 1)
            case _ if wanted in UNITS:
                self._back(UNITS[wanted], times)
            case "again":
                self.do(lambda: session.redo(times))
            case "all_again" if session.outlook.done:  # nothing can be done again there
                self._lay_over("finish", None)
            case "all_again":
                self.do(session.redo_all)
            case "go_to":
                from stitchalong.screens.asking import go_to_form

                self.open(go_to_form(session))
            case "step_up":
                from stitchalong.screens.asking import step_up

                step_up(self, count)
            case "another" | "on":
                self.do(lambda: session.choose(wanted == "another"))
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

                self.open(of_session(session, self.units))
            case "say":
                self._tell(session.speech.again(session.outlook))
            case "where":
                self._tell(session.speech.where(session.outlook))
            case "watch":
                self._only_watch()
            case "quit":
                self.app.exit()

    def do(self, action: Callable[[], Told], *, counted_on: bool = False) -> None:
        """Do what moves, show what it led to, and tell it; of a count, what it went past too."""
        before = self.session.outlook
        told = attempt(self.session, action)
        if isinstance(told, NotDone):
            self.refuse(told)
            return
        rest = self.rests.stitched(self._clock()) if told.outlook != before else None
        self.say(in_words(told, self.session, before, rest, counted_on=counted_on))
        self.keeping.deliver(told.cue)
        if rest and not told.cue.urgent:
            self.keeping.deliver(rest)

    def refuse(self, told: NotDone) -> None:
        """Tell what was not done, and why."""
        if told.panel is None:
            self.say(told.what)
        else:
            self.keeping.forget()
            acts = (self._take_over, self._only_watch) if told.elsewhere else (lambda: None, None)
            self.open(told.panel, *acts)
        self.aloud.fault(told.what, urgent=told.panel is not None)

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
            self.open(panels.confirm(takes), lambda: self.do(lambda: session.undo(unit, times)))
            self.aloud.sentence(f"{takes}. Enter takes it back, Escape leaves it.")
        else:
            self.do(lambda: session.undo(unit, times))

    def _lay_over(self, wanted: str, count: int | None) -> None:
        over = Beneath(
            self.session, self.outlet, self.look, self.glyphs, self.units, self._commands, self.scope,
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
            self.do(left.act)
        elif left is not None and left.message:
            self._say_aloud(left.message)
        self.show()

    def _switch(self, wanted: str, count: int | None) -> None:
        switched = switch(wanted, count, self.session, self.showing, self.guard, self.outlet)
        self.showing = switched.showing
        say = self._say_aloud if switched.aloud else self.say
        say(switched.told)

    def _tell(self, aloud: str) -> None:
        self.open(panels.telling(self.viewer.view(self.showing, 0, 0), ""))
        self.aloud.words(aloud)
