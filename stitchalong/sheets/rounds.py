"""Every round of a course as a step of a sheet, and how its stitches are made."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence

from stitchalong.course.course import Course
from stitchalong.course.noting import move_words, round_notation, sides_in_words, zip_words
from stitchalong.course.outlook import Lookout
from stitchalong.course.sides import sides_of
from stitchalong.course.words import capital, counted
from stitchalong.fabric.stitch import Kind
from stitchalong.sheets.blocks import Note, Sort, Step

MOST_BOXES = 24
"""sides of a round that get a box each"""


def steps_of(course: Course, look: Lookout, changes: Sequence[int] = ()) -> tuple[Step, ...]:
    """All rounds. `changes`: positions at which a new thread is begun."""
    notes = _notes(course, changes)
    steps = []
    so_far = 0
    place = ("", "", -1)
    for index, item in enumerate(course.rounds):
        so_far += item.beads
        if (item.part, item.edge, item.work) != place and item.first_step and not _crosses(course, index):
            notes[index].insert(0, Note(Sort.BEFORE, look.teller.comes_out(item.first_step)))
        place = (item.part, item.edge, item.work)
        steps.append(_step(course, look, index, so_far, notes[index]))
    return tuple(steps)


def _crosses(course: Course, index: int) -> bool:
    return next(course.runs_of(index))[0].kind is Kind.CROSS


def _step(course: Course, look: Lookout, index: int, so_far: int, notes: list[Note]) -> Step:
    item = course.rounds[index]
    runs = list(course.runs_of(index))
    first = next((nth for nth, (stitch, _) in enumerate(runs) if stitch.beads or stitch.visits_space), 0)
    before = [Note(Sort.BEFORE, text) for text in move_words(runs[:first], item)]
    rest = [run for run in runs[first:] if not run[0].visits_space and not run[0].beads]
    moves = list(dict.fromkeys(move_words(rest, item)))
    then = [Note(Sort.THEN, "; ".join(moves))] if moves else []
    sides = sides_of(runs)
    lengths = [stretch.stop - stretch.start for stretch in sides.stretches] if len(sides.lengths) > 1 else []
    if len(lengths) > MOST_BOXES:
        before.append(Note(Sort.BEFORE, f"sides of {sides_in_words(lengths)}"))
        lengths = []
    title = look.round_title(index)
    notation = zip_words(runs) if item.technique == "zip" else round_notation(course, index)
    unit = _unit(course, index)
    if item.technique == "band":
        notation = f"spacers {notation}"
    elif runs[first][0].kind is Kind.STRING:
        notation = f"string {notation}"
    order = sorted(notes, key=lambda note: note.sort in (Sort.CHOICE,))
    return Step(
        capital(title),
        notation,
        item.spaces,
        item.beads,
        so_far,
        unit,
        tuple(lengths),
        (*before, *(note for note in order if note.sort is not Sort.CHOICE), *then,
         *(note for note in order if note.sort is Sort.CHOICE)),
        _codes(course, index),
    )  # fmt: skip


def _codes(course: Course, index: int) -> tuple[tuple[str, int], ...]:
    """Beads of each letter, in a round that has more than one."""
    counts: Counter[str] = Counter()
    for stitch, count in course.runs_of(index):
        for code in stitch.beads:
            counts[code] += count
    return tuple(sorted(counts.items())) if len(counts) > 1 else ()


def _unit(course: Course, index: int) -> str:
    """What a round's stitches are called; empty where each is one bead."""
    item = course.rounds[index]
    if item.technique == "band":
        return "units" if item.spaces != 1 else "unit"
    if item.spaces == item.beads or next(iter(course.runs_of(index)))[0].kind is Kind.STRING:
        return ""
    return "stitches" if item.spaces != 1 else "stitch"


def _notes(course: Course, changes: Sequence[int]) -> Mapping[int, list[Note]]:
    """By round: what is said of it, where a new thread is begun, what is left to choose."""
    notes: dict[int, list[Note]] = defaultdict(list)
    for remark in course.remarks:
        index = course.round_of(remark.step)
        notes[index].append(Note(Sort.MIND, remark.text))
    for position in changes:
        if position >= course.steps:
            continue
        index = course.round_of(position)
        notes[index].append(Note(Sort.THREAD, _change(course, index, position)))
    for decision in course.decisions:
        # the question stands before the moves that end its round
        index = max(nth for nth, item in enumerate(course.rounds) if item.first_step < decision.step or not nth)
        most = "as high as you like" if decision.most is None else f"at most {decision.most}"
        notes[index].append(
            Note(
                Sort.CHOICE,
                f"{counted(decision.done, 'round')} of this rise are done; at least {decision.least}, "
                f"usually {decision.usual}, {most}",
            )
        )
    return notes


def _change(course: Course, index: int, position: int) -> str:
    item = course.rounds[index]
    done = course.beads_before(position) - (item.first_bead - 1)
    when = "before this round" if done <= 0 else f"after about {counted(done, 'bead')} of this round"
    return f"a new thread about here, {when}, if each is as long as said above"


def how_to(course: Course, look: Lookout, indexes: Iterable[int]) -> tuple[str, ...]:
    """How the stitches of these rounds are made: each kind once, by the first of it, in the order worked."""
    told: dict[tuple[str, Kind, str, int], str] = {}
    for index in indexes:
        item = course.rounds[index]
        for run in range(item.first_run, item.stop_run):
            stitch = course.stitch_of(run)
            key = (item.technique, stitch.kind, "" if stitch.detail.isdigit() else stitch.detail, len(stitch.beads))
            if key not in told and stitch.kind is not Kind.STRING:
                told[key] = look.teller.now(course.spot(course.run_step[run]))
    return tuple(dict.fromkeys(told.values()))
