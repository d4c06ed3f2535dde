"""The piece in figures: on the stitching screen and on the first one, at every size; switches that count nothing."""

from __future__ import annotations

import re
from datetime import UTC
from pathlib import Path

import pytest

from stitchalong.measure.measured import Measured
from stitchalong.measure.units import Units
from stitchalong.plan.library import Listed
from stitchalong.screens.app import ScreensApp
from stitchalong.screens.figures import of_session
from stitchalong.screens.glyphs import BLOCKS
from stitchalong.screens.home import HomeScreen
from stitchalong.screens.inks import EVENING
from stitchalong.screens.lines import width_of
from stitchalong.screens.preferences import Preferences
from stitchalong.screens.reader import Reader
from stitchalong.session import Session
from stitchalong.store import Store
from tests.screens.acting import COVE, SHORT, Clock, Stage, begin, flat, playing, texts

SIZED = COVE.replace('colour = "', 'size = "11/0"\nshape = "cylinder"\ncolour = "')
HEADINGS = ("Size", "Beads", "Thread", "Time", "Price", "Will it lie flat?")


def whole(session: Session, units: Units = Units.METRIC, width: int = 78) -> str:
    return flat(texts(of_session(session, units).draw(width, BLOCKS)))


def test_the_page_has_everything_under_its_heading(store: Store) -> None:
    text = whole(begin(store, SIZED))
    assert text.startswith("Otter cove in figures")
    places = [text.index(heading) for heading in HEADINGS]
    assert places == sorted(places)
    # 16 units of 2.24 mm: common practice, no source
    assert "inside: 35.8 mm" in text
    assert "too narrow for a finger" in text
    assert "buy 1 of 5 g" in text
    assert "working lengths of 1.5 m" in text
    assert "an estimate at 20 s a bead" in text
    assert "inside: 1.41 in" in whole(begin(store, SIZED), Units.INCH)


def test_a_plan_without_bead_sizes_says_what_is_missing(store: Store) -> None:
    text = whole(begin(store))
    assert "does not say its size and shape" in text
    assert "C charcoal: " in text
    assert "no thread can be reckoned" in text


def test_what_it_costs_and_whether_it_lies_flat_is_in_it(store: Store, clock: Clock) -> None:
    assert "the plan gives no prices" in whole(begin(store, SIZED))
    priced = begin(store, SIZED.replace('name = "charcoal"', 'name = "charcoal"\nprice = 2'))
    for _ in range(30):
        clock.now += 5
        priced.press(1)
    text = whole(priced)
    found = re.search(r"bead C: (\d\.\d\d) g × 2\.0 = (\d\.\d\d) in all: \2", text)
    assert found is not None
    assert float(found[2]) == pytest.approx(2 * float(found[1]))
    assert "price or weight is not known: S, M" in text
    hours = priced.course.beads * 5 / 3600
    assert f"and {hours:.1f} hours of work" in text
    # three rounds of pairs over four markers, two columns a round and rib where (h/w)·tan(180°/4) = 1.23 would be flat:
    # beadmechanics.com (octagon)
    assert re.search(r"top edge, rounds 1 to 3: rises as fins; \d+°, 4 ribs, \d\.\d\d columns a round and rib", text)
    assert "where 1.23 would be flat" in text


def test_own_gauge_and_own_pace_are_in_it(store: Store, clock: Clock) -> None:
    session = begin(store, SIZED)
    for _ in range(30):
        clock.now += 5
        session.press(1)
    store.add_measured(Measured("11/0", "cylinder", "MRAW band", "unit", "", 24, 50.0, 0.5))
    text = whole(session)
    assert "1 measurement of your own" in text
    assert "5.0 s a bead" in text
    assert f"what is left, {session.course.beads - 30:,} beads: " in text


@pytest.mark.parametrize("width", [38, 78, 118])
def test_nothing_is_wider_than_the_screen(store: Store, width: int) -> None:
    lines = of_session(begin(store, SIZED), Units.METRIC).draw(width, BLOCKS)
    assert max(map(width_of, lines)) <= width


@pytest.mark.parametrize("size", [(120, 40), (80, 24), (40, 12)])
async def test_a_key_opens_it_and_counting_goes_on(store: Store, size: tuple[int, int]) -> None:
    session = begin(store, SIZED)
    async with playing(session, size) as stage:
        await stage.type("b")
        assert "Otter cove in figures" in stage.text
        assert stage.session.position == 0
        await stage.type("\x1b[B")
        assert "Otter cove in figures" not in stage.text or size[1] > 24, "scrolled"
        await stage.type("\x1b")
        assert "in figures" not in stage.text
        await stage.type("b ")
        assert stage.session.position == 1, "a key that counts closes it and counts"


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        ("5d", "Warnings come 5 beads ahead."),
        ("0d", "Warnings are off."),
        ("i", "Remarks are hidden."),
        ("k", "A key held down counts on and on."),
        ("l", "The large view"),
        ("y", "Aloud:"),
    ],
)
async def test_switches_say_what_they_do_and_count_nothing(store: Store, keys: str, told: str) -> None:
    async with playing(begin(store)) as stage:
        await stage.type(keys)
        assert told in stage.text
        assert stage.session.position == 0


async def test_on_the_first_screen_it_is_asked_for(store: Store, clock: Clock, tmp_path: Path) -> None:
    begin(store, SHORT, name="for Ash")
    good, bad = tmp_path / "good.toml", tmp_path / "bad.toml"
    good.write_text(SIZED)
    bad.write_text(SIZED.replace("height", "heigth"))
    plans = [Listed(path.stem, path, path.stem, "") for path in (good, bad)]
    preferences = Preferences(units=Units.INCH)
    app = ScreensApp(lambda app: HomeScreen(store, plans, look=EVENING, preferences=preferences, clock=clock, zone=UTC))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        stage = Stage(app, pilot)
        await stage.type("b")
        assert isinstance(app.screen, Reader)
        assert "for Ash in figures" in stage.text
        await stage.type("\x1b")
        await stage.type("\x1b[B")
        await stage.type("b")
        assert "Otter cove in figures" in stage.text
        assert "1.41 in" in stage.text
        await stage.type("\x1b")
        await stage.type("\x1b[B")
        await stage.type("b")
        assert not isinstance(app.screen, Reader)
        assert "did you mean" in stage.text
        assert len(store.pieces()) == 1
