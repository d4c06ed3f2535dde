"""A stranger's plan, held against a piece that is at work by another: taken over at its place, or refused."""

from __future__ import annotations

from pathlib import Path

from stitchalong.errors import StitchalongError
from stitchalong.plan.library import shipped
from stitchalong.plan.read import decode, read_text
from stitchalong.session import Session
from stitchalong.store import Store
from tests.fuzz.judge import Broken, hold_line, hold_refusal

CORPUS = Path(__file__).parent / "corpus" / "plan"
PLACES = (0, 7, 40, 95)
"""presses that a piece has got"""


class Replans:
    """Pieces of the plans that the inputs are made of, so that a changed one is often much the same."""

    def __init__(self, folder: Path) -> None:
        self._store = Store.open(folder, clock=lambda: 1_700_000_000.0)
        # not a matter of durability, and many times faster
        self._store._database.execute("PRAGMA synchronous = OFF")
        self._texts = [path.read_text(encoding="utf-8") for path in (*sorted(CORPUS.glob("*.toml")), *shipped())]
        self._number = 0

    def run(self, text: str) -> bool:
        """Whether the plan was taken over. Raises `Broken`; then the place, or the plan, is not what it must be."""
        self._number += 1
        fitting = [one for one in self._texts if _title(one) in text]
        begun = read_text(fitting[0] if fitting else self._texts[self._number % len(self._texts)])
        session = Session.begin(
            self._store, plan=begun.plan, plan_text=begun.text, plan_data=begun.data, plan_name="begun"
        )
        presses = PLACES[self._number % len(PLACES)]
        if presses:
            session.press(presses)
        position, laid = session.position, _laid(session)
        taken = False
        try:
            told = session.take_over_plan(read_text(decode(text.encode("utf-8", "surrogateescape"), "")), "new")
            taken = True
            hold_line(told.message)
        except StitchalongError as error:
            hold_refusal(error)
        again = Session.resume(self._store, session.piece.id)
        for one in (session, again):
            if (one.position, _laid(one)) != (position, laid):
                raise Broken(f"the place is another: {one.position}, not {position}")
            if (one.piece.plan_text != begun.text) > taken:
                raise Broken("refused, and the plan is the new one")
            hold_line(one.outlook.now)
        self._store.remove(session.piece.id)
        return taken


def _title(text: str) -> str:
    return next(line for line in text.splitlines() if line.startswith("title"))


def _laid(session: Session) -> list[tuple[object, ...]]:
    course = session.course
    return [(spot.stitch.kind, spot.stitch.beads) for spot in map(course.spot, range(session.position))]
