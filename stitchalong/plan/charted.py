"""Charts in a plan: read, and put in the place of the beads and rows that they stand for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path as FilePath
from typing import Any

from stitchalong.errors import Place, PlanError, Problem, Problems
from stitchalong.plan import charts
from stitchalong.plan.desk import Desk, Path
from stitchalong.plan.model import Chart, Lay, Written
from stitchalong.plan.text import did_you_mean, shown

Rows = Callable[[Chart, int], list[Written]]

MOST_PIXELS = 1_000_000
"""of all pictures of a plan"""

# start -> (stitch that hangs from it, key of its rows, how the chart is read)
_READINGS: dict[str, tuple[str, str, Rows]] = {
    "strung row": ("flat peyote", "rows", charts.rows),
    "tube": ("peyote", "rounds", charts.rounds),
    "drop tube": ("drop peyote", "rounds", charts.rounds),
    "odd tube": ("spiral peyote", "rounds", lambda chart, _: charts.laps(chart)),
}
_LEAST = {"strung row": 2, "tube": 6, "drop tube": 6, "odd tube": 7}
"""columns, with a drop groups of columns"""


def take_in_pictures(
    data: dict[str, Any], folder: FilePath | None, problems: Problems, place: Callable[[Path], Place]
) -> None:
    """Put the letters of each picture into its chart, with the mapping that was found. Faults are put down."""
    pixels = 0
    for name, chart in (data.get("charts") or {}).items():
        if "picture" not in chart or "lines" in chart:
            continue
        path = ("charts", name, "picture")
        if pixels > MOST_PIXELS:
            problems.add(Problem(f"the pictures come to more than {MOST_PIXELS:,} pixels", place(path)))
            return
        palette = chart.get("colours") or {code: bead["colour"] for code, bead in data["beads"].items()}
        try:
            if folder is None:
                raise PlanError("a picture is read from the plan's folder, and this plan has none")
            from stitchalong.plan.pictures import map_picture

            mapped = map_picture(folder, chart["picture"], palette)
        except PlanError as error:
            for problem in error.problems:
                problems.add(replace(problem, place=place(path)))
            continue
        chart["lines"] = list(mapped.lines)
        pixels += sum(map(len, mapped.lines))
        chart["found"] = [list(one) for one in mapped.colours]
        for colour, code in mapped.far:
            problems.add(
                Problem(
                    f"no bead comes near {colour} of the picture; {code} is the nearest", place(path), doubtful=True
                )
            )


def charts_of(desk: Desk, found: Mapping[str, Mapping[str, Any]]) -> dict[str, Chart]:
    """The charts by name; those with a fault are left out."""
    out: dict[str, Chart] = {}
    for name, entry in found.items():
        path: Path = ("charts", name)
        if ("lines" in entry) == ("picture" in entry) and "found" not in entry:
            desk.fault(path, "a chart has either `lines` or a `picture`", 'lines = ["AABBA", "ABBAA"]')
            continue
        if "colours" in entry:
            desk.known(entry["colours"], (*path, "colours"))
            if "picture" not in entry:
                desk.fault((*path, "colours"), "`colours` belongs to a picture")
        lines = [line.replace(" ", "") for line in entry["lines"]]
        fault = charts.fault_of(lines)
        if fault is not None:
            desk.fault((*path, "lines"), fault)
            continue
        mapping = tuple((colour, code, number) for colour, code, number in entry.get("found", ()))
        out[name] = Chart(name, tuple(lines), entry.get("begins", "bottom left"), entry.get("picture", ""), mapping)
    return out


def charted(
    desk: Desk, works: Sequence[Mapping[str, Any]], known: Mapping[str, Chart], declared: Iterable[str]
) -> Iterator[Mapping[str, Any]]:
    """The works with their charts spelled out; where a chart cannot be used, the fault is put down.

    `declared` names the charts of the plan, those with a fault too.
    """
    begun: _Begun | None = None
    worked = False
    for index, entry in enumerate(works):
        path: Path = ("work", index, "chart")
        if "start" in entry:
            begun, worked = None, False
        if "chart" not in entry:
            yield entry
            continue
        name = entry["chart"]
        chart = known.get(name)
        found = _anything(desk, entry)
        if chart is None:
            if name not in declared:
                hint = did_you_mean(name, declared) or f"define it: [charts.{shown(name)}]"
                desk.fault(path, f"there is no chart called {shown(name)}", hint)
        elif "start" in entry:
            begun = _Begun(entry["start"], name, entry.get("drop", 1))
            found = _strand(desk, entry, chart, path, begun)
        elif begun is None or begun.chart != name or _READINGS[begun.start][0] != entry["stitch"]:
            fix = f'give the start chart = "{shown(name)}" too'
            desk.fault(path, "a chart says the colours from the start on", fix)
        elif worked:
            desk.fault(path, f"the chart {shown(name)} is worked already", "let one [[work]] table work it")
        else:
            worked = True
            found = _rows(desk, entry, chart, path, begun)
        yield {**{key: value for key, value in entry.items() if key != "chart"}, **found}


def _anything(desk: Desk, entry: Mapping[str, Any]) -> dict[str, Any]:
    """In the place of a chart that is refused, so that no other fault is told for it."""
    some = Written((Lay("single", (min(desk.palette),), 12),))
    if "start" in entry:
        return {"beads": some}
    return {key: [some] for stitch, key, _ in _READINGS.values() if stitch == entry["stitch"]}


@dataclass(slots=True)
class _Begun:
    """A start that has its colours from a chart."""

    start: str
    chart: str
    drop: int
    fits: bool = True


def _strand(desk: Desk, entry: Mapping[str, Any], chart: Chart, path: Path, begun: _Begun) -> dict[str, Any]:
    start, drop, width = begun.start, begun.drop, len(chart.lines[0])
    if "beads" in entry:
        desk.fault(path, "this start says its beads in two ways", "keep `beads` or `chart`")
        return {}
    step = {"strung row": drop, "tube": 2, "drop tube": 2 * drop, "odd tube": 2}[start]
    odd = start == "odd tube"
    if width % step != odd or width < _LEAST[start] * drop:
        least = _LEAST[start] * drop
        near = [count for count in (width - (width - odd) % step, width + (odd - width) % step) if count >= least]
        some = " or ".join(map(str, sorted(set(near)))) if near else f"{least} or more"
        desk.fault(path, f"the chart is {width} letters wide, too few or uneven for this start", f"{some} would do")
        begun.fits = False
    found: dict[str, Any] = {"beads": charts.strand(chart)}
    return {**found, "begins": chart.begins} if start == "strung row" else found


def _rows(desk: Desk, entry: Mapping[str, Any], chart: Chart, path: Path, begun: _Begun) -> dict[str, Any]:
    _, key, read = _READINGS[begun.start]
    if key in entry or "pattern" in entry:
        other = key if key in entry else "pattern"
        desk.fault(path, f"this says its colours by a chart and by `{other}`", "keep one of them")
        return {}
    return {key: read(chart, begun.drop)} if begun.fits else _anything(desk, entry)


def in_words(chart: Chart) -> str:
    """How a picture was read: `gull.png, 10 by 30: #f2f3ef is W, 120 beads; …`. Empty for a chart in letters."""
    if not chart.picture:
        return ""
    size = f"{len(chart.lines[0])} by {len(chart.lines)}"
    mapping = "; ".join(f"{colour} is {code}, {number:,}" for colour, code, number in chart.mapping)
    return f"chart {chart.name} from {chart.picture}, {size} beads: {mapping}"
