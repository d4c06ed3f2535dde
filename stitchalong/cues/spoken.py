"""How things are said aloud: short, in a steady order, the number first. Pure; knows no voice.

What is done comes before what is to be done, that before how much is left of it, and what is coming comes last; only
a remark comes after it, for it is the longest and the next press cuts it off. Beads are called what the plan calls
them; one without a name is called by its code.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import field
from itertools import groupby
from typing import Literal, get_args

from stitchalong.course.outlook import Outlook, Special
from stitchalong.fabric.stitch import Kind, Note, Stitch
from stitchalong.values import value

Talk = Literal["quiet", "changes", "every stitch"]
"""How much is said unasked: questions and faults; what changes, as well; each stitch, as well."""

TALKS: tuple[Talk, ...] = get_args(Talk)

TOLD: dict[Talk, str] = {
    "quiet": "only questions and faults are said",
    "changes": "what changes is said",
    "every stitch": "every stitch is said",
}


def next_talk(talk: Talk) -> Talk:
    """The next of the three, round and round."""
    return TALKS[(TALKS.index(talk) + 1) % len(TALKS)]


# fmt: off
_SMALL = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
          "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen")
# fmt: on
_TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")

_COMING = {
    Kind.JOIN: "the join",
    Kind.STEP_UP: "step up",
    Kind.WALK: "walk along",
    Kind.TURN: "turn",
}
"""short words for what is coming, where the course has longer ones"""

_REMARK = "remark: "

_MOVES = frozenset({Kind.JOIN, Kind.TURN, Kind.STEP_UP, Kind.WALK, Kind.CROSS, Kind.REINFORCE})
"""actions that are said each time, and in full"""


def number(count: int) -> str:
    """`seven`, `forty-two`; from a hundred on in digits, which voices read well."""
    if not 0 <= count < 100:
        return str(count)
    if count < 20:
        return _SMALL[count]
    tens, ones = divmod(count, 10)
    return _TENS[tens - 2] + (f"-{_SMALL[ones]}" if ones else "")


@value
class Speech:
    """How one piece is spoken of."""

    names: Mapping[str, str] = field(default_factory=dict)
    """of its beads, by code"""
    talk: Talk = "changes"
    remarks: bool = True
    """whether remarks of plan and technique are said where they stand"""

    # ---- parts ----------------------------------------------------------------------------------

    def bead(self, code: str) -> str:
        return self.names.get(code) or code

    def beads(self, codes: Sequence[str]) -> str:
        """`one sea glass, three charcoal`, in the order picked up."""
        return ", ".join(f"{number(len(list(same)))} {self.bead(code)}" for code, same in groupby(codes))

    def plainly(self, sentence: str) -> str:
        """A sentence of the screen as it is said: beads by their names alone, also in a row; numbers in words."""
        called = {f"{code} ({name})": name for code, name in self.names.items() if name}
        a_code = f"(?:{'|'.join(map(re.escape, self.names)) or '(?!)'})"
        a_row = rf"\b{a_code}(?:, {a_code})+\b"
        pattern = "|".join([*map(re.escape, sorted(called, key=len, reverse=True)), a_row, r"\b\d[\d,]*\b"])

        def said(match: re.Match[str]) -> str:
            found = match.group()
            if found in called:
                return called[found]
            return number(int(found.replace(",", ""))) if found[0].isdigit() else self.beads(found.split(", "))

        text = re.sub(pattern, said, sentence).rstrip(".")
        return text[:1].lower() + text[1:]

    def to_do(self, outlook: Outlook, *, repeated: bool = True) -> str:
        """What to do at this step: `six sea glass`, `two gorse together`, `step up through two beads`.

        `repeated`: with how many times in a row; else of this stitch alone.
        """
        stitch = outlook.stitch
        if stitch is None:
            return self.plainly(outlook.now)
        if stitch.kind in _MOVES:
            return self._move(stitch, outlook)
        if not stitch.beads:
            return "no bead in this space"
        if outlook.step:
            return f"{self.beads(stitch.beads[outlook.step :])} more"
        times = outlook.alike if repeated else 1
        if len(stitch.beads) == 1:
            text = f"{number(times)} {self.bead(stitch.beads[0])}"
        else:
            manner = _manner(stitch)
            once = times == 1 and not manner and len(set(stitch.beads)) == 1  # or it would sound like single ones
            text = self.beads(stitch.beads) + manner + (", once" if once else _times(times))
        if stitch.has(Note.INSIDE) and not stitch.has(Note.INCREASE):
            text += ", inside the pair"
        if stitch.has(Note.MARKER) and not stitch.has(Note.INCREASE):
            text += ", the marker"
        if outlook.special is not None and outlook.special.then:
            text += f", {outlook.special.then}"
        return text

    def _move(self, stitch: Stitch, outlook: Outlook) -> str:
        if stitch.kind is Kind.STEP_UP and stitch.detail.isdigit():
            return f"step up through {number(int(stitch.detail))} beads"
        return self.plainly(outlook.now)

    def coming(self, special: Special) -> str:
        """`increase in two`: beads to pick up before it."""
        return f"{self._called(special)} in {number(special.away)}" if special.away else f"then {self._called(special)}"

    def _called(self, special: Special) -> str:
        if special.notes & Note.INCREASE:
            return "increase"
        if special.notes & Note.DECREASE:
            return "no bead"
        if special.notes & Note.MARKER:
            return "marker"
        return _COMING.get(special.kind) or self.plainly(special.words)

    def left(self, outlook: Outlook, *, brief: bool = False) -> str:
        """`four left on this side`; brief: `four left`. Empty where there is nothing to count, and on a rib."""
        stitch = outlook.stitch
        if outlook.big is None or stitch is None or (stitch.has(Note.RIB) and stitch.kind is not Kind.STRING):
            return ""
        return f"{number(outlook.big)} {'left' if brief else outlook.big_label}"

    def place(self, outlook: Outlook) -> str:
        """`round five, top edge`."""
        return self.plainly(outlook.title)

    # ---- what is told unasked -------------------------------------------------------------------

    def going_on(self, before: Outlook, after: Outlook, *, now: bool, coming: bool) -> str:
        """What a press is answered with: empty where nothing changed.

        `now`: it led to something that one is warned of; `coming`: it brought something in reach of a warning.
        """
        if self.talk == "quiet":
            return ""
        parts = self._finished(before, after)
        if now or self.talk == "every stitch" or _changed(before, after):
            parts += self._at_hand(before, after)
        if coming and after.next is not None:
            parts.append(self.coming(after.next))
        remarks = [f"{_REMARK}{self.plainly(remark.text)}" for remark in after.remarks if self.remarks]
        return ". ".join([*filter(None, [", ".join(parts)]), *remarks])

    def _finished(self, before: Outlook, after: Outlook) -> list[str]:
        if after.title != before.title:
            done = before.title.partition(",")[0]
            begun = after.title if after.edge != before.edge else after.title.partition(",")[0]
            return [self.plainly(f"{done} done"), self.plainly(begun)]
        if side_done(before, after):
            return ["side done"]
        return []

    def _at_hand(self, before: Outlook, after: Outlook) -> list[str]:
        stitch = after.stitch
        if stitch is None or (after.step and not _far(before, after)):
            return []
        entered = after.title != before.title or (after.side is not None and after.side != before.side)
        if self.talk == "every stitch":
            parts = [self.left(after, brief=not entered), self.to_do(after, repeated=False)]
        else:
            todo = self.to_do(after)
            all_of_it = len(stitch.beads) == 1 and after.alike == after.big
            parts = [self.left(after) if entered and not all_of_it else "", todo]
        return [part for part in parts if part]

    # ---- what is told when asked, and on other occasions ----------------------------------------

    def where(self, outlook: Outlook) -> str:
        """Where one is: `four left on this side, side two of four, round five, top edge`, and the thread."""
        side = f"side {outlook.side + 1} of {outlook.sides}" if outlook.side is not None and outlook.sides > 1 else ""
        parts = [self.left(outlook), self.plainly(outlook.cut), self.plainly(side), self.place(outlook)]
        return ", ".join(part for part in (*parts, self.plainly(outlook.comes_out)) if part)

    def again(self, outlook: Outlook) -> str:
        """What to do now, and what comes next, however far it is."""
        if outlook.decision is not None:
            return self.asked(outlook)
        return ", ".join([self.to_do(outlook), *([self.coming(outlook.next)] if outlook.next is not None else [])])

    def asked(self, outlook: Outlook) -> str:
        """An open question."""
        return f"{self.place(outlook)} done: another round, or on"

    def stands(self, outlook: Outlook) -> str:
        """For coming to a place from elsewhere: what is left there, and what to do."""
        if outlook.decision is not None:
            return self.asked(outlook)
        return ", ".join(part for part in (self.left(outlook), self.to_do(outlook)) if part)

    def last(self, codes: Sequence[str]) -> str:
        """The last beads, to be held against the work in the hand."""
        return f"the last beads, the latest last: {self.beads(codes)}" if codes else "no bead is laid yet"

    def came_back(self, outlook: Outlook, codes: Sequence[str]) -> str:
        """The place, and the last beads laid."""
        return ", ".join([self.place(outlook), *filter(None, [self.left(outlook)]), self.last(codes)])


def side_done(before: Outlook, after: Outlook) -> bool:
    """Whether the step from one to the other finished a side, and more of the round follows."""
    return (
        after.title == before.title
        and before.side is not None
        and after.side != before.side
        and after.sides > 1
        and after.stitch is not None
        and after.stitch.visits_space
    )


def _manner(stitch: Stitch) -> str:
    match stitch.kind:
        case Kind.PAIR:
            return " together"
        case Kind.PICOT:
            return ", a picot"
        case Kind.CORNER:
            return ", a corner"
    return ""


def _times(count: int) -> str:
    return {1: "", 2: ", twice"}.get(count, f", {number(count)} times")


def _far(before: Outlook, after: Outlook) -> bool:
    """Whether more was counted at once than the stitch at hand."""
    return before.stitch is None or after.position - before.position > before.stitch.steps - before.step


def _changed(before: Outlook, after: Outlook) -> bool:
    """Whether what is to do now is other than what was just done, or lies elsewhere."""
    stitch, was = after.stitch, before.stitch
    if stitch is None:
        return False
    if after.title != before.title or after.side != before.side or _far(before, after) or was is None:
        return True
    if after.step:
        return False
    return stitch.kind in _MOVES or (stitch.kind, stitch.beads) != (was.kind, was.beads)
