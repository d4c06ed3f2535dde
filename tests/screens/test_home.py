"""The first screen: pieces, plans, and what can be done with them."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable, Iterable
from contextlib import asynccontextmanager
from datetime import UTC
from pathlib import Path

import pytest
from rich.cells import cell_len

from stitchalong.errors import StoreError
from stitchalong.plan.library import Listed, glance
from stitchalong.screens.app import ScreensApp
from stitchalong.screens.canvas import Canvas
from stitchalong.screens.glyphs import BLOCKS
from stitchalong.screens.home import Begin, GoOn, HomeScreen
from stitchalong.screens.home_lines import sentences
from stitchalong.screens.inks import EVENING
from stitchalong.screens.palette import Palette
from stitchalong.screens.preferences import Preferences
from stitchalong.screens.reader import Reader
from stitchalong.screens.settings_screen import SettingsScreen
from stitchalong.screens.themes import LOOKS
from stitchalong.session import Session
from stitchalong.settings.commands import commands
from stitchalong.store import Store
from tests.screens.acting import NOON, SHORT, Clock, Stage, begin, flat, texts

PLANS = (
    Listed("otter-cove", Path("plans/otter-cove.toml"), "Otter cove", "A band with two rises."),
    Listed("puddle", Path("plans/puddle.toml"), "[/]Puddle[click=x]", "Eight beads, for a first try."),
)
SIZES = ((120, 40), (80, 24), (40, 12))


@asynccontextmanager
async def home(
    store: Store, clock: Clock, size: tuple[int, int] = (80, 24), plans: tuple[Listed, ...] = PLANS
) -> AsyncIterator[Stage]:
    app = ScreensApp(
        lambda app: HomeScreen(store, plans, look=EVENING, preferences=Preferences(), clock=clock, zone=UTC)
    )
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        yield Stage(app, pilot)


@pytest.fixture
def two(store: Store, clock: Clock) -> tuple[Session, Session]:
    """An older piece, 40 of 172 steps; a newer one."""
    clock.now = NOON - 3 * 86_400
    older = begin(store, name="for Ash")
    older.press(40)
    clock.now = NOON - 7200
    newer = begin(store, SHORT)
    newer.press(3)
    clock.now = NOON
    return older, newer


@pytest.mark.parametrize(("width", "height"), SIZES)
async def test_golden_frames(
    store: Store,
    clock: Clock,
    two: object,
    golden: Callable[[str, Iterable[str]], None],
    width: int,
    height: int,
) -> None:
    async with home(store, clock, (width, height)) as stage:
        assert {cell_len(line) for line in stage.lines} == {width}
        golden(f"home-{width}x{height}", stage.lines)


async def test_the_first_choice_is_to_go_on_with_the_piece_last_touched(
    store: Store, clock: Clock, two: tuple[Session, Session]
) -> None:
    async with home(store, clock) as stage:
        assert "Enter: go on with puddle." in stage.text
        assert "today at 13:06, 2 hours ago" in stage.text
        await stage.type("\r")
        assert stage.app.return_value == GoOn(two[1].piece.id)


async def test_a_finished_piece_comes_after_those_in_progress(
    store: Store, clock: Clock, two: tuple[Session, Session]
) -> None:
    two[1].press(100)
    assert two[1].outlook.done
    async with home(store, clock) as stage:
        assert "Enter: go on with for Ash." in stage.text
        assert stage.text.index("for Ash") < stage.text.index("puddle")


async def test_a_plan_is_begun(store: Store, clock: Clock, two: object) -> None:
    async with home(store, clock) as stage:
        await stage.type("\x1b[B\x1b[B\x1b[B\r")
        assert stage.app.return_value == Begin(PLANS[1].path)


async def test_without_pieces_the_plans_are_there(store: Store, clock: Clock) -> None:
    async with home(store, clock) as stage:
        assert "Enter: begin Otter cove." in stage.text
        assert "[/]Puddle[click=x]" in stage.text
        await stage.type("n")
        assert "That is for pieces; this is a plan." in stage.text
        assert "f which count fits q quit" in stage.text, "the keys are those of plans"
        assert "n rename" not in stage.text
        await stage.type("q")
        assert stage.app.return_value is None


async def test_a_piece_is_renamed(store: Store, clock: Clock, two: tuple[Session, Session]) -> None:
    async with home(store, clock) as stage:
        await stage.type("n")
        assert "puddle_" in stage.text
        await stage.type("\x1b[F-[/]q\r")
        assert store.piece(two[1].piece.id).name == "-[/]q"
        await stage.type("n")
        await stage.type("puddles")
        await stage.type("\x7f-[/]q\r")
        assert store.piece(two[1].piece.id).name == "puddle-[/]q"
        assert "puddle-[/]q" in stage.text
        await stage.type("n")
        await stage.type("\x7f")
        assert "puddle-[/]_" in stage.text, "with Backspace the name goes on"
        await stage.type("\x1b")
        await stage.type("n")
        await stage.type("x\x1b")
        assert store.piece(two[1].piece.id).name == "puddle-[/]q"


async def test_a_name_that_is_taken_is_told(store: Store, clock: Clock, two: tuple[Session, Session]) -> None:
    async with home(store, clock) as stage:
        await stage.type("n")
        await stage.type("for Ash")
        await stage.type("\r")
        assert "There is a piece “for Ash” already".casefold() in stage.text.casefold()
        assert store.piece(two[1].piece.id).name == "puddle"


async def test_a_piece_is_put_away_and_brought_back(store: Store, clock: Clock, two: tuple[Session, Session]) -> None:
    async with home(store, clock) as stage:
        await stage.type("p")
        assert store.piece(two[1].piece.id).state == "put away"
        assert "“puddle” is put away; nothing of it is lost. s shows it again." in stage.text
        assert "▶ for Ash" in stage.text
        await stage.type("s")
        assert "Pieces put away are shown too." in stage.text
        await stage.type("\x1b[Bp")
        assert store.piece(two[1].piece.id).state == "going"


RING = """
title = "Shore ring"
[beads.S]
name = "shell"
colour = "#d9c7b0"
size = "11/0"
shape = "cylinder"
[[work]]
start = "MRAW band"
units = 24
frame = "S"
spacers = "24S"
"""


async def test_a_piece_is_finished_and_says_how_it_came_out(store: Store, clock: Clock) -> None:
    session = begin(store, RING, name="shore")
    session.press(session.course.steps)
    piece = session.piece
    async with home(store, clock) as stage:
        await stage.type("e")
        assert "shore: how did it come out?" in stage.text
        assert "Not every bead of the plan is counted yet" not in stage.text
        await stage.type("US 77\r")
        assert "is no ring size" in stage.text
        assert "leaves its size out of your gauge" in stage.text
        assert store.measured() == []
        await stage.type("\x7f\x1b[B0.7m\x1b[Btight\r")
        assert "Your own gauge now:" in stage.text
        assert ("tight", 24) in [(one.tension, one.count) for one in store.measured()]
        assert len(store.measured()) == 2
        assert "`stitchalong gauge remove 1` forgets it" in stage.text
        await stage.type("\r")
        assert "“shore” is finished." in stage.text
        assert store.piece(piece.id).state == "finished"


async def test_what_cannot_be_is_told_while_it_is_typed_and_left_out_of_the_gauge_after_asking(
    store: Store, clock: Clock
) -> None:
    """A ring of 24 units may take two metres of thread, tails and all, but never twenty."""
    session = begin(store, RING, name="shore")
    session.press(session.course.steps)
    async with home(store, clock) as stage:
        await stage.type("e")
        await stage.type("US 6\x1b[B20")
        assert "cannot be" not in stage.text, "no length yet"
        await stage.type("m")
        assert "cannot be" in stage.text
        await stage.type("\x1b[A")
        assert "cannot be" not in stage.text, "that is said of the thread"
        await stage.type("\r")
        assert "leaves its thread out of your gauge" in stage.text
        assert store.measured() == []
        await stage.type("\r")
        assert [one.stitch for one in store.measured()] == ["MRAW band"]


async def test_no_size_is_learnt_from_a_ring_that_is_not_closed(store: Store, clock: Clock) -> None:
    session = begin(store, RING, name="shore")
    session.press(20)
    async with home(store, clock) as stage:
        await stage.type("e")
        await stage.type("US 6")
        assert "not closed yet" in stage.text
        await stage.type("\r\r")
        assert store.measured() == []
        assert store.piece(session.piece.id).state == "finished"


async def test_nothing_has_to_be_said_of_a_finished_piece_and_escape_finishes_none(store: Store, clock: Clock) -> None:
    piece = begin(store, SHORT).piece
    async with home(store, clock, (40, 12)) as stage:
        await stage.type("e")
        assert max(map(cell_len, stage.lines)) == 40
        await stage.type("\x1b")
        assert store.piece(piece.id).state == "going"
        await stage.type("e")
        await stage.type("\r")
        assert store.piece(piece.id).state == "finished"
        assert store.measured() == []
        await stage.type("\x1b[Be")
        assert "That is for pieces; this is a plan." in stage.text


async def test_a_piece_is_removed_only_after_asking(store: Store, clock: Clock, two: tuple[Session, Session]) -> None:
    async with home(store, clock) as stage:
        await stage.type("\x1b[3~")
        assert "Remove for good?" in stage.text
        assert "% of it stitched." in stage.text
        await stage.type(" ")
        assert "Nothing was removed." in stage.text
        assert len(store.pieces()) == 2
        await stage.type("x\r")
        assert [piece.name for piece in store.pieces()] == ["for Ash"]
        assert "“puddle” is removed." in stage.text


async def test_help_and_finding_a_command(store: Store, clock: Clock, two: object) -> None:
    async with home(store, clock) as stage:
        await stage.type("h")
        assert isinstance(stage.app.screen, Reader)
        first = stage.text
        await stage.type("\x1b[6~")
        assert "Give the marked piece another name." in first + stage.text
        await stage.type("q")
        assert isinstance(stage.app.screen, HomeScreen)
        await stage.type("\x10")
        assert isinstance(stage.app.screen, Palette)
        await stage.type("put the\r")
        assert "is put away" in stage.text


def test_every_key_of_the_home_screen_is_tried_here() -> None:
    tried = {"enter", "e", "f", "g", "n", "p", "s", "b", "m", "delete", "x", "f4", "h", "f1"}
    tried |= {"question_mark", "ctrl+p", "q", "ctrl+q", "ctrl+c"}
    assert {key for item in commands("home") for key in item.keys} == tried


async def test_many_pieces_scroll(store: Store, clock: Clock) -> None:
    for nth in range(30):
        begin(store, SHORT, name=f"piece {chr(97 + nth % 26)}{nth}")
    async with home(store, clock, (40, 12)) as stage:
        await stage.type("\x1b[B" * 31)
        assert "▶ [/]Puddle" in stage.text
        assert len(stage.lines) == 12
        await stage.type("\x1b[H")
        assert "▶ piece d29" in stage.text


@pytest.mark.parametrize(
    ("text", "rows", "shown"),
    [
        ("One two three. Four five six.", 2, "One two three. Four five six."),
        ("One two three. Four five six.", 1, "One two three."),
        ("No end at 2.5 of it, and longer than that", 1, ""),
        ("", 3, ""),
    ],
)
def test_of_what_is_told_only_whole_sentences(text: str, rows: int, shown: str) -> None:
    assert flat(texts(sentences(text, 20, rows))) == shown


async def test_plans_stand_by_their_sort_with_beads_and_hours_once_those_are_known(
    store: Store, clock: Clock, tmp_path: Path
) -> None:
    """Eight beads at 20 seconds each are under five minutes, the least that is foretold."""
    good, other = tmp_path / "puddle.toml", tmp_path / "other.toml"
    good.write_text(SHORT)
    other.write_text(SHORT.replace('start = "ring"', 'start = "tube"').replace("Puddle", "Pool").replace("4W", "600W"))
    plans = [glance(good), glance(other)]
    app = ScreensApp(
        lambda app: HomeScreen(store, plans, look=EVENING, preferences=Preferences(), clock=clock, zone=UTC)
    )
    async with app.run_test(size=(80, 24)) as pilot:
        stage = Stage(app, pilot)
        await pilot.pause()
        assert stage.text.index("Plans to begin from: tubes of peyote") < stage.text.index("Pool")
        assert stage.text.index("Pool") < stage.text.index("Round by round from a ring") < stage.text.index("Puddle")
        await stage.type("\x1b[B")
        for _ in range(100):
            if "8 beads" in stage.text:
                break
            await pilot.pause(0.05)
        assert "8 beads, 5 min at 20 s a bead." in stage.text
        assert "900 beads  5 h" in "\n".join(stage.lines)
        assert "▶ Puddle" in stage.text


async def test_settings_are_changed_here_too_and_seen_at_once(store: Store, clock: Clock, tmp_path: Path) -> None:
    file = tmp_path / "settings.toml"
    file.write_text("# mine\n[look]\ntheme = 'dark'\n")
    wanted = Preferences(file=file)
    app = ScreensApp(lambda app: HomeScreen(store, PLANS, look=EVENING, preferences=wanted, clock=clock, zone=UTC))
    async with app.run_test(size=(80, 24)) as pilot:
        stage = Stage(app, pilot)
        await pilot.pause()
        await stage.type("\x1bOS")
        assert isinstance(app.screen, SettingsScreen)
        await stage.type("\x1b[F\x1b[A")
        await stage.type("\x1b[5~\x1b[A\x1b[A")
        while "theme" not in next(line for line in stage.lines if line.strip().startswith(BLOCKS.mark)):
            await stage.type("\x1b[B")
        await stage.type("\x1b[C\x1b")
        assert isinstance(app.screen, HomeScreen)
        assert app.screen.query_one(Canvas).look is LOOKS["light"]
        assert file.read_text() == '# mine\n[look]\ntheme = "light"\n'


async def test_a_piece_put_away_that_cannot_be_brought_back_is_not_opened(
    two: tuple[Session, Session], store: Store, clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    store.put_away(two[0].piece.id)

    def refused(piece_id: int) -> None:
        raise StoreError("the disk is full")

    monkeypatch.setattr(store, "go_on", refused)
    async with home(store, clock) as stage:
        await stage.type("s")
        await stage.type("\x1b[B\r")
        assert stage.app.is_running
        assert stage.app.return_value is None
        assert "the disk is full." in stage.text
        monkeypatch.undo()
        await stage.type("\r")
        assert stage.app.return_value == GoOn(two[0].piece.id)
