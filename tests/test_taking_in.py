"""A piece that comes in a file from somebody else: what its plan says is held to what a plan file may say."""

from __future__ import annotations

import gzip
import hashlib
import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from stitchalong.errors import StoreError
from stitchalong.plan.library import shipped
from stitchalong.plan.read import read_plan, read_text
from stitchalong.session import Session
from stitchalong.session.taking_in import plan_of
from stitchalong.store.pieces import Store
from tests.plan.harmless import is_harmless
from tests.writing import band, peyote, plan_text

RING = plan_text(
    band("*3S, M* 3 times"), peyote('"A"', 'height = "2 to 4"', 'increase = { over = "M", from_round = 2 }')
)

Lines = list[dict[str, Any]]


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    opened = Store.open(tmp_path / "here", clock=lambda: 1_700_000_000.0)
    yield opened
    opened.close()


@pytest.fixture
def parcel(tmp_path: Path) -> Path:
    """A piece from elsewhere, with a place and a choice."""
    other = Store.open(tmp_path / "elsewhere", clock=lambda: 1_700_000_000.0)
    loaded = read_text(RING, "ring.toml")
    session = Session.begin(other, plan=loaded.plan, plan_text=RING, plan_data=loaded.data, plan_name="ring")
    session.press(10_000)
    session.choose(more=True)
    session.press(3)
    other.pack(session.piece.id, tmp_path / "parcel")
    other.close()
    return tmp_path / "parcel"


def changed(parcel: Path, change: Callable[[Lines], object]) -> Path:
    """The parcel with something changed and the digest made to fit, as a forger would."""
    lines = [json.loads(line) for line in gzip.decompress(parcel.read_bytes()).splitlines()][:-1]
    change(lines)
    body = b"".join(json.dumps(line).encode() + b"\n" for line in lines)
    end = json.dumps({"sha256": hashlib.sha256(body).hexdigest()}).encode() + b"\n"
    parcel.write_bytes(gzip.compress(body + end))
    return parcel


def in_plan(change: Callable[[dict[str, Any]], object]) -> Callable[[Lines], object]:
    def act(lines: Lines) -> None:
        data = json.loads(lines[2]["work"]["plan_data"])
        change(data)
        lines[2]["work"]["plan_data"] = json.dumps(data)

    return act


def in_place(**parts: object) -> Callable[[Lines], object]:
    def act(lines: Lines) -> None:
        lines[1]["piece"]["place"] = json.dumps(json.loads(lines[1]["piece"]["place"]) | parts)

    return act


def with_choices(choices: object) -> Callable[[Lines], object]:
    return lambda lines: lines[2]["work"].update(choices=json.dumps(choices))


def test_a_piece_goes_on_elsewhere(store: Store, parcel: Path) -> None:
    taken = Session.take_in(store, parcel)
    assert taken.how == "new"
    session = Session.resume(store, taken.piece_id)
    assert (session.piece.seq, len(session.choices)) == (3, 1)
    assert not session.press().message
    assert Session.take_in(store, parcel).how == "here already"


def _behind(lines: Lines, position: int) -> None:
    """The last event leads behind the end."""
    lines[1]["piece"].update(redo_to=position)
    lines[-1]["press"][5] = position


FORGED: list[tuple[str, Callable[[Lines], object], str]] = [
    ("no plan", in_plan(lambda data: data.clear()), "is missing"),
    ("a plan that is a list", lambda lines: lines[2]["work"].update(plan_data="[1]"), "its plan is none"),
    ("a plan that is a number", lambda lines: lines[2]["work"].update(plan_data="7"), "its plan is none"),
    ("a name that clears the screen", in_plan(lambda data: data["beads"]["A"].update(name="\x1b[2J")), "plan file"),
    ("a name that turns around", in_plan(lambda data: data["beads"]["A"].update(name="a\u202eb")), "plan file"),
    ("a name of another kind", in_plan(lambda data: data["beads"]["A"].update(name=7)), "must be text"),
    ("a key of another sort", in_plan(lambda data: data["beads"]["A"].update(run="x")), "unknown key"),
    ("a code of another sort", in_plan(lambda data: data["beads"].update({"\x1b": data["beads"]["A"]})), "bead code"),
    ("too much of it", in_plan(lambda data: data.update(about="x" * 20_001)), "longer than"),
    ("a bomb", in_plan(lambda data: data["work"][1].update(height="99999999")), "must be a number of rounds"),
    ("a plan that cannot be stitched", in_plan(lambda data: data["work"][1].update(rounds=["5A"])), "no bead"),
    ("nested without end", lambda lines: lines[2]["work"].update(plan_data="[" * 100_000), "was changed"),
    ("a place on no edge", in_place(edge="\x1b[2J"), "does not give"),
    ("a place in no part", in_place(part="lid"), "does not give"),
    ("a place without a number", in_place(round="5"), "cannot be read"),
    ("a place without an edge", lambda lines: lines[1]["piece"].update(place="{}"), "cannot be read"),
    ("a place of another kind", lambda lines: lines[1]["piece"].update(place="7"), "cannot be read"),
    ("a place behind the end", lambda lines: _behind(lines, 10_000), "behind the end"),
    ("a choice of no kind", with_choices([{"choice": "fly"}]), "was changed"),
    ("choices that are none", with_choices({"choice": 1}), "was changed"),
    ("a choice at no place", with_choices([{"choice": "another", "at": float("inf")}]), "was changed"),
    ("a choice of lists", with_choices([{"choice": "another", "edge": [], "round": [], "more": 1}]), "was changed"),
]  # fmt: skip


@pytest.mark.parametrize(("forge", "words"), [row[1:] for row in FORGED], ids=[row[0] for row in FORGED])
def test_a_forged_piece_is_refused_and_leaves_nothing(
    store: Store, parcel: Path, forge: Callable[[Lines], object], words: str
) -> None:
    with pytest.raises(StoreError) as error:
        Session.take_in(store, changed(parcel, forge))
    (problem,) = error.value.problems
    assert words in str(problem)
    assert is_harmless(str(problem))
    assert store.pieces() == []


def test_a_piece_that_is_here_is_not_harmed_by_a_forged_one(store: Store, parcel: Path) -> None:
    piece = Session.take_in(store, parcel).piece_id
    before = store.piece(piece), store.tail(piece, 99)

    def longer(lines: Lines) -> None:
        last = lines[-1]["press"]
        lines.append({"press": [last[0] + 1, last[1], "press", 1, last[4] + 1, last[4] + 1, ""]})
        lines[1]["piece"].update(seq=last[0] + 1, position=last[4] + 1, redo_to=last[4] + 1)
        lines[2]["work"]["plan_data"] = "{}"

    with pytest.raises(StoreError, match="cannot be gone on with"):
        Session.take_in(store, changed(parcel, longer))
    assert (store.piece(piece), store.tail(piece, 99)) == before


@pytest.mark.parametrize("path", shipped(), ids=lambda path: path.stem)
def test_what_is_kept_of_every_plan_that_ships_is_taken_in_elsewhere(store: Store, tmp_path: Path, path: Path) -> None:
    loaded = read_plan(path)
    session = Session.begin(store, plan=loaded.plan, plan_text=loaded.text, plan_data=loaded.data, plan_name=path.stem)
    session.press(7)
    assert plan_of(store.piece(session.piece.id)) == loaded.plan
    store.pack(session.piece.id, tmp_path / "parcel")
    other = Store.open(tmp_path / "other", clock=lambda: 1_700_000_000.0)
    assert Session.take_in(other, tmp_path / "parcel").how == "new"
    other.close()
