"""What lies beside the work, line by line: places found, counts, the tray, the thread, notes."""

from __future__ import annotations

import re
from collections.abc import Iterator

from stitchalong.course.find import Clues, Found, codes_typed, fit_words
from stitchalong.course.recount import Fault, Recount, Slip
from stitchalong.course.tray import Heap, Pile, left_typed
from stitchalong.course.words import counted
from stitchalong.errors import UsageError
from stitchalong.measure.units import INCH, Units
from stitchalong.session import Session, Told

MOST_PLACES = 5
"""places told at once; more would not be listened to"""

_CLUES = re.compile(r"\b(since|round|colour|edge)\s+(\S+)", re.IGNORECASE)
_NUMBER = re.compile(r"\d{1,7}")


class Alongside:
    """Answers of one session; what was found last is remembered."""

    def __init__(self, session: Session, units: Units) -> None:
        self._session = session
        self._units = units
        self._found: Found | None = None
        self._counted: Recount | None = None

    # ---- places ---------------------------------------------------------------------------------

    def find(self, text: str) -> Iterator[str]:
        """`A A B B A round 5 since 2 colour A edge top`: the places that fit, numbered."""
        named = {key.casefold(): value for key, value in _CLUES.findall(text)}
        clues = Clues(
            codes_typed(_CLUES.sub(" ", text)),
            since_increase=_number(named["since"]) if "since" in named else None,
            round=_number(named["round"]) if "round" in named else None,
            colour=named["colour"].upper() if "colour" in named else None,
            edge=named["edge"].casefold() if "edge" in named else None,
        )
        self._found = found = self._session.find(clues)
        yield found.sure
        for nth, fit in enumerate(found.fits[:MOST_PLACES], start=1):
            against = fit_words(fit, clues)
            doubt = f", {against}" if against else ""
            yield f"{nth}: {fit.title}, {fit.laid}{doubt}: {fit.now[0].lower()}{fit.now[1:]}"
        if found.fits:
            yield "`place 1` goes there"

    def place(self, nth: int | None) -> int:
        """The position of a place found. Raises UsageError."""
        fits = self._found.fits[:MOST_PLACES] if self._found else ()
        if not fits:
            raise UsageError("no places were found", fix="`find A A B B A` looks for them")
        if nth is None or not 1 <= nth <= len(fits):
            raise UsageError("which place?", fix=f"`place 1` to `place {len(fits)}`")
        return fits[nth - 1].position

    # ---- counting -------------------------------------------------------------------------------

    def count(self, text: str) -> Iterator[str]:
        """`15`, `side 6`, `round 35`: held against the plan; without a word the smallest that can be counted."""
        some = self._session.checkpoints()
        if not some:
            raise UsageError("nothing is laid yet that could be counted")
        word, number = _NUMBER.sub("", text).strip().casefold(), _NUMBER.search(text)
        if word not in ("", "side", "round", "row") or number is None:
            planned = "; ".join(f"{one.label}: {counted(one.expected, one.unit)}" for one in some)
            raise UsageError("how many did you count?", fix=f"`count 15`, `count round 35`; the plan has {planned}")
        one = some[-1] if word in ("round", "row") else some[0]
        if word == "side" and one.side is None:
            raise UsageError("no side was finished here", fix="`count round 35`")
        self._counted = found = self._session.recount(one, int(number.group()))
        yield found.words
        for fault in found.faults:
            if not fault.times:
                continue
            if fault.slip is Slip.PRESSES:
                yield self._set_count(fault)
                continue
            where = ", ".join(place.words for place in fault.places)
            yield f"perhaps {fault.words}{f': {where}' if where else ''}. See whether {fault.look}."
        if found.faults:
            yield "`accept` keeps the work and changes the plan to it; `take out 9` when you pulled back nine beads"

    def _set_count(self, fault: Fault) -> str:
        steps = self._session.position - fault.places[0].position
        word = f"back {steps}" if steps > 0 else f"bead {-steps}"
        return f"perhaps {fault.words} (`{word}`). See whether {fault.look}."

    def accept(self) -> Told:
        """Accept the last count as it is. Raises UsageError where nothing was counted."""
        if self._counted is None:
            raise UsageError("nothing was counted", fix="`count 15` holds a number against the plan")
        found, self._counted = self._counted, None
        return self._session.accept(found)

    # ---- tray, thread, notes --------------------------------------------------------------------

    def tray(self, text: str) -> Iterator[str]:
        """What to count out; with `1A -1B`: what it means that so many are left over or missing."""
        if text:
            for finding in self._session.left_over(left_typed(text)):
                yield finding.words
            return
        tray = self._session.tray()
        for heap in (*([tray.side] if tray.side else []), tray.round, *tray.ahead):
            yield _heap(heap)
        if tray.ahead:
            yield f"all together: {_beads(tray.together)}"

    def thread(self, text: str) -> Iterator[str]:
        """`150` or `new 150`: a new thread; `left 40`: what is left of it; nothing: what is known."""
        word, number = _NUMBER.sub("", text).strip().casefold(), _NUMBER.search(text)
        unit, each = ("inches", INCH) if self._units is Units.INCH else ("cm", 10.0)
        if not text:
            yield (
                self._session.thread_words(self._units)
                or f"nothing is known of it; `thread 150` enters one of 150 {unit}"
            )
            return
        if number is None or word not in ("", "new", "left"):
            raise UsageError("how long is it?", fix=f"`thread 150`, `thread left 40`, in {unit}")
        length = int(number.group()) * each
        told = self._session.thread_left(length) if word == "left" else self._session.new_thread(length)
        yield self._session.thread_words(self._units) or told.message

    def note(self, text: str) -> Iterator[str]:
        """Pin the text to the bead laid last; nothing: the notes there are."""
        if text:
            yield f"pinned here: {self._session.pin_note(text).text}"
            return
        notes, most = self._session.notes, self._session.course.steps
        for note in notes:
            yield f"{self._session.lookout.at(min(note.position, most)).title}: {note.text}"
        if not notes:
            yield "no notes; `note added thread here` pins one to this place"


def _number(text: str) -> int:
    if not _NUMBER.fullmatch(text):
        raise UsageError(f"“{text[:20]}” is no number", fix="as in `find A A B since 2 round 5`")
    return int(text)


def _heap(heap: Heap) -> str:
    used = sum(count for _, count in heap.used)
    return f"{heap.label}: {_beads(heap.left)}{f', {used} used' if used else ''}"


def _beads(beads: Pile) -> str:
    return ", ".join(f"{count} {code}" for code, count in beads) or "none"
