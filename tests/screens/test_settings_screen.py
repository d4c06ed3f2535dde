"""The settings screen: what it lists, what it writes, and that what it writes counts at once where it says so."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path

import pytest
from rich.cells import cell_len

from stitchalong.screens.beside.sheet import Done
from stitchalong.screens.canvas import Canvas
from stitchalong.screens.glyphs import ASCII, BLOCKS
from stitchalong.screens.lines import text_of
from stitchalong.screens.panels import framed, room
from stitchalong.screens.pedal import Pedal
from stitchalong.screens.preferences import Preferences
from stitchalong.screens.reader import Reader
from stitchalong.screens.settings_screen import SettingsScreen
from stitchalong.screens.settings_sheet import PEDAL, SettingsSheet
from stitchalong.screens.stitching import StitchingScreen
from stitchalong.screens.themes import LOOKS
from stitchalong.settings.commands import COMMANDS
from stitchalong.settings.file import read_settings
from stitchalong.settings.settings import Settings, registry
from stitchalong.store import Store
from tests.screens.acting import begin, flat, playing

SIZES = ((120, 40), (80, 24), (40, 12))
MINE = "# mine, do not lose this\n[counting]   # how I count\nwarn = 3     # three are enough\n"


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "settings.toml"
    path.write_text(MINE)
    return path


def at(file: Path, key: str) -> SettingsSheet:
    return SettingsSheet(file, read_settings(file), list(registry()).index(key))


def pressed(sheet: SettingsSheet, *keys: str) -> SettingsSheet:
    for key in keys:
        after = sheet.press(key, key if len(key) == 1 else "")
        assert isinstance(after, SettingsSheet)
        sheet = after
    return sheet


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_every_setting_can_be_marked_and_is_explained(file: Path, width: int, height: int) -> None:
    sheet = SettingsSheet(file, read_settings(file))
    for setting in registry().values():
        lines = [text_of(line) for line in sheet.lines(width - 2, height - 1, BLOCKS)]
        assert len(lines) <= height - 1
        assert max(map(cell_len, lines)) <= width - 2
        name = setting.key.partition(".")[2].replace("_", " ")
        assert any(line.lstrip(f"{BLOCKS.mark} ").startswith(name) for line in lines)
        assert setting.help.split()[0] in flat(lines)
        if width >= 80:
            assert setting.help in flat(lines)
            assert (setting.wants[1:] if setting.kind != "on or off" else "n or off; usually o") in flat(lines)
            assert ("next start" in flat(lines)) == (not setting.at_once)
        sheet = pressed(sheet, "down")
    assert "pedal" in flat(text_of(line) for line in sheet.lines(width - 2, height - 1, ASCII))
    after = sheet.press("enter", "")
    assert isinstance(after, Done)
    assert after.message == PEDAL


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_golden_frames(file: Path, golden: Callable[[str, Iterable[str]], None], width: int, height: int) -> None:
    sheet = at(file, "look.theme")
    drawn = framed(sheet.lines(*room(width, height), BLOCKS), sheet.keys, width, height)
    golden(f"settings-{width}x{height}", [text_of(line) for line in drawn])


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_golden_frames_of_a_pedal(
    file: Path, golden: Callable[[str, Iterable[str]], None], width: int, height: int
) -> None:
    pedal: Pedal | None = None
    for nth in range(12):
        after = (pedal or Pedal(file, COMMANDS, True)).press("pageup", 1.0 + nth * 0.033)
        assert isinstance(after, Pedal)
        pedal = after
    assert pedal is not None
    drawn = framed(pedal.lines(*room(width, height)), pedal.keys, width, height)
    golden(f"pedal-{width}x{height}", [text_of(line) for line in drawn])


def test_what_was_switched_at_the_keys_is_shown_beside_what_is_kept(file: Path) -> None:
    sheet = replace(at(file, "counting.warn"), now=(("counting.warn", 5),))
    shown = [text_of(line) for line in sheet.lines(78, 23, BLOCKS)]
    assert any("5 beads now (3 beads as a rule)" in line for line in shown)
    after = pressed(sheet, "right")
    shown = [text_of(line) for line in after.lines(78, 23, BLOCKS)]
    assert after.found.counting.warn == 4
    assert any("4 beads" in line for line in shown)
    assert not any("5 beads" in line for line in shown), "what is set counts at once"


async def test_the_keys_and_the_settings_agree(store: Store, file: Path) -> None:
    session = begin(store)
    async with playing(session, (80, 24), preferences=Preferences(file=file)) as stage:
        await stage.type("5d")
        await stage.pilot.press("f4")
        assert "5 beads now (3 beads as a rule)" in stage.text


def test_what_is_not_as_usual_is_marked(file: Path) -> None:
    lines = [text_of(line) for line in at(file, "counting.warn").lines(78, 23, BLOCKS)]
    (warn,) = [line for line in lines if "warn" in line and "3 beads" in line]
    assert warn.rstrip().endswith("*")
    assert not any("remarks" in line and "*" in line for line in lines)


@pytest.mark.parametrize(
    ("key", "keys", "value"),
    [
        ("counting.warn", ("right",), 4),
        ("counting.warn", ("left", "left", "left", "left"), 0),
        ("counting.warn", ("enter", "backspace", "1", "2", "enter"), 12),
        ("counting.warn", ("delete",), 2),
        ("counting.remarks", ("enter",), False),
        ("look.theme", ("right",), "light"),
        ("look.theme", ("left",), "contrast-light"),
        ("keys.fastest", ("right",), 0.12),
        ("sound.volume_bead", ("right", "right"), 0.1),
        ("sound.voice", ("enter", "a", "n", "n", "enter"), "ann"),
        ("sound.means", ("enter", *["backspace"] * 20, *"bell, device", "enter"), ("bell", "device")),
    ],
)
def test_a_change_is_written_and_the_comments_stay(file: Path, key: str, keys: tuple[str, ...], value: object) -> None:
    sheet = pressed(at(file, key), *keys)
    assert (sheet.fault, sheet.text) == ("", None)
    assert sheet.found.value(key) == read_settings(file).value(key) == value
    table, _, name = key.partition(".")
    kept = tomllib.loads(file.read_text())[table][name]
    assert kept == (list(value) if isinstance(value, tuple) else value)
    for comment in ("# mine, do not lose this", "# how I count", "# three are enough"):
        assert comment in file.read_text()
    assert sheet.told.startswith("Kept")
    assert ("next start" in sheet.told) == (not registry()[key].at_once)


def test_a_fault_is_told_with_what_is_likely_meant_and_nothing_is_written(file: Path) -> None:
    sheet = pressed(at(file, "sound.means"), "enter", *["backspace"] * 20, *"bel", "enter")
    assert "“bel” is not any of device, player and bell" in sheet.fault
    assert "did you mean `bell`?" in sheet.fault
    assert sheet.text == "bel", "it can be mended"
    assert file.read_text() == MINE
    assert pressed(sheet, "escape").text is None
    sheet = pressed(at(file, "counting.warn"), "enter", "9", "9", "enter")
    assert "from 0 to 99" in sheet.fault
    file.write_text("[counting]\nwarm = 3\n")
    assert "no setting counting.warm (did you mean `warn`?)" in pressed(sheet, "escape", "right").fault


@pytest.mark.parametrize(
    "key", [key for key, one in registry().items() if one.at_once and not key.startswith(("sound", "words.hand"))]
)
def test_what_counts_at_once_is_something_that_the_screens_take(key: str) -> None:
    """The stitching screen takes all of `Preferences` anew, and the warning of the session."""
    setting = registry()[key]
    table, _, name = key.partition(".")
    other = next(choice for choice in setting.choices if choice != setting.default) if setting.choices else (
        not setting.default if isinstance(setting.default, bool) else setting.typed(str(setting.default + 1))
        if isinstance(setting.default, int) else setting.typed(str(float(str(setting.default)) + 0.01))
    )  # fmt: skip
    usual = Settings()
    changed = replace(usual, **{table: replace(getattr(usual, table), **{name: other})})
    assert Preferences.of(changed) != Preferences.of(usual) or key == "counting.warn"


async def test_it_opens_by_its_key_over_the_work_and_what_is_changed_counts_at_once(store: Store, file: Path) -> None:
    session = begin(store)
    async with playing(session, preferences=Preferences(file=file)) as stage:
        work = stage.screen
        await stage.type(" ")
        await stage.type("\x1bOS")
        assert isinstance(stage.app.screen, SettingsScreen)
        assert "Counting along" in stage.text
        await stage.type("\x1b[C")
        assert session.warn == 4
        await stage.type("\x1b[B ")
        assert "remarks" in stage.text
        for key in ("keys.guard", "look.theme", "look.glyphs", "words.hand", "sound.talkative"):
            stage.app.screen.sheet = replace(  # type: ignore[attr-defined]
                stage.app.screen.sheet,
                at=list(registry()).index(key),  # type: ignore[attr-defined]
            )
            await stage.type("\x1b[C")
        assert stage.app.screen.query_one(Canvas).look is LOOKS["light"], "seen where it is changed"
        await stage.type("\x1b")
        assert stage.app.screen is work
        assert stage.app.screen.query_one(Canvas).look is LOOKS["light"]
        assert all(line.isascii() for line in stage.lines)
        assert not work.guard.on
        assert not work.showing.remarks
        assert session.left_handed
        assert session.talk == "every stitch"
        assert session.position == 1
        await stage.type("  ", gap=0.01)
        assert session.position == 3, "the guard is off"


async def test_what_was_switched_at_the_keys_stays(store: Store, file: Path) -> None:
    session = begin(store)
    async with playing(session, preferences=Preferences(file=file)) as stage:
        await stage.type("i7d")
        await stage.type("\x1bOS")
        stage.app.screen.sheet = at(file, "look.large")  # type: ignore[attr-defined]
        await stage.type("\x1b[C\x1b")
        assert isinstance(stage.app.screen, StitchingScreen)
        assert (stage.screen.showing.remarks, stage.screen.showing.large, session.warn) == (False, True, 7)


async def test_a_file_with_faults_is_told_and_left_as_it_is(store: Store, file: Path) -> None:
    async with playing(begin(store), preferences=Preferences(file=file)) as stage:
        file.write_text("[look]\ntheme = 'darc'\n")
        await stage.type("\x1bOS")
        assert isinstance(stage.app.screen, Reader)
        assert "line 2" in stage.text
        assert "did you mean `dark`?" in stage.text
        await stage.type("\x1b")
        assert stage.session.position == 0
