"""Taking out beads, and taking back presses that were none."""

from __future__ import annotations

from dataclasses import replace

from stitchalong.course.words import counted
from stitchalong.session.counting import Counting
from stitchalong.session.values import Told
from stitchalong.values import value

TOGETHER = 1.0
"""seconds; presses that follow each other faster are one burst: no bead is picked up and stitched so fast"""
LOOKED_AT = 500
"""presses looked back through"""


@value
class Burst:
    """Presses that came faster than anybody stitches: a held key, a cat, a bag on the pedal."""

    presses: int
    seconds: float
    target: int
    """the position before the first of them"""

    @property
    def words(self) -> str:
        return f"{counted(self.presses, 'press', 'presses')} in {self.seconds:.0f} s"


class TakingOut(Counting):
    """What goes back by what happened, not by what the course says."""

    def unpick_target(self, beads: int) -> int | None:
        """The position after so many beads were taken out of the work; None where there are not so many."""
        from stitchalong.course.find import positions_after

        left = self.outlook.beads_done - beads
        return positions_after(self.course, left).start if beads > 0 and left >= 0 else None

    def unpick(self, beads: int) -> Told:
        """So many beads were taken out of the work; passes made behind the last one left come out with them."""
        target = self.unpick_target(beads)
        if target is None:
            if beads <= 0:
                return self._nothing("How many beads did you take out?")
            return self._nothing(f"Only {counted(self.outlook.beads_done, 'bead')} are laid.")
        told = self._go_back(target, "undo")
        return replace(told, message=f"{counted(beads, 'bead')} taken out. {told.message}".rstrip())

    def burst(self) -> Burst | None:
        """The last presses, where they came in a burst; None where they did not, or something else came after them."""
        kept = self._store.tail(self.piece.id, LOOKED_AT)
        first = len(kept)
        while first and kept[first - 1].event.kind == "press":
            if first < len(kept) and kept[first].at - kept[first - 1].at > TOGETHER:
                break
            first -= 1
        presses = len(kept) - first
        if presses < 2:
            return None
        before = kept[first].event.position - kept[first].event.amount
        return Burst(presses, kept[-1].at - kept[first].at, before)

    def take_back_burst(self) -> Told:
        """Take back the last burst of presses in one go."""
        found = self.burst()
        if found is None:
            return self._nothing("The last presses came one by one; take them back bead by bead.")
        return replace(self._go_back(found.target, "undo"), message=f"Taken back: {found.words}.")
