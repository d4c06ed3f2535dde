"""What is asked of the stitcher as the session stands."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stitchalong.course.choices import StepUpElsewhere
from stitchalong.course.words import counted, sentence
from stitchalong.screens import places
from stitchalong.screens.forms import GoTo, StepUp
from stitchalong.session import Session

if TYPE_CHECKING:
    from stitchalong.screens.stitching import StitchingScreen


def go_to_form(session: Session) -> GoTo:
    """Where to go, beginning where one is."""
    return GoTo.here(session.course, session.position, session.outlook.side, lambda at: preview(session, at))


def preview(session: Session, position: int) -> tuple[str, str]:
    """What going to a position means, and what is to do there, in words."""
    if position == session.position:
        return "That is where you are.", ""
    there = session.lookout.at(position)
    if position < session.position:
        takes = session.undo_takes(position)
        return sentence(takes), f"There: {there.now}"
    beads = there.beads_done - session.outlook.beads_done
    return f"On by {counted(beads, 'bead')}, counted as laid.", f"There: {there.now}"


def step_up(screen: StitchingScreen, spaces: int | None) -> None:
    """Ask how many spaces further on to step up; where it cannot be, tell why."""
    form = step_up_form(screen.session, spaces)
    if form is None:
        screen.do(lambda: screen.session.step_up_elsewhere(0))
    else:
        screen.open(form)


def step_up_form(session: Session, spaces: int | None) -> StepUp | None:
    """How many spaces further on to step up: those asked for, else those wished before; None where it cannot be."""
    size = session.can_step_up_elsewhere()
    if not size:
        return None
    course = session.course
    index = course.round_of(session.position)
    item = course.rounds[index]
    wished = [
        choice.spaces
        for choice in session.choices
        if isinstance(choice, StepUpElsewhere)
        and (choice.part, choice.edge, choice.round) == (item.part, item.edge, item.number)
    ]
    usual = wished[-1] if wished else 0
    form = StepUp(places.next_edge(course, index), usual)
    if spaces is None:
        return form
    if spaces < size:
        return replace(form, spaces=spaces)
    return replace(form, fault=f"The next edge has {counted(size, 'space')}: 0 to {size - 1}.")
