"""Moving through a piece: presses, undoing, doing again, going elsewhere."""

from __future__ import annotations

from stitchalong.course.walker import Unit, ahead, start_of, stitch_end
from stitchalong.course.words import beads_and_passes, counted
from stitchalong.session.values import LARGE_UNDO, Told
from stitchalong.session.work import Work


class Moving(Work):
    """What moves the place."""

    def press(self, steps: int = 1) -> Told:
        """So many steps: a bead each, or an action without a bead."""
        walker = self._walker.pressed(self.course, steps)
        if walker.position == self.position:
            return self._nothing(self._why_no_further())
        short = self.position + steps - walker.position
        message = (
            f"{counted(short, 'press', 'presses')} left over: {self._limit_words(walker.position)}" if short else ""
        )
        return self._move("press", walker, message)

    def finish_stitch(self, stitches: int = 1) -> Told:
        """To the end of the stitch at hand (and of so many in all)."""
        target = self.position
        for _ in range(stitches):
            target = stitch_end(self.course, target)
            if target >= ahead(self.course, self.position):
                break
        return self.press(target - self.position) if target > self.position else self._nothing(self._why_no_further())

    def _why_no_further(self) -> str:
        if self.outlook.decision is not None:
            return "First choose: another round, or on to what follows?"
        return "The piece is done; nothing comes after the last bead."

    def _limit_words(self, position: int) -> str:
        return "a choice comes first" if self.course.decision_at(position) else "the piece is done"

    def undo(self, unit: Unit = Unit.BEAD, times: int = 1) -> Told:
        """Back by so many beads, stitches, sides or rounds."""
        if unit is Unit.BEAD and times == 1 and self._made and self._made[-1].at == self.position:
            return self._take_back_choice()
        target = self.undo_target(unit, times)
        if target == self.position:
            return self._nothing("There is nothing before the first bead.")
        return self._go_back(target, "undo")

    def undo_target(self, unit: Unit, times: int = 1) -> int:
        """Where such an undo would lead."""
        if unit is Unit.BEAD:
            return max(0, self.position - times)
        target = self.position
        for _ in range(times):
            target = start_of(self.course, target, unit)
        return target

    def is_large(self, target: int) -> bool:
        """Whether going back to this position should say first what it takes."""
        return self.position - target > LARGE_UNDO or any(made.at > target for made in self._made)

    def undo_takes(self, target: int) -> str:
        """What going back to this position takes, in words, to be said before it is done."""
        beads = self.outlook.beads_done - self.course.beads_before(target)
        actions = self.position - target - beads
        words = [beads_and_passes(beads, actions)] if beads or actions else []
        lost = [made for made in self._made if made.at > target]
        if lost:
            words.append(counted(sum(not made.joined for made in lost), "choice"))
        return f"back to {self.lookout.at(target).title}: takes back {' and '.join(words) or 'nothing'}"

    def _go_back(self, target: int, kind: str) -> Told:
        lost = [made for made in self._made if made.at > target]
        if not lost:
            return self._move(kind, self._walker.back(self.position - target))
        kept = [made for made in self._made if made.at <= target]
        return self._rechoose(kind, kept, target, "A choice made after this place is taken back with it.")

    def _take_back_choice(self) -> Told:
        kept = list(self._made)
        while kept.pop().joined and kept:
            pass
        return self._rechoose("choice", kept, self.position, "The choice made here is taken back.")

    def redo(self, steps: int = 1) -> Told:
        """Take back an undo."""
        walker = self._walker.forward_again(steps)
        if walker.position == self.position:
            return self._nothing("There is nothing to do again.")
        return self._move("redo", walker)

    def redo_all(self) -> Told:
        """Back to where the undoing began."""
        return self.redo(self.redo_to - self.position)

    def go_to(self, position: int) -> Told:
        """To a place of the piece, forward or back, at once."""
        if not 0 <= position <= self.course.steps:
            return self._nothing("The piece has no such place.")
        if position < self.position:
            return self._go_back(position, "goto")
        reach = ahead(self.course, self.position)
        message = "A choice comes first; this is as far as one can go." if position > reach else ""
        target = min(position, reach)
        if target == self.position:
            return self._nothing(message or "That is where you are.")
        return self._move("goto", self._walker.moved_to(target), message)
