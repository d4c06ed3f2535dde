"""One piece being stitched: walker, store, cues and clock. The only thing that a front end calls.

Every press is kept before it is shown: a method that moves returns only when the store has it.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass

from stitchalong.course.choices import Another, Choice, StepUpElsewhere
from stitchalong.course.choices import from_data as choices_from_data
from stitchalong.course.choices import to_data as choices_to_data
from stitchalong.course.compile import COMPILER, compile_plan
from stitchalong.course.course import Course, Round
from stitchalong.course.outlook import Lookout, Outlook
from stitchalong.course.strand import last_beads
from stitchalong.course.walker import Unit, Walker, address_of, ahead, start_of, stitch_end
from stitchalong.course.words import counted
from stitchalong.cues.cue import Cue
from stitchalong.cues.words import USUAL_WARNING, arrived, cue_of, refused, taken_back
from stitchalong.errors import StoreError
from stitchalong.fabric.stitch import Kind
from stitchalong.plan.checked import build
from stitchalong.plan.model import Plan
from stitchalong.store.pieces import Store
from stitchalong.store.rows import Event, PieceRow

LAST_BEADS = 12
"""shown on coming back, to be held against the work in the hand"""

LARGE_UNDO = 10
"""steps; an undo of more, or of a choice, says first what it takes"""


@dataclass(frozen=True, slots=True)
class Made:
    """A choice, and the position at which it was made."""

    at: int
    choice: Choice


@dataclass(frozen=True, slots=True)
class Told:
    """What a press led to."""

    outlook: Outlook
    cue: Cue
    message: str = ""
    """something to say in words beside the cue: why nothing happened, what was taken back"""


@dataclass(frozen=True, slots=True)
class Return:
    """Where one stopped, for coming back."""

    when: float
    """epoch seconds of the last press"""
    where: str
    comes_out: str
    last_beads: tuple[str, ...]
    """codes, the nearest last"""


class Session:
    """A piece at work."""

    def __init__(self, store: Store, row: PieceRow, plan: Plan, *, warn: int = USUAL_WARNING) -> None:
        self._store = store
        self._seq = row.seq
        self.piece = row
        self.plan = plan
        self.warn = warn
        self._made = _made_from(row.choices)
        self.names = {bead.code: bead.name for bead in plan.beads}
        self._walker = Walker(row.position, row.redo_to)
        self._compile()
        if row.position > self.course.steps:
            raise StoreError(f"the place kept with {row.name} lies behind the end of its plan")
        self.came_back = self._where_stopped() if row.position else None

    @classmethod
    def begin(
        cls,
        store: Store,
        *,
        plan: Plan,
        plan_text: str,
        plan_data: object,
        plan_name: str,
        name: str | None = None,
        warn: int = USUAL_WARNING,
    ) -> Session:
        """Begin a new piece. Raises PlanError for a plan that cannot be stitched."""
        course = compile_plan(plan)
        row = store.begin(
            title=plan.title,
            plan_text=plan_text,
            plan_data=json.dumps(plan_data, ensure_ascii=False),
            plan_name=plan_name,
            compiler=COMPILER,
            steps=course.steps,
            place=_place_text(course, 0),
            name=name,
        )
        return cls(store, row, plan, warn=warn)

    @classmethod
    def resume(cls, store: Store, piece_id: int, *, warn: int = USUAL_WARNING) -> Session:
        """Go on with a piece, from its own copy of the plan. Raises StoreError or PlanError."""
        row = store.piece(piece_id)
        return cls(store, row, build(json.loads(row.plan_data), source=row.plan_name), warn=warn)

    def anew(self) -> Session:
        """The piece as it stands in the store now: for going on after another window has worked on it."""
        return Session.resume(self._store, self.piece.id, warn=self.warn)

    # ---- what stands ----------------------------------------------------------------------------

    @property
    def position(self) -> int:
        return self._walker.position

    @property
    def redo_to(self) -> int:
        return self._walker.redo_to

    @property
    def choices(self) -> tuple[Choice, ...]:
        return tuple(made.choice for made in self._made)

    def _compile(self) -> None:
        self.course: Course = compile_plan(self.plan, self.choices)
        self.lookout = Lookout(self.course, self.names)
        self.outlook: Outlook = self.lookout.at(self.position)

    def _where_stopped(self) -> Return:
        return Return(
            self.piece.touched,
            self._spoken_place(),
            self.outlook.comes_out,
            tuple(last_beads(self.course, self.position, LAST_BEADS)),
        )

    def _spoken_place(self) -> str:
        """`round 5, top edge, side 2 of 4, 3 left on this side`."""
        outlook = self.outlook
        parts = [outlook.title]
        if outlook.side is not None and outlook.sides > 1:
            parts.append(f"side {outlook.side + 1} of {outlook.sides}")
        if outlook.big is not None:
            parts.append(f"{outlook.big} {outlook.big_label}")
        return ", ".join(parts)

    # ---- keeping --------------------------------------------------------------------------------

    def _keep(self, kind: str, walker: Walker, *, amount: int = 0, data: str = "", choices: bool = False) -> None:
        """Make an event durable; only then does the state move. Raises StoreError."""
        event = Event(kind, amount, walker.position, walker.redo_to, data)  # type: ignore[arg-type]
        self._seq = self._store.record(
            self.piece.id,
            self._seq,
            [event],
            place=_place_text(self.course, walker.position),
            choices=_made_text(self._made) if choices else None,
            steps=self.course.steps if choices else None,
        )
        self._walker = walker

    def _move(self, kind: str, walker: Walker, message: str = "") -> Told:
        before = self.outlook
        self._keep(kind, walker, amount=abs(walker.position - before.position))
        self.outlook = self.lookout.at(walker.position)
        self._keep_whether_done(before)
        if kind in ("press", "redo"):
            cue = cue_of(before, self.outlook, self.warn)
        else:
            cue = (arrived if walker.position > before.position else taken_back)(self.outlook)
        return Told(self.outlook, cue, message)

    def _keep_whether_done(self, before: Outlook) -> None:
        if self.outlook.done:
            self._store.finish(self.piece.id)
        elif before.done:
            self._store.go_on(self.piece.id)

    def _nothing(self, text: str) -> Told:
        return Told(self.outlook, refused(text), text)

    # ---- moving ---------------------------------------------------------------------------------

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
        words = [counted(beads, "bead")] if beads else []
        if actions:
            words.append(counted(actions, "pass", "passes"))
        lost = [made for made in self._made if made.at > target]
        if lost:
            words.append(counted(len(lost), "choice"))
        return f"back to {self.lookout.at(target).title}: takes back {' and '.join(words) or 'nothing'}"

    def _go_back(self, target: int, kind: str) -> Told:
        lost = [made for made in self._made if made.at > target]
        if not lost:
            return self._move(kind, self._walker.back(self.position - target))
        kept = [made for made in self._made if made.at <= target]
        return self._rechoose(kind, kept, target, "A choice made after this place is taken back with it.")

    def _take_back_choice(self) -> Told:
        return self._rechoose("choice", self._made[:-1], self.position, "The choice made here is taken back.")

    def _rechoose(self, kind: str, made: list[Made], position: int, message: str) -> Told:
        """Derive the course again with other choices, and keep them. Where either fails, all stands as before."""
        before, old_course, old_made = self.outlook, self.course, self._made
        walker = Walker(position, position)
        try:
            self._made = made
            self.course = compile_plan(self.plan, self.choices)
            self._keep(kind, walker, amount=abs(position - before.position), choices=True)
        except Exception:
            self.course, self._made = old_course, old_made
            raise
        self.lookout = Lookout(self.course, self.names)
        self.outlook = self.lookout.at(walker.position)
        self._keep_whether_done(before)
        cue = taken_back(self.outlook) if kind == "undo" else Cue(None, message, screen=message)
        return Told(self.outlook, cue, message)

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

    # ---- choices --------------------------------------------------------------------------------

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
        course = compile_plan(self.plan, (*self.choices, Another(decision.edge, decision.round, more, decision.part)))
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


def _place_text(course: Course, position: int) -> str:
    return json.dumps(asdict(address_of(course, position)))


def _made_text(made: Sequence[Made]) -> str:
    data = choices_to_data(item.choice for item in made)
    return json.dumps([{**choice, "at": item.at} for choice, item in zip(data, made, strict=True)])


def _made_from(text: str) -> list[Made]:
    data = json.loads(text)
    positions = [int(item.pop("at", 0)) for item in data]
    return [Made(at, choice) for at, choice in zip(positions, choices_from_data(data), strict=True)]
