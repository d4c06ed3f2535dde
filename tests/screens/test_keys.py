"""Every key, through the real bytes that terminals send for it.

Bytes: xterm control sequences (`ctlseqs`, "PC-Style Function Keys": cursor keys, Page Up `CSI 5 ~`, Page Down
`CSI 6 ~`, F1 `SS3 P`), and the Kitty keyboard protocol's `CSI code ; modifiers ; text u` (its published
specification; 13 Enter, 127 Backspace, 32 Space).
"""

from __future__ import annotations

import pytest

from stitchalong.screens.app import ScreensApp
from stitchalong.screens.form_screen import FormScreen
from stitchalong.screens.palette import Palette
from stitchalong.screens.preferences import Preferences
from stitchalong.screens.reader import Reader
from stitchalong.settings.commands import commands
from stitchalong.settings.file import settings_from
from stitchalong.settings.use import commands_of
from stitchalong.store import Store
from tests.screens.acting import SHORT, begin, playing

ONE = ("space", " ", 1), ("pagedown", "\x1b[6~", 1), ("right", "\x1b[C", 1), ("kitty space", "\x1b[32;;32u", 1)
STITCH = ("enter", "\r", 4), ("kitty enter", "\x1b[13u", 4)


@pytest.mark.parametrize(("data", "to"), [(data, to) for _, data, to in (*ONE, *STITCH)])
async def test_keys_that_count(store: Store, data: str, to: int) -> None:
    async with playing(begin(store)) as stage:
        await stage.type(data)
        assert stage.session.position == to
        assert store.piece(stage.session.piece.id).position == to


BACK = [
    ("\x7f", 20 + 2),
    ("\x08", 20 + 2),
    ("\x1b[5~", 20 + 2),
    ("\x1b[D", 20 + 2),
    ("\x1b[127u", 20 + 2),
    ("t", 20),
]


@pytest.mark.parametrize(("data", "to"), BACK)
async def test_keys_that_take_back(store: Store, data: str, to: int) -> None:
    session = begin(store)
    session.press(23)
    session.came_back = None
    async with playing(session) as stage:
        await stage.type(data)
        assert stage.session.position == to


@pytest.mark.parametrize(("data", "to"), [("s", 88), ("r", 69)])
async def test_back_to_the_start_of_side_and_round(store: Store, data: str, to: int) -> None:
    """Round 2 of the piece begins at 86; its second side, right behind the first pair, at 90."""
    session = begin(store)
    session.press(88 if data == "s" else 85)
    async with playing(session) as stage:
        if data == "s":
            await stage.type("   ")
            to = 90
        await stage.type(data)
        if data == "r":
            assert "Back to round 1, top edge: takes back 16 beads." in stage.text
            await stage.type("\r")
        assert stage.session.position == to


async def test_again_and_all_again(store: Store) -> None:
    session = begin(store)
    session.press(9)
    session.undo(times=6)
    async with playing(session) as stage:
        await stage.type("a")
        assert stage.session.position == 4
        await stage.type("2a")
        assert stage.session.position == 6
        await stage.type("e")
        assert stage.session.position == 9


async def test_a_number_before_a_key(store: Store) -> None:
    async with playing(begin(store)) as stage:
        await stage.type("12")
        assert "12 ×" in stage.text
        await stage.type(" ")
        assert stage.session.position == 12
        assert "12 ×" not in stage.text
        await stage.type("3\x1b[D")
        assert stage.session.position == 9
        await stage.type("2\r")
        assert stage.session.position == 16, "the unit at hand, and one more"
        await stage.type("7\x1b")
        assert "7 ×" not in stage.text
        await stage.type(" ")
        assert stage.session.position == 17, "Escape dropped the number"
        await stage.type("\x1b[57;;57u ")
        assert stage.session.position == 26, "a digit of the Kitty protocol"


async def test_a_count_goes_no_further_than_the_question_and_says_so(store: Store) -> None:
    async with playing(begin(store)) as stage:
        await stage.type("9999999 ")
        assert stage.session.outlook.decision is not None
        assert "presses left over: a choice comes first" in stage.text
        assert "Passed on the way: " in stage.text
        assert " × marker (M); the join; reinforcing pass; and more." in " ".join(stage.text.split())


async def test_zero_counts_nothing(store: Store) -> None:
    async with playing(begin(store)) as stage:
        await stage.type("0 ")
        assert stage.session.position == 0
        assert "0 counts nothing." in stage.text


async def test_the_question_is_answered_by_its_keys(store: Store) -> None:
    session = begin(store)
    session.press(10_000)
    session.came_back = None
    async with playing(session) as stage:
        assert "m Another round: a round of 24 beads, 4 stitches on each of 4 sides." in stage.text
        await stage.type(" ")
        assert "First choose: another round, or on to what follows?" in stage.text
        await stage.type("m")
        assert stage.session.outlook.decision is None
        assert stage.session.choices[-1].more  # type: ignore[union-attr]
        await stage.type("\x7f")
        assert stage.session.outlook.decision is not None, "one step back takes the choice back first"
        await stage.type("o")
        assert not stage.session.choices[-1].more  # type: ignore[union-attr]
        assert store.piece(session.piece.id).choices != "[]"


async def test_go_to_by_its_key(store: Store) -> None:
    async with playing(begin(store)) as stage:
        await stage.type("g")
        assert "Go to a place" in stage.text
        await stage.type("2\x1b[B3\x1b[B2")
        # 64 of the band, 16 of round 1; of round 2: SS MM SSS MM SS
        assert "On by 91 beads, counted as laid." in stage.text
        await stage.type("\r")
        outlook = stage.session.outlook
        assert (outlook.round, outlook.side) == (2, 2)
        assert stage.session.position == 97
        await stage.type("g")
        await stage.type("\x1b")
        assert stage.session.position == 97


async def test_step_up_elsewhere_by_its_key(store: Store) -> None:
    session = begin(store)
    session.press(80)
    session.came_back = None
    async with playing(session) as stage:
        await stage.type("w")
        assert "Walk along and step up elsewhere" in stage.text
        await stage.type("\x1b[C\x1b[C\x1b[D14\r")
        assert "Kept until the end of this round." in stage.text
        assert stage.session.choices[-1].spaces == 14  # type: ignore[union-attr]
        await stage.type("0w")
        await stage.type("\r")
        assert stage.session.choices == ()


async def test_showing_keys(store: Store) -> None:
    session = begin(store)
    async with playing(session) as stage:
        remark = session.outlook.remarks[0].text
        assert remark.split(";")[0] in stage.text.replace(" remark ", " ")
        await stage.type("i")
        assert "Remarks are hidden." in stage.text
        assert remark.split(";")[0] not in stage.text
        await stage.type("5d")
        assert session.warn == 5
        assert "warns 5 ahead" in stage.text
        await stage.type("d")
        assert session.warn == 8
        await stage.type("d")
        assert session.warn == 0
        assert "no warnings" in stage.text
        await stage.type("l")
        assert "Space bead" not in stage.text
        await stage.type("l")
        assert "Space bead" in stage.text
        await stage.type("k")
        assert "A key held down counts on and on." in stage.text
        await stage.type("v")
        assert session.outlook.now in stage.text
        assert stage.ear.heard[-1].words == session.speech.again(session.outlook)
        assert session.position == 0


@pytest.mark.parametrize("data", ["h", "?", "\x1bOP", "\x1b[P"])
async def test_help_by_its_keys(store: Store, data: str) -> None:
    async with playing(begin(store, SHORT)) as stage:
        await stage.type(data)
        assert isinstance(stage.app.screen, Reader)
        assert "Take back the last bead or action" in stage.text
        await stage.type("\x1b")
        assert stage.session.position == 0


async def test_find_a_command_by_its_key(store: Store) -> None:
    async with playing(begin(store, SHORT)) as stage:
        await stage.type("\x10")
        assert isinstance(stage.app.screen, Palette)
        await stage.type("one bead\r")
        assert stage.session.position == 1


@pytest.mark.parametrize("data", ["q", "\x11", "\x03"])
async def test_quit_by_its_keys(store: Store, data: str) -> None:
    async with playing(begin(store, SHORT)) as stage:
        assert isinstance(stage.app, ScreensApp)
        await stage.type(data)
        assert not stage.app.is_running


def test_every_key_of_the_screen_is_tried_here() -> None:
    """Keys as the toolkit names them, and the bytes above that make them."""
    tried = {"space", "pagedown", "right", "enter", "backspace", "pageup", "left", "t", "s", "r", "a", "e", "g", "w"}
    tried |= {
        "m",
        "o",
        "d",
        "i",
        "l",
        "v",
        "c",
        "z",
        "y",
        "u",
        "f",
        "x",
        "p",
        "j",
        "n",
        "f2",
        "f3",
        "f4",
        "delete",
        "k",
        "b",
        "h",
        "f1",
        "question_mark",
        "ctrl+p",
        "q",
        "ctrl+q",
        "ctrl+c",
    }
    assert {key for item in commands("stitching") for key in item.keys} == tried


async def test_f3_shows_the_form_and_escape_comes_back(store: Store) -> None:
    async with playing(begin(store, SHORT)) as stage:
        before = stage.lines
        await stage.type("\x1bOR")
        assert isinstance(stage.app.screen, FormScreen)
        await stage.type("\x1b")
        assert stage.lines == before


@pytest.mark.parametrize("data", ["\x1b[57441;2u", "\x1b[15~", "\x1b[A", "\t", "\x1b[Z", "ü", "漢"])
async def test_other_keys_do_nothing(store: Store, data: str) -> None:
    """A bare modifier (Kitty 57441, left Shift), a letter without a command, F5, arrows."""
    async with playing(begin(store, SHORT)) as stage:
        before = stage.lines
        await stage.type(data)
        assert stage.session.position == 0
        assert stage.lines == before


async def test_keys_of_ones_own_count_and_are_shown(store: Store) -> None:
    own = commands_of(settings_from("[keys.map]\nbead = ['f8', 'b']\nfigures = 'f9'\nhelp = 'f10'", ""))
    session = begin(store)
    async with playing(session, preferences=Preferences(commands=own)) as stage:
        assert "F8 bead" in stage.text
        await stage.type("b")
        await stage.type("\x1b[19~")
        assert session.position == 2
        await stage.type(" ")
        assert session.position == 2, "the usual key is free then"
        await stage.type("\x1b[21~")
        assert isinstance(stage.app.screen, Reader)
        assert "F8, b" in stage.text


async def test_the_guard_goes_by_its_own_figures(store: Store) -> None:
    session = begin(store)
    async with playing(session, preferences=Preferences(held=(0.3, 3, (0.18, 1.2)))) as stage:
        await stage.type("  ", gap=0.25)
        assert session.position == 1
        await stage.type(" ", gap=0.35)
        assert session.position == 2
