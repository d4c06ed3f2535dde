"""A piece as one file: whole, the same on every computer, and refused when it was changed."""

from __future__ import annotations

import gzip
import hashlib
import json
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from stitchalong.errors import StoreError
from stitchalong.store import Event, Store
from stitchalong.store import unpack as unpack_module
from stitchalong.store.unpack import Unpacked


@pytest.fixture
def piece(store, begin, press, clock):
    """A piece with events of every sort, a choice and notes."""
    row = begin(store, name="For Ella", plan_text="title = 'Jörn ⟡ \u2028'\n")
    seq = store.record(row.id, 0, [press(1), press(4, amount=3), Event("undo", 2, 2, 4)], place='{"a": 1}')
    clock.now += 7.25
    more = [Event("redo", 1, 3, 4), Event("choice", 0, 3, 4, '{"rounds": 6}'), Event("goto", 7, 10, 10)]
    store.record(row.id, seq, more, place='{"a": 2}', choices='[{"rounds": 6}]')
    store.add_note(row.id, 2, "new thread\nhere")
    store.add_note(row.id, 9, "teal")
    return store.piece(row.id)


@pytest.fixture
def parcel(store, piece, tmp_path) -> Path:
    target = tmp_path / "ella.parcel"
    store.pack(piece.id, target)
    return target


@pytest.fixture
def elsewhere(tmp_path, begin, clock):
    """The store of another computer, with a piece of its own."""
    other = Store.open(tmp_path / "elsewhere", clock=clock)
    begin(other, name="for ella")
    yield other
    other.close()


def lines(parcel: Path) -> list[dict]:
    return [json.loads(line) for line in gzip.decompress(parcel.read_bytes()).splitlines()]


def write(target: Path, values: list, *, digest: bool = True) -> Path:
    """A parcel of these lines (the last, the digest, made anew), as somebody might make one."""
    body = b"".join(v if isinstance(v, bytes) else json.dumps(v).encode() + b"\n" for v in values[:-1])
    end = {"sha256": hashlib.sha256(body).hexdigest()} if digest else values[-1]
    target.write_bytes(gzip.compress(body + json.dumps(end).encode() + b"\n"))
    return target


def told(store: Store, piece_id: int) -> tuple:
    row = store.piece(piece_id)
    notes = [(note.position, note.text, note.at) for note in store.notes(piece_id)]
    return replace(row, id=0, name=""), store.tail(piece_id, 999), store.told(piece_id), notes


def test_all_of_a_piece_arrives_elsewhere(store, piece, parcel, elsewhere):
    taken = elsewhere.unpack(parcel)
    assert taken == Unpacked(2, "new")
    assert told(elsewhere, 2) == told(store, piece.id)
    assert elsewhere.piece(2).name == "For Ella-2", "the name was taken there"
    assert len(elsewhere.notes(2)) == 2
    assert elsewhere.record(2, 6, [Event("press", 1, 11, 11)], place="{}") == 7


def test_the_same_piece_makes_the_same_bytes(store, piece, parcel, elsewhere, tmp_path):
    store.pack(piece.id, tmp_path / "again")
    assert (tmp_path / "again").read_bytes() == parcel.read_bytes()
    elsewhere.unpack(parcel)
    elsewhere.rename(2, "Für Ella")
    elsewhere.rename(1, "other")
    elsewhere.rename(2, "For Ella")
    elsewhere.pack(2, tmp_path / "there")
    assert lines(tmp_path / "there") == lines(parcel)


def test_twice_does_no_harm(store, piece, parcel, elsewhere):
    before = store.pieces(), told(store, piece.id)
    assert store.unpack(parcel) == Unpacked(piece.id, "here already")
    assert (store.pieces(), told(store, piece.id)) == before
    elsewhere.unpack(parcel)
    before = elsewhere.pieces(), told(elsewhere, 2)
    assert elsewhere.unpack(parcel) == Unpacked(2, "here already")
    assert (elsewhere.pieces(), told(elsewhere, 2)) == before


def test_there_and_back_again(store, piece, parcel, elsewhere, tmp_path, press, clock):
    elsewhere.unpack(parcel)
    clock.now += 60
    seq = elsewhere.record(2, 6, [press(11), press(12)], place='{"a": 3}', choices='[{"rounds": 7}]')
    elsewhere.add_note(2, 11, "from there")
    elsewhere.finish(2)
    store.add_note(piece.id, 1, "from here")
    elsewhere.pack(2, tmp_path / "back")
    assert store.unpack(tmp_path / "back") == Unpacked(piece.id, "gone on")
    after = store.piece(piece.id)
    assert (after.seq, after.position, after.state, after.name) == (seq, 12, "finished", "For Ella")
    assert (after.place, after.choices) == ('{"a": 3}', '[{"rounds": 7}]')
    assert {note.text for note in store.notes(piece.id)} == {"new thread here", "teal", "from here", "from there"}
    assert store.unpack(parcel) == Unpacked(piece.id, "here already"), "an old parcel takes nothing back"
    assert store.seq(piece.id) == seq
    assert len(store.told(piece.id)) == 1
    assert store.record(piece.id, seq, [press(13)], place="{}") == seq + 1


def test_what_went_on_in_two_ways_is_refused_or_becomes_another_piece(store, piece, parcel, elsewhere, press, tmp_path):
    elsewhere.unpack(parcel)
    elsewhere.record(2, 6, [press(11), press(12), press(13)], place="{}")
    elsewhere.pack(2, tmp_path / "back")
    store.record(piece.id, 6, [press(15)], place="{}")
    before = told(store, piece.id)
    with pytest.raises(StoreError) as error:
        store.unpack(tmp_path / "back")
    assert "went on in another way" in str(error.value)
    assert told(store, piece.id) == before
    taken = store.unpack(tmp_path / "back", as_new=True)
    assert taken.how == "new"
    assert store.piece(taken.piece_id).seq == 9
    assert store.piece(taken.piece_id).uid != piece.uid
    assert told(store, piece.id) == before


def test_a_file_that_is_there_is_not_written_over(store, piece, tmp_path):
    (tmp_path / "letter").write_text("Dear Ella")
    with pytest.raises(StoreError, match="already"):
        store.pack(piece.id, tmp_path / "letter")
    assert (tmp_path / "letter").read_text() == "Dear Ella"
    store.pack(piece.id, tmp_path / "letter", overwrite=True)
    assert lines(tmp_path / "letter")[0]["format"] == "stitchalong piece"


@pytest.mark.parametrize("target", ["nowhere/x", ".", "data/pieces.db/x"])
def test_where_it_cannot_be_written_is_told(store, piece, tmp_path, target):
    with pytest.raises(StoreError) as error:
        store.pack(piece.id, tmp_path / target, overwrite=True)
    assert str(tmp_path / target) in str(error.value)
    assert not list(tmp_path.rglob(".*"))


def test_a_piece_that_is_not_there_makes_no_parcel(store, tmp_path):
    with pytest.raises(StoreError, match="no piece 5"):
        store.pack(5, tmp_path / "x")
    assert [path.name for path in tmp_path.iterdir()] == ["data"]


def refuse(store: Store, parcel: Path, *words: str) -> None:
    """Refused in one line, and nothing of the store changed."""
    before = [told(store, piece.id) for piece in store.pieces(include_away=True)]
    with pytest.raises(StoreError) as error:
        store.unpack(parcel)
    text = str(error.value)
    assert "\n" not in text
    assert str(parcel) in text
    for word in words:
        assert word in text
    assert [told(store, piece.id) for piece in store.pieces(include_away=True)] == before


@pytest.mark.parametrize(
    "content", [b"", b"x", b"Dear diary", b"\x1f\x8b", gzip.compress(b"", mtime=0), gzip.compress(b"[]\n", mtime=0)]
)
def test_what_is_no_parcel_is_refused(elsewhere, tmp_path, content):
    (tmp_path / "x").write_bytes(content)
    refuse(elsewhere, tmp_path / "x")


def test_what_cannot_be_read_is_told(elsewhere, tmp_path):
    refuse(elsewhere, tmp_path / "none", "cannot be read")
    refuse(elsewhere, tmp_path, "cannot be read")


def test_a_parcel_cut_off_anywhere_is_refused(elsewhere, parcel, tmp_path):
    content = parcel.read_bytes()
    for size in range(len(content) - 1):
        (tmp_path / "cut").write_bytes(content[:size])
        refuse(elsewhere, tmp_path / "cut")


def test_a_changed_text_under_the_old_digest_is_refused(elsewhere, parcel, tmp_path):
    values = lines(parcel)
    assert elsewhere.unpack(write(tmp_path / "right", values)).how == "new"
    elsewhere.remove(2)
    for number in range(1, len(values) - 1):
        text = json.dumps(values[number])
        changed = text.replace('"press": [', '"press": [9').replace("a", "e")
        assert changed != text
        body = [*values[:number], changed.encode() + b"\n", *values[number + 1 :]]
        refuse(elsewhere, write(tmp_path / "changed", body, digest=False))
    without = [*values[:-2], values[-1]]
    refuse(elsewhere, write(tmp_path / "changed", without, digest=False), "changed")


def changed(values: list, name: str, key: str, value: object) -> list:
    """The lines with one value of the piece or the work another."""
    return [{name: line[name] | {key: value}} if name in line else line for line in values]


BAD_PARTS = [
    ("piece", "uid", "../../etc"),
    ("piece", "uid", 7),
    ("piece", "seq", 5),
    ("piece", "seq", True),
    ("piece", "position", 11),
    ("piece", "position", -1),
    ("piece", "position", 2.0),
    ("piece", "redo_to", 3),
    ("piece", "redo_to", 10**30),
    ("piece", "begun", float("nan")),
    ("piece", "begun", "yesterday"),
    ("piece", "touched", 1e300),
    ("piece", "seconds", -1),
    ("piece", "steps", None),
    ("piece", "state", "sold"),
    ("piece", "state", ["going"]),
    ("piece", "place", "{"),
    ("piece", "place", {}),
    ("piece", "place", "[" * 100_000),
    ("piece", "name", None),
    ("piece", "title", "\ud800"),
    ("piece", "more", 1),
    ("work", "plan_text", None),
    ("work", "plan_data", "nothing"),
    ("work", "choices", "[" * 100_000),
    ("work", "compiler", "1"),
    ("work", "extra", "x"),
]


@pytest.mark.parametrize(("name", "key", "value"), BAD_PARTS)
def test_a_parcel_made_by_hand_with_a_wrong_part_is_refused(elsewhere, parcel, tmp_path, name, key, value):
    refuse(elsewhere, write(tmp_path / "bad", changed(lines(parcel), name, key, value)))


GOOD = [1, 5.0, "press", 1, 1, 1, ""]


@pytest.mark.parametrize(
    "event",
    [
        [2, *GOOD[1:]],
        [*GOOD[:2], "drop table", *GOOD[3:]],
        [*GOOD[:2], [], *GOOD[3:]],
        [*GOOD[:3], 10**30, *GOOD[4:]],
        [*GOOD[:4], -1, 1, ""],
        [*GOOD[:4], 2, 1, ""],
        [*GOOD[:6], 5],
        GOOD[:6],
        [*GOOD, ""],
        None,
        {"seq": 1},
        [1, float("inf"), *GOOD[2:]],
    ],
)
def test_an_event_made_by_hand_that_cannot_be_is_refused(elsewhere, parcel, tmp_path, event):
    head, piece, work, *_, end = lines(parcel)
    state = {"piece": piece["piece"] | {"seq": 1, "position": 1, "redo_to": 1}}
    assert elsewhere.unpack(write(tmp_path / "good", [head, state, work, {"press": GOOD}, end])).how == "new"
    elsewhere.remove(2)
    refuse(elsewhere, write(tmp_path / "bad", [head, state, work, {"press": event}, end]))


def test_lines_out_of_order_missing_or_strange_are_refused(elsewhere, parcel, tmp_path):
    head, piece, work, *rest, end = lines(parcel)
    for values in (
        [piece, work, *rest, end],
        [head, work, piece, *rest, end],
        [head, piece, *rest, end],
        [head, piece, work, *rest[::-1], end],
        [head, piece, work, *rest, {"press": rest[-1]["press"]}, end],
        [head, piece, work, *rest, {"note": [1, "late", 1.0]}, end],
        [head, piece, work, {"shell": "rm"}, *rest, end],
        [head, piece, work, *rest, {"press": 1, "note": 2}, end],
        [head, piece, work, *rest, 5, end],
        [head, piece, piece, work, *rest, end],
        [{"format": "stitchalong piece"}, piece, work, *rest, end],
        [{"format": "something", "version": 1}, piece, work, *rest, end],
        [head, b'{"piece": ' + b"[" * 100_000 + b"\n", end],
    ):
        refuse(elsewhere, write(tmp_path / "bad", values))
    refuse(elsewhere, write(tmp_path / "newer", [head | {"version": 2}, piece, work, *rest, end]), "newer program")
    good = gzip.decompress(parcel.read_bytes())
    (tmp_path / "more").write_bytes(gzip.compress(good + b'{"press": []}\n', mtime=0))
    refuse(elsewhere, tmp_path / "more", "changed")
    (tmp_path / "less").write_bytes(gzip.compress(b"".join(good.splitlines(keepends=True)[:-1])))
    refuse(elsewhere, tmp_path / "less")


def test_names_and_notes_made_by_hand_are_cleaned(elsewhere, parcel, tmp_path):
    head, piece, work, *rest, end = lines(parcel)
    piece = {"piece": piece["piece"] | {"name": "\x1b]0;x\x07", "title": "a\x1b[2Jb\u202e" + "c" * 999}}
    rest[0] = {"note": [3, "n\x1b[31m\x00ew", 5.0]}
    taken = elsewhere.unpack(write(tmp_path / "odd", [head, piece, work, *rest, end]))
    row = elsewhere.piece(taken.piece_id)
    assert row.title == ("a[2Jb" + "c" * 999)[:80]
    assert row.name == "]0;x"
    assert "n[31mew" in {note.text for note in elsewhere.notes(taken.piece_id)}
    piece["piece"] |= {"name": "12", "uid": "0" * 32}
    taken = elsewhere.unpack(write(tmp_path / "odd", [head, piece, work, *rest, end]))
    assert elsewhere.piece(taken.piece_id).name.startswith("a-2jb"), "a number alone is no name"


def test_size_is_bounded_before_it_is_in_memory(elsewhere, parcel, tmp_path, monkeypatch):
    """A few kilobytes that would unfold to many megabytes."""
    bomb = tmp_path / "bomb"
    bomb.write_bytes(gzip.compress(b'{"format": "stitchalong piece", "version": 1, "x": "' + b" " * 40 * 2**20 + b'"}'))
    assert bomb.stat().st_size < 100_000
    refuse(elsewhere, bomb, "more in it than a piece can hold")
    monkeypatch.setattr(unpack_module, "TEXT_LIMIT", 500)
    refuse(elsewhere, parcel, "more in it than a piece can hold")
    monkeypatch.setattr(unpack_module, "FILE_LIMIT", 100)
    refuse(elsewhere, parcel, "larger than")


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(at=st.integers(0), bit=st.integers(0, 7))
def test_a_flipped_bit_is_refused_or_does_no_harm(elsewhere, parcel, store, piece, at, bit):
    content = bytearray(parcel.read_bytes())
    content[at % len(content)] ^= 1 << bit
    flipped = parcel.with_name("flipped")
    flipped.write_bytes(content)
    try:
        taken = elsewhere.unpack(flipped)
    except StoreError:
        refuse(elsewhere, flipped)
    else:  # a few bits of gzip's head and padding mean nothing (RFC 1952, 2.3; RFC 1951, 3.2.3)
        assert told(elsewhere, taken.piece_id) == told(store, piece.id)
        elsewhere.remove(taken.piece_id)


def test_moving_house_with_the_folder_alone(store, piece, parcel, folder, tmp_path, clock):
    right = told(store, piece.id)
    store.close()
    shutil.copytree(folder, tmp_path / "new house")
    moved = Store.open(tmp_path / "new house", clock=clock)
    assert told(moved, piece.id) == right
    moved.close()
