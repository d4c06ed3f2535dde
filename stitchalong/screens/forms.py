"""Forms in place of the stitching screen: go to a place, step up elsewhere. Values; a key makes the next one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from stitchalong.course.course import Course
from stitchalong.course.words import counted
from stitchalong.screens import places
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.inks import BEAD
from stitchalong.screens.lines import BLANK, Line, Span, line, wrapped

MOST_DIGITS = 7
"""of a number typed; no piece has more than a million beads"""


@dataclass(frozen=True, slots=True)
class Chosen:
    """The form is filled in: a position, or a number of spaces."""

    value: int


@dataclass(frozen=True, slots=True)
class GoTo:
    """Round, side, and how many beads are laid there."""

    course: Course
    preview: Callable[[int], tuple[str, str]]
    """what going to a position means, in words, and what is to do there"""
    index: int
    """of the round"""
    side: int
    done: int
    field: int = 0
    typed: str = ""
    fault: str = ""

    @classmethod
    def here(cls, course: Course, position: int, side: int | None, preview: Callable[[int], tuple[str, str]]) -> GoTo:
        """Beginning where one stands."""
        index = course.round_of(position)
        side = side or 0
        done = places.done_before(places.segments(course, index, side), position)
        form = cls(course, preview, index, side, done)
        return replace(form, field=form._fields().index("round"))

    keys = (("Enter", "go"), ("Escape", "leave"), ("Up Down", "field"), ("Left Right", "change"))

    @property
    def target(self) -> int:
        course = self.course
        return places.position_after(
            places.segments(course, self.index, self.side), self.done, course.rounds[self.index].first_step
        )

    def _fields(self) -> list[str]:
        course = self.course
        return [
            *(["edge"] if len(places.edges(course)) > 1 else []),
            "round",
            *(["side"] if places.side_count(course, self.index) > 1 else []),
            "beads",
        ]

    def press(self, key: str, digit: str) -> GoTo | Chosen:
        """The form after a key. Keys that mean nothing here change nothing."""
        fields = self._fields()
        at = min(self.field, len(fields) - 1)
        match key:
            case "enter":
                return Chosen(self.target)
            case "up" | "shift+tab":
                return replace(self, field=(at - 1) % len(fields), typed="", fault="")
            case "down" | "tab":
                return replace(self, field=(at + 1) % len(fields), typed="", fault="")
            case "left":
                return self._stepped(fields[at], -1)
            case "right":
                return self._stepped(fields[at], 1)
            case "backspace":
                return replace(self, typed=self.typed[:-1], fault="")
        if digit and len(self.typed) < MOST_DIGITS:
            return replace(self, typed=self.typed + digit)._set(fields[at], int(self.typed + digit))
        return self

    def _stepped(self, field: str, by: int) -> GoTo:
        course = self.course
        if field == "edge":
            edges = places.edges(course)
            edge = edges[(edges.index(places.edge_of(course, self.index)) + by) % len(edges)]
            return self._in_round(places.rounds_on(course, edge)[0])
        if field == "round":
            rounds = places.rounds_on(course, places.edge_of(course, self.index))
            return self._in_round(rounds[(rounds.index(self.index) + by) % len(rounds)])
        if field == "side":
            sides = places.side_count(course, self.index)
            return replace(self, side=(self.side + by) % sides, done=0, typed="", fault="")
        most = self._most()
        return replace(self, done=(self.done + by) % (most + 1), typed="", fault="")

    def _most(self) -> int:
        return places.beads_in(places.segments(self.course, self.index, self.side))

    def _in_round(self, index: int) -> GoTo:
        form = replace(self, index=index, side=0, done=0, typed="", fault="")
        return replace(form, field=form._fields().index("round") if self.field else form.field)

    def _set(self, field: str, number: int) -> GoTo:
        """A number typed into a field; one that does not exist is told and changes nothing."""
        course = self.course
        if field == "round":
            edge = places.edge_of(course, self.index)
            rounds = places.rounds_on(course, edge)
            found = next((index for index in rounds if number in course.rounds[index].numbers), None)
            if found is None:
                numbers = [n for index in rounds for n in course.rounds[index].numbers]
                return replace(self, fault=f"There are rounds {min(numbers)} to {max(numbers)} on that edge.")
            return replace(self._in_round(found), typed=self.typed, field=self.field)
        if field == "side":
            sides = places.side_count(course, self.index)
            if not 1 <= number <= sides:
                return replace(self, fault=f"This round has sides 1 to {sides}.")
            return replace(self, side=number - 1, done=0, fault="")
        if field == "beads":
            most = self._most()
            if number > most:
                return replace(self, fault=f"There are {counted(most, 'bead')} to lay there.")
            return replace(self, done=number, fault="")
        return self

    def lines(self, width: int, height: int, glyphs: Glyphs) -> list[Line]:
        """The form, with what it would lead to."""
        item = self.course.rounds[self.index]
        sided = places.has_sides(self.course, self.index)
        values = {
            "edge": places.edge_words(self.course, places.edge_of(self.course, self.index)),
            "round": " and ".join(map(str, item.numbers)),
            "side": f"{self.side + 1} of {places.side_count(self.course, self.index)}",
            "beads": f"{self.done} of {self._most()} laid {'on this side' if sided else 'in this round'}",
        }
        out = [line("Go to a place", "strong")]
        fields = self._fields()
        at = min(self.field, len(fields) - 1)
        for nth, field in enumerate(fields):
            chosen = nth == at
            mark = f"{glyphs.mark} " if chosen else "  "
            value = f" {values[field]} "
            out.append(
                (Span(f"{mark}{field:<6}", "strong" if chosen else "dim"), Span(value, "marked" if chosen else "text"))
            )
        means, there = self.preview(self.target)
        out += wrapped(self.fault, width, "message") if self.fault else wrapped(means, width, "strong")
        more = [*(wrapped(there, width) if there and not self.fault else [])]
        if item.technique == "band":
            more += wrapped("A unit has 4 beads: its spacer and three of the frame.", width, "dim")
        return [*out, *more] if len(out) + len(more) <= height else out


@dataclass(frozen=True, slots=True)
class StepUp:
    """How many spaces further on the next round begins."""

    codes: tuple[str, ...]
    """the next edge's up beads in the order laid; the usual start is the first"""
    spaces: int = 0
    typed: str = ""
    fault: str = ""

    keys = (("Enter", "choose"), ("Escape", "leave"), ("Left Right", "change"))

    def press(self, key: str, digit: str) -> StepUp | Chosen:
        """The form after a key."""
        size = len(self.codes)
        match key:
            case "enter":
                return Chosen(self.spaces)
            case "left":
                return replace(self, spaces=(self.spaces - 1) % size, typed="", fault="")
            case "right":
                return replace(self, spaces=(self.spaces + 1) % size, typed="", fault="")
            case "backspace":
                return replace(self, typed=self.typed[:-1], fault="")
        if digit and len(self.typed) < MOST_DIGITS:
            number = int(self.typed + digit)
            if number >= size:
                return replace(self, fault=f"The next edge has {counted(size, 'space')}: 0 to {size - 1}.")
            return replace(self, spaces=number, typed=self.typed + digit, fault="")
        return self

    def lines(self, width: int, height: int, glyphs: Glyphs) -> list[Line]:
        """The next edge as a strip of its up beads, with the start marked."""
        title = line("Walk along and step up elsewhere", "strong")
        told = "at its usual place" if not self.spaces else f"{counted(self.spaces, 'space')} further on"
        words = f"The next round begins {told}, at the bead {self.codes[self.spaces]}."
        answer = wrapped(self.fault or words, width, "message" if self.fault else "strong")
        picture = [BLANK, *self._picture(width), BLANK]
        about = wrapped("The next edge in working order; 0 is the usual start.", width)
        total = wrapped("Only where rounds begin moves; every total stays the same.", width, "dim")
        for full in ([title, *about, *picture, *answer, *total], [title, *about, *picture, *answer]):
            if len(full) <= height:
                return full
        return [title, *picture[1:-1], *answer]

    def _picture(self, width: int) -> list[Line]:
        """As many up beads as fit, the chosen one in the middle once the strip has to scroll."""
        size = len(self.codes)
        fits = max(1, width // 4)
        first = max(0, min(self.spaces - fits // 2, size - fits))
        shown = range(first, min(size, first + fits))
        beads: list[Span] = []
        marks = ""
        for nth in shown:
            code = self.codes[nth]
            chosen = nth == self.spaces
            beads += [Span(f"[{code}]" if chosen else f"({code})", BEAD + code), Span(" ")]
            marks += " ^  " if chosen else "    "
        start = (self.spaces - first) * 4
        label = f"{self.spaces}"
        number = " " * max(0, start + 1 - (len(label) - 1) // 2) + label
        return [tuple(beads), line(marks.rstrip(), "key"), line(number, "key")]


Form = GoTo | StepUp
