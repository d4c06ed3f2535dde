"""What the stitching screen shows, as one value: made anew at each press, drawn by `layout`, compared by ==."""

from __future__ import annotations

from stitchalong.course.choices import Choice
from stitchalong.course.course import Course
from stitchalong.course.outlook import Outlook, word_of
from stitchalong.course.say import Teller
from stitchalong.course.strand import Bit, strand
from stitchalong.cues.words import Warning, warning
from stitchalong.errors import PlanError
from stitchalong.session import Session
from stitchalong.settings.commands import COMMANDS, Command, Scope
from stitchalong.values import value

_BITS = 4096
"""steps of the thread remembered"""


@value
class Answer:
    """What one answer to the open question would mean."""

    beads: int
    """of the round that would follow; 0 where nothing would"""
    sides: tuple[int, ...]
    fault: str = ""
    """why the plan does not allow this answer; empty where it does"""


@value
class Showing:
    """What the person at the keys has set or is doing; the piece knows nothing of it."""

    message: str = ""
    count: str = ""
    """digits typed for the next key"""
    remarks: bool = True
    listening: bool = True
    large: bool = False
    means: str = ""
    """how one is warned, in words"""
    commands: tuple[Command, ...] = COMMANDS
    """with keys of the stitcher's own"""
    unkept: bool = False
    """whether what is shown is still on its way to the disk"""
    scope: Scope = "stitching"
    """`watching`: another window works, this one only shows it"""


@value
class View:
    """All that is shown of a piece at work."""

    title: str
    name: str
    outlook: Outlook
    warn: int
    warning: Warning | None
    laid: tuple[Bit, ...]
    """the nearest last"""
    coming: tuple[Bit, ...]
    brief: tuple[str, str]
    """what to do now and where the thread comes out, without the names of beads, for narrow screens"""
    names: tuple[tuple[str, str], ...]
    """of the palette: code and name"""
    word: str
    """`round` or `row`"""
    another: Answer | None
    on: Answer | None
    """where a question is open"""
    showing: Showing

    def name_of(self, code: str) -> str:
        return dict(self.names).get(code, "")


class Viewer:
    """Makes views of a session. Keeps what stays the same from press to press."""

    def __init__(self, session: Session) -> None:
        self.session = session
        self._brief: Teller | None = None
        self._bits: dict[int, Bit] = {}
        self._bits_of: Course | None = None
        self._asked: tuple[int, tuple[Choice, ...]] | None = None
        self._answers: tuple[Answer | None, Answer | None] = (None, None)

    def view(self, showing: Showing, behind: int, ahead: int) -> View:
        """The view now, with up to so many steps of thread behind the needle and ahead of it."""
        session = self.session
        outlook = session.outlook
        at = session.position
        laid = self._thread(max(0, at - behind), at)
        coming = self._thread(at, min(session.course.steps, at + ahead)) if outlook.decision is None else ()
        another, on = self._meanings()
        return View(
            title=session.title,
            name=session.piece.name,
            outlook=outlook,
            warn=session.warn,
            warning=warning(outlook, session.warn),
            laid=laid,
            coming=coming,
            brief=self._briefly(),
            names=tuple(session.names.items()),
            word=word_of(session.course.rounds[session.course.round_of(at)]),
            another=another,
            on=on,
            showing=showing,
        )

    def _thread(self, first: int, stop: int) -> tuple[Bit, ...]:
        """The steps from `first` to `stop`; from press to press all but one are known already."""
        course = self.session.course
        if self._bits_of is not course or len(self._bits) > _BITS:
            self._bits, self._bits_of = {}, course
        known = self._bits
        for at in range(first, stop):
            if at not in known:
                known[at] = strand(course, at, 0, 1)[1][0]
        return tuple(known[at] for at in range(first, stop))

    def _briefly(self) -> tuple[str, str]:
        session = self.session
        if self._brief is None or self._brief.course is not session.course:
            self._brief = Teller(session.course, {})
            self._brief.threads = session.lookout.teller.threads
        now = session.outlook.now
        if session.position < session.course.steps:
            now = self._brief.now(session.course.spot(session.position))
        return now, self._brief.comes_out(session.position)

    def _meanings(self) -> tuple[Answer | None, Answer | None]:
        """Each answer is worked out once for a question: it means deriving the course anew."""
        session = self.session
        if session.outlook.decision is None:
            self._asked = None
            return None, None
        asked = (session.position, session.choices)
        if asked != self._asked:
            self._asked = asked
            self._answers = (self._answer(True), self._answer(False))
        return self._answers

    def _answer(self, more: bool) -> Answer:
        try:
            return Answer(*self.session.what_choosing_means(more))
        except PlanError as error:
            return Answer(0, (), "; ".join(problem.what for problem in error.problems))
