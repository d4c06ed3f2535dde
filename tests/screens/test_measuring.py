"""The sheets of the first screen: which count fits, and one's own gauge."""

from __future__ import annotations

from datetime import UTC
from pathlib import Path

import pytest

from stitchalong.course.compile import compile_plan
from stitchalong.errors import StoreError, UsageError
from stitchalong.measure.book import Book
from stitchalong.measure.fitting import Fitting
from stitchalong.measure.gauge import MRAW, PEYOTE, RAW, Per
from stitchalong.measure.measured import Measured
from stitchalong.measure.of_start import asks_for
from stitchalong.measure.units import Units
from stitchalong.plan.library import Listed
from stitchalong.plan.read import read_text
from stitchalong.screens.app import ScreensApp
from stitchalong.screens.beside.screen import SheetScreen
from stitchalong.screens.beside.sheet import Done
from stitchalong.screens.glyphs import BLOCKS
from stitchalong.screens.home import Begin, HomeScreen
from stitchalong.screens.inks import EVENING
from stitchalong.screens.lines import width_of
from stitchalong.screens.measuring.fitting import FitSheet, Wanted
from stitchalong.screens.measuring.gauging import WHATS, Adding, GaugeSheet, Keeping
from stitchalong.screens.preferences import Preferences
from stitchalong.store import Store
from tests.screens.acting import SHORT, Clock, Stage, begin, flat, texts

BEAD = """
[beads.{code}]
name = "{name}"
colour = "#888888"
size = "11/0"
shape = "{shape}"
"""
BAND = f"""
title = "Alder band"
{BEAD.format(code="A", name="alder", shape="cylinder")}
{BEAD.format(code="M", name="moss", shape="cylinder")}
marker = true
[[work]]
start = "MRAW band"
frame = "A"
spacers = "*6A, M* 4 times"
"""
STRIP = f"""
title = "Alder strip"
{BEAD.format(code="A", name="alder", shape="cylinder")}
[[work]]
start = "strung row"
beads = "10A"
[[work]]
stitch = "flat peyote"
rows = ["A"]
height = 8
"""
SIZES = ((120, 40), (80, 24), (40, 12))


def fit_sheet(text: str = BAND, units: Units = Units.METRIC) -> FitSheet:
    plan = read_text(text, "alder").plan
    return FitSheet.of(plan.title, Fitting(plan, compile_plan(plan), Book()), units)


def pressed(sheet: FitSheet | GaugeSheet | Adding, *keys: str) -> FitSheet | GaugeSheet | Adding | Done:
    """After keys by their names; what has no name is typed."""
    after: FitSheet | GaugeSheet | Adding | Done = sheet
    for key in keys:
        assert not isinstance(after, Done)
        if key.islower() and key.isalpha():
            after = after.press(key, "")
            continue
        for sign in key:
            assert not isinstance(after, Done)
            after = after.press(sign, sign)
    return after


def fits(sheet: FitSheet, *keys: str) -> FitSheet:
    after = pressed(sheet, *keys)
    assert isinstance(after, FitSheet)
    return after


def shown(sheet: FitSheet | GaugeSheet | Adding, size: tuple[int, int] = (78, 38)) -> str:
    return flat(texts(sheet.lines(*size, BLOCKS)))


# ---- what fits ------------------------------------------------------------------------------------


def test_a_finger_is_typed_and_the_nearest_count_is_begun() -> None:
    sheet = fits(fit_sheet(), "US 7")
    # 25 units of 2.24 mm (common practice, no source) are 56.0 mm; a band of 5 mm and more for US 7 is US 7½, 55.7 mm
    # (careypearson.com/finding-a-ring-size, en.wikipedia.org/wiki/Ring_size)
    marked = sheet.entries[sheet.at]
    assert marked.words == "25 units, sides 7 6 6 6, for US 7, the nearest"
    text = shown(sheet)
    assert "56.0 mm (53.8 to 58.2) inside, US 7½, and being so wide it fits US 7" in text
    for other in (
        "24 units, equal sides of 6, for US 6¼",
        "5 sides: 25 units",
        "15/0 cylinder: 32 units",
        "3.5 US sizes",
    ):
        assert other in text
    asked = fits(sheet, "enter")
    assert "Begin it so? Alder band: 25 units, sides 7 6 6 6" in shown(asked)
    assert "A ring too tight can stop the blood" in shown(asked)
    assert pressed(asked, "enter") == Done(chosen=Wanted(25, None))
    assert fits(asked, "escape") == sheet


def test_what_is_to_be_minded_is_said_again_whatever_its_words(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("stitchalong.measure.fit.TOO_TIGHT", "mind the finger")
    assert "Mind the finger." in shown(fits(fit_sheet(), "US 7", "enter"))


def test_another_number_of_sides_is_begun_and_another_bead_is_not() -> None:
    sheet = fits(fit_sheet(), "US 7")
    five, small = (
        next(nth for nth, entry in enumerate(sheet.entries) if entry.words.startswith(label))
        for label in ("5 sides", "15/0")
    )
    to_five = fits(sheet, *["down"] * (five - sheet.at))
    assert pressed(to_five, "enter", "enter") == Done(chosen=Wanted(25, 5))
    to_small = fits(sheet, *["down"] * (small - sheet.at), "enter")
    assert to_small.asking is None
    assert "Another bead stands in the plan" in shown(to_small)


def test_a_hand_has_no_caution_and_inches_are_told_in_inches() -> None:
    sheet = fits(fit_sheet(units=Units.INCH), "right", "20cm")
    # at least 2 cm more than the closed hand, 22 cm, of 2.24 mm a unit: kawaiius.com/pages/bracelet-bangle-size-guide
    assert sheet.entries[sheet.at].choice is not None
    assert sheet.entries[sheet.at].choice.count == round(220 / 2.24)
    text = shown(sheet)
    assert "too tight" not in text
    assert " in (" in text
    assert " mm" not in text
    other = fits(sheet, "left")
    assert (other.sort, other.text, other.entries) == ("finger", "", ()), "a hand's number is no finger's"


def test_a_strip_says_what_to_write_into_the_plan() -> None:
    sheet = fits(fit_sheet(STRIP), "16cm")
    assert sheet.sorts == ("wrist",)
    # ¾ to 1 in more is comfortable: tasitreasures.com, bracelet size; rows of half of 1.6 mm
    rows = round((160 + 0.875 * 25.4) / 0.8)
    assert f"{rows} rows: " in sheet.entries[sheet.at].words
    assert f"write height = {rows - 2} into the plan" in shown(sheet)
    assert fits(sheet, "enter") == sheet


def test_what_cannot_be_read_is_told_as_it_is_typed() -> None:
    assert "Its size, as US 7" in shown(fit_sheet())
    sheet = fits(fit_sheet(), "7")
    assert "Say which: US, UK, ISO or JP".casefold() in shown(sheet).casefold()
    assert sheet.entries == ()
    assert fits(sheet, "enter") == sheet
    assert fits(sheet, "backspace").fault == ""
    assert "no length" in shown(fits(fit_sheet(), "right", "20"))


def test_a_plan_of_no_size_is_refused() -> None:
    with pytest.raises(UsageError, match="cannot be chosen"):
        fit_sheet(SHORT)


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_nothing_is_larger_than_the_screen(width: int, height: int, store: Store, clock: Clock) -> None:
    sheets: list[FitSheet | GaugeSheet | Adding] = [fit_sheet(), fits(fit_sheet(), "US 7"), fits(fit_sheet(), "7")]
    sheets += [fits(fit_sheet(), "US 7", "enter"), fits(fit_sheet(STRIP), "16cm")]
    gauge = GaugeSheet.of(Keeping(store, clock, Units.METRIC))
    adding = gauge.press("enter", "")
    assert isinstance(adding, Adding)
    sheets += [gauge, adding, gauge.added(Measured("11/0", "cylinder", MRAW, Per.UNIT, "tight", 24, 52.0, 0.5))]
    for sheet in sheets:
        lines = sheet.lines(width - 2, height - 1, BLOCKS)
        assert len(lines) <= height - 1
        assert max(map(width_of, lines)) <= width - 2


# ---- one's own gauge ------------------------------------------------------------------------------


@pytest.fixture
def gauges(store: Store, clock: Clock) -> GaugeSheet:
    return GaugeSheet.of(Keeping(store, clock, Units.METRIC))


def listed(sheet: FitSheet | GaugeSheet | Adding | Done) -> GaugeSheet:
    assert isinstance(sheet, GaugeSheet)
    return sheet


def test_a_swatch_is_kept_and_its_effect_is_told(gauges: GaugeSheet, store: Store) -> None:
    assert "Nothing measured yet" in shown(gauges)
    after = listed(pressed(gauges, "enter", "down", "down", "24", "down", "51,6", "enter"))
    (kept,) = store.measured()
    assert (kept.size, kept.shape, kept.stitch, kept.per) == ("11/0", "cylinder", MRAW, "unit")
    assert (kept.count, kept.length, kept.tension) == (24, 51.6, "")
    own = Book(store.measured()).gauge(asks_of(BAND).bead, MRAW, Per.UNIT)
    assert own is not None
    text = shown(after)
    assert f"Kept. Now 11/0 cylinder: {own.each.value:.2f} mm" in text
    assert "without it 2.24 mm" in text
    assert "11/0 cylinder: 24 units of a band, 51.6 mm; a swatch" in text


def test_a_ring_size_another_stitch_and_a_tension_are_kept(gauges: GaugeSheet, store: Store) -> None:
    rows = list(WHATS).index(("rows", "brick"))
    pressed(gauges, "enter", "down", "down", "24", "down", "US 7", "down", " Tight ", "enter")
    pressed(gauges, "enter", "down", *["right"] * rows, "down", "20", "enter", "26mm", "enter")
    ring, brick = store.measured()
    assert (ring.tension, round(ring.length, 1)) == ("tight", 54.4)
    assert (brick.stitch, brick.per, brick.count) == ("brick stitch", "row", 20)


def test_what_cannot_be_is_told_and_nothing_is_kept(gauges: GaugeSheet, store: Store) -> None:
    adding = pressed(gauges, "enter", "down", "down", "24", "down", "54cm", "enter")
    assert isinstance(adding, Adding)
    assert "where about 2.24 is usual" in shown(adding)
    missing = pressed(gauges, "enter", "enter")
    assert isinstance(missing, Adding)
    assert missing.at == 2
    assert "Count is missing." in shown(pressed(missing, "enter"))  # type: ignore[arg-type]
    assert store.measured() == []
    assert pressed(missing, "escape") == gauges


def test_a_measurement_is_forgotten_only_after_asking(gauges: GaugeSheet, store: Store) -> None:
    sheet = gauges.added(Measured("11/0", "cylinder", MRAW, Per.UNIT, "", 24, 51.6, 0.5))
    sheet = sheet.added(Measured("11/0", "cylinder", PEYOTE, Per.ROW, "", 40, 33.0, 0.5))
    asked = listed(pressed(sheet, "down", "delete"))
    assert "Forget this? 11/0 cylinder: 40 rows of peyote, 33.0 mm." in shown(asked)
    assert len(listed(pressed(asked, "escape")).kept) == len(store.measured()) == 2
    after = listed(pressed(asked, "enter"))
    assert [one.stitch for one in store.measured()] == [MRAW]
    assert "Forgotten: 11/0 cylinder: 40 rows of peyote" in shown(after)
    assert pressed(after, "escape") == Done()


def test_a_list_that_cannot_be_read_anew_keeps_nothing_twice(
    gauges: GaugeSheet, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    typed = ("enter", "down", "down", "24", "down", "US 7", "enter")
    gauges = listed(pressed(gauges, *typed))

    def unread() -> None:
        raise StoreError("the disk cannot be read just now")

    with monkeypatch.context() as broken:
        broken.setattr(store, "measured", unread)
        for what in (typed, ("delete", "enter")):
            gauges = listed(pressed(gauges, *what))
            assert "The list cannot be read anew: The disk cannot be read just now." in shown(gauges)
    assert len(store.measured()) == 1
    assert gauges.kept == ()


def asks_of(text: str):  # type: ignore[no-untyped-def]
    return asks_for(read_text(text, "alder").plan)


def test_a_measurement_begins_with_what_the_marked_plan_asks_for(store: Store, clock: Clock) -> None:
    keeping = Keeping(store, clock, Units.METRIC)
    for text, what in ((BAND, ("band", "")), (STRIP, ("rows", "peyote"))):
        assert WHATS[GaugeSheet.of(keeping, asks_of(text)).what] == what
    weave = STRIP.split("[[work]]")[0].replace("cylinder", "round")
    weave += '[[work]]\nstart = "right-angle weave row"\nbeads = "10A"'
    sheet = GaugeSheet.of(keeping, asks_of(weave))
    assert asks_of(weave).stitch == RAW
    adding = sheet.press("enter", "")
    assert isinstance(adding, Adding)
    assert "11/0 round" in shown(adding)
    assert "units of right-angle weave" in shown(adding)


# ---- from the first screen ------------------------------------------------------------------------


async def test_the_first_screen_opens_them(store: Store, clock: Clock, tmp_path: Path) -> None:
    begin(store, SHORT, name="for Ash")
    paths = tmp_path / "alder.toml", tmp_path / "short.toml"
    for path, text in zip(paths, (BAND, SHORT), strict=True):
        path.write_text(text)
    plans = [Listed(path.stem, path, path.stem, "") for path in paths]
    app = ScreensApp(
        lambda app: HomeScreen(store, plans, look=EVENING, preferences=Preferences(), clock=clock, zone=UTC)
    )
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        stage = Stage(app, pilot)
        await stage.type("f")
        assert "That is for plans: a piece has its size already." in stage.text
        await stage.type("\x1b[B\x1b[Bf")
        assert "The size of this plan cannot be chosen".casefold() in stage.text.casefold()
        await stage.type("\x1b[A")
        await stage.type("g")
        assert isinstance(app.screen, SheetScreen)
        assert "Nothing measured yet" in stage.text
        await stage.type("\x1b")
        await stage.type("f")
        await stage.type("US 7")
        assert "What fits: Alder band" in stage.text
        await stage.type("\r")
        assert "Begin it so?" in stage.text
        await stage.type("\r")
        assert app.return_value == Begin(paths[0], 25, None)
