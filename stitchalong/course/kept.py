"""A course as bytes and back, so that going on with a piece derives nothing anew.

The bytes are no record of the piece: they can be lost at any time, and are refused (None) where anything about them
does not fit, for then the plan is compiled again. They are read by the program that wrote them, on the machine that
wrote them: numbers are stored as the machine has them.
"""

from __future__ import annotations

import json
import zlib
from array import array
from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

from stitchalong.course.choices import Deviation, from_data, to_data
from stitchalong.course.course import Course, Decision, Passes, Remark
from stitchalong.course.rounds import COLUMNS, Rounds
from stitchalong.fabric.stitch import Kind, Note, Stitch

_MAGIC = b"stitchalong course 1\n"
_FRAME = 20
"""bytes before the head: its length and the seal, ten digits each"""


class Look(NamedTuple):
    """A bead of the palette as it is shown and spoken of."""

    code: str
    name: str
    colour: str


class KeptCourse(NamedTuple):
    """What is kept: enough to show a piece and to stitch on, without its plan."""

    course: Course
    palette: tuple[Look, ...]


def to_bytes(key: str, kept: KeptCourse) -> bytes:
    """`key` says of what it was made; `from_bytes` asks for the same."""
    course = kept.course
    rounds = course.rounds if isinstance(course.rounds, Rounds) else _in_columns(course)
    edges = course.passes.edges
    arrays = [*_arrays(course), *rounds.columns, *edges.values()]
    head = {
        "key": key,
        "title": course.title,
        "palette": kept.palette,
        "stitches": [(one.kind.value, one.beads, one.ups, one.notes.value, one.detail) for one in course.stitches],
        "words": rounds.words,
        "several": rounds.several,
        "decisions": course.decisions,
        "remarks": course.remarks,
        "markers": sorted(course.markers),
        "open": course.open_heights,
        "deviations": to_data(course.deviations),
        "edges": list(edges),
        "arrays": [(one.typecode, len(one)) for one in arrays],
    }
    text = json.dumps(head, ensure_ascii=True, separators=(",", ":")).encode()
    size = b"%010d" % len(text)
    body = b"".join([text, *(one.tobytes() for one in arrays)])
    return _MAGIC + size + _seal(size, body) + body


def _seal(size: bytes, body: bytes | memoryview) -> bytes:
    return b"%010d" % zlib.crc32(body, zlib.crc32(size))


def from_bytes(key: str, data: bytes) -> KeptCourse | None:
    """The course; None where the bytes are damaged, or were made of something else."""
    start = len(_MAGIC) + _FRAME
    try:
        size, body = data[start - _FRAME : start - 10], memoryview(data)[start:]
        if not data.startswith(_MAGIC) or data[start - 10 : start] != _seal(size, body):
            return None
        head: dict[str, Any] = json.loads(bytes(body[: int(size)]))
        return _read(head, body[int(size) :]) if head["key"] == key else None
    except (ValueError, TypeError, KeyError, IndexError):
        return None


def _read(head: dict[str, Any], body: memoryview) -> KeptCourse:
    arrays = _split(head["arrays"], body)
    run_stitch, run_step, run_bead, special_runs, passed, ends = (next(arrays) for _ in range(6))
    columns = [next(arrays) for _ in range(COLUMNS)]
    course = Course(
        head["title"],
        tuple(
            Stitch(Kind(kind), tuple(beads), tuple(ups), Note(notes), detail)
            for kind, beads, ups, notes, detail in head["stitches"]
        ),
        run_stitch,
        run_step,
        run_bead,
        Rounds(head["words"], columns, ((at, tuple(numbers)) for at, numbers in head["several"])),
        tuple(Decision(*one) for one in head["decisions"]),
        tuple(Remark(*one) for one in head["remarks"]),
        special_runs,
        frozenset(head["markers"]),
        Passes(passed, ends, {int(nth): next(arrays) for nth in head["edges"]}),
        tuple((least, usual, most) for least, usual, most in head["open"]),
        tuple(one for one in from_data(head["deviations"]) if isinstance(one, Deviation)),
    )
    return KeptCourse(course, tuple(Look(*one) for one in head["palette"]))


def _split(sizes: Iterable[tuple[str, int]], body: memoryview) -> Iterator[array[int]]:
    at = 0
    for typecode, length in sizes:
        one: array[int] = array(typecode)
        stop = at + length * one.itemsize
        one.frombytes(body[at:stop])
        at = stop
        yield one


def _arrays(course: Course) -> tuple[array[int], ...]:
    passes = course.passes
    return course.run_stitch, course.run_step, course.run_bead, course.special_runs, passes.beads, passes.ends


def _in_columns(course: Course) -> Rounds:
    rounds = Rounds()
    for item in course.rounds:
        rounds.append(item)
    return rounds
