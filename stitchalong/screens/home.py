"""The first screen: pieces in progress, and plans to start from."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Sequence
from contextlib import suppress
from datetime import tzinfo
from pathlib import Path
from threading import Thread

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen

from stitchalong.errors import StitchalongError, StoreError
from stitchalong.measure.pace import USUAL
from stitchalong.plan.library import Listed, glance
from stitchalong.screens import parts
from stitchalong.screens.aside import Missing, Tell, worked_out
from stitchalong.screens.beside.sheet import Done, Sheet
from stitchalong.screens.canvas import Canvas
from stitchalong.screens.glyphs import Glyphs
from stitchalong.screens.home_lines import Entry, body, detail, entries, question_of
from stitchalong.screens.inks import Look
from stitchalong.screens.keymap import keymap
from stitchalong.screens.palette import Palette
from stitchalong.screens.panels import Page, framed, room
from stitchalong.screens.preferences import Preferences
from stitchalong.screens.reader import Reader
from stitchalong.screens.small_picture import Find, SmallPicture, of_piece, of_plan
from stitchalong.screens.starting import Begin, GoOn, choose, make
from stitchalong.screens.themes import look_of
from stitchalong.session.counts import PlanBeads
from stitchalong.session.pacing import pace_of_pieces
from stitchalong.settings.commands import command, commands, key_words
from stitchalong.settings.settings import Settings
from stitchalong.store import PieceSummary, Store

__all__ = ["Begin", "GoOn", "HomeScreen"]

_OF_PIECES = frozenset(("rename", "put_away", "remove", "finish"))
_OF_PLANS = frozenset(("fit",))
"""commands that mean something for one of them only, and are named in the last row for it"""
_LATER = 0.3
"""seconds that the list stands before anything is reckoned for it"""


class HomeScreen(Screen[None]):
    """Lists; what is chosen is the app's return value."""

    DEFAULT_CSS = "HomeScreen { layers: default above; }"

    def __init__(
        self,
        store: Store,
        plans: Sequence[Listed],
        *,
        look: Look,
        preferences: Preferences,
        clock: Callable[[], float],
        zone: tzinfo | None = None,
        folder: Path | None = None,
    ) -> None:
        """`folder`: of the stitcher's own plans; None: no plan can be made here."""
        super().__init__()
        self._store = store
        self._folder = folder
        self._plans = tuple(plans)
        self._look = look
        self._clock = clock
        self._zone = zone
        self._take(preferences)
        self._away = False
        self._at = 0
        self._message = ""
        self._asking: Page | None = None
        self._pieces: list[PieceSummary] = []
        self._entries: list[Entry] = []
        self._beads = PlanBeads(store.path.parent)
        self._pace = USUAL
        self._read()

    def _take(self, preferences: Preferences) -> None:
        """As it is wanted from now on."""
        self._preferences = preferences
        self._glyphs: Glyphs = preferences.glyphs
        self._units = preferences.units
        self._commands = preferences.commands
        self._keys = keymap("home", self._commands)
        every = commands("home", self._commands)
        self._footer, self._footer_of_plan = (
            tuple(parts.footer_items([item for item in every if item.id not in left_out]))
            for left_out in (_OF_PLANS, _OF_PIECES)
        )

    def compose(self) -> ComposeResult:
        yield Canvas(self._look)
        yield SmallPicture(self._look, self._glyphs)

    def on_resize(self, event: events.Resize) -> None:
        self.show()

    def on_mount(self) -> None:
        self.set_timer(_LATER, self._reckon)

    def _reckon(self) -> None:
        """Once the screen stands: one's own pace, and in a thread of its own what plans take that is not known yet."""
        with suppress(StoreError):
            self._pace = pace_of_pieces(self._store) or USUAL
        self._reckoned()
        paths = [plan.path for plan in self._plans if self._beads.of(plan.path) is None]
        if not paths:
            return
        loop = asyncio.get_running_loop()

        def work() -> None:
            def reckon(told: Tell) -> None:
                self._beads.reckon(paths, lambda: self.is_running)

            found = worked_out(reckon, lambda share: self.is_running)
            with suppress(RuntimeError):  # the program has gone on
                loop.call_soon_threadsafe(self._reckoned, found.told if isinstance(found, Missing) else "")

        Thread(target=work, name="beads of plans", daemon=True).start()

    def _reckoned(self, fault: str = "") -> None:
        """Say what is known now; the mark stays."""
        if self.is_running:
            self._message = f"What plans take: {fault}." if fault else self._message
            pieces, plans = self._pieces, self._plans
            self._entries = entries(pieces, plans, self._clock(), self._zone, self._beads.of, self._pace)
            self.show()

    def on_screen_resume(self, event: events.ScreenResume) -> None:
        self.show()

    def _read(self, at_piece: int | None = None) -> None:
        """Read the pieces anew; the mark stays where it was, or goes to this piece."""
        self._pieces = self._store.pieces(include_away=self._away)
        self._entries = entries(self._pieces, self._plans, self._clock(), self._zone, self._beads.of, self._pace)
        places = [nth for nth, entry in enumerate(self._entries) if entry.piece and entry.piece.id == at_piece]
        self._at = places[0] if places else max(0, min(self._at, len(self._entries) - 1))

    def show(self) -> None:
        """Draw what stands."""
        width, height = self.size
        if not width or not height:
            return
        picture = self.query_one(SmallPicture)
        if self._asking is not None:
            picture.display = False
            lines = self._asking.lines(*room(width, height), self._glyphs)
            drawn = framed(lines, self._asking.keys, width, height)
        else:
            wide, high = room(width, height)
            wide -= picture.place(width, height)
            inner = body(self._entries, self._at, self._message, wide, high, self._glyphs)
            marked = self._marked
            foot = self._footer if marked is None or marked.piece is not None else self._footer_of_plan
            drawn = framed(inner, foot, width, height)
        self.query_one(Canvas).show(drawn)
        entry = self._marked
        if entry is not None:
            seen = (entry.piece.id, entry.piece.seq) if entry.piece is not None else entry.plan
            picture.turn_to(seen, lambda: self._seen(entry))

    def _seen(self, entry: Entry) -> Find:
        """What finds what the small picture shows. Raises StoreError."""
        if entry.plan is not None:
            plan = entry.plan
            return lambda: of_plan(plan)
        assert entry.piece is not None
        row = self._store.piece(entry.piece.id)
        return lambda: of_piece(row)

    @property
    def _marked(self) -> Entry | None:
        return self._entries[self._at] if self._entries else None

    def on_key(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        self._message = ""
        last = max(0, len(self._entries) - 1)
        page = max(1, self.size.height // 3)
        if self._asking is not None:
            self._answer(event.key)
        else:
            match event.key:
                case "up":
                    self._at = max(0, self._at - 1)
                case "down":
                    self._at = min(last, self._at + 1)
                case "pageup":
                    self._at = max(0, self._at - page)
                case "pagedown":
                    self._at = min(last, self._at + page)
                case "home":
                    self._at = 0
                case "end":
                    self._at = last
                case _ if event.key in self._keys:
                    self._run(self._keys[event.key])
        self.show()

    def _answer(self, key: str) -> None:
        """The answer to whether the marked piece is to be removed."""
        self._asking = None
        marked = self._marked
        if key == "enter" and marked is not None and marked.piece is not None:
            piece = marked.piece
            self._keep(lambda: self._store.remove(piece.id), f"“{piece.name}” is removed.")
        else:
            self._message = "Nothing was removed."

    def _run(self, wanted: str) -> None:
        marked = self._marked
        piece = marked.piece if marked is not None else None
        match wanted:
            case "open":
                if marked is not None:
                    self._open(marked)
            case _ if wanted in _OF_PIECES:
                if piece is None:
                    self._message = "That is for pieces; this is a plan."
                elif wanted == "rename":
                    self._rename(piece)
                elif wanted == "finish":
                    self._finish(piece)
                elif wanted == "remove":
                    self._asking = question_of(piece)
                else:
                    self._put_away(piece)
            case "show_away":
                self._away = not self._away
                self._message = "Pieces put away are shown too." if self._away else "Pieces put away are hidden."
                self._read_anew(piece.id if piece else None)
            case "make":
                self._make_plan()
            case "figures":
                if marked is not None:
                    self._figures(marked)
            case "fit" | "gauge":
                self._measure(wanted, marked.plan if marked is not None else None)
            case "settings" | "pedal":
                from stitchalong.screens.setting import settings_screen

                file = self._preferences.file
                screen = settings_screen(file, self._look, self._glyphs, self._prefer, pedal=wanted == "pedal")
                self.app.push_screen(screen)
            case "help":
                from stitchalong.screens.help_text import help_page

                self.app.push_screen(Reader(help_page("home", self._commands), self._look, self._glyphs))
            case "palette":
                self.app.push_screen(Palette("home", self._look, self._glyphs, self._commands), self._picked)
            case "quit":
                self.app.exit()

    def _prefer(self, before: Settings, after: Settings) -> None:
        """Something was set otherwise."""
        self._take(Preferences.of(after, self._preferences.file))
        self._look = look_of(after.look.theme, colourless=not self._look.coloured)
        self.query_one(Canvas).dress(self._look)
        self.query_one(SmallPicture).dress(self._look, self._glyphs)

    def _picked(self, wanted: str | None) -> None:
        if wanted:
            self._run(wanted)
        self.show()

    def _make_plan(self) -> None:
        """A plan made here goes to the stitcher's own, and is marked in the list."""
        if self._folder is None:
            self._message = "There is no folder for plans of your own."
            return

        def written(path: Path | None) -> None:
            if path is not None:
                self._plans = (*(plan for plan in self._plans if plan.path != path), glance(path))
                self._message = f"“{self._plans[-1].title}” is written."
                self._read_anew()
                places = (nth for nth, entry in enumerate(self._entries) if entry.plan is self._plans[-1])
                self._at = next(places, self._at)
                self._reckon()
            self.show()

        try:
            make(self.app, self._store, self._folder, self._preferences, self._look, written)
        except StoreError as error:
            self._message = f"{error}."

    def _figures(self, entry: Entry) -> None:
        """Of a piece or a plan of the list, which is compiled for it."""
        from stitchalong.screens.figures import of_entry

        wanted = entry.piece or entry.plan
        assert wanted is not None
        try:
            page = of_entry(self._store, wanted, self._units)
        except StitchalongError as error:
            self._message = f"{error.problems[0]}."
            return
        self.app.push_screen(Reader(page, self._look, self._glyphs))

    def _measure(self, wanted: str, plan: Listed | None) -> None:
        """Which count of a plan fits, to be begun so; or one's own gauge."""
        from stitchalong.screens.measuring.fitting import Wanted
        from stitchalong.screens.measuring.opening import fit_screen, gauge_screen

        def closed(done: Done | None) -> None:
            if plan is not None and done is not None and isinstance(done.chosen, Wanted):
                self.app.exit(Begin(plan.path, done.chosen.units, done.chosen.sides))
            self.show()

        if wanted == "fit" and plan is None:
            self._message = "That is for plans: a piece has its size already."
            return
        try:
            if wanted == "fit" and plan is not None:
                screen = fit_screen(plan, self._store, self._units, self._look, self._glyphs)
            else:
                screen = gauge_screen(plan, self._store, self._clock, self._units, self._look, self._glyphs)
        except StitchalongError as error:
            self._message = f"{error.problems[0]}."
            return
        self.app.push_screen(screen, closed)

    def _open(self, entry: Entry) -> None:
        if entry.piece is not None:
            piece = entry.piece
            if piece.state != "put away" or self._keep(lambda: self._store.go_on(piece.id), ""):
                self.app.exit(GoOn(piece.id))
        elif entry.plan is not None:
            choose(self.app, entry.plan, self._pieces, self._detail, self._look, self._glyphs)

    def _detail(self, piece: PieceSummary) -> str:
        return detail(piece, self._clock(), self._zone)

    def _put_away(self, piece: PieceSummary) -> None:
        if piece.state == "put away":
            self._keep(lambda: self._store.go_on(piece.id), f"“{piece.name}” is back on the list.", piece.id)
        else:
            keys = command("show_away", self._commands).keys
            told = f"“{piece.name}” is put away; nothing of it is lost."
            told += f" {key_words(keys[0])} shows it again." if keys else ""
            self._keep(lambda: self._store.put_away(piece.id), told, piece.id)

    def _rename(self, piece: PieceSummary) -> None:
        from stitchalong.screens.renaming import NameSheet

        def renamed(done: Done | None) -> None:
            name = done.chosen if done is not None else None
            if isinstance(name, str):
                self._keep(lambda: self._store.rename(piece.id, name), "Renamed.", piece.id)
            self.show()

        self._lay_over(NameSheet(piece.name, piece.name), renamed)

    def _finish(self, piece: PieceSummary) -> None:
        """Asks how it came out."""
        from stitchalong.screens.finishing import FinishSheet

        def closed(done: Done | None) -> None:
            if done is not None and done.message:
                self._keep(lambda: None, done.message, piece.id)
            self.show()

        self._lay_over(FinishSheet(self._store, piece, self._units), closed)

    def _lay_over(self, sheet: Sheet, closed: Callable[[Done | None], None]) -> None:
        from stitchalong.screens.beside.screen import SheetScreen

        self.app.push_screen(SheetScreen(sheet, self._look, self._glyphs, {}), closed)

    def _keep(self, change: Callable[[], None], told: str, at_piece: int | None = None) -> bool:
        """Make a change in the store, tell it or what went wrong, and read anew. Gives whether it was made."""
        made = True
        try:
            change()
            self._message = told
        except StoreError as error:
            self._message, made = f"{error}.", False
        self._read_anew(at_piece)
        return made

    def _read_anew(self, at_piece: int | None = None) -> None:
        """Read, or say why the list stands as it was."""
        try:
            self._read(at_piece)
        except StoreError as error:
            self._message = f"{self._message} {error}.".lstrip()
