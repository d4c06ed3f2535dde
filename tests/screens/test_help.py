"""Help and the finding of commands: all from the one list."""

from __future__ import annotations

import pytest
from rich.cells import cell_len

from stitchalong.screens.glyphs import BLOCKS
from stitchalong.screens.help_text import CAUTIONS, help_page
from stitchalong.screens.palette import Palette, found
from stitchalong.screens.parts import footer, footer_items
from stitchalong.settings.commands import COMMANDS, GROUPS, clashes, command, commands, key_words
from stitchalong.store import Store
from tests.screens.acting import SHORT, begin, flat, playing, texts


@pytest.mark.parametrize("scope", ["stitching", "home", "plain"])
def test_no_key_and_no_word_has_two_meanings(scope: str) -> None:
    some = commands(scope)  # type: ignore[arg-type]
    assert clashes(some) == []
    words = [item.word for item in some if item.word and "plain" in item.scopes]
    assert len(words) == len(set(words))


def test_a_clash_would_be_found() -> None:
    assert clashes([command("bead"), command("bead")]) == ["pagedown", "right", "space"]


def test_ids_are_unique_and_groups_known() -> None:
    assert len({item.id for item in COMMANDS}) == len(COMMANDS)
    assert {item.group for item in COMMANDS} <= set(GROUPS)
    assert all(item.help.endswith(".") for item in COMMANDS)


def test_no_key_is_one_that_terminals_lose_or_misread() -> None:
    """F13 and above, and bare modifiers, do not arrive or arrive as others."""
    for item in COMMANDS:
        for key in item.keys:
            assert not (key.startswith("f") and key[1:].isdigit() and int(key[1:]) > 12)
            assert "shift" not in key
            assert not key.startswith(("left_", "right_"))
        if item.keys:
            assert item.keys[0].lower() == item.keys[0], "the key that is shown needs no shift"


@pytest.mark.parametrize("width", [38, 78, 118])
def test_help_lists_all_commands_with_their_keys_and_the_cautions(width: int) -> None:
    page = help_page("stitching")
    lines = texts(page.draw(width, BLOCKS))
    assert all(cell_len(line) <= width for line in lines)
    text = flat(lines)
    for item in commands("stitching"):
        assert item.title in text
        assert item.help in text
        for key in item.keys:
            assert key_words(key) in text
    for words in CAUTIONS:
        assert words in text
    for subject in ("Needles", "splinters", "small children", "take breaks", "too tight", "Local rules"):
        assert subject in text


async def test_help_scrolls_to_its_end_at_the_smallest_size(store: Store) -> None:
    async with playing(begin(store, SHORT), (40, 12)) as stage:
        await stage.type("h")
        seen = set(stage.lines)
        for _ in range(40):
            await stage.type("\x1b[6~")
            seen |= set(stage.lines)
        assert "Up, Down: this is the end" in stage.text
        for line in texts(help_page("stitching").draw(38, BLOCKS)):
            assert (" " + line).rstrip() in {some.rstrip() for some in seen} or not line.strip()
        await stage.type("\x1b[A")
        assert "more" in stage.text


def test_commands_are_found_by_words_of_title_and_help() -> None:
    assert found("stitching", "one bead")[0].id == "bead"
    assert [item.id for item in found("stitching", "ELSEWHERE")] == ["step_up"]
    assert "back_round" in [item.id for item in found("stitching", "round back")]
    assert found("stitching", "zebra") == []


@pytest.mark.parametrize(
    ("scope", "words", "wanted"),
    [
        ("stitching", "size", "figures"),
        ("stitching", "theme", "settings"),
        ("stitching", "tray", "tray"),
        ("stitching", "big screen", "large"),
        ("stitching", "undo", "back"),
        ("home", "size", "fit"),
        ("home", "delete", "remove"),
    ],
)
def test_commands_are_found_by_other_words_for_them(scope: str, words: str, wanted: str) -> None:
    assert wanted in [item.id for item in found(scope, words)]  # type: ignore[arg-type]


def test_the_first_screen_lists_all_its_commands() -> None:
    assert {item.id for item in found("home", "")} == {item.id for item in commands("home")} - {"palette"}


@pytest.mark.parametrize("size", [(120, 40), (80, 24), (40, 12)])
async def test_the_list_of_commands_fits(store: Store, size: tuple[int, int]) -> None:
    async with playing(begin(store, SHORT), size) as stage:
        await stage.type("\x10")
        assert isinstance(stage.app.screen, Palette)
        assert "Find a command: _" in stage.text
        assert {cell_len(line) for line in stage.lines} == {size[0]}
        await stage.type("zebra")
        assert "No command has these words." in stage.text
        await stage.type("\x7f" * 5 + "guard\r")
        assert "A key held down counts on and on." in stage.text


async def test_a_command_found_can_be_left_undone(store: Store) -> None:
    async with playing(begin(store, SHORT)) as stage:
        await stage.type("\x10")
        await stage.type("one bead\x1b")
        assert stage.session.position == 0


@pytest.mark.parametrize("width", range(8, 100, 3))
def test_the_footer_shows_whole_entries_and_the_first_ones_first(width: int) -> None:
    items = footer_items(commands("stitching"))
    assert [word for _, word in items][:3] == ["bead", "stitch", "help"]
    text = "".join(texts([footer(items, width)]))
    assert cell_len(text) <= width
    whole = "  ".join(f"{key} {word}" for key, word in items)
    assert whole.startswith(text)
    assert text == "" or any(text.endswith(word) for _, word in items)
