"""The file that a piece's plan was read from: whether it was changed since, and reading it anew."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING
from zlib import crc32

from stitchalong.errors import PlanError, UsageError
from stitchalong.session.work import Work
from stitchalong.store import plan_files
from stitchalong.store.plan_files import PlanFile

if TYPE_CHECKING:
    from stitchalong.plan.read import Loaded

CHANGED = "the plan's file was changed since this piece was begun"


class FromFile(Work):
    """Knows which file its plan was read from, on the computer where it was begun."""

    plan_changed = False
    """whether that is to be told: the file says something else than when the piece was begun"""

    def came_from(self, path: Path) -> None:
        """Remember that its plan was read from this file."""
        from stitchalong.plan.library import shipped_folder

        ships = path.parent == shipped_folder()
        plan_files.note(self._folder, self.piece.uid, PlanFile(path.stem if ships else str(path.absolute()), ships))

    def look_at_plan_file(self) -> None:
        """See whether the file's text is another than the piece was begun with; each such text is told once."""
        known = plan_files.known(self._folder, self.piece.uid)
        if known is None:
            return
        from stitchalong.plan.text_file import plan_text

        try:
            text = plan_text(_path_of(known))
        except PlanError:  # gone, or no plan any more: the piece has its own
            return
        seen = f"{crc32(text.encode('utf-8', 'surrogateescape')):08x} {len(text)}"
        if text != self.piece.plan_text and seen != known.told:
            self.plan_changed = True
            plan_files.note(self._folder, self.piece.uid, PlanFile(known.word, known.ships, seen))

    def new_plan(self) -> tuple[Loaded, Path]:
        """The plan as its file says it now. Raises UsageError where there is none, PlanError for its faults."""
        known = plan_files.known(self._folder, self.piece.uid)
        if known is None:
            raise UsageError(
                "which file the plan of this piece was read from is not known on this computer",
                fix=f"`stitchalong replan {self.piece.id} PLAN` takes over the plan that you name",
            )
        from stitchalong.plan.read import read_plan

        path = _path_of(known)
        loaded = read_plan(path)
        if loaded.text == self.piece.plan_text:
            raise UsageError("there is no new plan: the file says what it said when this piece was begun")
        return loaded, path

    @property
    def _folder(self) -> Path:
        return self._store.path.parent


def _path_of(known: PlanFile) -> Path:
    if not known.ships:
        return Path(known.word)
    from stitchalong.plan.library import find_plan

    return find_plan(known.word)
