"""Any mix of presses, undos, two windows, notes and reopenings equals a plain list."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import Bundle, RuleBasedStateMachine, invariant, rule

from stitchalong.errors import StoreError
from stitchalong.store import Conflict, Event, Record, Store
from stitchalong.store.writer import Writer

WINDOWS = st.integers(0, 1)
TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)


class Model:
    """A piece as a list of events and what goes with it."""

    def __init__(self, name: str, steps: int) -> None:
        self.name = name
        self.steps = steps
        self.events: list[Event] = []
        self.choices = "[]"
        self.place = "{}"
        self.notes: list[tuple[int, str]] = []
        self.state = "going"

    @property
    def at(self) -> tuple[int, int]:
        return (self.events[-1].position, self.events[-1].redo_to) if self.events else (0, 0)


class Evenings(RuleBasedStateMachine):
    pieces = Bundle("pieces")

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.now = 1e9
        self.windows = [self.open(), self.open()]
        self.known: dict[tuple[int, int], int] = {}
        self.model: dict[int, Model] = {}

    def open(self) -> Store:
        return Store.open(self.folder, clock=lambda: self.now)

    def teardown(self) -> None:
        for window in self.windows:
            window.close()
        shutil.rmtree(self.folder)

    @rule(target=pieces, title=TEXTS, steps=st.integers(0, 10**7))
    def begin(self, title: str, steps: int) -> int:
        row = self.windows[0].begin(
            title=title, plan_text=title, plan_data="{}", plan_name="x.toml", compiler=1, steps=steps, place="{}"
        )
        assert row.name not in {model.name for model in self.model.values()}
        self.model[row.id] = Model(row.name, steps)
        return row.id

    @rule(
        piece=pieces,
        window=WINDOWS,
        moves=st.lists(st.tuples(st.sampled_from(["press", "undo", "redo", "goto", "choice"]), st.integers(0, 50))),
        data=TEXTS,
        through=st.booleans(),
    )
    def stitch(self, piece: int, window: int, moves: list[tuple[str, int]], data: str, through: bool) -> None:
        """Walk from where the model stands; kept only where this window has seen the last event."""
        model = self.model.get(piece)
        if model is None:
            return
        position, redo_to = model.at
        events: list[Event] = []
        for kind, amount in moves:
            if kind == "press":
                position += amount
                redo_to = position
            elif kind == "undo":
                position = max(0, position - amount)
            elif kind == "redo":
                position = min(redo_to, position + amount)
            elif kind == "goto":
                position = redo_to = amount
            events.append(Event(kind, amount, position, redo_to, data if kind == "choice" else ""))  # type: ignore[arg-type]
        self.now += 1
        expected = self.known.get((piece, window), 0)
        place = f'{{"at": {position}}}'
        choices = f'["{len(model.events)}"]' if len(events) % 3 == 1 else None
        try:
            if through:
                writer = Writer(self.folder, clock=lambda: self.now, told=lambda tickets: None)
                ticket = writer.put(Record(piece, expected, tuple(events), place, choices))
                writer.close()
                seq = ticket.wait(0)
            else:
                seq = self.windows[window].record(piece, expected, events, place=place, choices=choices)
        except Conflict as conflict:
            same = expected == len(model.events)
            seq = conflict.found
        else:
            same = expected != len(model.events)
            model.events += events
            model.place = place
            model.choices = choices or model.choices
        assert not same, "kept if and only if nothing came between"
        assert seq == len(model.events)
        self.known[piece, window] = seq

    @rule(piece=pieces, window=WINDOWS, position=st.integers(0, 10**6), text=TEXTS)
    def note(self, piece: int, window: int, position: int, text: str) -> None:
        if piece not in self.model:
            return
        try:
            note = self.windows[window].add_note(piece, position, text)
        except StoreError:
            return
        self.model[piece].notes.append((position, note.text))

    @rule(piece=pieces, window=WINDOWS, state=st.sampled_from(["finish", "put_away", "go_on"]))
    def settle(self, piece: int, window: int, state: str) -> None:
        if piece in self.model:
            getattr(self.windows[window], state)(piece)
            self.model[piece].state = {"finish": "finished", "put_away": "put away", "go_on": "going"}[state]

    @rule(piece=pieces, window=WINDOWS)
    def remove(self, piece: int, window: int) -> None:
        if self.model.pop(piece, None) is not None:
            self.windows[window].remove(piece)

    @rule(window=WINDOWS)
    def reopen(self, window: int) -> None:
        self.windows[window].close()
        self.windows[window] = self.open()

    @invariant()
    def the_store_equals_the_list(self) -> None:
        for window in self.windows:
            found = {piece.id: piece for piece in window.pieces(include_away=True)}
            assert found.keys() == self.model.keys()
            for piece_id, model in self.model.items():
                row = window.piece(piece_id)
                assert (row.name, row.steps, row.state) == (model.name, model.steps, model.state)
                assert (row.position, row.redo_to) == model.at
                assert (row.seq, row.place, row.choices) == (len(model.events), model.place, model.choices)
                assert [kept.event for kept in window.tail(piece_id, 10**6)] == model.events
                assert [kept.event for kept in window.told(piece_id)] == [e for e in model.events if e.data]
                notes = [(note.position, note.text) for note in window.notes(piece_id)]
                assert notes == sorted(model.notes, key=lambda note: note[0])


TestEvenings = Evenings.TestCase
TestEvenings.settings = settings(max_examples=25, stateful_step_count=25, deadline=None)
