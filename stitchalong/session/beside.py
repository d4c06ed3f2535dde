"""What lies beside the work: where one might be, beads on the tray, notes, the thread, the time."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from stitchalong.course.walker import Walker, same_place
from stitchalong.cues.cue import Cue
from stitchalong.errors import UsageError
from stitchalong.measure.units import Units
from stitchalong.session.taking_out import TakingOut
from stitchalong.session.values import Made, Moved, Told

if TYPE_CHECKING:
    from stitchalong.course.course import Course
    from stitchalong.course.find import Clues, Finder, Found
    from stitchalong.course.tray import Finding, Tray
    from stitchalong.measure.figure import Figure
    from stitchalong.measure.in_figures import Section
    from stitchalong.measure.pace import Pace
    from stitchalong.measure.spool import Entry, Reach, Spool
    from stitchalong.store.journal import Kept
    from stitchalong.store.rows import Note

NOTES_TOLD = 3
"""of notes passed at once, the nearest so many"""


class Beside(TakingOut):
    """What helps, and does not move the place. What it is done with is imported where it is done."""

    _finder: Finder | None = None
    _notes: list[Note] | None = None
    _entries: list[Entry] | None = None
    _spool: tuple[Course, Spool | None] | None = None

    # ---- finding --------------------------------------------------------------------------------

    def find(self, clues: Clues) -> Found:
        """The places that fit what is seen, best first. Raises UsageError for clues that cannot be."""
        from stitchalong.course.find import Finder

        if self._finder is None or self._finder.course is not self.course:
            self._finder = Finder(self.lookout)
        return self._finder.find(clues, self.position)

    # ---- the tray -------------------------------------------------------------------------------

    def tray(self, rounds: int | None = None) -> Tray:
        """Beads to count out: for this side, this round, so many rounds ahead (None: as many as usual)."""
        from stitchalong.course.tray import ROUNDS_AHEAD, tray

        return tray(self.lookout, self.position, ROUNDS_AHEAD if rounds is None else rounds)

    def left_over(self, on_tray: Mapping[str, int]) -> tuple[Finding, ...]:
        """What it means that so many beads are left over (or, below 0, missing) of those counted out for the round at
        hand, or the one that was just finished. Raises UsageError."""
        from stitchalong.course.tray import left_over, tray

        before = tray(self.lookout, max(0, self.position - 1), 0).round
        return left_over(before.needed, on_tray)

    # ---- notes ----------------------------------------------------------------------------------

    @property
    def notes(self) -> tuple[Note, ...]:
        """In the order of their places."""
        if self._notes is None:
            self._notes = self._store.notes(self.piece.id)
        return tuple(self._notes)

    def pin_note(self, text: str) -> Note:
        """Pin a note to the bead that was laid last. Raises StoreError where it says nothing."""
        note = self._store.add_note(self.piece.id, self.position, text)
        self._notes = sorted((*self.notes, note), key=lambda one: (one.position, one.id))
        return note

    def unpin_note(self, note: Note) -> None:
        """Raises StoreError where it is gone already."""
        self._store.remove_note(note.id)
        self._notes = [one for one in self.notes if one.id != note.id]

    def _move(self, kind: str, walker: Walker, message: str = "") -> Told:
        before, _ = self.position, self.notes  # these are read before anything is on its way to the disk
        told = super()._move(kind, walker, message)
        return replace(told, notes=self._passed(before, self.position))

    def _passed(self, before: int, after: int) -> tuple[str, ...]:
        """Notes passed on the way forward; on the way back those at its end."""
        if after > before:
            passed = [note.text for note in self.notes if before < note.position <= after]
        else:
            passed = [note.text for note in self.notes if note.position == after]
        return tuple(passed[-NOTES_TOLD:])

    def _rechoose(self, kind: str, made: list[Made], position: int, message: str) -> Told:
        old = self.course
        told = super()._rechoose(kind, made, position, message)
        if self.course.deviations != old.deviations:
            self._notes = self._entries = None  # they lie elsewhere now
        return told

    def _moved(self, old: Course) -> Moved:
        """Where work is accepted as it is, or no longer, notes and what was said of the thread keep their beads."""
        if self.course.deviations == old.deviations:
            return Moved()
        notes = [(note, same_place(old, self.course, note.position)) for note in self.notes]
        moved = tuple((note.id, position) for note, position in notes if position != note.position)
        entries = self.thread_entries()
        now = [replace(entry, position=same_place(old, self.course, entry.position)) for entry in entries]
        rows = [[entry.position, entry.length, entry.new] for entry in now]
        return Moved(moved, json.dumps({"all": rows}) if now != entries else "")

    # ---- the thread -----------------------------------------------------------------------------

    def new_thread(self, millimetres: float) -> Told:
        """A new thread of this length was begun here. Raises UsageError for a length that cannot be."""
        return self._say_thread(millimetres, new=True)

    def thread_left(self, millimetres: float) -> Told:
        """So much of the thread in use hangs out of the work here. Raises UsageError."""
        return self._say_thread(millimetres, new=False)

    def _say_thread(self, millimetres: float, *, new: bool) -> Told:
        from stitchalong.measure.spool import Entry, checked_length
        from stitchalong.measure.units import hand_length

        length = checked_length(millimetres)
        entries = self.thread_entries()
        self._keep("thread", self._walker, data=json.dumps({"length": length, "new": new}))
        self._entries = [*entries, Entry(self.position, length, new)]
        text = f"{'A new thread of' if new else 'The thread:'} {hand_length(length)}."
        return Told(self.outlook, Cue(None, text, screen=text), text)

    def thread_entries(self) -> list[Entry]:
        """What was said of the thread, in order."""
        if self._entries is None:
            self._entries = _entries(self._store.told(self.piece.id))
        return self._entries

    def thread(self) -> Reach | None:
        """The thread at hand; None where nothing was said of it, or the plan does not say how large its beads are."""
        entries = self.thread_entries()
        if not entries:
            return None
        if self._spool is None or self._spool[0] is not self.course:
            from stitchalong.measure.book import Book
            from stitchalong.measure.of_course import bead_lengths
            from stitchalong.measure.spool import Spool

            lengths, _ = bead_lengths(self.plan)
            slack = Book(self._store.measured()).slack()
            self._spool = (self.course, Spool(self.course, lengths, slack) if lengths else None)
        spool = self._spool[1]
        return spool.reach(entries, self.position) if spool else None

    def thread_words(self, units: Units = Units.METRIC) -> str:
        """About how much thread is left and where to change it; empty where that is not known."""
        from stitchalong.measure.spool import reach_words

        reach = self.thread()
        return reach_words(reach, self.lookout, self.position, units) if reach else ""

    # ---- figures --------------------------------------------------------------------------------

    def in_figures(self, units: Units = Units.METRIC) -> Iterator[Section]:
        """Size, beads, thread, time and flatness, by the stitcher's own gauge and pace."""
        from stitchalong.measure.book import Book
        from stitchalong.measure.in_figures import in_figures

        book, left = Book(self._store.measured()), self.outlook.left_piece
        return in_figures(self.course, self.plan, book, self._usual_pace(), units, left=left)

    # ---- time -----------------------------------------------------------------------------------

    def seconds_spent(self) -> float:
        """Time in this piece, pauses left out."""
        return self._store.piece(self.piece.id).seconds

    def pace(self) -> Pace | None:
        """Her own pace, from the last presses; None where there are too few."""
        from stitchalong.session.pacing import pace_of_piece

        return pace_of_piece(self._store, self.piece.id)

    def time_left(self) -> Figure | None:
        """Seconds of stitching for what is left of the piece, as a range; None where the pace is not known."""
        pace = self.pace()
        return pace.time_for(self.outlook.left_piece) if pace else None

    def time_told(self) -> str:
        """Time in this piece, her pace, and what is left as a range, in words."""
        from stitchalong.measure.pace import USUAL, duration, duration_range, estimate

        spent = f"{duration(self.seconds_spent())} in this piece"
        pace, beads = self._usual_pace(), self.outlook.left_piece
        if pace is None:
            guess = f"about {estimate(beads)} left, an estimate at {USUAL.each.value:.0f} s a bead"
            return f"{spent}; {guess}: your pace is known after some twenty beads"
        left = duration_range(pace.time_for(beads))
        return f"{spent}; {60 / pace.each.value:.0f} beads a minute, so about {left} left"

    def _usual_pace(self) -> Pace | None:
        """Her pace in this piece, else in those before it; None where there is none."""
        from stitchalong.session.pacing import pace_of_pieces

        return self.pace() or pace_of_pieces(self._store)


def _entries(told: Sequence[Kept]) -> list[Entry]:
    """What events say of the thread, one after the other; one with `all` stands for those before it."""
    found: list[Entry] = []
    for kept in told:
        if kept.event.kind != "thread":
            continue
        try:
            data: Any = json.loads(kept.event.data)
            if "all" in data:
                found = [_entry(*row) for row in data["all"]]
            else:
                found.append(_entry(kept.event.position, data["length"], data["new"]))
        except (ValueError, TypeError, KeyError, UsageError):
            continue
    return found


def _entry(position: int, length: float, new: bool) -> Entry:
    from stitchalong.measure.spool import Entry, checked_length

    return Entry(int(position), checked_length(float(length)), bool(new))
