"""`check --watch`: look again whenever the file is saved, and say from where on the work is another."""

from __future__ import annotations

import gc
from collections.abc import Callable
from pathlib import Path

from stitchalong.commands.world import World
from stitchalong.course.course import Course
from stitchalong.course.differ import first_difference
from stitchalong.course.outlook import Lookout

EVERY = 0.5
"""seconds between two looks at the file"""

_Stamp = tuple[int, int] | None


def watch(path: Path, look: Callable[[], tuple[int, Course | None]], world: World) -> int:
    """Look at once and after each change, until interrupted. `look` tells what is wrong and gives the course."""
    gc.enable()
    before: Course | None = None
    seen: _Stamp = (-1, -1)
    while True:
        stamp = _stamp(path)
        if stamp != seen:
            if seen != (-1, -1):
                world.say()
            seen = stamp
            _, course = look()
            if course is not None:
                if before is not None:
                    world.say(_change(before, course))
                before = course
            world.say("watching; Ctrl-C ends it")
        world.sleep(EVERY)


def _stamp(path: Path) -> _Stamp:
    """What changes when the file is saved; None where it is not there (it may just be written anew)."""
    try:
        status = path.stat()
    except OSError:
        return None
    return status.st_mtime_ns, status.st_size


def _change(before: Course, course: Course) -> str:
    at = first_difference(before, course)
    if at is None:
        return "the work is the same as before"
    more = course.beads - before.beads
    beads = (
        f"{abs(more):,} {'bead' if abs(more) == 1 else 'beads'} {'more' if more > 0 else 'fewer'}"
        if more
        else "as many beads"
    )
    longer = course if at < course.steps else before
    title = Lookout(longer, {}).round_title(longer.round_of(at))
    return f"other work from {title} on; {beads} in all"
