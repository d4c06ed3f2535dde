"""What a figure is asked of: a piece, or a plan in the size asked for; with the stitcher's own gauges."""

from __future__ import annotations

from argparse import Namespace
from dataclasses import dataclass

from stitchalong.commands.world import World
from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.errors import PlanError, StoreError
from stitchalong.measure.book import Book
from stitchalong.measure.pace import Pace
from stitchalong.measure.units import Units
from stitchalong.plan.model import Plan
from stitchalong.store import PieceRow, Store
from stitchalong.store.names import pick
from stitchalong.store.rows import name_key


@dataclass(frozen=True, slots=True)
class Subject:
    """A plan with its course."""

    plan: Plan
    course: Course
    piece: PieceRow | None
    """None: it is asked of a plan"""
    book: Book
    pace: Pace | None
    """of this piece, or else of those last worked on"""

    @property
    def left(self) -> int:
        """Beads not laid yet."""
        done = self.course.beads_before(self.piece.position) if self.piece else 0
        return self.course.beads - done

    @property
    def heading(self) -> str:
        """`Gorse ring`, `Gorse ring, your piece for Ida`."""
        return f"{self.plan.title}, your piece {self.piece.name}" if self.piece else self.plan.title

    def document(self) -> dict[str, object]:
        """The head of a document for scripts."""
        return {
            "format": 1,
            "title": self.plan.title,
            "piece": self.piece.name if self.piece else None,
            "beads": self.course.beads,
        }


def subject_of(asked: Namespace, world: World) -> Subject:
    """What is meant: a piece of exactly this name or number, a plan, or a piece by the beginning of its name.

    Where a size is asked for, it is a plan. Raises PlanError and StoreError.
    """
    store = world.store()
    try:
        book = Book(store.measured(), getattr(asked, "tension", ""))
        sized = asked.units is not None or asked.sides is not None
        piece = None if sized else _piece(store, asked.what, exactly=True)
        if piece is None:
            try:
                return _of_plan(asked, store, book)
            except PlanError:
                piece = None if sized else _piece(store, asked.what, exactly=False)
                if piece is None:
                    raise
        return _of_piece(store, piece, book)
    finally:
        store.close()


def units_of(asked: Namespace, world: World) -> Units:
    """Those that are asked for, or else those of the settings. Raises UsageError for settings that cannot be read."""
    if getattr(asked, "units_of", None):
        return Units(asked.units_of)
    from stitchalong.settings.file import read_settings

    return Units(read_settings(world.paths.settings).words.units)


def _piece(store: Store, word: str, *, exactly: bool) -> PieceRow | None:
    pieces = store.pieces(include_away=True)
    if exactly:
        found = [one for one in pieces if word.strip() == str(one.id) or name_key(word.strip()) == name_key(one.name)]
        return store.piece(found[0].id) if found else None
    try:
        return store.piece(pick(word, pieces).id)
    except StoreError:
        return None


def _of_plan(asked: Namespace, store: Store, book: Book) -> Subject:
    from stitchalong.commands.reading import located, read
    from stitchalong.session.pacing import pace_of_pieces

    found = read(asked.what, asked.units, asked.sides)
    with located(found.loaded):
        course = compile_plan(found.plan)
    return Subject(found.plan, course, None, book, pace_of_pieces(store))


def _of_piece(store: Store, piece: PieceRow, book: Book) -> Subject:
    from stitchalong.session import Session
    from stitchalong.session.pacing import pace_of_pieces

    session = Session.resume(store, piece.id)
    return Subject(session.plan, session.course, piece, book, session.pace() or pace_of_pieces(store))
