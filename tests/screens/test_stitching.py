"""What the stitching screen does besides counting: coming back, asking first, two windows, lost focus, held keys."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from rich.cells import cell_len
from textual import events
from textual._xterm_parser import XTermParser

from stitchalong.errors import StoreError
from stitchalong.screens.app import ScreensApp, stitching_app
from stitchalong.screens.canvas import Canvas
from stitchalong.screens.glyphs import BLOCKS
from stitchalong.screens.inks import COLOURLESS, EVENING
from stitchalong.screens.lines import text_of
from stitchalong.screens.parts import header
from stitchalong.screens.preferences import Preferences
from stitchalong.session import Session
from stitchalong.store import Store
from tests.screens.acting import COVE, NOON, SHORT, Clock, Stage, begin, flat, playing

SIZES = ((120, 40), (80, 24), (40, 12))


def stopped_at(store: Store, clock: Clock, position: int) -> Session:
    """A piece left at a position, two days ago."""
    session = begin(store)
    clock.now = NOON - 2 * 86_400
    session.press(position)
    clock.now = NOON
    return Session.resume(store, session.piece.id)


@pytest.mark.parametrize("size", SIZES)
async def test_on_coming_back_it_says_when_and_where(store: Store, clock: Clock, size: tuple[int, int]) -> None:
    session = stopped_at(store, clock, 91)
    async with playing(session, size) as stage:
        assert "You stopped on Friday 13 June 2025 at 15:06, 2 days ago." in stage.text
        assert "Round 2, top edge, side 2 of 4, 2 left on this side." in stage.text
        assert "(S)(S)(S)(S)(S)(S)(S)(S)(M)(M)(S)══»" in stage.text
        assert "The thread comes out of S" in stage.text
        assert "on the top edge, in the direction of work." in stage.text
        assert "The first key only closes this." in stage.text
        assert "Up, Down" not in stage.text, "it fits as it is"
        assert "Space go on (not counted)" in stage.text


@pytest.mark.parametrize(("data", "then"), [(" ", 91), ("\r", 91), ("\x7f", 91), ("\x1b", 91), ("\x1b[6~", 91)])
async def test_the_first_press_closes_the_panel_and_the_next_counts(
    store: Store, clock: Clock, data: str, then: int
) -> None:
    session = stopped_at(store, clock, 91)
    async with playing(session) as stage:
        await stage.type(data)
        assert stage.session.position == then
        assert "Welcome back" not in stage.text
        await stage.type(" ")
        assert stage.session.position == then + 1


async def test_a_command_closes_the_panel_and_is_done(store: Store, clock: Clock) -> None:
    async with playing(stopped_at(store, clock, 91)) as stage:
        await stage.type("g")
        assert "Go to a place" in stage.text


async def test_a_piece_just_begun_has_no_welcome(store: Store) -> None:
    async with playing(begin(store)) as stage:
        assert "Welcome back" not in stage.text


async def test_a_large_step_back_says_first_what_it_takes(store: Store) -> None:
    session = begin(store)
    session.press(85)
    async with playing(session) as stage:
        await stage.type("20\x7f")
        assert "Take back?" in stage.text
        assert "Back to the band: takes back 17 beads and 3 passes." in stage.text
        assert stage.session.position == 85
        await stage.type(" ")
        assert stage.session.position == 85
        assert "Nothing was changed." in stage.text
        await stage.type("20\x7f\r")
        assert stage.session.position == 65
        await stage.type("e")
        assert stage.session.position == 85


async def test_a_small_step_back_is_taken_at_once(store: Store) -> None:
    session = begin(store)
    session.press(30)
    async with playing(session) as stage:
        await stage.type("3\x7f")
        assert stage.session.position == 27
        assert "3 beads taken back, to the band." in stage.text


async def test_cues_are_told_at_each_press(store: Store) -> None:
    session = begin(store)
    session.press(90)
    async with playing(session) as stage:
        await stage.type("   ")
        assert [cue.earcon for cue in stage.ear.heard] == ["heads-up", "bead", "now"]
        assert [cue.words for cue in stage.ear.heard] == [
            "increase in two",
            "",
            "side done, two gorse together, then one in the small space beside it",
        ]
        assert stage.ear.heard[0].screen == "2-bead increase (MM) in 2 beads, then one in the small space beside it"


async def test_without_an_outlet_the_bell_rings_for_warnings_and_not_for_beads(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    session = begin(store)
    session.press(89)
    session.came_back = None
    rung: list[int] = []
    monkeypatch.setattr(ScreensApp, "bell", lambda app: rung.append(session.position))
    app, outlet = stitching_app(session, clock=Clock())
    assert outlet.describe() == "bell"
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        stage = Stage(app, pilot)
        await stage.type("     ")
        assert rung == [91, 93], "two beads before the pair, and at it"
        outlet.close()
        await stage.type("   ")
        assert rung == [91, 93], "closed it is silent"


async def test_a_lost_focus_is_told_until_it_is_back(store: Store) -> None:
    async with playing(begin(store)) as stage:
        await stage.type("\x1b[O")
        assert "Not listening: this window is not in front." in stage.text
        await stage.type("\x1b[I")
        assert "Not listening" not in stage.text
        await stage.type("\x1b[O ")
        assert "Not listening" not in stage.text, "a key that arrives shows that it listens"
        assert stage.session.position == 1


@pytest.mark.parametrize("size", SIZES)
async def test_a_lost_focus_is_told_at_every_size(store: Store, size: tuple[int, int]) -> None:
    async with playing(begin(store), size) as stage:
        await stage.type("\x1b[O")
        assert "Not listening: this window is not in front. Keys go elsewhere until it is." in stage.text


async def test_a_paste_is_not_counted(store: Store) -> None:
    """Bracketed paste, as xterm's control sequences have it: `CSI 200 ~` … `CSI 201 ~`."""
    async with playing(begin(store)) as stage:
        await stage.type("\x1b[200~      \r\r\x1b[201~")
        assert stage.session.position == 0
        assert "Something was pasted; it is not counted." in stage.text


def keys(data: str, times: list[float]) -> list[events.Event]:
    """The same key at each of these times."""
    made: list[events.Event] = []
    for at in times:
        message = next(iter(XTermParser().feed(data)))
        assert isinstance(message, events.Key)
        message.time = at
        made.append(message)
    return made


HELD = [10.0, 10.5, *(10.53 + 0.03 * nth for nth in range(20))]
"""a key held for about a second: the usual wait of half a second, then thirty a second"""


async def test_a_held_key_counts_once_and_says_so(store: Store) -> None:
    async with playing(begin(store)) as stage:
        await stage.send(*keys(" ", HELD))
        assert stage.session.position == 1
        assert store.piece(stage.session.piece.id).position == 1
        assert "That key was held down: it is counted once." in stage.text


async def test_a_held_key_that_takes_back_takes_one(store: Store) -> None:
    session = begin(store)
    session.press(30)
    async with playing(session) as stage:
        await stage.send(*keys("\x7f", HELD))
        assert stage.session.position == 29


async def test_a_held_enter_finishes_one_stitch(store: Store) -> None:
    async with playing(begin(store)) as stage:
        await stage.send(*keys("\r", HELD))
        assert stage.session.position == 4


async def test_the_guard_can_be_switched_off(store: Store) -> None:
    async with playing(begin(store), preferences=Preferences(guard=False)) as stage:
        await stage.send(*keys(" ", HELD))
        assert stage.session.position == len(HELD)


async def test_tapping_in_time_loses_none(store: Store) -> None:
    async with playing(begin(store)) as stage:
        await stage.send(*keys(" ", [20.0 + 0.35 * nth for nth in range(15)]))
        assert stage.session.position == 15


async def test_arrows_in_a_form_may_be_held(store: Store) -> None:
    async with playing(begin(store)) as stage:
        await stage.type("g")
        await stage.send(*keys("\x1b[C", [30.0, 30.03]))
        assert "round 2 " in stage.text


async def test_another_window_is_told_at_once_and_can_be_taken_over(store: Store) -> None:
    session = begin(store)
    other = Session.resume(store, session.piece.id)
    async with playing(session) as stage:
        other.press(7)
        await stage.type(" ")
        assert "This piece was worked on in another window" in stage.text
        assert store.piece(session.piece.id).position == 7
        assert stage.ear.heard[-1].urgent
        await stage.type("\r")
        assert stage.session.position == 7
        assert "Welcome back" in stage.text
        await stage.type("  ")
        assert stage.session.position == 8


async def test_another_window_a_choice_that_is_not_kept_changes_nothing(store: Store) -> None:
    session = begin(store)
    session.press(10_000)
    other = Session.resume(store, session.piece.id)
    async with playing(session) as stage:
        other.choose(True)
        await stage.type("o")
        assert "This piece was worked on in another window" in stage.text
        assert session.choices == ()
        assert session.outlook.decision is not None


async def test_leaving_a_piece_to_the_other_window(store: Store) -> None:
    session = begin(store)
    other = Session.resume(store, session.piece.id)
    async with playing(session) as stage:
        other.press()
        await stage.type(" q")
        assert not stage.app.is_running


async def test_a_press_that_is_not_kept_is_not_shown(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    async with playing(begin(store)) as stage:

        def full(*args: object, **more: object) -> int:
            raise StoreError("the disk is full", fix="make room")

        monkeypatch.setattr(store, "record", full)
        await stage.type(" ")
        assert "This press was not kept" in stage.text
        assert "The disk is full (make room)." in stage.text
        assert stage.session.position == 0
        monkeypatch.undo()
        await stage.type("\r ")
        assert stage.session.position == 1


async def test_the_whole_of_a_short_piece_to_its_end(store: Store) -> None:
    session = begin(store, SHORT)
    async with playing(session) as stage:
        while not session.outlook.done:
            await stage.type(" ")
        assert "the piece is done" in stage.text
        assert "Well done: Puddle, 8 beads, every one in its place." in stage.text
        assert "Count your needles in" in stage.text
        assert store.piece(session.piece.id).state == "finished"
        await stage.type(" ")
        assert "The piece is done; nothing comes after the last bead." in stage.text


async def test_how_it_came_out_is_asked_where_it_is_done(store: Store) -> None:
    session = begin(store, SHORT)
    async with playing(session, (80, 24)) as stage:
        while not session.outlook.done:
            await stage.type(" ")
        assert "your own gauge: press e." in flat(stage.text.split("\n"))
        assert "e how did it come out?" in stage.text
        await stage.type("e")
        assert "how did it come out?" in stage.text
        await stage.type("\r")
        assert "is finished." in stage.text
        await stage.pilot.press("backspace")
        assert not session.outlook.done, "the piece can be gone on with in the same window"


async def test_only_what_changed_is_painted_again(store: Store) -> None:
    """After each press the composed screen is what a whole painting would be."""
    session = begin(store)
    session.press(84)
    session.came_back = None
    async with playing(session, (80, 24)) as stage:
        canvas = stage.app.screen.query_one(Canvas)
        refreshed: list[int] = []
        usual = canvas.refresh

        def watched(*regions: object, **more: object) -> Canvas:
            refreshed.append(len(regions))
            return usual(*regions, **more)  # type: ignore[arg-type]

        canvas.refresh = watched  # type: ignore[method-assign, assignment]
        for _ in range(6):
            await stage.type(" ")
            shown = [
                "".join(segment.text for segment in strip) for strip in stage.app.screen._compositor.render_strips()
            ]
            assert shown == [line.ljust(80) for line in stage.lines]
        assert refreshed
        assert all(0 < rows < 20 for rows in refreshed)


async def test_a_title_of_markup_is_shown_as_it_is_and_does_nothing(store: Store) -> None:
    text = COVE.replace("Otter cove", "[/][click=app.quit][red]Otter")
    async with playing(begin(store, text)) as stage:
        assert stage.lines[0].startswith(" [/][click=app.quit][red]Otter")
        await stage.type(" ")
        assert stage.session.position == 1


async def test_a_warning_looks_different_without_any_colour(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    """`NO_COLOR` (no-color.org): reversed and bold, with a sign and words; nothing but those."""
    monkeypatch.setenv("NO_COLOR", "1")
    session = begin(store)
    session.press(93)
    session.came_back = None
    async with playing(session) as stage:
        canvas = stage.app.screen.query_one(Canvas)
        assert canvas.look is COLOURLESS
        row = next(nth for nth, line in enumerate(stage.lines) if "Now: 2-bead increase" in line)
        styles = [segment.style for segment in canvas.render_line(row) if segment.style is not None]
        assert styles
        assert all(style.reverse and style.bold and style.color is None for style in styles)
        for y in range(24):
            for segment in canvas.render_line(y):
                assert segment.style is not None
                assert segment.style.color is None
                assert segment.style.bgcolor is None


async def test_a_resized_terminal_gets_another_picture(store: Store) -> None:
    async with playing(begin(store)) as stage:
        assert len(stage.lines) == 24
        await stage.pilot.resize_terminal(40, 12)
        await stage.pilot.pause()
        assert len(stage.lines) == 12
        assert {len(line) for line in stage.lines} == {40}


async def test_the_means_of_warning_stand_in_the_header(store: Store) -> None:
    async with playing(begin(store)) as stage:
        assert "a listening test · warns 2 ahead" in stage.text
        stage.ear.describe = lambda: "bell only"  # type: ignore[method-assign]
        stage.app.means_changed()
        await stage.pilot.pause()
        assert "bell only · warns 2 ahead" in stage.text


async def test_colours_are_used_where_they_may_be(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    async with playing(begin(store)) as stage:
        assert stage.app.screen.query_one(Canvas).look is EVENING


@pytest.mark.parametrize(
    ("width", "shown"),
    [
        (100, "bell only (no sound device) · warns 2 ahead"),
        (76, "bell only (no sound device) · 2 ahead"),
        (46, "bell only"),
    ],
)
def test_a_long_title_never_hides_how_one_is_warned(width: int, shown: str) -> None:
    view = SimpleNamespace(
        title="A title of thirty-one characters", name="its-own-name", warn=2,
        showing=SimpleNamespace(means="bell only (no sound device)", scope="stitching", unkept=False),
    )  # fmt: skip
    words = text_of(header(view, width, BLOCKS))  # type: ignore[arg-type]
    assert shown in words
    assert cell_len(words) <= width
