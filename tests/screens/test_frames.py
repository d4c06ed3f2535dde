"""The stitching screen as text, at the three sizes it is made for, and at all sizes between and below."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len

from stitchalong.course.walker import ahead
from stitchalong.plan.library import shipped
from stitchalong.plan.read import read_plan
from stitchalong.screens.glyphs import ASCII, BLOCKS, LOW, TALL, Glyphs
from stitchalong.screens.layout import paint, thread_room
from stitchalong.screens.view import Showing, Viewer
from stitchalong.session import Session
from stitchalong.store import Store
from tests.screens.acting import COVE, Clock, begin, flat, open_store, texts

SIZES = ((120, 40), (80, 24), (40, 12))
Golden = Callable[[str, Iterable[str]], None]


def frame(
    session: Session, width: int, height: int, showing: Showing | None = None, glyphs: Glyphs = BLOCKS
) -> list[str]:
    view = Viewer(session).view(showing or Showing(means="bell"), *thread_room(width))
    return texts(paint(view, width, height, glyphs))


def walk_to(session: Session, position: int) -> None:
    """Press on to a position; open questions are answered with another round as long as that can be."""
    while session.position < position:
        session.press(position - session.position)
        if session.position < position:
            decision = session.outlook.decision
            assert decision is not None
            session.choose(decision.done < 4)


MOMENTS = {
    "first-bead": 0,
    "unit-half-strung": 38,
    "before-the-join": 58,
    "step-up": 85,
    "two-before-an-increase": 91,
    "increase": 93,
    "pair-half-laid": 94,
    "small-space": 95,
}


@pytest.mark.parametrize("moment", MOMENTS)
@pytest.mark.parametrize(("width", "height"), SIZES)
def test_golden_frames(store: Store, golden: Golden, moment: str, width: int, height: int) -> None:
    session = begin(store)
    walk_to(session, MOMENTS[moment])
    golden(f"{moment}-{width}x{height}", frame(session, width, height))


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_golden_frames_of_a_question(store: Store, golden: Golden, width: int, height: int) -> None:
    session = begin(store)
    session.press(10_000)
    assert session.outlook.decision is not None
    golden(f"question-{width}x{height}", frame(session, width, height))


@pytest.mark.parametrize(("width", "height"), [(120, 40), (80, 24), (60, 20)])
def test_a_title_as_long_as_the_screen_is_wide_is_cut_and_the_warning_is_not(
    store: Store, width: int, height: int
) -> None:
    session = begin(store, COVE.replace("Otter cove", "Otter " * 24 + "cove"))
    first = frame(session, width, height)[0]
    assert first.startswith(" Otter Otter")
    assert first.rstrip().endswith("bell")
    assert cell_len(first) == width


@pytest.mark.parametrize("message", ["", "First choose: another round, or on to what follows?", "m " * 60])
def test_a_question_never_hides_where_one_is_nor_the_keys_that_answer(store: Store, message: str) -> None:
    """On the smallest screen, with the longest sides that are named one by one, and with something said above it."""
    sides = "*20S, M, 21S, M* 4 times"
    session = begin(store, COVE.replace("*3S, M* 4 times", sides))
    session.press(100_000)
    assert session.outlook.decision is not None
    lines = frame(session, 40, 12, Showing(means="bell", message=message))
    assert lines[0].startswith("round 2, top edge")
    assert lines[0].rstrip().endswith("%")
    assert lines[-1].startswith("m another round  o on to what follows")
    assert "Another round: " in flat(lines)
    assert "On to what follows: " in flat(lines)
    assert not any("…" in line for line in lines)


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_golden_frames_of_the_end(store: Store, golden: Golden, width: int, height: int) -> None:
    session = begin(store)
    while not session.outlook.done:
        session.press(10_000)
        if session.outlook.decision is not None:
            session.choose(False)
    golden(f"done-{width}x{height}", frame(session, width, height))


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_golden_frames_of_the_large_view(store: Store, golden: Golden, width: int, height: int) -> None:
    session = begin(store)
    walk_to(session, 93)
    golden(f"large-{width}x{height}", frame(session, width, height, Showing(large=True)))


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_golden_frames_in_ascii(store: Store, golden: Golden, width: int, height: int) -> None:
    session = begin(store)
    walk_to(session, 93)
    lines = frame(session, width, height, glyphs=ASCII)
    assert all(line.isascii() for line in lines)
    golden(f"ascii-{width}x{height}", lines)


def every_course() -> Iterator[Session]:
    """Each plan that ships, open rises worked on as far as they go or four rounds."""
    for path in shipped():
        loaded = read_plan(path)
        with tempfile.TemporaryDirectory() as folder:
            store = open_store(Path(folder), Clock())
            session = Session.begin(
                store, plan=loaded.plan, plan_text=loaded.text, plan_data=loaded.data, plan_name=path.name
            )
            while session.outlook.decision is not None or not session.outlook.done:
                session.press(max(1, ahead(session.course, session.position) - session.position))
                if session.outlook.decision is not None:
                    session.choose(session.outlook.decision.done < 4)
            yield session
            store.close()


def test_nothing_is_cut_off_anywhere_in_a_plan_that_ships() -> None:
    """At each sentence of each plan: lines of the exact width, and number, sentence and warning whole."""
    seen = 0
    for session in every_course():
        viewer = Viewer(session)
        told: set[tuple[object, ...]] = set()
        for position in range(session.course.steps):
            outlook = session.lookout.at(position)
            kind = (outlook.now, outlook.big_label, outlook.special, outlook.next and outlook.next.words, outlook.cut)
            if kind in told:
                continue
            told.add(kind)
            session._walker = type(session._walker)(position, position)
            session.outlook = outlook
            for width, height in SIZES:
                view = viewer.view(Showing(means="bell"), *thread_room(width))
                lines = texts(paint(view, width, height, BLOCKS))
                assert len(lines) == height
                assert {cell_len(line) for line in lines} == {width}
                text = flat(lines)
                assert (outlook.now if width >= 60 else view.brief[0]) in text, (session.plan.title, position, width)
                assert outlook.big_label in text
                if view.warning is not None:
                    assert view.warning.text[1:] in text
                seen += 1
    assert seen > 600


@pytest.mark.parametrize(
    ("size", "rows", "glyphs", "columns"),
    [
        ((120, 40), TALL, BLOCKS, 18),
        ((80, 24), TALL, BLOCKS, 18),
        ((40, 12), LOW, BLOCKS, 11),
        ((80, 24), TALL, ASCII, 18),
        ((40, 12), LOW, ASCII, 9),
    ],
)
def test_the_big_number_is_five_rows_high_and_three_at_the_smallest(
    store: Store, size: tuple[int, int], rows: int, glyphs: Glyphs, columns: int
) -> None:
    session = begin(store)
    assert session.outlook.big == 16
    lines = frame(session, *size, glyphs=glyphs)
    drawn = [line for line in lines if set(line[:columns]) <= set(" ▀▄█#|_") and line[:columns].strip()]
    assert len(drawn) == rows


def test_the_large_view_draws_it_larger_where_there_is_room(store: Store) -> None:
    session = begin(store)
    drawn = [line for line in frame(session, 120, 40, Showing(large=True)) if set(line[:40].strip()) & set("▀▄█")]
    assert len(drawn) == 3 * TALL


def test_what_is_not_lost_at_the_smallest_size(store: Store) -> None:
    """Number, label, sentence, next action with its distance, strip and tray, in 40 x 12."""
    session = begin(store)
    walk_to(session, 77)
    text = flat(frame(session, 40, 12))
    outlook = session.outlook
    assert outlook.next is not None
    assert Viewer(session).view(Showing(), 0, 0).brief[0] in text
    assert f"{outlook.next.words}, in {outlook.next.away} beads" in text
    assert outlook.big_label in text
    assert "(S)(S)══»(S)" in text
    assert "(S)×" in text
    assert "Space bead" in text


def test_a_long_sentence_pushes_out_what_matters_less(store: Store) -> None:
    """Names of beads as long as they may be: the sentence stays whole, the thread strip and the tray go first."""
    long_name = "silver-lined frosted " * 4
    session = begin(store, COVE.replace("sea glass", long_name.strip()))
    walk_to(session, 5)
    for width, height in SIZES:
        lines = frame(session, width, height)
        view = Viewer(session).view(Showing(), 0, 0)
        assert {cell_len(line) for line in lines} == {width}
        assert (session.outlook.now if width >= 60 else view.brief[0]) in flat(lines)


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_a_message_is_whole(store: Store, width: int, height: int) -> None:
    message = "The start of a round can be moved only while a round is worked that another hangs from."
    session = begin(store)
    walk_to(session, 93)
    assert message in flat(frame(session, width, height, Showing(message=message)))


def test_a_remark_is_shown_whole_or_pointed_at(store: Store) -> None:
    session = begin(store)
    while not any(remark.own for remark in session.outlook.remarks):
        session.press()
    remark = next(remark.text for remark in session.outlook.remarks if remark.own)
    assert remark in flat(frame(session, 80, 24)).replace(" remark ", " ")
    assert "v shows 1 more remark" in flat(frame(session, 80, 24))
    assert all(remark.text in flat(frame(session, 120, 40)) for remark in session.outlook.remarks)
    assert "v shows a remark for this place" in flat(frame(session, 40, 12))
    assert remark not in flat(frame(session, 80, 24, Showing(remarks=False)))


def test_progress_is_not_full_before_the_last_bead(store: Store) -> None:
    session = begin(store, COVE.replace("*3S, M* 4 times", "*99S, M* 4 times"))
    while not session.outlook.done:
        session.press(10_000)
        if session.outlook.decision is not None:
            session.choose(False)
    session.undo()
    assert session.outlook.left_piece <= 1
    assert " 99 %" in flat(frame(session, 80, 24))


@settings(max_examples=60, deadline=None)
@given(width=st.integers(20, 140), height=st.integers(5, 50), position=st.integers(0, 130), large=st.booleans())
def test_any_size_gives_a_frame_of_that_size(width: int, height: int, position: int, large: bool) -> None:
    session = _shared()
    outlook = session.lookout.at(position)
    session._walker = type(session._walker)(position, position)
    session.outlook = outlook
    lines = frame(session, width, height, Showing(large=large, message="A message of some length for the rows."))
    assert len(lines) == height
    assert {cell_len(line) for line in lines} == {width}


_one: list[Session] = []
_folders: list[tempfile.TemporaryDirectory[str]] = []


def _shared() -> Session:
    """One session for all examples: beginning one writes to the disk."""
    if not _one:
        _folders.append(tempfile.TemporaryDirectory())
        session = begin(open_store(Path(_folders[0].name), Clock()))
        walk_to(session, 130)
        _one.append(session)
    return _one[0]


HOSTILE = ("[/]", "[click=app.quit]", "[b]bold[/b] [@click=x]y[/]", "[[[", "\\[", "$x {y}", "[red")


@pytest.mark.parametrize("title", HOSTILE)
def test_markup_in_a_title_is_only_text(store: Store, title: str) -> None:
    session = begin(store, COVE.replace("Otter cove", title.replace("\\", "\\\\")))
    lines = frame(session, 120, 40)
    assert title in lines[0]


def test_control_characters_of_any_source_do_not_reach_the_frame(store: Store) -> None:
    session = begin(store)
    lines = frame(session, 80, 24, Showing(message="a\x1b[31mb\x07c\u202ed", means="\x1b]0;x\x07"))
    assert all(line.isprintable() for line in lines)
    assert "a[31mbcd" in flat(lines)
