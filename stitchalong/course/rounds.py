"""The rounds of a course, kept in columns: a course of twenty thousand is read, held and looked through in no time."""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from typing import NamedTuple, cast, overload

_KEPT = 256
"""rounds made last that are kept as values"""


class Round(NamedTuple):
    """One round or row, with the moves that end it (and a crossing that leads to it)."""

    part: str
    edge: str
    technique: str
    """`band`, `ring`, `tube`, `fill` or `peyote`"""
    number: int
    work: int
    """index into the plan's work"""
    first_run: int
    stop_run: int
    """half-open"""
    first_step: int
    stop_step: int
    first_bead: int
    """bead number (1-based) of its first bead"""
    beads: int
    spaces: int
    """stitches asked for: spaces visited, units, or beads strung per round"""
    below: int
    """index of the round whose up beads it hangs from; -1 for a start"""
    begin: int
    """which of those up beads, in the order laid, the needle comes out of when the round begins"""
    first_pass: int = -1
    """where this round's passes begin in `Passes`; -1: they are derived from the round below"""
    flat: bool = False
    """worked to and fro, in rows"""
    numbers: tuple[int, ...] = ()
    """all round numbers laid at once (a strung tube: 1 and 2)"""


WORDS = 3
"""the first columns are words"""
COLUMNS = len(Round._fields) - 1
"""the last field is given by the number in nearly every round, and kept apart where it is not"""


class Rounds(Sequence[Round]):
    """A sequence of `Round`, which are made when somebody asks."""

    __slots__ = ("_columns", "_made", "_several", "_words")

    def __init__(
        self,
        words: Iterable[str] = (),
        columns: Iterable[array[int]] = (),
        several: Iterable[tuple[int, tuple[int, ...]]] = (),
    ) -> None:
        """`columns`: numbers of `words`, then numbers; `several`: rounds that lay several at once, with the numbers."""
        self._words = {word: nth for nth, word in enumerate(words)}
        self._columns = tuple(columns) or tuple(array("i") for _ in range(COLUMNS))
        self._several = dict(several)
        self._made: dict[int, Round] = {}

    @property
    def words(self) -> tuple[str, ...]:
        return tuple(self._words)

    @property
    def columns(self) -> tuple[array[int], ...]:
        return self._columns

    @property
    def several(self) -> tuple[tuple[int, tuple[int, ...]], ...]:
        return tuple(self._several.items())

    @property
    def first_steps(self) -> array[int]:
        """The first step of each round."""
        return self._columns[Round._fields.index("first_step")]

    def append(self, item: Round) -> None:
        """Add a round at the end."""
        if item.numbers and item.numbers != (item.number,):
            self._several[len(self)] = item.numbers
        words = self._words
        for column, word in zip(self._columns, (item.part, item.edge, item.technique), strict=False):
            column.append(words.setdefault(word, len(words)))
        numbers = cast(tuple[int, ...], item[WORDS:COLUMNS])
        for column, value in zip(self._columns[WORDS:], numbers, strict=True):
            column.append(value)

    def index_of(self, part: str, edge: str, number: int) -> int | None:
        """The index of the round that lays this number on this edge; None where there is none."""
        parts, edges, _, numbers = self._columns[:4]
        wanted = self._words.get(part, -1), self._words.get(edge, -1)
        found = [index for index, some in self._several.items() if number in some]
        with suppress(ValueError):  # raised where there is no other
            at = -1
            while True:
                at = numbers.index(number, at + 1)
                if wanted == (parts[at], edges[at]):
                    found.append(at)
                    break
        return min((index for index in found if wanted == (parts[index], edges[index])), default=None)

    def edges(self) -> dict[str, tuple[str, ...]]:
        """part -> its edges, both in the order they are begun."""
        words = self.words
        found: dict[str, tuple[str, ...]] = {}
        for part, edge in dict.fromkeys(zip(self._columns[0], self._columns[1], strict=True)):
            found[words[part]] = (*found.get(words[part], ()), words[edge])
        return found

    @overload
    def __getitem__(self, index: int) -> Round: ...
    @overload
    def __getitem__(self, index: slice) -> tuple[Round, ...]: ...
    def __getitem__(self, index: int | slice) -> Round | tuple[Round, ...]:
        if isinstance(index, slice):
            return tuple(self[nth] for nth in range(*index.indices(len(self))))
        made = self._made.get(index)
        if made is None:
            if index < 0:
                return self[len(self) + index] if index >= -len(self) else _missing(index)
            if len(self._made) >= _KEPT:
                self._made.clear()
            made = self._made[index] = self._make(index, self.words)
        return made

    def __len__(self) -> int:
        return len(self._columns[0])

    def __iter__(self) -> Iterator[Round]:
        words = self.words
        return (self._make(index, words) for index in range(len(self)))

    def __eq__(self, other: object) -> bool:
        return tuple(self) == tuple(other) if isinstance(other, Sequence) else NotImplemented

    def __hash__(self) -> int:
        return hash(self.first_steps.tobytes())

    def _make(self, index: int, words: Sequence[str]) -> Round:
        values = [column[index] for column in self._columns]
        named = [words[value] for value in values[:WORDS]]
        flat = bool(values[-1])
        return Round._make((*named, *values[WORDS:-1], flat, self._several.get(index) or (values[WORDS],)))


def _missing(index: int) -> Round:
    raise IndexError(f"there is no round {index}")
