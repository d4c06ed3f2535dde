"""What the line-by-line front end says: one short line for each thing, position first, no signs but letters."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence

from stitchalong.course.course import Remark
from stitchalong.course.outlook import Outlook, Special, distance
from stitchalong.course.words import counted
from stitchalong.cues.words import warning
from stitchalong.errors import PlanError, StitchalongError
from stitchalong.session import Session
from stitchalong.session.plan_files import CHANGED
from stitchalong.session.replanning import NewPlan
from stitchalong.settings.cautions import CAUTIONS
from stitchalong.settings.commands import by_group
from stitchalong.settings.when import spoken

PASSED = 3
"""specials told by name when a count went past them"""


def place(outlook: Outlook, *, whole: bool = True) -> str:
    """`round 5, top edge, side 2 of 4, 3 left on this side`; not whole: `round 5, 3 left on this side`."""
    title = outlook.title if whole else outlook.title.partition(",")[0]
    parts = [title]
    if whole and outlook.side is not None and outlook.sides > 1:
        parts.append(f"side {outlook.side + 1} of {outlook.sides}")
    if outlook.big is not None and outlook.stitch is not None:
        parts.append(f"{outlook.big:,} {outlook.big_label}")
    return ", ".join(parts)


def line(outlook: Outlook, *, whole: bool = True) -> str:
    """Where one is and what to do now. Not whole: only what to pick up, for a stitch like the one before."""
    if outlook.decision is not None:
        return f"{outlook.title}: done. Another round, or on?"
    now = outlook.now if whole else outlook.now.partition(";")[0].rstrip(".") + "."
    if outlook.big_label.endswith("the join"):
        now = now.removeprefix("Join: ")
    return f"{place(outlook, whole=whole)}: {now[0].lower()}{now[1:]}"


def same_stitch(before: Outlook, after: Outlook) -> bool:
    """Whether what is to do now is like what was just done, or goes on with it, so that few words are enough."""
    return (
        before.stitch is not None
        and before.stitch == after.stitch
        and (before.title, before.side) == (after.title, after.side)
        and before.now.partition(";")[2] == after.now.partition(";")[2]
        and after.decision is None
    )


def warned(session: Session) -> Iterator[str]:
    """What has to be warned of here."""
    found = warning(session.outlook, session.warn)
    if found is not None:
        yield f"warning: {found.text}"


def question(session: Session) -> Iterator[str]:
    """What each answer to the open question would mean."""
    for word, more in (("another", True), ("on", False)):
        try:
            beads, sides = session.what_choosing_means(more)
        except PlanError as error:
            yield f"{word}: cannot be; {fault(error)}"
            continue
        if not beads:
            yield f"{word}: nothing follows"
            continue
        parted = f", sides of {', '.join(map(str, sides))}" if len(sides) > 1 else ""
        yield f"{word}: a round of {counted(beads, 'bead')}{parted}"


def came_back(session: Session, now: float) -> Iterator[str]:
    """When and where one stopped, and what to hold against the work in the hand."""
    back = session.came_back
    if back is None:
        return
    yield f"last worked on {spoken(back.when, now)}, at {back.where}"
    if back.differs:
        yield f"mind: {back.differs}"
    yield back.comes_out
    if back.last_beads:
        yield last(back.last_beads)


def plan_changed(session: Session) -> Iterator[str]:
    """That the plan's file says something else now; nothing where it does not."""
    if session.plan_changed:
        yield f"{CHANGED}; `new plan` tells what is new"


def new_plan(new: NewPlan) -> Iterator[str]:
    """From where on it differs, and whether the place can be kept."""
    yield from (f"{words}." for words in new.words)
    if new.hindered:
        yield f"{new.hindered}."


def last(codes: Sequence[str]) -> str:
    """The last beads laid."""
    return f"the last beads laid, the latest last: {' '.join(codes)}" if codes else "no bead is laid yet"


def kept(outlook: Outlook) -> str:
    """For leaving: all is kept, and where."""
    return f"kept: {place(outlook)}; {counted(outlook.beads_done, 'bead')} of {outlook.beads:,} laid"


def where(outlook: Outlook) -> Iterator[str]:
    """All that tells the place."""
    yield place(outlook)
    if outlook.cut:
        yield outlook.cut
    yield outlook.comes_out


def left(outlook: Outlook) -> Iterator[str]:
    """What is left, and what to have on the mat."""
    if outlook.big is not None and outlook.stitch is not None:
        yield f"{outlook.big:,} {outlook.big_label}"
    yield f"{counted(outlook.left_round, 'bead')} left in this round{_codes(outlook)}"
    yield f"{counted(outlook.left_piece, 'bead')} left in the piece of {outlook.beads:,}"


def _codes(outlook: Outlook) -> str:
    if not outlook.codes_left:
        return ""
    return ": " + ", ".join(f"{count:,} {code}" for code, count in outlook.codes_left)


def ahead(outlook: Outlook) -> Iterator[str]:
    """The next two things to be warned of."""
    if outlook.next is not None:
        text = f"next: {outlook.next.words} {distance(outlook.next)}"
        if outlook.after is not None:
            text += f"; after it {outlook.after.words}"
        yield text


def passed(session: Session, before: Outlook, after: Outlook) -> Iterator[str]:
    """The things to be warned of that a count went past."""
    found: list[Special] = []
    special = before.next
    while special is not None and special.position < after.position and len(found) <= PASSED:
        found.append(special)
        special = session.lookout.at(special.position).next
    if found:
        words = [special.words for special in found[:PASSED]]
        yield f"passed on the way: {'; '.join(words)}{'; and more' if len(found) > PASSED else ''}"


def remarks(session: Session, first: int, last: int) -> Iterator[str]:
    """The remarks that stand at these positions, both included."""
    every = session.course.remarks
    for remark in every[bisect_left(every, first, key=_step) : bisect_right(every, last, key=_step)]:
        yield f"remark: {' '.join(remark.text.split())}"


def _step(remark: Remark) -> int:
    return remark.step


def fault(error: StitchalongError) -> str:
    """A fault in one line."""
    return "; ".join(str(problem) for problem in error.problems)


def helped() -> Iterator[str]:
    """The words that can be typed, and cautions."""
    yield "An empty line counts one bead, a number so many. A number goes before a word or behind it: back 3."
    for group, items in by_group("plain"):
        yield f"{group}:"
        for item in items:
            if item.word:
                yield f"  {item.word}: {item.help}"
    yield "A place for go to: round 5; round 5 side 2 bead 3; bottom round 1; band."
    yield "Cautions:"
    yield from (f"  {words}" for words in CAUTIONS)
