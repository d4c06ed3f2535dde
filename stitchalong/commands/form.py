"""The command that shows a form: in the terminal, or written into files."""

from __future__ import annotations

from argparse import Namespace
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from stitchalong.commands.subject import Subject, subject_of
from stitchalong.commands.world import World
from stitchalong.course.words import counted
from stitchalong.errors import Exit, Place, StoreError, UsageError
from stitchalong.form import require
from stitchalong.form.view import Marks, View
from stitchalong.measure.of_start import asks_for
from stitchalong.store.files import beside

if TYPE_CHECKING:
    from stitchalong.form.shape import Form

_LATELY = 3
"""beads that count as just laid"""
_WIDE = 100
"""cells that are worth drawing, at most"""


def run(asked: Namespace, world: World) -> int:
    """`form`."""
    require()
    files = {kind: Path(name) for kind in ("png", "svg", "ply") if (name := getattr(asked, kind))}
    for path in files.values():
        if path.exists() and not asked.replace:
            raise StoreError(
                "there is a file already", fix="choose another name, or add --replace", place=Place(str(path))
            )
    subject = subject_of(asked, world)
    if subject.doubt:
        world.tell(f"stitchalong: {subject.doubt}")
    beads, marks = _extent(asked, subject)
    form = _grown(subject, beads, world)
    view = View()
    if asked.turn is not None:
        view = replace(view, turn=float(asked.turn))
    if asked.tilt is not None:
        view = replace(view, tilt=float(asked.tilt))
    for kind, path in files.items():
        _write(path, _file(kind, form, view, marks, asked.pixels))
        world.say(f"{subject.heading} is drawn in {path}")
    if not files:
        _draw(form, view, marks, asked.letters, world)
    for doubt in form.doubts:
        world.tell(f"stitchalong: a doubt: {doubt}")
    return Exit.OK


def _extent(asked: Namespace, subject: Subject) -> tuple[int, Marks]:
    """How many beads are shown, and which of them are pointed out. Raises UsageError for a round that there is not."""
    course = subject.course
    if asked.round is not None:
        if asked.round > len(course.rounds):
            raise UsageError(
                f"there is no round {asked.round}: the work has {counted(len(course.rounds), 'round')}",
                fix="rounds count in the order worked, over all edges",
            )
        item = course.rounds[asked.round - 1]
        return item.first_bead - 1 + item.beads, Marks()
    if subject.piece is None or asked.whole:
        return course.beads, Marks()
    done = course.beads_before(subject.piece.position)
    return done, Marks(frozenset(range(max(0, done - _LATELY), done)))


def _grown(subject: Subject, beads: int, world: World) -> Form:
    from stitchalong.form.whole import SLOW, form_of

    if beads >= SLOW:
        world.tell(f"stitchalong: {counted(beads, 'bead')} take a while")
    asks = asks_for(subject.plan)
    gauge = subject.book.gauge(asks.bead, asks.stitch, asks.per) if asks else None
    return form_of(subject.course, subject.plan, beads=beads, gauge=gauge)


def _file(kind: str, form: Form, view: View, marks: Marks, pixels: int) -> bytes:
    from stitchalong.form.files import ply, png
    from stitchalong.form.render import picture
    from stitchalong.form.svg import svg

    if kind == "png":
        return png(picture(form, view, pixels, pixels, marks=marks))
    return svg(form, view, pixels, pixels, marks=marks).encode("utf-8") if kind == "svg" else ply(form)


def _write(path: Path, data: bytes) -> None:
    try:
        with beside(path) as fresh:
            fresh.write_bytes(data)
    except OSError as error:
        raise StoreError(
            f"it cannot be written: {error.strerror or error}", fix="name another file", place=Place(str(path))
        ) from error


def _draw(form: Form, view: View, marks: Marks, letters: bool, world: World) -> None:
    from stitchalong.form.cells import ansi, cells, plain

    columns, lines = world.terminal_size
    columns, lines = min(columns - 1, _WIDE), min(lines - 2, _WIDE // 2)
    if world.shows_colour and not letters:
        world.draw(ansi(cells(form, view, columns, lines, marks=marks)))
    else:
        world.say_all(plain(form, view, columns, lines, marks=marks, letters=letters))
