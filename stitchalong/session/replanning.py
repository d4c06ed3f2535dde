"""The plan file was changed since the piece was begun: from where on it differs, and taking it over."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from stitchalong.course.choices import Another
from stitchalong.course.course import COMPILER, Course
from stitchalong.course.laid import Digests
from stitchalong.course.outlook import Lookout
from stitchalong.course.walker import Walker, address_of
from stitchalong.course.words import capital, counted
from stitchalong.cues.cue import Cue
from stitchalong.errors import PlanError
from stitchalong.session import courses
from stitchalong.session.values import Made, Told, made_text, place_text, state_of
from stitchalong.session.work import Work
from stitchalong.store.names import NAME_LIMIT
from stitchalong.store.rows import Event, clean
from stitchalong.values import changed, value

if TYPE_CHECKING:
    from stitchalong.plan.model import Plan
    from stitchalong.plan.read import Loaded


@value
class NewPlan:
    """What a changed plan would mean for a piece that is begun."""

    plan: Plan
    """in the size that the piece was begun in"""
    data: Mapping[str, Any]
    course: Course
    made: tuple[Made, ...]
    """the choices, with those that the new plan asks for and the work has answered already"""
    differs_from: int | None
    """the first step that is other work; None: all is the same"""
    keeps_place: bool
    """whether all that is done is the same in both"""
    words: tuple[str, ...]
    """from where on it differs, and what else is new, one line each"""
    hindered: str
    """why it cannot be taken over at this place, and what helps; empty where it can"""


class Replanning(Work):
    """Takes over a changed plan."""

    def what_new_plan_means(self, loaded: Loaded) -> NewPlan:
        """Hold a changed plan against the piece. Raises PlanError where it cannot be stitched with the choices made."""
        from stitchalong.course.compile import compile_plan
        from stitchalong.course.differ import first_difference
        from stitchalong.plan.checked import build

        data = self._in_this_size(loaded)
        plan = build(data, source=loaded.plan.source)
        course = compile_plan(plan, self.choices)
        at = first_difference(self.course, course)
        keeps = at is None or at >= self.position
        answered = [
            Made(asked.step, Another(asked.edge, asked.round, asked.done < asked.usual, asked.part))
            for asked in course.decisions
            if keeps and asked.step < self.position
        ]
        made = tuple(sorted([*self._made, *answered], key=lambda one: one.at))
        if answered:
            course = compile_plan(plan, [one.choice for one in made])
        words = tuple(self._told_of(plan, course, at))
        hindered = "" if keeps else f"that is before your place; {self._way_out(at)}"
        return NewPlan(plan, data, course, made, at, keeps, words, hindered)

    def _way_out(self, at: int | None) -> str:
        return f"go back {counted(self.position - (at or 0), 'step')} first, or begin another piece"

    def take_over_plan(self, loaded: Loaded, plan_name: str) -> Told:
        """Go on by the changed plan, at the same place.

        Raises PlanError where something that is done already is other work in it; then all stays as it is.
        """
        new = self.what_new_plan_means(loaded)
        if not new.keeps_place:
            assert new.differs_from is not None
            raise PlanError(
                f"{new.words[0]}, and that is before your place ({self.outlook.title})",
                fix=self._way_out(new.differs_from),
            )
        redo_to = self.redo_to if new.differs_from is None else min(self.redo_to, new.differs_from)
        walker, digests = Walker(self.position, redo_to), Digests(new.course)
        data = json.dumps({"mark": "new plan", "differs from": new.differs_from})
        row = changed(
            self.piece,
            plan_text=loaded.text,
            plan_data=json.dumps(new.data, ensure_ascii=False),
            plan_name=plan_name,
            compiler=COMPILER,
            choices=made_text(new.made),
            title=clean(new.plan.title, NAME_LIMIT),
        )
        self._wait_until_kept()
        self._seq = self._store.replace_plan(
            self.piece.id,
            self._seq,
            [Event("mark", 0, walker.position, walker.redo_to, data)],
            plan_text=row.plan_text,
            plan_data=row.plan_data,
            plan_name=row.plan_name,
            compiler=row.compiler,
            choices=row.choices,
            place=place_text(digests, walker.position),
            steps=new.course.steps,
            title=row.title,
            state=state_of(self.outlook, new.course, walker.position),
        )
        self.piece = row
        self._plan, self.course, self._made, self._digests, self._walker = (
            new.plan, new.course, list(new.made), digests, walker
        )  # fmt: skip
        self._see(courses.look_of(new.plan))
        self._keep_course(self.piece.choices)
        self._look_out()
        told = "; ".join(new.words)
        message = f"Taken over. {capital(told)}."
        return Told(self.outlook, Cue(None, message, screen=message), message)

    def _in_this_size(self, loaded: Loaded) -> Mapping[str, Any]:
        """The data of the changed plan, with the start that the piece was begun with if it had a size of its own."""
        from stitchalong.plan.another_size import data_in_size
        from stitchalong.plan.read import read_text

        begun = json.loads(self.piece.plan_data)["work"][0]
        try:
            own_size = read_text(self.piece.plan_text).data["work"][0] != begun
        except PlanError:  # of an older form; then nothing is known of its size
            own_size = False
        kinds = type(loaded.plan.work[0]), loaded.plan.work[0].part  # type: ignore[union-attr]
        if own_size and kinds == (type(self.plan.work[0]), self.plan.work[0].part):  # type: ignore[union-attr]
            return data_in_size(loaded.data, self.plan)
        return loaded.data

    def _told_of(self, plan: Plan, course: Course, at: int | None) -> list[str]:
        words = []
        if at is None:
            words.append("the new plan asks for the same work")
        else:
            longer = course if at >= self.course.steps else self.course
            words.append(f"the new plan differs from {_spoken(longer, self.names, at)} on")
        old = {bead.code: bead for bead in self.plan.beads}
        for bead in plan.beads:
            was = old.get(bead.code)
            if was is not None and was.name != bead.name:
                words.append(f"bead {bead.code} is called {bead.name} now, not {was.name}")
        return words


def _spoken(course: Course, names: Mapping[str, str], at: int) -> str:
    """`round 3, top edge, stitch 5`; a round alone where it begins; `the end of …` at the moves that end it."""
    title = Lookout(course, names).round_title(course.round_of(at))
    stitch = address_of(course, at).stitch
    if not stitch:
        return title
    return f"{title}, stitch {stitch + 1}" if course.spot(at).stitch.visits_space else f"the end of {title}"
