"""What a teacher says around the counting: what one should know, how long it takes, where people slip, how it is ended.

Slips and habits: the trade's own lists of mistakes in class; common practice, no source, where none is named.
"""

from __future__ import annotations

from collections.abc import Iterator

from stitchalong.course.course import Course
from stitchalong.course.outlook import word_of
from stitchalong.course.words import counted
from stitchalong.fabric.stitch import Kind, Note
from stitchalong.measure.pace import USUAL, Pace, duration_range, estimate
from stitchalong.plan.text import listed

_NAMES = {
    "band": "a band of modified right-angle weave",
    "fill": "",
    "ring": "beginning with a ring of beads",
    "tube": "beginning with a strung tube",
    "peyote": "peyote in the round",
}


_PRACTICE = {
    "peyote": 1,
    "drop peyote": 1,
    "spiral peyote": 1,
    "herringbone": 1,
    "tubular brick stitch": 1,
    "right-angle weave": 1,
    "netting": 1,
    "zip": 1,
    "band": 2,
    "tubular herringbone": 2,
    "tubular right-angle weave": 2,
    "cubic right-angle weave": 3,
}
"""How much each asks for beyond beads in rows: a step-up, beads passed in another order, a band to be joined (own
judgement, no source)."""


_SLIPS = (
    (
        "herringbone",
        "Down through one bead, up through the next, and no further: through one too many, two stacks are drawn "
        "together.",
    ),
    (
        "cubic right-angle weave",
        "Count the walls before the ceiling is closed: four to a cube, each with its upright. A wall left out shows "
        "only when the beam bends.",
    ),
    (
        "right-angle weave",
        "The thread goes round a corner at every bead and never straight across an opening: where a bare thread shows, "
        "go back.",
    ),
    (
        "brick",
        "Catch the thread between two beads of the row below once, then come back up through the new bead; caught "
        "twice, the row shrinks.",
    ),
    ("netting", "Pass through the middle bead of the next arch, not the one beside it, or the net is drawn askew."),
    ("square stitch", "Each bead is sewn to the one below it and passed through again; one that is only strung leans."),
)
"""By a word of the technique; common practice, no source."""


def techniques_of(course: Course) -> tuple[str, ...]:
    """What is worked, by its plain name, in the order of the piece."""
    names = (_NAMES.get(item.technique, item.technique) for item in course.rounds)
    return tuple(dict.fromkeys(name for name in names if name))


def features_of(course: Course) -> tuple[str, ...]:
    """What is special in it."""
    stitches = {stitch for index in range(len(course.rounds)) for stitch, _ in course.runs_of(index)}
    notes = Note.NONE
    for stitch in stitches:
        notes |= stitch.notes
    kinds = {stitch.kind for stitch in stitches}
    found = {
        "increases": bool(notes & Note.INCREASE),
        "decreases": bool(notes & Note.DECREASE),
        "picots": Kind.PICOT in kinds,
        "crossing to the other edge": Kind.CROSS in kinds,
        "turns": Kind.TURN in kinds,
    }
    return tuple(name for name, there in found.items() if there)


def level_of(course: Course) -> str:
    """How much practice it takes, by what is in it."""
    weight = sum(_PRACTICE.get(name, 0) for name in {item.technique for item in course.rounds})
    weight += sum(2 if name == "decreases" else 1 for name in features_of(course) if name != "turns")
    weight += (course.beads > 500) + (course.beads > 1500)
    if weight <= 2:
        return "a first piece"
    return "some practice" if weight <= 5 else "practised"


def skill_words(course: Course) -> str:
    """`some practice: a band …, peyote in the round; with increases and crossing …`."""
    special = features_of(course)
    more = f"; with {listed(special, 'and')}" if special else ""
    return f"{level_of(course)}: {listed(techniques_of(course), 'and')}{more}"


def time_words(course: Course, pace: Pace | None) -> str:
    """How long it takes: by a pace that is known, else by a guess."""
    if pace is not None:
        return f"{duration_range(pace.time_for(course.beads))}, by {pace.each.basis}; rests not counted"
    at = f"{USUAL.each.low:.0f} to {USUAL.each.high:.0f} seconds a bead"
    return f"{estimate(course.beads)}, an estimate at {at}; rests not counted"


def slips(course: Course) -> Iterator[str]:
    """Where people slip in this piece."""
    special = features_of(course)
    techniques = {item.technique for item in course.rounds}
    steps_up = any(stitch.kind is Kind.STEP_UP for at in range(len(course.rounds)) for stitch, _ in course.runs_of(at))
    if steps_up:
        yield (
            "The step-up: a round is not done until the needle has passed through the first bead of this round too. "
            "Missed, the next round spirals."
        )
    if "increases" in special and "peyote" in techniques:
        yield (
            "Right before and right after a pair lies a small space that is easily passed over. A pair is two beads: "
            "the next round has a space between them."
        )
    if "decreases" in special:
        yield "Where no bead is laid, pull snug before the next stitch, and do not forget the bead that closes the gap."
    if "band" in techniques:
        yield "Pass every spacer on the same side, and see that the band has no twist before it is joined."
    yield from (text for words, text in _SLIPS if any(words in name for name in techniques))
    if "strung row" in techniques or "tube" in techniques:
        yield "The beads strung first are the first two rows at once. Hold them flat; the third row sets them apart."
    if any(item.flat for item in course.rounds):
        yield "At the end of a row turn only when the last space is filled."
    word = "row" if course.rounds[-1].flat else "round"
    yield (
        f"Count out the beads of a {word} before you begin it: one left over is a space that was missed, one too few "
        f"is a space with two; and the fault lies in this {word}."
    )
    yield "Do not split the thread with the needle, and look for a bead too many on the needle now and then."


def beginning(course: Course) -> Iterator[str]:
    """Before the first bead."""
    yield "Pick out odd beads, and lay each letter in a pile of its own with the letter beside it."
    yield "Stretch the thread. Slide on a stop bead, unlike those of the work, and leave a tail of a hand's length."
    first = course.rounds[0]
    if len(first.numbers) > 1:
        numbers = f"{word_of(first)}s {' and '.join(map(str, first.numbers))}"
        yield f"String {counted(first.beads, 'bead')}: they are {numbers} at once."


def finishing(course: Course) -> Iterator[str]:
    """After the last bead."""
    yield "Lay the piece beside the picture and count the beads of the last round once more."
    if course.rounds[-1].technique in ("peyote", "edging", "netting"):
        yield "Pass through the last round once more if the edge is loose."
    yield (
        "Weave the thread in: zig-zag back through the work, turning twice, a half hitch here and there; then cut it "
        "close, never at a knot. Take off the stop bead and weave in the tail in the same way."
    )
    yield (
        "To add a thread: begin the new one while the old one is still long enough to weave in. Weave the new one in "
        "until it comes out of the same bead in the same direction; then weave in the old one."
    )
