"""A piece, its course and its place, and how both are kept."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from stitchalong.course.choices import Choice
from stitchalong.course.course import COMPILER, Course
from stitchalong.course.kept import KeptCourse, Look
from stitchalong.course.laid import Digests
from stitchalong.course.outlook import Lookout, Outlook
from stitchalong.course.strand import last_beads
from stitchalong.course.walker import Walker, position_of, round_index, same_place
from stitchalong.cues.spoken import Speech, Talk
from stitchalong.cues.words import USUAL_WARNING, arrived, chosen, cue_of, refused, taken_back
from stitchalong.errors import StoreError
from stitchalong.session import courses
from stitchalong.session.values import (
    LAST_BEADS,
    KeptPlace,
    Made,
    Moved,
    Return,
    Told,
    comes_to,
    made_from,
    made_text,
    place_text,
    state_of,
)
from stitchalong.store.pieces import Store
from stitchalong.store.rows import Event, PieceRow, PieceSummary, Record, State

if TYPE_CHECKING:
    from stitchalong.plan.model import Plan
    from stitchalong.session.behind import Behind

CHECKED_RUNS = 5_000
"""a place with no more runs of stitches before it is held against its digest whenever one comes back: milliseconds"""


class Work:
    """A piece at work, as it stands."""

    def __init__(
        self,
        store: Store,
        row: PieceRow,
        plan: Plan | None = None,
        *,
        warn: int = USUAL_WARNING,
        course: Course | None = None,
    ) -> None:
        """`plan` and `course` where they are known; else the course is the one kept ready, or is compiled and kept.

        Raises StoreError or PlanError.
        """
        self._opened = store
        self._behind: Behind | None = None
        """the way of presses to the disk, where they are not waited for"""
        self._untold: Exception | None = None
        """why presses were not kept, where only somebody who reads was told"""
        self.warn = warn
        self.talk: Talk = "changes"
        self.remarks = True
        self.left_handed = False
        self._stand(row, plan, course)
        self.came_back = self._where_stopped() if row.position else None

    def _stand(
        self, row: PieceRow, plan: Plan | None = None, course: Course | None = None, *, as_before: bool = False
    ) -> None:
        """Stand where this row says; where that raises, as before. `as_before`: plan and course are known already."""
        stood = dict(vars(self))
        try:
            self.piece = row
            self._differs = ""
            if not as_before:
                self._plan = plan
                self._made = made_from(row.choices)
                self._know(plan, course)
            self._walker = self._find_place()
            self.outlook: Outlook = self.lookout.at(self.position)
            self._seq = row.seq
        except Exception:
            vars(self).clear()
            vars(self).update(stood)
            raise

    # ---- what stands ----------------------------------------------------------------------------

    @property
    def position(self) -> int:
        return self._walker.position

    @property
    def redo_to(self) -> int:
        return self._walker.redo_to

    @property
    def plan(self) -> Plan:
        """The piece's own copy of its plan, read when somebody asks. Raises PlanError."""
        if self._plan is None:
            from stitchalong.plan.checked import build

            self._plan = build(json.loads(self.piece.plan_data), source=self.piece.plan_name)
        return self._plan

    @property
    def title(self) -> str:
        return self.course.title

    @property
    def choices(self) -> tuple[Choice, ...]:
        return tuple(made.choice for made in self._made)

    @property
    def speech(self) -> Speech:
        """How this piece is spoken of."""
        return Speech(self.names, self.talk, self.remarks)

    def hold_needle(self, *, left: bool) -> None:
        """In which hand the needle is: words of direction are mirrored for the left one, counts never."""
        if left == self.left_handed:
            return
        self.left_handed = left
        self._look_out()
        if self.came_back is not None:
            self.came_back = self._where_stopped()

    def _look_out(self) -> None:
        """See the course anew from where the walker stands."""
        self.lookout = Lookout(self.course, self.names, left_handed=self.left_handed)
        self.outlook = self.lookout.at(self.position)

    def _know(self, plan: Plan | None, course: Course | None) -> None:
        """The course of this piece: the one that is given, or the one kept ready, or compiled anew."""
        row = self.piece
        kept = None if plan is not None else courses.fetch(self._store, row.uid, row.plan_data, row.choices)
        self.course: Course = kept.course if kept else course or self._derive(self.choices)
        self._see(kept.palette if kept else courses.look_of(self.plan))
        self.lookout = Lookout(self.course, self.names, left_handed=self.left_handed)
        self._digests = Digests(self.course)
        if plan is None and kept is None:
            self._keep_course(row.choices)

    def _see(self, palette: tuple[Look, ...]) -> None:
        self.palette = palette
        self.names = {bead.code: bead.name for bead in palette}

    def _derive(self, choices: Iterable[Choice]) -> Course:
        """Compile the plan with these choices. Raises PlanError."""
        from stitchalong.course.compile import compile_plan

        return compile_plan(self.plan, choices)

    def _keep_course(self, choices: str) -> None:
        row = self.piece
        courses.keep(self._store, row.uid, row.plan_data, choices, KeptCourse(self.course, self.palette))

    def _find_place(self) -> Walker:
        """Where the piece stands: by its address, where the program now derives another course. Raises StoreError."""
        row, course = self.piece, self.course
        try:
            kept = KeptPlace.read(row.place)
        except (ValueError, KeyError, TypeError, RecursionError) as error:
            what = f"the place kept with {row.name} cannot be read"
            raise StoreError(what, fix="`stitchalong restore` brings back the last copy of all pieces") from error
        index = round_index(course, kept.address.edge, kept.address.round, kept.address.part)
        position = position_of(course, kept.address)
        if index is None or position is None:
            from stitchalong.plan.text import shown

            raise StoreError(
                f"{row.name} stands in round {kept.address.round} on the {shown(kept.address.edge)} edge, "
                "which its plan does not give",
                fix="go on with the program it was begun with; the piece is as it was",
            )
        checked = row.compiler != COMPILER or course.rounds[index].first_run <= CHECKED_RUNS
        if position == row.position and (kept.laid is None or not checked or self._digests.before(index) == kept.laid):
            if kept.laid is not None:
                self._digests.know(index, kept.laid)
            return Walker(position, min(row.redo_to, course.steps))
        self._differs = (
            "this program derives rounds that you have laid otherwise than they were laid; "
            "your place is kept by its round and stitch, so hold the last beads against your work"
        )
        return Walker(position, position)

    def _where_stopped(self) -> Return:
        return Return(
            self.piece.touched,
            self._spoken_place(),
            self.outlook.comes_out,
            tuple(last_beads(self.course, self.position, LAST_BEADS)),
            self._differs,
        )

    def _spoken_place(self) -> str:
        """`round 5, top edge, side 2 of 4, 3 left on this side`."""
        outlook = self.outlook
        parts = [outlook.title]
        if outlook.side is not None and outlook.sides > 1:
            parts.append(f"side {outlook.side + 1} of {outlook.sides}")
        if outlook.big is not None:
            parts.append(f"{outlook.big} {outlook.big_label}")
        return ", ".join(parts)

    # ---- keeping --------------------------------------------------------------------------------

    def _keep(self, kind: str, walker: Walker, *, amount: int = 0, data: str = "", state: State | None = None) -> None:
        """Make an event durable; only then does the work stand elsewhere. Raises StoreError.

        But a plain move, where there is a writer, may still be on its way to the disk: then `unkept` says so, and
        `settle` what has become of it.
        """
        event = Event(kind, amount, walker.position, walker.redo_to, data)  # type: ignore[arg-type]
        if self._behind is not None and not data and state is None:
            place = place_text(self._digests, walker.position)
            self._behind.put(Record(self.piece.id, self._seq, (event,), place), self._walker)
            self._walker, self._seq = walker, self._seq + 1
            self._raise_unkept()
            return
        self._wait_until_kept()
        place = place_text(self._digests, walker.position)
        self._seq = self._store.record(self.piece.id, self._seq, [event], place=place, state=state)
        self._walker = walker

    # ---- keeping behind -------------------------------------------------------------------------

    @property
    def _store(self) -> Store:
        """The store, where all is settled: nothing can be read or kept that stands on what is not.

        Raises what befell a press that was not kept; `settle` gives it once more, for whoever tells of presses.
        """
        try:
            self._wait_until_kept()
        except Exception as error:
            self._untold = error
            raise
        return self._opened

    def listed(self) -> tuple[Store, PieceSummary]:
        """The store, all settled, and the piece as lists show it: for what is asked of it as a whole.

        Raises StoreError.
        """
        store = self._store
        return store, store.summary(self.piece.id)

    @property
    def unkept(self) -> bool:
        """Whether anything is not on the disk yet."""
        return self._behind is not None and bool(self._behind.sent)

    def keep_behind(self, told: Callable[[], object]) -> Behind | None:
        """From now on a slow disk is not waited for; whoever asks for this closes what it gives, at the end.

        `told` is called in another thread when late presses are settled; then `settle` tells whether they are kept.
        None where there can be no writer: then all goes on as before.
        """
        from stitchalong.session.behind import behind

        self._behind = behind(self._store, told)
        return self._behind

    def settle(self) -> Exception | None:
        """What has become of the presses sent to the disk. If any was not kept: why (a StoreError, mostly); then all
        stands as it did before it. Each fault is given once."""
        error = self._settled() or self._untold
        self._untold = None
        return error

    def _settled(self) -> Exception | None:
        found = self._behind.settle(self.piece.id) if self._behind is not None else None
        if found is None:
            return None
        self._walker, self._seq, error = found
        self.outlook = self.lookout.at(self.position)
        return error

    def _raise_unkept(self) -> None:
        error = self._settled()
        if error is not None:
            raise error

    def _wait_until_kept(self) -> None:
        """Raises what befell a press that was not kept."""
        if self._behind is not None:
            self._behind.flush()
            self._raise_unkept()

    def mark(self, what: str) -> None:
        """Leave a mark in the piece's record, which moves nothing; another window is refused its next press by it."""
        self._keep("mark", self._walker, data=json.dumps({"mark": what}))

    def _move(self, kind: str, walker: Walker, message: str = "") -> Told:
        before = self.outlook
        state = state_of(before, self.course, walker.position)
        self._keep(kind, walker, amount=abs(walker.position - before.position), state=state)
        self.outlook = self.lookout.at(walker.position)
        if kind in ("press", "redo"):
            cue = cue_of(before, self.outlook, self.warn, self.speech)
        else:
            forward = walker.position > before.position
            now, speech = self.outlook, self.speech
            cue = arrived(now, speech) if forward else taken_back(now, speech, before)
        return Told(self.outlook, cue, message)

    def _moved(self, old: Course) -> Moved:
        """What lies beside the work and was pinned to places of the old course, as it lies in the one of now."""
        return Moved()

    def _nothing(self, text: str) -> Told:
        return Told(self.outlook, refused(text), text)

    def _rechoose(self, kind: str, made: list[Made], position: int, message: str) -> Told:
        """Derive the course again with other choices, and keep them. Where either fails, all stands as before.

        Positions (this one and those of `made`) are of the course as it is now; where work is accepted as it is, or no
        longer, they are carried over by their address, in the same commit.
        """
        self._wait_until_kept()
        before, old_course, old_made = self.outlook, self.course, self._made
        try:
            self._made = made
            self.course = self._derive(self.choices)
            self._digests = Digests(self.course)
            if self.course.deviations != old_course.deviations:
                position = same_place(old_course, self.course, position)
                self._made = [Made(same_place(old_course, self.course, one.at), one.choice, one.joined) for one in made]
                message = f"{message} {comes_to(old_course, self.course)}"
            moved = self._moved(old_course)
            events = [Event(kind, abs(position - before.position), position, position)]  # type: ignore[arg-type]
            if moved.thread:
                events.append(Event("thread", 0, position, position, moved.thread))
            self._seq = self._store.record(
                self.piece.id,
                self._seq,
                events,
                place=place_text(self._digests, position),
                choices=made_text(self._made),
                steps=self.course.steps,
                state=state_of(before, self.course, position),
                moved=moved.notes,
            )
        except Exception:
            self.course, self._made, self._digests = old_course, old_made, Digests(old_course)
            raise
        self._walker = Walker(position, position)
        self._keep_course(made_text(self._made))
        self._look_out()
        if kind == "undo":
            return Told(self.outlook, taken_back(self.outlook, self.speech, before), message)
        return Told(self.outlook, chosen(message, self.outlook, self.speech), message)
