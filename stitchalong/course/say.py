"""What to do now, in one plain sentence, and short words for what is coming."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from itertools import groupby

from stitchalong.course.course import Course, Spot
from stitchalong.course.phrases import goes_back, phrase_of
from stitchalong.course.threads import Threads
from stitchalong.course.words import counted, sentence
from stitchalong.fabric.moves import Phrase
from stitchalong.fabric.stitch import Kind, Note, Stitch

_TOLD_ONE_BY_ONE = 14
"""beads of a way that are named one by one; a longer way is counted"""

_MOVES = {
    "settle": "pass round the last unit once more so that it lies still; see that there is no twist in the band",
    "second of five": "pass down through the first unit's free side bead",
    "fourth of five": "pass up through the last side bead and through the new top bead",
    "ring": "pass through the first bead strung: the ring is closed",
}


_DIRECTION = re.compile(
    r"\b(?:(?<=\bfrom )|(?<=\bto )|(?<=\bat the )|(?<=\bon the )|(?<=\bto the ))(?:left|right)\b(?!-)"
    r"|\b(?:anti)?clockwise\b"
)
_OTHER = {"left": "right", "right": "left", "clockwise": "anticlockwise", "anticlockwise": "clockwise"}


def mirrored(text: str) -> str:
    """The program's own words for the other hand: `from right to left`, `at the left`, `clockwise` turned round.

    Only where they name a direction: `right after the increase` and `two beads left` stay. Counts never change.
    """
    return _DIRECTION.sub(lambda match: _OTHER[match[0]], text)


class Teller:
    """Puts a course into words. `names` are the palette's, by code. `left_handed` mirrors words of direction."""

    def __init__(self, course: Course, names: Mapping[str, str], *, left_handed: bool = False) -> None:
        self.course = course
        self.names = names
        self.left_handed = left_handed
        self.threads = Threads(course)

    def bead(self, code: str) -> str:
        """`C (charcoal)`."""
        name = self.names.get(code)
        return f"{code} ({name})" if name else code

    def beads(self, codes: Sequence[str]) -> str:
        """`1 S (sea glass), 3 C (charcoal)`, in the order picked up."""
        return ", ".join(f"{len(list(same))} {self.bead(code)}" for code, same in groupby(codes))

    # ---- now ------------------------------------------------------------------------------------

    def now(self, spot: Spot) -> str:
        """The stitch to make, or what is left of it."""
        return sentence(self._lead(spot) + self._action(spot))

    def _lead(self, spot: Spot) -> str:
        stitch = spot.stitch
        if stitch.kind is Kind.JOIN and stitch.detail != "ring":
            return "join: "
        if stitch.has(Note.INCREASE):
            return "increase: "
        if stitch.kind is Kind.SKIP:
            return "no bead here: "
        if stitch.has(Note.INSIDE):
            return "inside the pair: "
        if stitch.visits_space and stitch.has(Note.BEFORE) and stitch.has(Note.AFTER):
            return "between two increases: "
        if stitch.has(Note.AFTER):
            return "right after the increase: "
        if stitch.has(Note.BEFORE):
            return "right before the increase: "
        return ""

    def _action(self, spot: Spot) -> str:
        stitch = spot.stitch
        if stitch.beads:
            codes = stitch.beads[spot.step :]
            verb = "string" if stitch.kind is Kind.STRING else "pick up"
            text = f"{verb} {self.beads(codes)}"
            if spot.step:
                text = f"then {text}"
            if stitch.kind is Kind.PAIR and not spot.step:
                text += " together in one space"
            passing = self._passing(spot)
            return f"{text}; {passing}" if passing else text
        return self._passing(spot)

    def _phrase(self, spot: Spot) -> Phrase | None:
        item = self.course.rounds[spot.round]
        phrase = phrase_of(item.technique, spot.stitch.detail) if item.first_pass >= 0 else None
        if phrase is None or not self.left_handed:
            return phrase
        return Phrase(mirrored(phrase.now), mirrored(phrase.special))

    def _passing(self, spot: Spot) -> str:
        stitch = spot.stitch
        phrase = self._phrase(spot)
        if phrase is not None and stitch.kind is not Kind.STRING:
            way = [self.bead(self.threads.code(bead)) for bead in self.through(spot)]
            return phrase.now.format(
                first=way[0] if way else "",
                last=way[-1] if way else "",
                way=", ".join(way),
                number=counted(len(way), "bead"),
            )
        if stitch.detail in _MOVES:
            return _MOVES[stitch.detail]
        match stitch.kind:
            case Kind.STRING:
                return ""
            case Kind.UNIT if stitch.detail == "first":
                return (
                    "join them into a circle: pass through the first, the top bead, "
                    "so that tail and thread leave on opposite sides"
                )
            case Kind.UNIT:
                return "pass up through the shared side bead, past the spacer, and through the new top bead"
            case Kind.JOIN:
                return "pass through the first top bead: the band is closed" if stitch.detail == "last of five" else ""
            case Kind.STEP_UP | Kind.WALK | Kind.CROSS | Kind.REINFORCE:
                return self._move(spot)
        return self._into(spot)

    def _into(self, spot: Spot) -> str:
        """Passing on, after a stitch in a space."""
        through = self.through(spot)
        if not through:
            return ""
        where = "the up bead where the round began" if self.is_last(spot) else "the next up bead"
        verb = "pass straight on through" if spot.stitch.kind is Kind.SKIP else "pass through"
        return f"{verb} {where}, {self.bead(self.threads.code(through[-1]))}"

    def _move(self, spot: Spot) -> str:
        stitch = spot.stitch
        through = self.through(spot)
        last = self.bead(self.threads.code(through[-1])) if through else ""
        item = self.course.rounds[spot.round]
        match stitch.kind:
            case Kind.STEP_UP if stitch.detail == "spacer":
                return f"step up: pass through one spacer more, {last}, to stand on the edge"
            case Kind.STEP_UP if stitch.detail == "walked":
                return f"step up: pass through the next up bead, {last}"
            case Kind.STEP_UP:
                text = f"step up: pass through {counted(len(through), 'bead')} more, "
                text += f"{last}, the first of this round" if len(through) == 1 else f"to the first up bead, {last}"
                if self._comes_from_stitch(spot):
                    text += f" ({stitch.detail} beads with the one where it began)"
                return text
            case Kind.WALK:
                spaces = counted(int(stitch.detail), "space")
                return f"walk along: pass along the edge without a bead, {spaces} on; the thread comes out of {last}"
            case Kind.CROSS:
                way = f"{counted(len(through), 'bead')} of the work"
                if len(through) <= _TOLD_ONE_BY_ONE:
                    way = f"{', '.join(map(self.threads.code, through[:-1]))} of the work, forward and down,"
                return f"cross over: bring the needle through {way} to the {item.edge} edge, out of {last}"
            case _ if stitch.detail == "top row":
                return f"reinforce: pass through the whole top row once more, adding nothing, back into {last}"
        return f"reinforce: pass through this round once more, adding nothing, back into {last}"

    def _comes_from_stitch(self, spot: Spot) -> bool:
        """Whether a stitch stands right before this move, so that the thread is in the bead where the round began."""
        return spot.run > 0 and self.course.stitch_of(spot.run - 1).visits_space

    # ---- facts ----------------------------------------------------------------------------------

    def through(self, spot: Spot) -> list[int]:
        """Bead numbers passed through to finish the stitch at this spot."""
        return self.threads.view(spot.round).through(spot.run, spot.nth)

    def is_last(self, spot: Spot) -> bool:
        """Whether this is the last stitch of its round that fills a space."""
        course = self.course
        if spot.nth + 1 < course.count_of(spot.run):
            return False
        return not any(
            course.stitch_of(run).visits_space for run in range(spot.run + 1, course.rounds[spot.round].stop_run)
        )

    def comes_out(self, position: int) -> str:
        """Where the thread is: the bead it comes out of (or what is on the needle), edge and direction."""
        course = self.course
        if not position:
            return "nothing is strung yet"
        spot = course.spot(position - 1)
        item = course.rounds[spot.round]
        stitch = spot.stitch
        done = spot.step + 1
        if done < stitch.steps:
            return f"on the needle: {self.beads(stitch.beads[:done])}"
        through = self.through(spot)
        if through:
            code = self.threads.code(through[-1])
        else:
            code = stitch.beads[-1] if stitch.beads else ""
        if stitch.kind is Kind.JOIN and stitch.beads and not through:
            return f"on the needle: {self.beads(stitch.beads)}"
        if stitch.detail == "second of five":
            return f"the thread comes out of the first unit's side bead, {self.bead(code)}, at the bottom"
        if stitch.kind is Kind.STRING:
            return f"the last bead strung is {self.bead(code)}"
        if item.flat:
            way = "towards the tail" if goes_back(item.technique, item.number) else "away from the tail"
            return f"the thread comes out of {self.bead(code)}, in row {item.number}, which goes {way}"
        direction = "against the way the band was made" if item.edge == "bottom" else "in the direction of work"
        return f"the thread comes out of {self.bead(code)}, on the {item.edge} edge, {direction}"

    def special(self, spot: Spot) -> str:
        """Short words for something to be warned of."""
        stitch = spot.stitch
        if stitch.has(Note.INCREASE):
            return f"{len(stitch.beads)}-bead increase ({''.join(stitch.beads)})"
        if stitch.has(Note.DECREASE):
            return "a space without a bead"
        phrase = self._phrase(spot)
        if phrase is not None and phrase.special:
            return phrase.special
        match stitch.kind:
            case Kind.JOIN:
                return "the join"
            case Kind.STEP_UP:
                return "step-up"
            case Kind.REINFORCE:
                return "reinforcing pass"
            case Kind.CROSS:
                return f"crossing to the {self.course.rounds[spot.round].edge} edge"
            case Kind.WALK:
                return "a walk along the edge"
            case Kind.TURN:
                return "the turn"
        return f"marker ({marker_of(stitch, self.course.markers)})"


def marker_of(stitch: Stitch, markers: frozenset[str]) -> str:
    """The marker bead that this stitch lays."""
    return next((code for code in stitch.beads if code in markers), "")
