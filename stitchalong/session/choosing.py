"""What a stitcher decides while stitching."""

from __future__ import annotations

from stitchalong.course.choices import Another, Choice, StepUpElsewhere
from stitchalong.course.course import Round
from stitchalong.course.words import counted
from stitchalong.fabric.stitch import Kind
from stitchalong.session.moving import Moving
from stitchalong.session.values import Made, Told


class Choosing(Moving):
    """What changes the course behind the place."""

    def choose(self, more: bool) -> Told:
        """Answer the open question: another round, or on to what follows."""
        decision = self.outlook.decision
        if decision is None:
            return self._nothing("There is nothing to choose here.")
        message = "Another round." if more else "On to what follows."
        made = Made(self.position, Another(decision.edge, decision.round, more, decision.part))
        return self._rechoose("choice", [*self._made, made], self.position, message)

    def what_choosing_means(self, more: bool) -> tuple[int, tuple[int, ...]]:
        """(beads, stitches per side) of the round that would follow; (0, ()) where none would."""
        from stitchalong.course.sides import sides_of

        decision = self.outlook.decision
        if decision is None:
            return 0, ()
        course = self._derive((*self.choices, Another(decision.edge, decision.round, more, decision.part)))
        position = self.position
        while position < course.steps and not course.spot(position).stitch.visits_space:
            position += 1
        if position >= course.steps:
            return 0, ()
        index = course.round_of(position)
        return course.rounds[index].beads, sides_of(course.runs_of(index)).lengths

    def can_step_up_elsewhere(self) -> int:
        """How many spaces the next edge has to choose from; 0 where the start cannot be moved now."""
        course = self.course
        if self.position >= course.steps:
            return 0
        index = course.round_of(self.position)
        item = course.rounds[index]
        if item.technique not in ("peyote", "fill"):
            return 0
        if course.stitch_of(item.stop_run - 1).kind is not Kind.STEP_UP:
            return 0
        if course.stitch_of(course.run_of(self.position)).kind is Kind.STEP_UP and self._walks(item):
            return 0  # the walk is made already
        return sum(len(stitch.ups) * count for stitch, count in course.runs_of(index) if stitch.visits_space)

    def step_up_elsewhere(self, spaces: int) -> Told:
        """Begin the next round so many spaces further on. In the middle of a round the wish is kept until its end."""
        size = self.can_step_up_elsewhere()
        if not size:
            return self._nothing(
                "The start of a round can be moved only while a round is worked that another hangs from."
            )
        if not 0 <= spaces < size:
            return self._nothing(f"The next edge has {counted(size, 'space')}: 0 to {size - 1}.")
        item = self.course.rounds[self.course.round_of(self.position)]
        others = [made for made in self._made if not _same_step_up(made.choice, item)]
        at_end = self.position >= self._stitches_end()
        message = "Walk along now." if at_end else "Kept until the end of this round."
        if not spaces:
            return self._rechoose("choice", others, self.position, "The start stays where it is.")
        made = Made(self.position, StepUpElsewhere(item.edge, item.number, spaces, item.part))
        return self._rechoose("choice", [*others, made], self.position, message)

    def _walks(self, item: Round) -> bool:
        return any(self.course.stitch_of(run).kind is Kind.WALK for run in range(item.first_run, item.stop_run))

    def _stitches_end(self) -> int:
        """The position after the last stitch of the round at hand that fills a space."""
        course = self.course
        item = course.rounds[course.round_of(self.position)]
        runs = [run for run in range(item.first_run, item.stop_run) if course.stitch_of(run).visits_space]
        return course.run_step[runs[-1] + 1]


def _same_step_up(choice: Choice, item: Round) -> bool:
    return isinstance(choice, StepUpElsewhere) and (choice.part, choice.edge, choice.round) == (
        item.part,
        item.edge,
        item.number,
    )
