"""Counting in the hand: held against the plan, and accepted as it is where the rest can still be derived."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stitchalong.course.words import capital
from stitchalong.errors import Place, PlanError, UsageError
from stitchalong.session.choosing import Choosing
from stitchalong.session.values import Made, Told

if TYPE_CHECKING:
    from stitchalong.course.checkpoints import Checkpoint
    from stitchalong.course.recount import Fault, Recount, Where


class Counting(Choosing):
    """What is done about a count that differs."""

    def checkpoints(self) -> tuple[Checkpoint, ...]:
        """What can be counted here: the side that was just finished, and the round."""
        from stitchalong.course.checkpoints import checkpoints

        return checkpoints(self.lookout, self.position)

    def recount(self, checkpoint: Checkpoint, counted: int) -> Recount:
        """Hold the number counted against the plan. Raises UsageError for one that cannot be."""
        from stitchalong.course.recount import recount

        return recount(self.course, checkpoint, counted, self.position)

    def accept(self, found: Recount, fault: Fault | None = None, where: Where | None = None) -> Told:
        """Accept a count as it is: at the place that was seen, or somewhere on this side.

        Where it cannot be accepted, or the rest cannot be derived from it, nothing changes and it is said why.
        """
        from stitchalong.course.accept import accepting
        from stitchalong.course.deviate import deviation_words
        from stitchalong.course.spaces import spaces_done

        if not found.difference:
            return self._nothing("The count is right; there is nothing to accept.")
        index = found.checkpoint.index
        if self.course.round_of(max(0, self.position - 1)) != index:
            return self._nothing("That round lies further back: go back to it, or mend it.")
        try:
            chosen = accepting(self.course, found.checkpoint, found.difference, fault, where)
        except UsageError as error:
            return self._nothing(_sentence(error))
        if any(one.space >= spaces_done(self.course, index, self.position) for one in chosen):
            return self._nothing("That space is not laid yet.")
        made = [*self._made, *(Made(self.position, one, nth > 0) for nth, one in enumerate(chosen))]
        words = "; ".join(deviation_words(one) for one in chosen)
        try:
            return self._rechoose("choice", made, self.position, f"Accepted: {words}.")
        except PlanError as error:
            return self._nothing(f"It cannot be accepted, for the rest no longer fits: {_sentence(error)}")

    @property
    def differs(self) -> tuple[str, ...]:
        """Where the piece differs from its plan, in words, in the order accepted."""
        from stitchalong.course.deviate import deviation_words

        return tuple(deviation_words(one) for one in self.course.deviations)


def _sentence(error: UsageError | PlanError) -> str:
    """The first fault as a sentence; where it lies in the plan's file helps nobody who stitches."""
    problem = error.problems[0]
    fix = "pull back and mend it" if isinstance(error, PlanError) else problem.fix  # not: mend the plan
    return capital(str(replace(problem, place=Place(round=problem.place.round), fix=fix)))
