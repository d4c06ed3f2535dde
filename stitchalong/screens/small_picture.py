"""A small picture of a piece or a plan, for a corner of the home screen.

It is worked out in a thread of its own when the mark has rested for a moment, and kept for as long as the program runs.
What is not stitched yet is drawn faintly. There is none without numpy, where no colours or plain signs are wanted, and
of very large pieces.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Hashable
from contextlib import suppress
from threading import Thread
from typing import TYPE_CHECKING

from textual.timer import Timer

from stitchalong.errors import StitchalongError
from stitchalong.form import ready
from stitchalong.screens.aside import Missing, Tell, worked_out
from stitchalong.screens.drawing import Drawing, ground_of
from stitchalong.screens.glyphs import BLOCKS, Glyphs
from stitchalong.screens.inks import Look
from stitchalong.screens.lines import text_of, wrapped
from stitchalong.values import value

if TYPE_CHECKING:
    from stitchalong.course.course import Course
    from stitchalong.form.runs import Line
    from stitchalong.plan.library import Listed
    from stitchalong.plan.model import Plan
    from stitchalong.store.rows import PieceRow

SIZES = (((98, 22), (28, 13)), ((78, 22), (21, 10)))
"""the columns and lines of a screen, and of the picture that it has room for"""
_TOP = 2
"""lines above it"""
_PAUSE = 0.25
"""seconds that the mark rests on a piece before its picture is begun"""
_LARGEST = 3000
"""beads, or steps, of a piece that one gets a picture of"""


@value
class Subject:
    """What there is to be seen."""

    course: Course
    plan: Plan
    laid: int
    """beads laid so far"""


Find = Callable[[], Subject | None]
"""called in a thread of its own; None: there is nothing to draw"""


class SmallPicture(Drawing):
    """Lies above what else is on its screen, in the upper right corner, and takes no room until `place` says so."""

    DEFAULT_CSS = "SmallPicture { layer: above; display: none; }"

    def __init__(self, look: Look, glyphs: Glyphs) -> None:
        super().__init__()
        self._possible = ready()
        self._kept: dict[Hashable, tuple[Line, ...]] = {}
        self._key: Hashable = None
        self._timer: Timer | None = None
        self._cells = (0, 0)
        self.dress(look, glyphs)

    def dress(self, look: Look, glyphs: Glyphs) -> None:
        """Another look from now on."""
        self._wanted = self._possible and look.coloured and glyphs is BLOCKS
        self._ground = ground_of(look)
        self._kept.clear()
        self._key = None

    def place(self, width: int, height: int) -> int:
        """On a screen of this size: the columns that it takes, none where it has no room."""
        fitting = [size for least, size in SIZES if self._wanted and width >= least[0] and height >= least[1]]
        self.display = bool(fitting)
        if not fitting:
            return 0
        size = fitting[0]
        columns = size[0]
        if size != self._cells:
            self._cells = size
            self.styles.width, self.styles.height = size
            self._kept.clear()
            self._key = None
        self.styles.offset = (width - columns - 1, _TOP)
        return columns + 2

    def turn_to(self, key: Hashable, prepare: Callable[[], Find]) -> None:
        """Show what this key stands for: at once if its picture is kept, else when it is worked out.

        `prepare` is called in this thread when the mark has rested, and gives what is called in the other one.
        """
        if key == self._key or not self.display:
            return
        self._key = key
        self.show(self._kept.get(key, ()))
        if self._timer is not None:
            self._timer.stop()
        if key is not None and key not in self._kept:
            self._timer = self.set_timer(_PAUSE, lambda: self._begin(key, prepare))

    def known(self, key: Hashable) -> bool:
        """Whether what there is to be drawn of this is worked out."""
        return key in self._kept

    def on_unmount(self) -> None:
        self._key = None

    def _begin(self, key: Hashable, prepare: Callable[[], Find]) -> None:
        try:
            find = prepare()
        except StitchalongError:
            self._kept[key] = ()
            return
        loop, size = asyncio.get_running_loop(), self._cells

        def work() -> None:
            drawn = worked_out(lambda told: self._drawn(find, size, told), lambda share: self._key == key)
            with suppress(RuntimeError):  # the program has gone on
                loop.call_soon_threadsafe(self._take, key, size, drawn)

        # one that is not waited for when the screen is left
        Thread(target=work, name="small picture", daemon=True).start()

    def _drawn(self, find: Find, size: tuple[int, int], told: Tell) -> tuple[Line, ...]:
        subject = find()
        if subject is None or not 0 < subject.course.beads <= _LARGEST:
            return ()
        from stitchalong.form.cells import cells
        from stitchalong.form.view import Marks, View
        from stitchalong.form.whole import form_of

        told(0.0)
        form = form_of(subject.course, subject.plan, told=told)
        done = subject.laid if 0 < subject.laid < subject.course.beads else None
        return cells(form, View(), *size, marks=Marks(faint=done), ground=self._ground)

    def _take(self, key: Hashable, size: tuple[int, int], drawn: tuple[Line, ...] | Missing) -> None:
        if size != self._cells:
            return
        if isinstance(drawn, Missing):
            if not drawn.told:
                return
            drawn = _in_words(drawn.told, size[0]) if drawn.fault else ()
        self._kept[key] = drawn
        if self._key == key and self.is_attached:
            self.show(drawn)


def _in_words(told: str, width: int) -> tuple[Line, ...]:
    """In the picture's place."""
    from stitchalong.form.runs import Run

    return tuple((Run(text_of(some), None, None),) for some in wrapped(told, width))


def of_piece(row: PieceRow) -> Subject | None:
    """A piece, from its own copy of the plan. Raises PlanError."""
    if row.steps > _LARGEST:
        return None
    import json

    from stitchalong.course.compile import compile_plan
    from stitchalong.plan.checked import build
    from stitchalong.session.values import made_from

    plan = build(json.loads(row.plan_data), source=row.plan_name)
    course = compile_plan(plan, [made.choice for made in made_from(row.choices)])
    return Subject(course, plan, course.beads_before(row.position))


def of_plan(listed: Listed) -> Subject:
    """A plan of the list. Raises PlanError."""
    from stitchalong.course.compile import compile_plan
    from stitchalong.errors import Problems
    from stitchalong.plan.read import read_plan

    plan = read_plan(listed.path, Problems()).plan
    return Subject(compile_plan(plan), plan, 0)
