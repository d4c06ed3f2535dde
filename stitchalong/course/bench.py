"""The bench at which a plan is worked: what the compiler's parts share."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stitchalong.course.builder import Builder
from stitchalong.course.choices import Another, Choice, Deviation, StepUpElsewhere
from stitchalong.course.course import Decision
from stitchalong.course.edges import Seed, ToldEdge, WorkingEdge
from stitchalong.course.effort import Effort
from stitchalong.errors import Place
from stitchalong.fabric.edge import Edge
from stitchalong.fabric.stitch import Make, Note
from stitchalong.plan.model import (
    FIRST_PART,
    Band,
    Foundation,
    Height,
    Peyote,
    Plan,
    Reinforce,
    RingStart,
    Round,
    Rows,
    TubeStart,
    WalkAlong,
    Work,
    Zip,
)

RIB, ENDS_SIDE, MARKER = Note.RIB.value, Note.ENDS_SIDE.value, Note.MARKER.value

Foreseen = dict[str, tuple[frozenset[Seed], frozenset[int]]]
"""part and edge -> (columns that will matter, columns that part sides)"""

STARTS = (Band, RingStart, TubeStart, Foundation)

_FRESH = 1 << 40


class Bench:
    """One pass through a plan."""

    def __init__(self, plan: Plan, choices: Sequence[Choice], foreseen: Foreseen, nth: int, effort: Effort) -> None:
        self.plan = plan
        self.effort = effort
        self.out = Builder(plan.title)
        self.foreseen = foreseen
        self.found: Foreseen = {}
        """what this pass found out"""
        self.late = False
        """whether something of that would have mattered earlier in this pass"""
        self.another = {(c.part, c.edge, c.round): c.more for c in choices if isinstance(c, Another)}
        self.elsewhere = {(c.part, c.edge, c.round): c.spaces for c in choices if isinstance(c, StepUpElsewhere)}
        self.deviations = tuple(c for c in choices if isinstance(c, Deviation))
        self._deviating: dict[tuple[str, str, int], list[Deviation]] = {}
        for one in self.deviations:
            self._deviating.setdefault((one.part, one.edge, one.round), []).append(one)
        self.accepted: set[Deviation] = set()
        """those of them that have been laid"""
        self.codes = frozenset(bead.code for bead in plan.beads)
        self.index = 0
        """of the work at hand"""
        self.part = FIRST_PART
        self.edges: dict[str, WorkingEdge] = {}
        """of the part at hand, those that rounds of peyote hang from"""
        self.parts: dict[str, dict[str, WorkingEdge]] = {FIRST_PART: self.edges}
        self.told: dict[str, ToldEdge] = {}
        """of the part at hand, those that a technique of its own has left"""
        self.told_parts: dict[str, dict[str, ToldEdge]] = {FIRST_PART: self.told}
        self.rows_laid: dict[tuple[Round, int], list[Make]] = {}
        """stitches of rows to and fro, by what they say and how many spaces there are"""
        self.band: Band | None = None
        self.spacers: list[str] = []
        self.band_round = -1
        self.here = "top"
        self.code_columns: dict[str, set[int]] = {}
        self.zipped: set[tuple[str, str]] = set()
        """(part, edge) of those from which nothing can hang any more"""
        self.open_heights: list[tuple[int, int, int | None]] = []
        self._columns = _FRESH
        self._seeds = (nth + 1) << 30
        self.markers = frozenset({bead.code for bead in plan.beads if bead.marker} | _gone_over(plan))

    def let_go(self) -> None:
        """The pass is over: let go of the edges, which hold this in turn, so that no collector has to find them."""
        for edges in self.parts.values():
            edges.clear()
        for told in self.told_parts.values():
            told.clear()

    def place(
        self, work: int, *, key: str = "", number: int | None = None, edge: str = "", word: str = "round"
    ) -> Place:
        """A place in the plan, as a person counts."""
        return Place(
            file=self.plan.source or None,
            key=f"work[{work + 1}]" + (f".{key}" if key else ""),
            round=f"{word} {number} on the {edge} edge" if number is not None else None,
        )

    def begin_part(self, name: str) -> None:
        """What follows belongs to this part of the piece."""
        self.part = name
        self.edges = self.parts.setdefault(name, {})
        self.told = self.told_parts.setdefault(name, {})
        self.band = None
        self.spacers = []
        self.band_round = -1
        self.here = "top"
        self.code_columns = {}

    def key(self, edge: str) -> str:
        """Names an edge among those of all parts."""
        return f"{self.part}/{edge}"

    def new_column(self) -> int:
        self._columns += 1
        return self._columns

    def new_seed(self) -> int:
        self._seeds += 1
        return self._seeds

    def foreseen_at_birth(self, edge: str) -> set[int]:
        """Columns that part sides from the beginning, where the start itself is concerned."""
        seeds, bounds = self.foreseen.get(self.key(edge), (frozenset(), frozenset()))
        return {column for level, _, column in seeds if level == 0} | set(bounds)

    def note_markers(self, codes: dict[int, str]) -> None:
        """Keep the columns of marker beads, from column -> code."""
        for column, code in codes.items():
            if code in self.markers:
                self.code_columns.setdefault(code, set()).add(column)

    @property
    def marker_columns(self) -> set[int]:
        return {column for found in self.code_columns.values() for column in found}

    def give_birth(
        self,
        name: str,
        codes: Sequence[str],
        under: Sequence[str],
        *,
        first: int,
        number: int,
        last_round: int,
        begin: int,
        columns: dict[int, int],
    ) -> WorkingEdge:
        """An edge as it is born. `columns`: place in halves -> column, of all that is known to matter."""
        seeds, bounds = self.foreseen.get(self.key(name), (frozenset(), frozenset()))
        state = WorkingEdge(
            name=name,
            edge=Edge(len(codes)).with_columns(columns.items()),
            codes=codes,
            under=under,
            first=first,
            number=number,
            last_round=last_round,
            seeds=sorted(seeds),
            code_columns=self.code_columns,
            new_column=self.new_column,
            begin=begin,
            stepped=True,
            markers=self.marker_columns,
            bounds=set(bounds),
        )
        self.edges[name] = state
        return state

    def facing(self, edge: str) -> frozenset[int]:
        """Rib columns of the other edge, by the numbers that both edges share."""
        other = self.edges.get("bottom" if edge == "top" else "top")
        return frozenset(other.shared_ribs) if other else frozenset()

    def known_at_birth(self, edge: str) -> set[int]:
        """Columns (by the numbers that both edges share) to be marked when this edge is born."""
        other = self.key("bottom" if edge == "top" else "top")
        seeds, _ = self.foreseen.get(other, (frozenset(), frozenset()))
        return self.marker_columns | self.facing(edge) | {column for level, _, column in seeds if level == 0}

    def settled(self) -> bool:
        """Whether this pass foresaw just what it found."""
        for key, (seeds, bounds) in self.foreseen.items():
            found_seeds, found_bounds = self.found.get(key, (frozenset(), frozenset()))
            if not (seeds <= found_seeds and bounds <= found_bounds):
                return False
        return not self.late

    def behind(self, index: int) -> Iterator[Work]:
        """The work behind this one, to the end of its part."""
        for item in self.plan.work[index + 1 :]:
            if isinstance(item, STARTS):
                return
            yield item

    def deviating(self, edge: str, number: int) -> list[Deviation]:
        """What was laid otherwise in this round of the part at hand, in the order accepted."""
        found = self._deviating.get((self.part, edge, number), [])
        self.accepted.update(found)
        return found

    def next_edge(self, index: int) -> str | None:
        """The edge of the next rounds behind this work."""
        return next((item.edge for item in self.behind(index) if isinstance(item, Peyote | Rows)), None)

    def right_behind(self, index: int, edge: str) -> tuple[int, int]:
        """What is asked for right behind this work: (reinforcing passes, spaces to walk along)."""
        reinforce, walk = 0, 0
        for item in self.behind(index):
            if isinstance(item, Reinforce) and item.edge == edge:
                reinforce += 1
            elif isinstance(item, WalkAlong) and item.edge == edge:
                walk += item.spaces
            else:
                break
        return reinforce, walk

    def hangs_later(self, index: int, edge: str) -> bool:
        """Whether rounds hang from this edge behind this work, or it is zipped to another."""
        return any(
            (isinstance(item, Peyote | Rows) and item.edge == edge)
            or (isinstance(item, Zip) and (self.part, edge) in item.ends)
            for item in self.behind(index)
        )

    def more(self, height: Height, edge: str, number: int, done: int) -> bool:
        """Whether another round of this rise follows; notes the question where the stitcher has not answered it."""
        if done < height.least:
            return True
        if height.most is not None and done >= height.most:
            return False
        answer = self.another.get((self.part, edge, number))
        if answer is not None:
            return answer
        self.out.decisions.append(
            Decision(self.out.step, self.part, edge, number, done, height.least, height.usual, height.most)
        )
        return done < height.usual


def _gone_over(plan: Plan) -> set[str]:
    """Codes named by a rule: their beads mark columns."""
    codes: set[str] = set()
    for item in plan.work:
        if isinstance(item, Peyote):
            for rule in item.rules:
                codes.update(code for code in (rule.over, getattr(rule, "between", None)) if code and code != "ribs")
    return codes
