"""Plain checked data becomes a `Plan`: notation is read, and what the words mean together is checked.

The data is what the schema hands over, and what is kept with a piece, so nothing here needs pydantic.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from stitchalong.errors import Place, Problem, Problems
from stitchalong.plan.charted import charted, charts_of
from stitchalong.plan.desk import Desk, Path, spoken_key
from stitchalong.plan.foundations import MAX_ROUNDS, foundation, height_of, rows
from stitchalong.plan.model import (
    FIRST_PART,
    Bead,
    Peyote,
    Plan,
    Reinforce,
    Remark,
    RingStart,
    Round,
    Start,
    Thread,
    TubeStart,
    WalkAlong,
    Work,
    Zip,
)
from stitchalong.plan.notation import parse_round
from stitchalong.plan.rules import corners, decrease, increase
from stitchalong.plan.sizes import even_sides, resized
from stitchalong.plan.starts import band, strung
from stitchalong.plan.text import shown


def build(
    data: Mapping[str, Any],
    *,
    source: str = "",
    problems: Problems | None = None,
    place: Callable[[Path], Place] | None = None,
) -> Plan:
    """The plan of checked data.

    `source` names the file; `place` tells where a path of the data stands in it. All faults are gathered and
    raised at once as a PlanError; doubts are left in `problems`, if it is given.
    """
    gathered = Problems() if problems is None else problems
    desk = _Builder(gathered, place or (lambda path: Place(source or None, key=spoken_key(path))))
    plan = desk.plan(data)
    if desk.untold:
        gathered.add(Problem(f"and {desk.untold:,} more faults"))
    gathered.raise_if_any()
    desk.doubt()
    return replace(plan, source=source)


class _Builder(Desk):
    def plan(self, data: Mapping[str, Any]) -> Plan:
        beads = tuple(Bead(code, **entry) for code, entry in data["beads"].items())
        self.palette = frozenset(bead.code for bead in beads)
        declared = data.get("charts") or {}
        charts = charts_of(self, declared)
        works: list[Work] = []
        for index, entry in enumerate(charted(self, data["work"], charts, declared)):
            work = self.work(entry, ("work", index))
            if work is not None:
                works.append(work)
        self.order(data["work"])
        return Plan(
            title=data["title"],
            about=data.get("about", ""),
            beads=beads,
            thread=Thread(**data.get("thread", {})),
            work=tuple(works),
            charts=tuple(charts.values()),
            remarks=tuple(self.remark(entry, ("remarks", at)) for at, entry in enumerate(data.get("remarks", ()))),
        )

    def doubt(self) -> None:
        """Beads of the palette that no stitch lays."""
        for code in sorted(self.palette - self.used):
            self.fault(("beads", code), f"bead {code} is in the palette but nothing names it", doubtful=True)

    def order(self, works: Sequence[Mapping[str, Any]]) -> None:
        """A start first, one for each part; and not more rounds than a plan may list."""
        if "start" not in works[0]:
            self.fault(("work", 0), "the work does not begin with a start", 'such as start = "MRAW band"')
        parts = {works[0].get("part", FIRST_PART)}
        for index, work in enumerate(works[1:], start=1):
            if "start" not in work:
                continue
            if "part" not in work:
                self.fault(("work", index, "start"), "a second start in one plan", 'begin another part: part = "lid"')
            elif work["part"] in parts:
                self.fault(("work", index, "part"), f'two parts are called "{shown(work["part"])}"')
            parts.add(work.get("part", ""))
        if sum(len(work.get("rounds", ())) + len(work.get("rows", ())) for work in works) > MAX_ROUNDS:
            self.fault(("work",), f"more than {MAX_ROUNDS:,} rounds are listed", "let a height repeat them")

    def remark(self, entry: Mapping[str, Any], path: Path) -> Remark:
        if "stitch" in entry and "round" not in entry:
            self.fault((*path, "stitch"), "a remark before a stitch needs `round` too")
        return Remark(**entry)

    # ---- work ---------------------------------------------------------------------------------

    def work(self, entry: Mapping[str, Any], path: Path) -> Work | None:
        if "start" in entry:
            return self.start(entry, path)
        if "stitch" in entry:
            return self.peyote(entry, path) if entry["stitch"] == "peyote" else rows(self, entry, path)
        if "walk" in entry:
            return WalkAlong(entry.get("edge", "top"), entry["walk"])
        if "zip" in entry:
            return self.zip(entry, path)
        return Reinforce(entry["reinforce"])

    def zip(self, entry: Mapping[str, Any], path: Path) -> Zip | None:
        parts = tuple(entry["zip"])
        if len(set(parts)) < len(parts):
            self.fault((*path, "zip"), "a part is zipped to another, not to itself", 'zip = ["box", "lid"]')
            return None
        if "edges" in entry and len(parts) == 1:
            self.fault((*path, "edges"), "`edges` belongs to two parts", "leave it out")
            return None
        return Zip(parts, tuple(entry.get("edges", ("top", "top"))))

    def start(self, entry: Mapping[str, Any], path: Path) -> Start | None:
        if entry["start"] == "MRAW band":
            return band(self, entry, path)
        if entry["start"] not in ("ring", "tube"):
            return foundation(self, entry, path)
        if "beads" not in entry:
            self.fault((*path, "beads"), "`beads` is missing", 'beads = "20A"')
            return None
        beads = strung(self, entry["beads"], (*path, "beads"), tube=entry["start"] == "tube")
        if beads is None:
            return None
        kind = TubeStart if entry["start"] == "tube" else RingStart
        return kind(beads, entry.get("part", ""))

    def peyote(self, entry: Mapping[str, Any], path: Path) -> Peyote | None:
        edge = entry.get("edge", "top")
        if "rounds" not in entry:
            self.fault((*path, "rounds"), "`rounds` is missing", 'rounds = ["A"]')
            return None
        rounds: list[Round | None] = [
            self.notation(parse_round, text, (*path, "rounds", index)) for index, text in enumerate(entry["rounds"])
        ]
        fill = None
        if "fill" in entry:
            fill = self.notation(parse_round, entry["fill"], (*path, "fill"))
            if edge != "bottom":
                self.fault((*path, "fill"), "`fill` belongs to the bottom edge of a band", 'edge = "bottom"')
        height = height_of(self, entry, path, len(rounds))
        grow = increase(self, entry["increase"], (*path, "increase")) if "increase" in entry else None
        shrink = decrease(self, entry["decrease"], (*path, "decrease")) if "decrease" in entry else None
        turn = corners(self, entry["corners"], (*path, "corners")) if "corners" in entry else None
        read = tuple(round for round in rounds if round is not None)
        if len(read) < len(rounds) or height is None:
            return None
        return Peyote(edge, read, height, grow, shrink, fill, entry.get("reinforce", False), turn)


__all__ = ["MAX_ROUNDS", "build", "even_sides", "resized"]
