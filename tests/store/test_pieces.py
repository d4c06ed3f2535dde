"""Pieces: begun, found, named, ended, and what is told of them."""

from __future__ import annotations

from functools import partial

import pytest

from stitchalong.errors import Exit, StoreError
from stitchalong.store import Conflict, Event, Store


def test_a_new_piece_has_its_own_copy_of_the_plan(store, begin, clock):
    piece = begin(store)
    assert store.piece(piece.id) == piece
    assert (piece.position, piece.redo_to, piece.seq, piece.state) == (0, 0, 0, "going")
    assert (piece.plan_text, piece.plan_name) == ('title = "Heather ring"\n', "heather-ring.toml")
    assert piece.begun == piece.touched == clock.now
    assert len(piece.uid) == 32
    assert int(piece.uid, 16) >= 0


def test_events_come_back_as_they_were_kept_and_the_state_is_folded(store, begin, clock):
    piece = begin(store)
    events = [
        Event("press", 1, 1, 1),
        Event("press", 2, 3, 3),
        Event("choice", 0, 3, 3, '{"rounds": 5}'),
        Event("undo", 2, 1, 3),
    ]
    clock.now += 20
    seq = store.record(piece.id, 0, events, place='{"round": 1}', choices='[{"rounds": 5}]', steps=640)
    assert seq == 4
    after = store.piece(piece.id)
    assert (after.position, after.redo_to, after.seq, after.steps) == (1, 3, 4, 640)
    assert (after.place, after.choices, after.touched) == ('{"round": 1}', '[{"rounds": 5}]', clock.now)
    assert after.plan_text == piece.plan_text
    assert [(kept.seq, kept.at, kept.event) for kept in store.tail(piece.id, 10)] == [
        (number, clock.now, event) for number, event in enumerate(events, 1)
    ]
    assert [kept.seq for kept in store.tail(piece.id, 2)] == [3, 4]
    assert [kept.event for kept in store.told(piece.id)] == [events[2]]


def test_a_record_without_events_keeps_the_place_alone(store, begin):
    piece = begin(store)
    assert store.record(piece.id, 0, [], place='{"round": 2}', steps=7) == 0
    assert (store.piece(piece.id).place, store.piece(piece.id).steps) == ('{"round": 2}', 7)
    assert store.tail(piece.id, 5) == []


@pytest.mark.parametrize(
    "wrong",
    [
        {"kind": "pres", "position": 1, "redo_to": 1},
        {"kind": "press", "position": -1, "redo_to": 1},
        {"kind": "press", "position": 2, "redo_to": 1},
    ],
)
def test_an_event_that_cannot_be_is_no_event(wrong):
    with pytest.raises(ValueError, match=r"an event of no known kind|do not fit each other"):
        Event(amount=1, **wrong)


def test_time_spent_leaves_pauses_out(store, begin, press, clock):
    piece = begin(store)
    seq = 0
    for gap in (10, 4.5, 300, 301, 86_400, -50, 5):
        clock.now += gap
        seq = store.record(piece.id, seq, [press(seq + 1)], place="{}")
    assert store.piece(piece.id).seconds == 10 + 4.5 + 300 + 5


def test_two_windows_cannot_overwrite_each_other(store, begin, press, folder, clock):
    piece = begin(store)
    other = Store.open(folder, clock=clock)
    try:
        assert store.record(piece.id, 0, [press(1)], place='{"by": "first"}') == 1
        assert other.seq(piece.id) == 1
        with pytest.raises(Conflict) as told:
            other.record(piece.id, 0, [press(1)], place='{"by": "second"}')
        assert (told.value.expected, told.value.found) == (0, 1)
        assert "\n" not in str(told.value)
        assert other.piece(piece.id).place == '{"by": "first"}'
        assert len(other.tail(piece.id, 9)) == 1
        assert other.record(piece.id, 1, [press(2)], place='{"by": "second"}') == 2
        with pytest.raises(Conflict):
            store.record(piece.id, 1, [press(2)], place='{"by": "first"}')
    finally:
        other.close()


def test_two_pieces_are_free_of_each_other(store, begin, press, folder, clock):
    one, two = begin(store), begin(store)
    other = Store.open(folder, clock=clock)
    try:
        for number in range(5):
            assert store.record(one.id, number, [press(number + 1)], place="{}") == number + 1
            assert other.record(two.id, number, [press(number + 1)], place="{}") == number + 1
    finally:
        other.close()
    assert (store.seq(one.id), store.seq(two.id)) == (5, 5)


def test_names_are_made_of_the_title_and_one_of_their_kind(store, begin):
    names = [begin(store, title=title).name for title in ("Gorse  Ring!", "gorse ring", "Gorse ring", "12", "…")]
    assert names == ["gorse-ring", "gorse-ring-2", "gorse-ring-3", "piece-12", "piece"]


def test_a_given_name_must_be_free_and_more_than_a_number(store, begin):
    begin(store, name="Für Ingrid")
    for name in ("für ingrid", "FÜR INGRID", "Fu\u0308r Ingrid"):
        with pytest.raises(StoreError, match="already"):
            begin(store, name=name)
    for name in ("12", " ", "\x1b\x07"):
        with pytest.raises(StoreError, match="needs a letter"):
            begin(store, name=name)


def test_control_and_direction_characters_never_get_into_a_name(store, begin):
    piece = begin(store, name="a\x1b[31mb\u202ec\n d", title="t\x9b2J\x00\u2066x\ty")
    assert (piece.name, piece.title) == ("a[31mbc d", "t2Jx y")


def test_find_by_number_name_or_beginning(store, begin):
    heather = begin(store, name="heather")
    begin(store, name="heath")
    bell = begin(store, name="Bell cap")
    assert store.find(str(heather.id)).name == "heather"
    assert store.find("HEATHER").name == "heather"
    assert store.find("heath").name == "heath"
    assert store.find("bell").id == bell.id
    store.put_away(bell.id)
    assert store.find("bell").id == bell.id


@pytest.mark.parametrize(
    ("word", "told"),
    [
        ("haether", "did you mean “heather”"),
        ("hea", "fits several pieces: 1 heather, 2 heath"),
        ("77", "there is no piece “77”"),
        ("", "there is no piece “”"),
        ("\x1b[2J", "there is no piece “[2J”"),
    ],
)
def test_what_is_not_found_is_told_with_a_way_out(store, begin, word, told):
    begin(store, name="heather")
    begin(store, name="heath")
    with pytest.raises(StoreError) as error:
        store.find(word)
    assert told in str(error.value).replace("2 heath, 1 heather", "1 heather, 2 heath")
    assert error.value.problems[0].fix
    assert error.value.status is Exit.STORE


def test_renaming_finishing_putting_away(store, begin, clock):
    one, two = begin(store), begin(store)
    clock.now += 5
    store.record(one.id, 0, [Event("press", 1, 1, 1)], place="{}")
    assert [piece.id for piece in store.pieces()] == [one.id, two.id]
    store.rename(one.id, "For the spring")
    store.rename(one.id, "For the Spring")
    assert store.find("for the spring").name == "For the Spring"
    with pytest.raises(StoreError, match="already"):
        store.rename(two.id, "for the spring")
    store.finish(one.id)
    store.put_away(two.id)
    assert [(piece.id, piece.state) for piece in store.pieces()] == [(one.id, "finished")]
    assert {piece.state for piece in store.pieces(include_away=True)} == {"finished", "put away"}
    store.go_on(two.id)
    assert store.piece(two.id).state == "going"


def test_removing_takes_all_of_a_piece_and_nothing_else(store, begin, press):
    one, two = begin(store), begin(store)
    for piece in (one, two):
        store.record(piece.id, 0, [press(1)], place="{}")
        store.add_note(piece.id, 1, "new thread here")
    store.remove(one.id)
    with pytest.raises(StoreError, match=f"there is no piece {one.id}"):
        store.piece(one.id)
    for rows in ("press", "work", "note"):
        assert store._database.rows(f"SELECT DISTINCT piece FROM {rows}") == [(two.id,)]
    assert (len(store.tail(two.id, 9)), len(store.notes(two.id))) == (1, 1)
    press_again = partial(store.record, expected_seq=1, events=[press(2)], place="{}")
    for gone in (
        store.remove,
        store.finish,
        press_again,
        partial(store.tail, n=1),
        store.told,
        store.notes,
        store.hold,
    ):
        with pytest.raises(StoreError, match="there is no piece"):
            gone(one.id)
    assert begin(store).id > two.id, "a number is never given twice"


def test_notes_are_pinned_to_positions(store, begin):
    piece = begin(store)
    late = store.add_note(piece.id, 90, "teal in place of blue\nfrom here on")
    early = store.add_note(piece.id, 12, "new thread here")
    assert store.notes(piece.id) == [early, late]
    assert late.text == "teal in place of blue from here on"
    store.remove_note(early.id)
    assert store.notes(piece.id) == [late]
    with pytest.raises(StoreError, match="no note"):
        store.remove_note(early.id)
    with pytest.raises(StoreError, match="says nothing"):
        store.add_note(piece.id, 1, " \x07 ")
    with pytest.raises(StoreError, match="no piece 99"):
        store.add_note(99, 1, "x")


def test_taking_over_another_plan_is_one_with_its_event(store, begin, press):
    piece = begin(store)
    store.record(piece.id, 0, [press(1)], place="{}")
    new = {"plan_text": "t", "plan_data": "{}", "plan_name": "n.toml", "compiler": 2, "choices": "[1]"}
    mark = Event("mark", 0, 1, 1, '{"plan": "new"}')
    with pytest.raises(Conflict):
        store.replace_plan(piece.id, 0, [mark], place="{}", steps=9, title="New", **new)
    assert store.piece(piece.id).plan_text == piece.plan_text
    assert store.replace_plan(piece.id, 1, [mark], place='{"r": 1}', steps=9, title="New", **new) == 2
    after = store.piece(piece.id)
    assert {key: getattr(after, key) for key in new} == new
    assert (after.title, after.steps, after.seq, after.place) == ("New", 9, 2, '{"r": 1}')
    assert after.uid == piece.uid


def test_all_is_there_when_opened_again(store, begin, press, folder, clock):
    piece = begin(store)
    store.record(piece.id, 0, [press(1), press(2)], place='{"round": 1}')
    before, tail = store.piece(piece.id), store.tail(piece.id, 9)
    store.close()
    again = Store.open(folder, clock=clock)
    assert (again.piece(piece.id), again.tail(piece.id, 9)) == (before, tail)
    again.close()
