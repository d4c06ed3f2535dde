"""What lies beside the work, on its sheets: driven by keys, drawn at every size."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from stitchalong.course.strand import last_beads
from stitchalong.measure.units import Units
from stitchalong.screens.beside.opening import sheet_for
from stitchalong.screens.beside.sheet import Done, Sheet, entries, typed
from stitchalong.screens.glyphs import ASCII, BLOCKS
from stitchalong.screens.lines import text_of, width_of
from stitchalong.session import Session
from stitchalong.store import Store
from tests.screens.acting import COVE, SHORT, Clock, begin, flat, playing, texts

SIZES = ((118, 39), (78, 23), (38, 11))
SIZED = COVE.replace('colour = "', 'size = "11/0"\nshape = "cylinder"\ncolour = "')
SHEETS = ("find", "recount", "tray", "thread", "note", "take_out", "chart")


def _drawn(sheet: Sheet) -> str:
    """The sheet at its middle size; at every size and with both sets of signs nothing is cut off."""
    for width, height in SIZES:
        for glyphs in (BLOCKS, ASCII):
            lines = sheet.lines(width, height, glyphs)
            assert len(lines) <= height
            assert all(width_of(some) <= width for some in lines), [text_of(some) for some in lines]
            if glyphs.ascii:
                assert all(text_of(some).isascii() for some in lines)
    assert sheet.keys
    return flat(texts(sheet.lines(*SIZES[1], BLOCKS)))


def _keys(sheet: Sheet, *keys: str) -> Sheet | Done:
    """Press keys one after the other; a text of several characters that is no key is typed."""
    after: Sheet | Done = sheet
    for key in keys:
        for one in _pressed(key):
            assert not isinstance(after, Done), "the sheet is closed already"
            after = after.press(*one)
            if not isinstance(after, Done):
                _drawn(after)
    return after


def _pressed(key: str) -> Iterator[tuple[str, str]]:
    if key in ("enter", "escape", "up", "down", "left", "right", "backspace", "delete", "tab", "home"):
        yield key, ""
    else:
        yield from ((one, one) for one in key)


def _open(wanted: str, session: Session, count: int | None = None) -> Sheet:
    sheet = sheet_for(wanted, session, count)
    assert sheet is not None
    _drawn(sheet)
    return sheet


def _sheet(after: Sheet | Done) -> Sheet:
    assert not isinstance(after, Done)
    return after


def _done(after: Sheet | Done) -> Done:
    assert isinstance(after, Done)
    return after


@pytest.mark.parametrize("wanted", SHEETS)
@pytest.mark.parametrize("presses", [0, 1, 40, 90])
def test_every_sheet_is_drawn_at_every_size_and_escape_leaves_it(store: Store, wanted: str, presses: int) -> None:
    session = begin(store, SIZED)
    if presses:
        session.press(presses)
    assert _done(_keys(_open(wanted, session), "escape")) == Done()
    assert session.position == presses


def test_only_these_commands_have_a_sheet(store: Store) -> None:
    session = begin(store, SHORT)
    assert sheet_for("bead", session, None) is None


# ---- find ---------------------------------------------------------------------------------------


def test_a_lost_place_is_found_while_one_types(store: Store) -> None:
    session = begin(store)
    session.press(90)
    last = last_beads(session.course, 90, 8)
    session.go_to(20)
    sheet = _sheet(_keys(_open("find", session), " ".join(last)))
    assert "places fit all you see" in _drawn(sheet) or "the only place" in _drawn(sheet).lower()
    there = _sheet(_keys(sheet, "enter"))
    assert "There: " in _drawn(there)
    act = _done(_keys(there, "enter")).act
    assert act is not None
    act()
    assert session.position != 20
    assert session.course.beads_before(session.position) >= 8


def test_what_is_no_clue_is_told_at_once(store: Store) -> None:
    session = begin(store)
    assert "There is no bead Q in this piece: its beads are C, M, S." in _drawn(
        _sheet(_keys(_open("find", session), "qq"))
    )
    gone = _sheet(_keys(_open("find", session), "c", "backspace"))
    assert "Type the last beads" in _drawn(gone)
    letters = _sheet(_keys(_open("find", session), "down", "x", "down", "down", "c", "c"))
    assert "places fit" in _drawn(letters), "digits alone go into a number, one letter into the colour"


# ---- recount ------------------------------------------------------------------------------------


def _after_round(session: Session) -> None:
    session.press(session.course.rounds[1].stop_step - session.position)


def test_a_count_that_is_right_is_told_and_closes(store: Store) -> None:
    session = begin(store)
    _after_round(session)
    assert "the plan has 16 beads" in _drawn(_sheet(_keys(_open("recount", session), "right")))
    done = _done(_keys(_open("recount", session), "right", "16", "enter"))
    assert done.act is None
    assert done.message == "This round, round 1, top edge: 16 beads, as it should be."


def test_a_count_that_differs_names_faults_and_accepts_one(store: Store) -> None:
    session = begin(store)
    _after_round(session)
    found = _sheet(_keys(_open("recount", session), "right", "15", "enter"))
    assert "1 bead fewer than the plan's 16 beads" in _drawn(found)
    assert "▶ the work is right, the count is not: set it to 15" in _drawn(found)
    assert "Enter sets the count 1 bead back." in _drawn(found)
    assert _keys(found, "a") == found, "then the plan is not changed"
    found = _sheet(_keys(found, "down"))
    assert "the last space was left out" in _drawn(found)
    assert "Look the last space before the step-up" in _drawn(found)
    act = _done(_keys(found, "a")).act
    assert act is not None
    assert act().message.startswith("Accepted: round 1, top edge: no bead in the 16th space")
    assert session.differs


def test_presses_forgotten_are_counted_by_enter(store: Store) -> None:
    session = begin(store)
    session.press(session.course.rounds[1].first_step + 4)
    laid = session.outlook.beads_done
    found = _sheet(_keys(_open("recount", session), "right", "6", "enter"))
    assert "Enter sets the count 2 beads further on." in _drawn(found)
    act = _done(_keys(found, "enter")).act
    assert act is not None
    act()
    assert session.outlook.beads_done == laid + 2


def test_one_goes_back_to_the_place_that_was_marked(store: Store) -> None:
    session = begin(store)
    session.press(session.course.rounds[2].stop_step - 1)
    found = _sheet(_keys(_open("recount", session), "right", "19", "enter", "down", "right"))
    act = _done(_keys(found, "enter")).act
    assert act is not None
    act()
    assert session.outlook.title == "round 2, top edge"
    assert "increase" in session.outlook.now.lower()


def test_a_number_before_the_key_is_the_count(store: Store) -> None:
    session = begin(store)
    _after_round(session)
    assert "more than the plan's" in _drawn(_open("recount", session, 9))
    first = begin(store, SHORT)
    assert "Nothing is laid yet" in _drawn(_open("recount", first, 9))


# ---- tray ---------------------------------------------------------------------------------------


def test_the_tray_lists_the_heaps_and_says_what_is_left_over_means(store: Store) -> None:
    session = begin(store)
    session.press(70)
    text = _drawn(_open("tray", session))
    for words in (
        "left over (1S), short (-1S)",
        "this side:",
        "round 1, top edge:",
        "round 2, top edge:",
        "all together:",
    ):
        assert words in text
    told = _sheet(_keys(_open("tray", session), "1s", "enter"))
    assert "1 S left over: 1 space of this round missed" in _drawn(told)
    wrong = _sheet(_keys(_open("tray", session), "1q", "enter"))
    assert "No Q was counted out for this round" in _drawn(wrong)


# ---- thread -------------------------------------------------------------------------------------


def test_a_thread_is_entered_in_the_units_of_the_settings(store: Store) -> None:
    session = begin(store, SIZED)
    act = _done(_keys(_open("thread", session), "150", "enter")).act
    assert act is not None
    act()
    assert session.thread_entries()[-1].length == 1500
    assert "about 1.4 m left" in _drawn(_open("thread", session)).lower()
    inches = sheet_for("thread", session, 20, Units.INCH)
    assert inches is not None
    act = _done(_keys(inches, "right", "enter")).act
    assert act is not None
    act()
    assert session.thread_entries()[-1].length == pytest.approx(508)
    assert not session.thread_entries()[-1].new


def test_a_thread_that_cannot_be_is_told_and_the_sheet_stays(store: Store) -> None:
    session = begin(store, SIZED)
    assert "more than anybody stitches with" in _drawn(_sheet(_keys(_open("thread", session), "9999", "enter")))
    assert "Type how long it is" in _drawn(_sheet(_keys(_open("thread", session), "enter")))
    assert session.thread_entries() == []


# ---- notes --------------------------------------------------------------------------------------


def test_notes_are_pinned_gone_to_and_taken_off(store: Store) -> None:
    session = begin(store)
    session.press(30)
    done = _done(_keys(_open("note", session), "blue ran out", "enter"))
    assert done.message == "Pinned here: blue ran out"
    session.press(40)
    text = _drawn(_open("note", session))
    assert "the band: blue ran out" in text
    act = _done(_keys(_open("note", session), "down", "enter")).act
    assert act is not None
    act()
    assert session.position == 30
    empty = _sheet(_keys(_open("note", session), "down", "delete"))
    assert "blue" not in _drawn(empty)
    assert session.notes == ()
    assert "Type what to remember" in _drawn(_sheet(_keys(_open("note", session), "enter")))


def test_signs_of_a_note_do_not_steer_the_screen(store: Store) -> None:
    session = begin(store)
    session.press(3)
    session.pin_note("[/] [click=x] \x1b[31m red")
    assert "[/] [click=x]" in _drawn(_open("note", session))


# ---- taking out ---------------------------------------------------------------------------------


def test_beads_taken_out_say_first_what_they_take(store: Store) -> None:
    session = begin(store)
    session.press(90)
    sheet = _sheet(_keys(_open("take_out", session), "12"))
    assert "takes back 12 beads" in _drawn(sheet)
    act = _done(_keys(sheet, "enter")).act
    assert act is not None
    assert act().message.startswith("12 beads taken out.")
    many = _sheet(_keys(_open("take_out", session), "900"))
    assert "beads are laid" in _drawn(many)


def test_a_burst_is_offered(store: Store) -> None:
    session = begin(store)
    for _ in range(9):
        session.press()
    sheet = _open("take_out", session)
    assert "came in a burst: 9 presses in 0 s" in _drawn(sheet)
    act = _done(_keys(sheet, "b")).act
    assert act is not None
    act()
    assert session.position == 0


# ---- the chart ----------------------------------------------------------------------------------


def test_the_chart_shows_what_is_laid_what_comes_and_the_next_bead(store: Store) -> None:
    session = begin(store)
    session.press(70)
    sheet = _open("chart", session)
    text = _drawn(sheet)
    assert text.startswith(f"Otter cove: {session.outlook.beads_done} of ")
    lines = sheet.lines(200, 60, BLOCKS)[1:]
    signs = [span for some in lines for span in some if span.text.strip()]
    beads = [span for span in signs if len(span.text) == 1]
    assert len(beads) == session.course.beads, "at this size the whole band is seen, and no bead hides another"
    assert [span.text for span in beads if span.ink == "here"] == ["S"]
    assert sum(span.text.isupper() for span in beads) == session.outlook.beads_done + 1
    assert sum(span.text.islower() for span in beads) == session.outlook.left_piece - 1


def test_the_chart_follows_the_needle_and_the_arrows(store: Store) -> None:
    session = begin(store)
    session.press(90)
    sheet = _open("chart", session)
    here = texts(sheet.lines(38, 11, BLOCKS))
    there = texts(_sheet(_keys(sheet, "right", "right")).lines(38, 11, BLOCKS))
    assert here != there
    assert texts(_sheet(_keys(sheet, "right", "right", "home")).lines(38, 11, BLOCKS)) == here
    plain = _sheet(_keys(sheet, "l"))
    assert "█" in "".join(texts(plain.lines(78, 23, BLOCKS)))


# ---- small parts --------------------------------------------------------------------------------


# ---- on the stitching screen -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("data", "title"),
    [
        ("f", "Find my place"),
        ("x", "Recount"),
        ("\x1bOQ", "Beads to count out"),
        ("j", "The thread"),
        ("n", "A note for this place"),
        ("\x1b[3~", "Beads taken out"),
        ("p", "Otter cove: "),
    ],
)
async def test_each_sheet_opens_by_its_key_and_closes_without_counting(store: Store, data: str, title: str) -> None:
    session = begin(store)
    session.press(70)
    session.came_back = None
    async with playing(session) as stage:
        await stage.type(data)
        assert title in stage.text
        await stage.type("\x1b")
        assert stage.app.screen is stage.screen
        assert session.position == 70


async def test_what_a_sheet_asks_for_is_done(store: Store) -> None:
    session = begin(store)
    session.press(70)
    session.came_back = None
    async with playing(session) as stage:
        await stage.type("\x1b[3~")
        await stage.type("12\r")
        assert session.outlook.beads_done == 65 - 12
        assert "12 beads taken out." in stage.text
        await stage.type("n")
        await stage.type("mend the tail\r")
        assert "Pinned here: mend the tail" in stage.text
        await stage.type(" ")
        await stage.type("\x7f")
        assert "Your note here: mend the tail." in stage.text


async def test_time_and_a_reminder_to_look_up(store: Store, clock: Clock) -> None:
    session = begin(store)
    async with playing(session, clock=clock) as stage:
        await stage.type("\x10")
        await stage.type("time and pace\r")
        assert "your pace is known after some twenty beads" in flat(stage.text.split("\n"))
        begun = clock.now
        for _ in range(30):
            clock.now += 50
            await stage.type(" ")
            if "Look up" in stage.text:
                break
        assert "Look up: 20 seconds at something 6 metres away, and blink." in stage.text
        assert clock.now - begun == pytest.approx(20 * 60, abs=100)


def test_a_field_takes_what_it_is_for() -> None:
    assert typed("ab", "backspace", "") == "a"
    assert typed("ab", "c", "c") == "abc"
    assert typed("1", "x", "x", digits=True) is None
    assert typed("1", "²", "²", digits=True) is None
    assert typed("", "f5", "") is None
    assert typed("", "tab", "\t") is None


@pytest.mark.parametrize(("at", "count", "rows"), [(0, 5, 3), (4, 5, 3), (2, 5, 3), (-1, 5, 3), (1, 2, 9), (0, 0, 3)])
def test_the_marked_entry_is_always_in_sight_and_whole_ones_round_it(at: int, count: int, rows: int) -> None:
    shown = texts(entries([f"entry {nth}" for nth in range(count)], at, rows, 20, BLOCKS))
    assert len(shown) == min(rows, count)
    numbers = [int(text[-1]) for text in shown]
    assert numbers == list(range(numbers[0], numbers[0] + len(numbers))) if numbers else not count
    assert [text for text in shown if not text.startswith("  ")] == ([f"▶ entry {at}"] if at >= 0 and count else [])
    long = entries(["a b " * 30, "c"], 0, 4, 20, BLOCKS)
    assert len(long) == 4


WEAVE = SHORT.replace('"ring"\nbeads = "4W"', '"right-angle weave row"\nbeads = "16W"').replace(
    'stitch = "peyote"\nrounds', 'stitch = "right-angle weave"\nrows'
)


def test_the_chart_of_a_weave_shows_each_cell_with_its_four_sides(store: Store) -> None:
    """Five units in two rows: rows of tops and bottoms between rows of sides, each bead once, none hidden."""
    session = begin(store, WEAVE)
    session.press(3)
    sheet = _open("chart", session)
    assert session.course.beads == 16 + 11
    shown = [line for line in texts(sheet.lines(78, 23, BLOCKS))[1:] if line.strip()]
    assert [sum(letter in "Ww" for letter in line) for line in shown] == [5, 6, 5, 6, 5]
    assert sum(line.count("W") for line in shown) == 4, "three that are laid, and the next one"
