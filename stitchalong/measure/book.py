"""A stitcher's own gauges: all that she measured, and the gauges and the thread that follow from it.

Thread: what a piece really took, its ends left out, over what its beads are long: the slack. It is taken into the usual
slack (`thread`) as any measurement into a gauge, at ± 10 %, because ends and ravelled stitches are guessed (an
estimate, no source).
"""

from __future__ import annotations

from collections.abc import Iterable

from stitchalong.errors import UsageError
from stitchalong.measure.beads import BeadSize, look_up, table
from stitchalong.measure.figure import Figure, positive
from stitchalong.measure.gauge import Gauge, Measurement, Per, default_gauge, improved, swatch
from stitchalong.measure.measured import Measured
from stitchalong.measure.thread import SLACK, SPREAD, TAIL, WEAVING

THREAD = "thread"
THREAD_ERROR = 0.10
"""share by which the thread of a piece may be off, one standard deviation"""
THREAD_BOUNDS = (1.0, 2.3)
"""a slack beyond these is a slip: thread is no shorter than the beads it passes"""

_USUAL_THREAD = Gauge("", "", THREAD, Per.UNIT, "", Figure.around(SLACK, SPREAD, "loosely checked"), 0.0)


class Book:
    """What one stitcher measured. `tension`: the word by which it was measured; empty: her usual one."""

    def __init__(self, kept: Iterable[Measured] = (), tension: str = "") -> None:
        self.kept = tuple(kept)
        self.tension = tension

    def gauge(self, bead: BeadSize, stitch: str, per: Per) -> Gauge | None:
        """The gauge of this bead and stitch in her hands, or the default; None where there is neither.

        A measurement that cannot be of this bead (a plan may give its bead measures of its own) is left out.
        """
        default = default_gauge(bead, stitch, per, self.tension)
        own = []
        for one in self._of(bead.size, bead.shape, stitch, per):
            try:
                if default is not None:
                    improved(default, [one])
                own.append(one)
            except UsageError:
                continue
        if default is not None:
            return improved(default, own)
        return swatch(bead, stitch, per, own, self.tension) if own else None

    def slack(self) -> Figure:
        """Thread for a millimetre of bead passed."""
        return improved(_USUAL_THREAD, self._of("", "", THREAD, Per.UNIT)).each

    def _of(self, size: str, shape: str, stitch: str, per: Per) -> list[Measurement]:
        wanted = (size, shape, stitch, str(per), self.tension if stitch != THREAD else "")
        return [
            Measurement(one.count, one.length, one.error)
            for one in self.kept
            if (one.size, one.shape, one.stitch, one.per, one.tension) == wanted
        ]


def measured(bead: BeadSize, stitch: str, per: Per, one: Measurement, tension: str = "", piece: str = "") -> Measured:
    """A measurement to be kept. Raises UsageError for one that cannot be, or a bead that has no name to keep it by."""
    if not bead.size or not bead.shape:
        raise UsageError("the plan does not say the size of its bead, so no gauge can be kept for it")
    default = default_gauge(bead, stitch, per, tension)
    if default is not None:
        improved(default, [one])
    else:
        swatch(bead, stitch, per, [one], tension)
    return Measured(bead.size, bead.shape, stitch, str(per), tension, one.count, one.length, one.error, piece)


def measured_thread(bare: float, used: float, changes: int, piece: str = "") -> Measured:
    """The thread that a piece took, to be kept.

    `bare`: mm of beads passed, `used`: mm of thread cut, less what was left over, `changes`: of thread, as reckoned.
    Raises UsageError where the one cannot belong to the other.
    """
    positive(used, "the thread")
    ends = 2 * (TAIL + WEAVING * changes)
    share = (used - ends) / positive(bare, "the work")
    low, high = THREAD_BOUNDS
    if not low <= share <= high:
        least, most = ((bare * bound + ends) / 1000 for bound in THREAD_BOUNDS)
        raise UsageError(
            f"{used / 1000:.1f} m of thread cannot be what the whole piece took: {least:.1f} to {most:.1f} m would be",
            fix="give all that was cut, less what was left over",
        )
    count = max(1, round(bare))
    length = share * count
    return Measured("", "", THREAD, str(Per.UNIT), "", count, length, THREAD_ERROR * length, piece)


def known_bead(word: str) -> BeadSize:
    """The row of the table for `11/0 cylinder`. Raises UsageError."""
    size, _, shape = word.strip().rpartition(" ")
    found = look_up(size, shape)
    if found is None:
        shapes = sorted({shape for _, shape in table()})
        raise UsageError(
            f"no bead is known as “{word.strip()[:40]}”",
            fix=f"size and shape, as in “11/0 cylinder”; shapes are {', '.join(shapes)}",
        )
    return found
