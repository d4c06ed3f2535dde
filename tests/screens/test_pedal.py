"""Press your pedal now: which key came, whether it clashes or repeats, and what is written for it."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from stitchalong.screens.lines import text_of
from stitchalong.screens.pedal import CLICK, Kept, Pedal
from stitchalong.screens.pedal_screen import PedalScreen
from stitchalong.screens.preferences import Preferences
from stitchalong.settings.commands import COMMANDS
from stitchalong.settings.file import settings_from
from stitchalong.settings.use import commands_of
from stitchalong.store import Store
from tests.cli.terminal import Terminal
from tests.screens.acting import begin, flat, playing

USUAL = ("space", "pagedown", "right")
"""the keys of a bead"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "settings.toml"


def press(pedal: Pedal, *keys: str, gap: float = 0.5, start: float = 100.0) -> Pedal:
    for nth, key in enumerate(keys):
        after = pedal.press(key, start + nth * gap)
        assert isinstance(after, Pedal)
        pedal = after
    return pedal


def kept(pedal: Pedal, *keys: str) -> Kept:
    after = press(pedal, *keys[:-1]).press(keys[-1], 200.0)
    assert isinstance(after, Kept)
    return after


def shown(pedal: Pedal, width: int = 78, height: int = 22) -> str:
    lines = [text_of(line) for line in pedal.lines(width, height)]
    assert len(lines) <= height
    return flat(lines)


def test_a_free_key_is_kept_beside_those_that_count_beads(file: Path) -> None:
    pedal = press(Pedal(file, COMMANDS, True), "f9")
    assert "F9 came" in shown(pedal)
    assert "Keep it for “One bead”?" in shown(pedal)
    assert "Not every terminal" in shown(pedal)
    found = kept(pedal, "enter").found
    assert found.key_map == {"bead": (*USUAL, "f9")}
    assert tomllib.loads(file.read_text())["keys"]["map"]["bead"] == [*USUAL, "f9"]


def test_a_key_that_counts_already_says_so(file: Path) -> None:
    pedal = press(Pedal(file, COMMANDS, True), "pagedown", "pagedown")
    assert "came 2 times" in shown(pedal)
    assert "It is for “One bead” already." in shown(pedal)
    assert kept(pedal, "enter").found.key_map == {}
    assert "keys" not in tomllib.loads(file.read_text()) or not tomllib.loads(file.read_text())["keys"].get("map")


def test_a_clash_is_told_and_the_other_command_keeps_its_other_keys(file: Path) -> None:
    pedal = press(Pedal(file, COMMANDS, True), "pageup")
    assert "It is for “Back one bead” now, and would not be any more." in shown(pedal)
    found = kept(pedal, "enter").found
    assert found.key_map == {"back": ("backspace", "left"), "bead": (*USUAL, "pageup")}
    assert settings_from(file.read_text(), "settings").key_map == found.key_map


def test_the_only_key_of_another_command_is_not_taken(file: Path) -> None:
    pedal = press(Pedal(file, COMMANDS, True), "g")
    after = pedal.press("enter", 300.0)
    assert isinstance(after, Pedal)
    assert "g is the only key of “Go to a place”" in shown(after)
    assert not file.exists()


def test_another_command_can_be_chosen(file: Path) -> None:
    pedal = press(Pedal(file, COMMANDS, True), "f9", "tab")
    assert "Keep it for “Finish the stitch”?" in shown(pedal)
    assert "Keep it for “One bead”?" in shown(press(pedal, "shift+tab"))
    assert kept(pedal, "enter").found.key_map == {"stitch": ("enter", "f9")}


def test_a_pedal_that_sends_the_keys_of_this_screen_is_taken_all_the_same(file: Path) -> None:
    pedal = press(Pedal(file, COMMANDS, True), "enter", "enter", "enter")
    assert pedal.key == "enter"
    assert dict(pedal.keys)["y"] == "keep it"
    assert "It is for “Finish the stitch” now" in shown(pedal)
    pedal = press(Pedal(file, COMMANDS, True), "tab")
    assert dict(pedal.keys)["o"] == "for something else"
    assert kept(pedal, "enter").found.key_map == {"bead": (*USUAL, "tab")}


def test_a_key_that_repeats_while_it_is_held_is_told(file: Path) -> None:
    held = press(Pedal(file, COMMANDS, True), *["space"] * 10, gap=0.033)
    assert "came 10 times" in shown(held)
    assert "It repeats while it is held: the guard counts that once." in shown(held)
    bare = press(Pedal(file, COMMANDS, False), *["space"] * 3, gap=0.033)
    assert "switch on the guard (keys.guard)" in shown(bare)
    tapped = press(Pedal(file, COMMANDS, True), *["space"] * 3, gap=0.4)
    assert "repeats" not in shown(tapped)


@pytest.mark.parametrize(
    ("key", "words"), [("7", "digits say how many"), ("A", "a capital letter"), ("circumflex_accent^", "is no key")]
)
def test_what_cannot_be_a_key_says_why_and_another_may_be_pressed(file: Path, key: str, words: str) -> None:
    pedal = press(Pedal(file, COMMANDS, True), key)
    assert words in shown(pedal)
    assert pedal.keys == (("Escape", "leave"),)
    assert press(pedal, "enter").key == "enter"


def test_a_pedal_that_clicks_needs_nothing(file: Path) -> None:
    assert "Nothing has to be set." in shown(press(Pedal(file, COMMANDS, True), CLICK))
    assert "counting.tap" in shown(press(Pedal(file, COMMANDS, True, taps=False), CLICK))


def test_keys_of_ones_own_are_looked_at_not_the_usual_ones(file: Path) -> None:
    file.write_text("[keys.map]\nbead = ['f8']\n")
    own = commands_of(settings_from(file.read_text(), ""))
    pedal = press(Pedal(file, own, True), "space")
    assert "now" not in shown(pedal).replace("Press your pedal now", "")
    assert kept(pedal, "enter").found.key_map == {"bead": ("f8", "space")}


def test_the_usual_keys_can_be_had_again(file: Path) -> None:
    usual = press(Pedal(file, COMMANDS, True), "f9")
    assert "Delete" not in dict(usual.keys)
    assert press(usual, "delete").key == "delete", "a key like any other, where there is nothing to give back"
    file.write_text("# mine\n[keys.map]\nbead = ['f8']\nback = ['space']\n")
    own = commands_of(settings_from(file.read_text(), ""))
    pedal = press(Pedal(file, own, True), "f9")
    assert dict(pedal.keys)["Delete"] == "its usual keys again"
    after = press(pedal, "delete")
    assert "Space is both for bead and for back" in shown(after), "another command has one of them now"
    assert settings_from(file.read_text(), "").key_map["bead"] == ("f8",)
    file.write_text("# mine\n[keys.map]\nbead = ['f8']\n")
    found = kept(press(Pedal(file, commands_of(settings_from(file.read_text(), "")), True), "f9"), "delete").found
    assert found.key_map == {}
    assert file.read_text().startswith("# mine")


async def test_from_the_stitching_screen_the_key_counts_at_once(store: Store, file: Path) -> None:
    session = begin(store)
    async with playing(session, (40, 12), preferences=Preferences(file=file)) as stage:
        await stage.type("\x1b[20~")
        assert session.position == 0
        await stage.type("\x10")
        await stage.type("press your pedal\r")
        assert isinstance(stage.app.screen, PedalScreen)
        await stage.type("\x1b[20~")
        assert "F9" in stage.text
        await stage.type("\r")
        assert "Space bead" in stage.text
        await stage.type("\x1b[20~")
        assert session.position == 1


def test_from_the_command_line(tmp_path: Path) -> None:
    """In a real terminal: a click, F9, Enter; and a click of the mouse is asked for, its moves are not."""
    with Terminal(tmp_path, "settings", "--pedal") as terminal:
        terminal.until("Press your pedal now")
        terminal.type("\x1b[<0;10;5M\x1b[<0;10;5m")
        terminal.until("a mouse click")
        terminal.type("\x1b[20~")
        terminal.until("Keep it for")
        terminal.type("\r")
        assert terminal.ends() == 0
        assert "One bead: Space, Page Down, Right, F9" in terminal.text
        assert terminal.in_order
    assert b"\x1b[?1000h" in terminal.raw
    assert b"\x1b[?1003h" not in terminal.raw
    assert tomllib.loads((tmp_path / "settings.toml").read_text())["keys"]["map"]["bead"][-1] == "f9"
