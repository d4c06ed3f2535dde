"""What a figure is asked of: a piece, or a plan in the size asked for; with the stitcher's own gauges."""

from __future__ import annotations

from argparse import Namespace
from dataclasses import dataclass

from stitchalong.commands.world import World
from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.errors import StoreError, UsageError
from stitchalong.measure.book import Book
from stitchalong.measure.pace import Pace
from stitchalong.measure.units import Units
from stitchalong.plan.library import is_plan
from stitchalong.plan.model import Plan
from stitchalong.store import PieceRow, Store
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
    both: str = ""
    """which was taken of a plan and a piece of one name, where nobody said: `plan` or `piece`; empty: no doubt"""

    @property
    def left(self) -> int:
        """Beads not laid yet."""
        done = self.course.beads_before(self.piece.position) if self.piece else 0
        return self.course.beads - done

    @property
    def heading(self) -> str:
        """`Gorse ring`, `Gorse ring, your piece for Ida`."""
        return f"{self.plan.title}, your piece {self.piece.name}" if self.piece else self.plan.title

    @property
    def doubt(self) -> str:
        """What to say where there are both of one name; empty where there are not."""
        other = {"plan": "piece", "piece": "plan"}.get(self.both)
        return f"this is the {self.both}; there is a {other} of that name too: add --{other} for it" if other else ""

    def document(self) -> dict[str, object]:
        """The head of a document for scripts."""
        return {
            "format": 1,
            "title": self.plan.title,
            "piece": self.piece.name if self.piece else None,
            "beads": self.course.beads,
        }


def subject_of(asked: Namespace, world: World, *, usual: str = "piece") -> Subject:
    """What is meant: a piece of exactly this name or number, a plan, or a piece by the beginning of its name.

    `usual`: which is taken where there are both of one name and nobody says (`--plan`, `--piece`). Where a size is
    asked for, it is a plan. Raises UsageError, PlanError and StoreError.
    """
    if asked.what is None:
        raise UsageError("PLAN|PIECE is missing", fix="name a plan or a piece, or a ring size with --ring")
    sized = asked.units is not None or asked.sides is not None
    if sized and asked.sort == "piece":
        raise UsageError("a piece has its size already", fix="leave out --piece, or --units and --sides")
    sort = "plan" if sized else asked.sort
    store = world.store()
    try:
        book = Book(store.measured(), getattr(asked, "tension", ""))
        if sort == "piece":
            return _of_piece(store, store.find(asked.what), book)
        piece = None if sort == "plan" else _piece(store, asked.what)
        there = sort == "plan" or is_plan(asked.what)
        both = "" if piece is None or not there else usual
        if piece is not None and both != "plan":
            return _of_piece(store, piece, book, both)
        if not there and (begun := _begun(store, asked.what)) is not None:
            return _of_piece(store, begun, book)
        return _of_plan(asked, store, book, both)
    finally:
        store.close()


def units_of(asked: Namespace, world: World) -> Units:
    """Those that are asked for, or else those of the settings. Raises UsageError for settings that cannot be read."""
    if getattr(asked, "units_of", None):
        return Units(asked.units_of)
    from stitchalong.settings.file import read_settings

    return Units(read_settings(world.paths.settings).words.units)


def _piece(store: Store, word: str) -> PieceRow | None:
    """Of exactly this name or number."""
    key = name_key(word.strip())
    found = [one for one in store.pieces(include_away=True) if key in (str(one.id), name_key(one.name))]
    return store.piece(found[0].id) if found else None


def _begun(store: Store, word: str) -> PieceRow | None:
    """The only one whose name begins so."""
    try:
        return store.find(word)
    except StoreError:
        return None


def _of_plan(asked: Namespace, store: Store, book: Book, both: str) -> Subject:
    from stitchalong.commands.reading import located, read
    from stitchalong.session.pacing import pace_of_pieces

    found = read(asked.what, asked.units, asked.sides)
    with located(found.loaded):
        course = compile_plan(found.plan)
    return Subject(found.plan, course, None, book, pace_of_pieces(store), both)


def _of_piece(store: Store, piece: PieceRow, book: Book, both: str = "") -> Subject:
    from stitchalong.session import Session
    from stitchalong.session.pacing import pace_of_pieces

    session = Session.resume(store, piece.id)
    return Subject(session.plan, session.course, piece, book, session.pace() or pace_of_pieces(store), both)
