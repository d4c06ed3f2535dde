"""The line-by-line front end: for screen readers, pipes and tests. It reads lines and appends lines.

Nothing is redrawn, and no signs are written that steer a terminal (a bell is the outlet's).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from stitchalong.course.strand import last_beads
from stitchalong.course.walker import Unit
from stitchalong.course.words import counted
from stitchalong.cues.cue import Cue, Outlet
from stitchalong.cues.spoken import TOLD, next_talk
from stitchalong.cues.words import took_back
from stitchalong.errors import StitchalongError, UsageError
from stitchalong.measure.units import Units
from stitchalong.plain import telling
from stitchalong.plain.alongside import Alongside
from stitchalong.plain.asked import Asked, asked
from stitchalong.plain.places import position
from stitchalong.session import LAST_BEADS, Session, Told
from stitchalong.session.plan_files import CHANGED
from stitchalong.store import Conflict, Missing

EARLY = (0, 1, 2, 3, 5, 8)
"""what `warn` without a number goes through"""

_UNITS = {
    "back": Unit.BEAD,
    "back_stitch": Unit.STITCH,
    "back_side": Unit.SIDE,
    "back_round": Unit.ROUND,
    "back_part": Unit.PART,
}


class Front:
    """One session, line by line."""

    def __init__(
        self,
        session: Session,
        say: Callable[[str], object],
        *,
        outlet: Outlet | None = None,
        units: Units = Units.METRIC,
    ) -> None:
        self._session = session
        self._say = say
        self._outlet = outlet
        self._units = units
        self._alongside = Alongside(session, units)
        self._before = session.outlook
        """what was told last"""
        self._asking: Callable[[], Told] | None = None
        """what is done if the next line says yes"""

    def open(self, now: float) -> None:
        """Say where one stopped, and what to do. `now`: epoch seconds."""
        session = self._session
        if session.came_back is not None:
            words = session.speech.came_back(session.outlook, session.came_back.last_beads)
        else:
            words = session.speech.stands(session.outlook)
        self._speak(f"{words}. {session.speech.plainly(CHANGED)}" if session.plan_changed else words)
        self._all(telling.came_back(session, now))
        self._all(telling.plan_changed(session))
        self._say(telling.line(session.outlook))
        self._all(telling.warned(session))
        self._beside(session.position)

    def run(self, lines: Iterable[str], *, attended: bool) -> None:
        """Read lines to their end, or to `quit`.

        Attended: somebody reads along, so a line that is not understood, or cannot be kept, is told and the
        next one read. Otherwise the first such line raises a StitchalongError: what follows it would count wrong.
        A piece that was gone on with elsewhere, or is gone, ends it in any case.
        """
        for number, text in enumerate(lines, start=1):
            try:
                if not self.take(text):
                    break
            except (Conflict, Missing):
                raise
            except StitchalongError as error:
                if attended:
                    self._say(telling.fault(error))
                    self._deliver(Cue("error", telling.fault(error)))
                elif isinstance(error, UsageError):
                    raise UsageError(f"line {number}: {telling.fault(error)}") from error
                else:
                    raise

    def take(self, text: str) -> bool:
        """Do what one line asks for; False where it asks to leave. Raises StitchalongError; then nothing moved."""
        if self._asking is not None:
            yes, self._asking = self._asking, None
            if text.strip().casefold() in ("yes", "y"):
                self._told(yes(), 1)
            else:
                self._say("left as it was")
            return True
        wish = asked(text)
        if wish.id == "quit":
            return False
        self._do(wish)
        return True

    def close(self) -> None:
        """Say that all is kept, and where."""
        self._say(telling.kept(self._session.outlook))

    # ---- commands -------------------------------------------------------------------------------

    def _do(self, wish: Asked) -> None:
        session, count = self._session, wish.count or 1
        match wish.id:
            case "bead":
                self._told(session.press(count), count)
            case "stitch":
                self._told(session.finish_stitch(count), count)
            case _ if wish.id in _UNITS:
                self._back(_UNITS[wish.id], count)
            case "again":
                self._told(session.redo(count), count)
            case "all_again":
                self._told(session.redo_all(), 1, jumped=True)
            case "go_to":
                assert wish.goal is not None
                self._go_to(position(session.course, session.outlook, wish.goal))
            case "step_up":
                self._step_up(wish.count)
            case "another" | "on":
                self._told(session.choose(wish.id == "another"), 1)
            case "warn":
                self._warn(wish.count)
            case "remarks":
                session.remarks = not session.remarks
                self._say_aloud("remarks are told" if session.remarks else "remarks are not told")
            case "mute":
                self._mute()
            case "talk":
                session.talk = next_talk(session.talk)
                self._say_aloud(f"aloud: {TOLD[session.talk]}")
            case "place":
                self._go_to(self._alongside.place(wish.count))
            case "accept":
                self._told(self._alongside.accept(), 1)
            case "take_out":
                self._take_out(wish.count)
            case "new_plan":
                self._new_plan()
            case "find" | "recount" | "tray" | "thread" | "note":
                for text in self._answered(wish):
                    self._say_aloud(text)
            case _:
                self._all(self._asked_for(wish.id))

    def _answered(self, wish: Asked) -> Iterator[str]:
        """What lies beside the work."""
        beside, text = self._alongside, wish.text or str(wish.count or "")
        match wish.id:
            case "find":
                return beside.find(text)
            case "recount":
                return beside.count(text)
            case "tray":
                return beside.tray(text)
            case "thread":
                return beside.thread(text)
        return beside.note(text)

    def _take_out(self, beads: int | None) -> None:
        session = self._session
        burst = session.burst() if beads is None else None
        if beads is None and burst is None:
            raise UsageError("how many beads did you take out?", fix="`take out 9`")
        if burst is not None:
            self._asking = session.take_back_burst
            self._say_aloud(f"the last presses came in a burst: {burst.words}. Type yes to take them back.")
            return
        target = session.unpick_target(beads or 0)
        if target is None:
            self._told(session.unpick(beads or 0), 1)
        else:
            self._backwards(target, lambda: session.unpick(beads or 0))

    def _new_plan(self) -> None:
        loaded, path = self._session.new_plan()
        new = self._session.what_new_plan_means(loaded)
        self._all(telling.new_plan(new))
        if new.keeps_place:
            self._asking = lambda: self._session.take_over_plan(loaded, path.stem)
            self._say_aloud("Type yes to go on by the new plan.")

    def _asked_for(self, what: str) -> Iterator[str]:
        session, speech = self._session, self._session.speech
        match what:
            case "say":
                self._speak(speech.again(session.outlook))
                yield telling.line(session.outlook)
                yield from telling.ahead(session.outlook)
            case "where":
                self._speak(speech.where(session.outlook))
                yield from telling.where(session.outlook)
            case "last":
                codes = last_beads(session.course, session.position, LAST_BEADS)
                self._speak(speech.last(codes))
                yield telling.last(codes)
            case "left":
                lines = list(telling.left(session.outlook))
                self._speak(speech.plainly(", ".join(lines)))
                yield from lines
            case "time":
                told = session.time_told()
                self._speak(speech.plainly(told))
                yield told
            case "figures":
                for heading, figures in session.in_figures(self._units):
                    yield from (f"{heading.lower().rstrip('?')}: {text}" for text in figures)
            case "help":
                yield from telling.helped()
            case _:
                raise AssertionError(f"no answer to {what}")

    def _back(self, unit: Unit, times: int) -> None:
        session = self._session
        target = session.undo_target(unit, times)
        self._backwards(target, lambda: session.undo(unit, times))

    def _backwards(self, target: int, go: Callable[[], Told]) -> None:
        """Go back at once if that takes little, else say first what it takes."""
        session = self._session
        if session.is_large(target):
            self._asking = go
            self._say_aloud(f"{session.undo_takes(target)}. Type yes to do it.")
        else:
            self._told(go(), 1)

    def _go_to(self, target: int) -> None:
        session = self._session
        if target < session.position:
            self._backwards(target, lambda: session.go_to(target))
        else:
            self._told(session.go_to(target), 1, jumped=True)

    def _step_up(self, spaces: int | None) -> None:
        size = self._session.can_step_up_elsewhere()
        if spaces is None and size:
            fix = f"such as `step up 5`; the next edge has {counted(size, 'space')}"
            raise UsageError("how many spaces further on?", fix=fix)
        self._told(self._session.step_up_elsewhere(spaces or 0), 1)

    def _warn(self, beads: int | None) -> None:
        session = self._session
        if beads is None:
            beads = next((early for early in EARLY if early > session.warn), EARLY[0])
        session.warn = beads
        self._say_aloud(f"warned {counted(beads, 'bead')} ahead" if beads else "warnings are off")

    def _mute(self) -> None:
        if self._outlet is None:
            raise UsageError("nothing sounds here", fix="--sound and --voice tell by ear as well")
        self._say("muted" if self._outlet.mute() else f"heard again: {self._outlet.describe()}")

    # ---- telling --------------------------------------------------------------------------------

    def _deliver(self, cue: Cue) -> None:
        if self._outlet is not None:
            self._outlet.deliver(cue)

    def _speak(self, words: str) -> None:
        self._deliver(Cue(None, words))

    def _say_aloud(self, text: str) -> None:
        self._say(text)
        self._speak(self._session.speech.plainly(text))

    def _told(self, told: Told, count: int, *, jumped: bool = False) -> None:
        """Say what a press led to. `count` of presses in one; `jumped`: what lies between was not worked now."""
        session, before, after = self._session, self._before, told.outlook
        self._before = after
        self._deliver(told.cue)
        if told.message:
            self._say(told.message)
        self._all(f"your note here: {note}" for note in told.notes)
        if told.cue.earcon == "error":
            return
        forward = after.position > before.position
        if forward and count > 1 and not jumped:
            self._all(telling.passed(session, before, after))
        taken_back = told.cue.earcon == "undone"
        brief = forward and not jumped and telling.same_stitch(before, after)
        took = took_back(before, after) if taken_back else ""
        self._say((f"{took} taken back to ".lstrip() if taken_back else "") + telling.line(after, whole=not brief))
        if taken_back or (told.cue.urgent and told.cue.earcon in ("heads-up", "now")):
            self._all(telling.warned(session))
        self._beside(after.position if jumped or not forward else before.position + 1, remarks=forward)

    def _beside(self, first: int, *, remarks: bool = True) -> None:
        """What is told beside the place itself: remarks from the position `first` on, and an open question."""
        session = self._session
        if self._session.remarks and remarks:
            self._all(telling.remarks(session, first, session.position))
        if session.outlook.decision is not None:
            self._all(telling.question(session))

    def _all(self, lines: Iterable[str]) -> None:
        for text in lines:
            self._say(text)
