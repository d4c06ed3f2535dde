"""From a course to bonds: each technique that is modelled, and a plain word for the others."""

from __future__ import annotations

from collections.abc import Sequence

from stitchalong.course.course import Course, Round
from stitchalong.course.words import counted
from stitchalong.errors import UsageError
from stitchalong.form import starts
from stitchalong.form.bonds import Bonds, Measure
from stitchalong.form.edges import Edge
from stitchalong.form.fringed import Fringed
from stitchalong.form.netted import Netted
from stitchalong.form.rounds import Rounds, stitches
from stitchalong.form.stacked import Stacked
from stitchalong.form.thread import Strand
from stitchalong.form.told import Told
from stitchalong.form.woven import Woven

CLOSED = frozenset({"ring", "tube", "band", "fill", "peyote"})
PEYOTE = frozenset({"strung row", "odd tube", "drop tube", "MRAW strip", "flat peyote", "spiral peyote", "drop peyote"})
WOVEN = frozenset(
    {
        "right-angle weave row",
        "right-angle weave ring",
        "right-angle weave",
        "tubular right-angle weave",
        "cube base",
        "cubic right-angle weave",
    }
)
STACKED = frozenset(
    {
        "ladder",
        "brick stitch",
        "tubular brick stitch",
        "herringbone",
        "tubular herringbone",
        "strand",
        "square stitch",
    }
)
NETS = frozenset({"net ring", "netting"})
ENDINGS = frozenset({"edging", "fringe"})
MODELLED = CLOSED | PEYOTE | WOVEN | STACKED | NETS | ENDINGS | {"zip"}
"""techniques of which the bonds are known"""


class NotModelled(UsageError):
    """Work whose form cannot be computed."""

    def __init__(
        self, what: str, why: str = "which of its beads touch, and how, has not been modelled", before: int = 0
    ) -> None:
        """`before`: rounds that can be shown before it."""
        fix = "all other stitches can be shown"
        if before:
            fix = f"the first {counted(before, 'round')} can be shown" if before > 1 else "the first round can be shown"
        super().__init__(f"the form of {what} is not known: {why}", fix=fix)


def refuse_unknown(course: Course, beads: int) -> None:
    """Raise NotModelled where the first so many beads have rounds of a technique whose bonds are not known."""
    for at, item in enumerate(course.rounds):
        if item.first_bead <= beads and item.technique not in MODELLED:
            raise NotModelled(item.technique, before=at)


def parts_of(course: Course, beads: int) -> list[range]:
    """The rounds of each part of the piece, as far as the first so many beads go."""
    begins: list[int] = []
    last = 0
    for at, item in enumerate(course.rounds):
        if item.first_bead <= beads and item.beads:
            last = at + 1
            if not begins or course.rounds[begins[-1]].part != item.part:
                begins.append(at)
    return [range(at, stop) for at, stop in zip(begins, [*begins[1:], last], strict=True)]


def bonds_of(course: Course, measures: Sequence[Measure], rounds: range | None = None) -> Bonds:
    """The bonds of a part of a course, its rounds given by index (None: of all).

    Beads count from 0 within it, and `measures` are those of its beads. Raises NotModelled.
    """
    rounds = rounds or range(len(course.rounds))
    base = course.rounds[rounds.start].first_bead - 1
    part = _Part(Bonds(measures, flat=course.rounds[rounds.start].flat), Strand(course, base))
    for index in rounds:
        item = course.rounds[index]
        try:
            part.work(index, item)
        except (ValueError, KeyError) as error:
            raise NotModelled(f"{item.technique} as it is worked in round {item.number}", str(error)) from error
        part.bonds.stops.append(item.first_bead - 1 - base + item.beads)
    part.bonds.finish()
    return part.bonds


class _Part:
    """The edges of a part, and who works what on them."""

    def __init__(self, bonds: Bonds, strand: Strand) -> None:
        self.bonds = bonds
        self._strand = strand
        self._rounds = Rounds(bonds)
        self._told = Told(bonds, strand)
        self._woven = Woven(bonds, strand)
        self._stacked = Stacked(bonds, strand)
        self._netted = Netted(bonds, strand)
        self._edges: dict[str, Edge] = {}
        self._frames: set[str] = set()
        """edges whose spaces lie over beads that stand upright"""

    def work(self, index: int, item: Round) -> None:
        if item.technique in CLOSED:
            self._closed(index, item)
        elif item.technique in PEYOTE:
            self._peyote(index, item)
        elif item.technique in WOVEN:
            self._weave(index, item)
        elif item.technique in STACKED:
            self._stack(index, item)
        elif item.technique in NETS:
            if item.technique == "net ring":
                self._netted.ring(index)
            else:
                self._netted.loops(index)
            self._edges[item.edge] = self._netted.edge()
        elif item.technique in ENDINGS:
            Fringed(self.bonds, self._strand).work(index, fringe=item.technique == "fringe")

    def _closed(self, index: int, item: Round) -> None:
        first = item.first_bead - 1 - self._strand.base
        match item.technique:
            case "ring":
                self._edges[item.edge] = starts.ring(self.bonds, first, item.spaces)
            case "tube":
                self._edges[item.edge] = starts.tube(self.bonds, first, item.spaces)
            case "band":
                self._edges["top"], self._edges["bottom"] = starts.mraw(self.bonds, first, item.spaces)
            case _:
                laid = stitches(self._strand.course.runs_of(index), first)
                fill = item.technique == "fill"
                over = fill or item.edge in self._frames
                edge = self._edges[item.edge]
                self._edges[item.edge] = self._rounds.work(edge, _begin(item, fill), laid, fill=over)
                self._frames.discard(item.edge)

    def _peyote(self, index: int, item: Round) -> None:
        if item.technique == "MRAW strip":
            lower, upper = starts.mraw_strip(self.bonds, item.first_bead - 1 - self._strand.base, item.spaces)
            self._told.upon(lower, upper)
        elif item.technique in ("strung row", "odd tube", "drop tube"):
            self._told.strung(index, item)
        else:
            self._told.work(index, item)

    def _weave(self, index: int, item: Round) -> None:
        match item.technique:
            case "right-angle weave row" | "right-angle weave ring":
                self._woven.row(index, closed=not item.flat)
            case "cube base":
                self._woven.base(index)
            case _:
                self._woven.storey(index, ringed=item.technique == "cubic right-angle weave")
        if not item.flat and item.technique != "cube base":
            self._edges[item.edge] = self._woven.edge(index)
            self._frames.add(item.edge)

    def _stack(self, index: int, item: Round) -> None:
        match item.technique:
            case "ladder":
                self._stacked.ladder(index, closed=not item.flat)
            case "strand":
                self._stacked.strand(index)
            case "brick stitch" | "tubular brick stitch":
                self._stacked.bricks(index, closed=not item.flat)
            case "square stitch":
                self._stacked.squares(index)
            case _:
                self._stacked.herringbone(index, closed=not item.flat)


def _begin(item: Round, fill: bool) -> int:
    """The space of the edge below where the round begins. A band's bottom beads are met in descending order."""
    return -item.begin - 1 if fill else item.begin
