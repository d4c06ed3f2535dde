"""A plan made on the full screen: what is chosen, what is shown while one chooses, what is written."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable, Iterable
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len

from stitchalong.course.compile import compile_plan
from stitchalong.course.walker import Walker
from stitchalong.design.draft import Draft
from stitchalong.design.wanted import Kind, plan_text
from stitchalong.errors import Problems
from stitchalong.measure.book import Book
from stitchalong.measure.units import Units
from stitchalong.plan.read import read_plan
from stitchalong.screens.app import ScreensApp
from stitchalong.screens.home import Begin, HomeScreen
from stitchalong.screens.inks import COLOURLESS, EVENING, Look
from stitchalong.screens.lines import Line, text_of
from stitchalong.screens.making import reckoning
from stitchalong.screens.making.board import PAINT, Board
from stitchalong.screens.making.drawing import draw
from stitchalong.screens.making.fields import Making, Row
from stitchalong.screens.making.layout import Seen, paint
from stitchalong.screens.making.screen import Made, MakingScreen
from stitchalong.screens.panels import room
from stitchalong.screens.preferences import Preferences
from stitchalong.screens.reader import Reader
from stitchalong.store import Store
from tests.screens.acting import Clock, Stage, flat

UP, DOWN, RIGHT, LEFT, END, DELETE = "\x1b[A", "\x1b[B", "\x1b[C", "\x1b[D", "\x1b[F", "\x1b[3~"
SIZES = ((120, 40), (80, 24), (40, 12))


@pytest.fixture(autouse=True)
def no_forms(monkeypatch: pytest.MonkeyPatch) -> None:
    """Forms take their time, and have tests of their own."""
    monkeypatch.setattr(reckoning, "MOST_FORMED", 0)


class Workshop(Stage):
    """The screen of a new plan; waits until it is reckoned."""

    @property
    def making(self) -> MakingScreen:
        found = self.app.screen
        assert isinstance(found, MakingScreen)
        return found

    async def type(self, data: str, *, gap: float = 0.4) -> None:
        await super().type(data, gap=gap)
        await self.settled()

    async def settled(self) -> None:
        await self.app.workers.wait_for_complete()
        await self.pilot.pause()

    @property
    def inks(self) -> set[str]:
        return {span.ink for line in self.app.screen.query_one(Board).lines for span in line}


@asynccontextmanager
async def making(
    folder: Path, size: tuple[int, int] = (120, 40), *, look: Look = EVENING, ascii: bool = False
) -> AsyncIterator[Workshop]:
    draft = Draft(Book(), Units.METRIC)
    app = ScreensApp(lambda app: MakingScreen(draft, look, Preferences(ascii=ascii), folder=folder))  # type: ignore[arg-type,return-value]
    async with app.run_test(size=size) as pilot:
        stage = Workshop(app, pilot)
        await pilot.pause()
        await stage.settled()
        yield stage


@pytest.mark.parametrize(("width", "height"), SIZES)
async def test_golden_frames(
    tmp_path: Path, golden: Callable[[str, Iterable[str]], None], width: int, height: int
) -> None:
    async with making(tmp_path, (width, height)) as stage:
        await stage.type(DOWN * 3)
        assert {cell_len(line) for line in stage.lines} == {width}
        golden(f"making-{width}x{height}", stage.lines)


async def test_what_it_comes_to_changes_with_what_is_chosen(tmp_path: Path) -> None:
    """28 units: 348 beads. 29: four more in the band, one more in each of seven rounds. A fin one round higher: 48."""
    async with making(tmp_path) as stage:
        assert "348 beads in 8 rounds" in stage.text
        await stage.type(UP * 4 + RIGHT)
        assert stage.making.making.at.key == "size"
        assert f"{348 + 4 + 7} beads in 8 rounds" in stage.text
        await stage.type(LEFT + DOWN + RIGHT)
        assert f"{348 + 48} beads in 9 rounds" in stage.text
        assert f"{PAINT}/#c9a227" in stage.inks
        await stage.type(UP * 5 + RIGHT)
        assert f"{PAINT}/#c9a227" not in stage.inks, "the colour after gold is drawn"


async def test_a_finger_is_typed_and_a_count_chosen(tmp_path: Path) -> None:
    """US 7 is 54.4 mm round (0.458 + 7 · 0.032 in across), a wide band asks for 1.3 mm more; a unit is 2.24 mm."""
    async with making(tmp_path) as stage:
        await stage.type(UP * 4 + "US 7")
        assert "US 7: 25 units, sides 7 6 6 6" in stage.text
        await stage.type(DOWN + RIGHT)
        assert stage.making.making.draft.count == 24
        await stage.type(UP + "xyz")
        assert "xyz" in stage.making.making.shown(stage.making.making.at)
        assert stage.making.making.fault(stage.making.making.at) is not None


async def test_what_cannot_be_is_told_where_it_stands_and_not_written(tmp_path: Path) -> None:
    async with making(tmp_path) as stage:
        await stage.type(DOWN * 4 + "greenish" + END)
        assert "! B colour" in stage.text
        assert "348 beads" in stage.text, "what stood before is still shown"
        await stage.type("\r")
        assert stage.making.making.at.nth == 1
        assert "`greenish` is no colour the program knows; did you mean `green`?" in flat(
            line[:49] for line in stage.lines
        )
        assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("kind", Kind)
async def test_a_plan_of_each_kind_is_written_can_be_read_and_is_walked_to_its_end(tmp_path: Path, kind: Kind) -> None:
    folder = tmp_path / "plans"
    async with making(folder, (80, 24)) as stage:
        await stage.type(RIGHT * list(Kind).index(kind) + DOWN + "Otter cove" + END + "\r")
        assert "Begin a piece of it now?" in stage.text
        await stage.type("\r")
        assert stage.app.return_value == Made(folder / "otter-cove.toml", begin=True)
    problems = Problems()
    course = compile_plan(read_plan(folder / "otter-cove.toml", problems).plan)
    assert not list(problems)
    walker = Walker()
    for _ in range(course.steps):
        walker = walker.pressed(course)
    assert walker.position == course.steps


async def test_a_file_is_written_over_only_where_that_is_wanted(tmp_path: Path) -> None:
    path = tmp_path / "letter.toml"
    path.write_text("a letter to a friend")
    async with making(tmp_path) as stage:
        await stage.type(END + UP + "letter.toml" + END + "\r")
        assert "Write over it?" in stage.text
        await stage.type("\x1b")
        assert path.read_text() == "a letter to a friend"
        assert "Nothing was written; name another file." in stage.text
        await stage.type(END + "\r\r\x1b")
        assert stage.app.return_value == Made(path, begin=False)
    assert path.read_text().startswith("# A plan for stitchalong")


async def test_leaving_asks_where_something_was_chosen(tmp_path: Path) -> None:
    async with making(tmp_path) as stage:
        await stage.type(RIGHT + "\x1b")
        assert "Leave without writing it?" in stage.text
        await stage.type("\x1b")
        assert "A new plan" in stage.text
        await stage.type(LEFT + "\x1b" + "\r")
        assert stage.app.return_value is None
    assert not list(tmp_path.iterdir())


async def test_help_picture_and_figures_lie_over_the_form(tmp_path: Path) -> None:
    async with making(tmp_path, (80, 24)) as stage:
        await stage.type("\x1bOP")
        assert isinstance(stage.app.screen, Reader)
        assert "What shall it be?" in stage.text
        await stage.type("q")
        await stage.type("\x1bOQ")
        assert "A new piece: 348 beads" in stage.text
        assert "laid" not in stage.text
        await stage.type("\x1b")
        await stage.type("\x1bOS")
        assert "A new piece in figures" in stage.text
        await stage.type("q")
        assert "A new plan" in stage.text


async def test_more_beads_than_a_plan_holds_are_told(tmp_path: Path) -> None:
    async with making(tmp_path) as stage:
        await stage.type(UP * 4 + "2000" + DOWN + "500")
        assert "More than 1,000,000 beads" in stage.text
        await stage.type(END)
        await stage.type("\r")
        assert "More than 1,000,000 beads" in stage.text
        assert not list(tmp_path.iterdir())


async def test_from_the_first_screen_and_back_to_it_or_on_to_the_work(
    store: Store, clock: Clock, tmp_path: Path
) -> None:
    folder = tmp_path / "own"
    app = ScreensApp(
        lambda app: HomeScreen(store, (), look=EVENING, preferences=Preferences(), clock=clock, folder=folder)
    )
    async with app.run_test(size=(80, 24)) as pilot:
        stage = Workshop(app, pilot)
        await pilot.pause()
        await stage.type("m")
        await stage.type(DOWN + "Heron" + END + "\r\x1b")
        assert isinstance(app.screen, HomeScreen)
        assert "“Heron” is written." in stage.text
        assert "Enter: begin Heron." in stage.text
        await stage.type("m")
        await stage.type(DOWN + "Lark" + END + "\r\r")
        assert app.return_value == Begin(folder / "lark.toml")


# ---- the drawing ----------------------------------------------------------------------------------


def chart_and_colours() -> tuple[reckoning.Chart, dict[str, str]]:
    draft = Draft(Book(), Units.METRIC).answered("kind", "4").answered("rounds", "3")
    found = reckoning.outcome_of(draft.wanted(), draft.book, draft.units)
    return reckoning.chart_of(found.course), {bead.code: bead.colour for bead in found.plan.beads}


def cells_of(lines: Iterable[Line], ink: str) -> int:
    return sum(len(span.text) for some in lines for span in some if ink in span.ink)


@pytest.mark.parametrize("width", [8, 20, 60])
@pytest.mark.parametrize("height", [3, 9, 30])
def test_a_drawing_keeps_to_its_room(width: int, height: int) -> None:
    chart, colours = chart_and_colours()
    for look in (EVENING, COLOURLESS):
        lines = draw(chart, colours, width, height, look, Preferences().glyphs)
        assert len(lines) <= height
        assert all(len(text_of(some)) <= max(width, len("a part of it; F2 shows all")) for some in lines)


def test_without_colour_beads_are_letters() -> None:
    """A triangle of three rounds: 3 + 6 + 9 beads, of which the second round is B."""
    chart, colours = chart_and_colours()
    text = flat(text_of(some) for some in draw(chart, colours, 60, 30, COLOURLESS, Preferences().glyphs))
    assert (text.count("A"), text.count("B")) == (12, 6)
    painted = draw(chart, colours, 60, 30, EVENING, Preferences().glyphs)
    assert cells_of(painted, "#3a3d40")
    assert cells_of(painted, "#2f8589")


@pytest.mark.parametrize("kind", Kind)
def test_every_row_can_be_looked_at_whatever_is_wrong_in_another(kind: Kind) -> None:
    plain = Draft(Book(), Units.METRIC).answered("kind", str(list(Kind).index(kind) + 1))
    for key in plain.keys[2:]:
        wrong = plain.answered(key, "???")
        assert list(wrong.faults()) == [key]
        form = Making(wrong)
        for _ in form.rows:
            form = form.press("down", "")
            for size in SIZES:
                paint(Seen(form, None, True, "", ()), *room(*size), Preferences().glyphs)


@pytest.mark.parametrize(("key", "leaning"), [("bead", "size"), ("colours", "order")])
def test_a_row_that_leans_on_a_fault_tells_it(key: str, leaning: str) -> None:
    form = Making(Draft(Book(), Units.METRIC).answered(key, "greenish"))
    assert form.fault(Row(leaning)) is None
    assert form.help(Row(leaning)).startswith("Another row comes first. ")
    assert "greenish" in form.help(Row(leaning))


# ---- colours by their names -----------------------------------------------------------------------


def test_a_colour_is_typed_on_one_more_and_is_there_when_the_row_is_left() -> None:
    form = Making(Draft(Book(), Units.METRIC).answered("colours", "charcoal, gold"), at=Row("colours", 2))
    before = form.draft.colour_texts
    assert form.name(form.at) == "one more"
    for letter in "red":
        form = form.press(letter, letter)
        assert (form.at, form.draft.colour_texts) == (Row("colours", 2), before)
    assert form.text(form.at) == "red"
    form = form.press("enter", "")
    assert form.draft.colour_texts == (before[0], "red", before[1]), "what marks the ribs stays the last"
    assert form.name(form.at) == "one more"
    assert form.press("enter", "").at == form.rows[form.place + 1]


def test_a_colour_is_typed_anew_in_its_place_and_goes_only_when_its_row_is_left_empty() -> None:
    start = Making(Draft(Book(), Units.METRIC).answered("colours", "charcoal, gold"), at=Row("colours", 1))
    before = start.draft.colour_texts
    form = start
    for _ in range(len(before[1]) + 2):
        form = form.press("backspace", "")
        assert (form.at, len(form.draft.colour_texts)) == (start.at, len(before))
    assert form.text(form.at) == ""
    for letter in "sea glass #7fb8ad":
        form = form.press(letter, letter)
    assert form.press("down", "").draft.colour_texts == (before[0], "sea glass #7fb8ad")
    form = Making(Draft(Book(), Units.METRIC).answered("colours", "red, gold, teal"), at=Row("colours", 1))
    assert form.press("delete", "").draft.colour_texts == ("red", "teal")
    for _ in "gold":
        form = form.press("backspace", "")
    assert form.press("up", "").draft.colour_texts == ("red", "teal")


def test_a_colour_taken_by_a_key_keeps_the_mark() -> None:
    form = Making(Draft(Book(), Units.METRIC).answered("colours", "charcoal, gold"), at=Row("colours", 2))
    ribs = form.draft.colour_texts[-1]
    form = form.press("right", "").press("right", "")
    assert len(form.draft.colour_texts) == 3
    assert form.draft.colour_texts[-1] == ribs


# ---- any keys -------------------------------------------------------------------------------------

KEYS = st.one_of(
    st.sampled_from(["up", "down", "left", "right", "home", "end", "backspace", "delete", "tab", "shift+tab", "enter"]),
    st.sampled_from("0123456789,#AB abcfe%U"),
    st.characters(exclude_categories=("C",)),
)


@settings(max_examples=80, deadline=None)
@given(st.lists(KEYS, max_size=40), st.sampled_from(SIZES))
def test_whatever_is_pressed_there_is_a_form_that_fits_and_a_plan_or_a_fault(
    keys: list[str], size: tuple[int, int]
) -> None:
    form = Making(Draft(Book(), Units.METRIC))
    for key in keys:
        form = form.press(key, key if len(key) == 1 else "")
    assert form.at in form.rows
    lines = paint(Seen(form, None, True, "", ()), *room(*size), Preferences().glyphs)
    assert len(lines) <= size[1] - 1
    faults = form.draft.faults()
    assert bool(faults) == (form.to_fault() is not None)
    if not faults:
        assert plan_text(form.draft.wanted())
