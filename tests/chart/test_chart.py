"""The chart: every bead once, in its place, none on top of another."""

from __future__ import annotations

import math
from collections import Counter
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stitchalong.chart import Chart, State, chart_of, svg
from stitchalong.chart.model import framed
from stitchalong.chart.svg import is_light
from stitchalong.course.choices import Deviation
from stitchalong.course.compile import compile_plan
from stitchalong.course.course import Course
from stitchalong.course.report import course_document, totals
from stitchalong.plan.library import shipped
from stitchalong.plan.read import read_plan
from tests.writing import band, course_of, peyote

SHIPPED = {path.stem: compile_plan(read_plan(path).plan) for path in shipped()}
SVG = "{http://www.w3.org/2000/svg}"


# ---- every bead once ----------------------------------------------------------------------------


def _complete(course: Course, chart: Chart) -> None:
    assert [bead.number for bead in chart.beads] == list(range(1, course.beads + 1))
    assert Counter(bead.code for bead in chart.beads) == totals(course)
    for bead in chart.beads:
        assert 0 < bead.x < chart.width
        assert 0 < bead.y < chart.height


@pytest.mark.parametrize("name", SHIPPED)
def test_a_shipped_plan_is_drawn_with_each_of_its_beads_once(name: str) -> None:
    course = SHIPPED[name]
    chart = chart_of(course)
    _complete(course, chart)
    codes = {
        number: code
        for round_ in course_document(course)["rounds"]
        for stitch in round_["stitches"]
        for number, code in zip(stitch["ids"], stitch["beads"], strict=True)
    }
    assert {bead.number: bead.code for bead in chart.beads} == codes


def _overlaps(chart: Chart) -> list[tuple[int, int]]:
    """Pairs of beads of which one covers more than a tenth of the other; those that are turned are taken as round."""
    found = []
    for bead in chart.beads:
        for other in chart.within(bead.x - 1.5, bead.y - 1.5, bead.x + 1.5, bead.y + 1.5):
            if other.number <= bead.number:
                continue
            if bead.turn or other.turn:
                if math.dist((bead.x, bead.y), (other.x, other.y)) < 0.9 * min(1.0, (bead.width + other.width) / 2):
                    found.append((bead.number, other.number))
                continue
            wide = (bead.width + other.width) / 2 - abs(bead.x - other.x)
            high = (bead.height + other.height) / 2 - abs(bead.y - other.y)
            if wide > 0 and high > 0 and wide * high > 0.1:
                found.append((bead.number, other.number))
    return found


@pytest.mark.parametrize("name", SHIPPED)
def test_no_bead_covers_another(name: str) -> None:
    assert _overlaps(chart_of(SHIPPED[name])) == []


spacers = st.lists(st.integers(1, 6), min_size=1, max_size=4).map(lambda sides: ", ".join(f"{n}S, M" for n in sides))
rules = st.sampled_from(
    ["", 'increase = { over = "M", with = "MM", from_round = 2 }', 'increase = { sides = 3, with = "AA" }']
)


@settings(max_examples=60, deadline=None)
@given(spacers, rules, st.integers(1, 6), st.integers(0, 4), st.booleans())
def test_any_band_is_drawn_whole(sides: str, rule: str, high: int, low: int, first_down: bool) -> None:
    units = sum(int(word[:-1]) if word.endswith("S") else 1 for word in sides.split(", "))
    if units < 3 or ("from_round = 2" in rule and high < 2):
        return
    top = peyote('["A", "B"]', f"height = {high}", *([rule] if rule else []))
    bottom = [peyote('["A"]', f"height = {low}", edge="bottom")] if low else []
    course = course_of(band(sides), *([*bottom, top] if first_down else [top, *bottom]))
    chart = chart_of(course)
    _complete(course, chart)
    assert _overlaps(chart) == []


def test_work_that_differs_from_its_plan_is_drawn_as_it_is() -> None:
    work = (band("*4S, M* 3 times"), peyote('"A"', "height = 5", 'increase = { over = "M", from_round = 2 }'))
    for laid in ((), ("A", "A"), ("B",)):
        course = course_of(*work, choices=[Deviation("top", 3, 4, laid)])
        _complete(course, chart_of(course))
    plain = (band("12S"), peyote('"A"', "height = 4"))
    course = course_of(*plain, choices=[Deviation("top", 2, 4, ("A", "A"))])
    _complete(course, chart_of(course))


# ---- in their places ----------------------------------------------------------------------------


@pytest.mark.parametrize("start", [band("12S"), 'start = "tube" ;; beads = "16A"'])
def test_plain_peyote_stands_in_columns_each_bead_beside_the_one_it_hangs_from(start: str) -> None:
    """Every bead of a round lies one column beside the up bead that closes its stitch, half a bead higher; at the one
    place where the work is cut open, at the other end."""
    course = course_of(start, peyote('"A"', "height = 6"))
    chart = chart_of(course)
    columns = max(bead.x for bead in chart.beads) - min(bead.x for bead in chart.beads) + 1
    cut = 0
    for round_ in course_document(course)["rounds"][1:]:
        for stitch in round_["stitches"]:
            if stitch["kind"] != "single":
                continue
            bead, other = chart.beads[stitch["ids"][0] - 1], chart.beads[stitch["through"][0] - 1]
            assert bead.y == pytest.approx(other.y - 0.5)
            aside = other.x - bead.x
            cut += aside < 0
            assert aside in (pytest.approx(1), pytest.approx(1 - columns))
    assert cut == 3, "once in every other round: in the others no bead lies over the cut"


def test_sides_lie_side_by_side_and_a_pair_has_a_bead_on_either() -> None:
    course = course_of(
        band("*6S, M* 4 times"), peyote('"A"', "height = 5", 'increase = { over = "M", with = "BB", from_round = 2 }')
    )
    chart = chart_of(course)
    assert [label.text for label in chart.labels] == ["side 1", "side 2", "side 3", "side 4"]
    assert [label.x for label in chart.labels] == sorted(label.x for label in chart.labels)
    for round_ in course_document(course)["rounds"][1:]:
        rows: dict[float, list[tuple[float, str]]] = {}
        for stitch in round_["stitches"]:
            for number, code in zip(stitch["ids"], stitch["beads"], strict=True):
                bead = chart.beads[number - 1]
                rows.setdefault(round(bead.y, 3), []).append((bead.x, code))
        (row,) = rows.values()
        row.sort()
        panels = [[row[0]]]
        for before, after in pairwise(row):
            if after[0] - before[0] > 2.001:
                panels.append([])
            panels[-1].append(after)
        assert len(panels) == 4
        if round_["round"] >= 2:
            letters = ["".join(code for _, code in panel) for panel in panels]
            assert letters == ["B" + "A" * (round_["round"] + 4) + "B"] * 4


def test_the_rounds_of_a_triangle_are_rings() -> None:
    course = course_of(
        'start = "ring" ;; beads = "3A"',
        peyote('"A"', "height = 6", 'increase = { at = "every space", from_round = 2 }'),
    )
    chart = chart_of(course)
    middle = sum(bead.x for bead in chart.beads[:3]) / 3, sum(bead.y for bead in chart.beads[:3]) / 3
    radii = []
    for index, item in enumerate(course.rounds):
        mine = chart.beads[item.first_bead - 1 : item.first_bead - 1 + item.beads]
        away = [math.dist((bead.x, bead.y), middle) for bead in mine]
        assert max(away) - min(away) < 1e-6
        radii.append(away[0])
        # evenly round the ring
        angles = sorted(math.atan2(bead.y - middle[1], bead.x - middle[0]) for bead in mine)
        gaps = [after - before for before, after in pairwise([*angles, angles[0] + math.tau])]
        assert max(gaps) - min(gaps) < 1e-6
        assert len(mine) == 3 * (index + 1), "the triangular rounds, 3r beads: oeis.org/A045943 sums them"
    assert all(after - before >= 1 for before, after in pairwise(radii))


def test_a_bead_of_a_ring_lies_between_those_it_hangs_from() -> None:
    course = course_of('start = "ring" ;; beads = "6A"', peyote('"A"', "height = 4"))
    chart = chart_of(course)
    x, y = (sum(getattr(bead, axis) for bead in chart.beads[:6]) / 6 for axis in "xy")
    for round_ in course_document(course)["rounds"][1:]:
        for stitch in round_["stitches"]:
            if stitch["kind"] != "single":
                continue
            here, there = chart.beads[stitch["ids"][0] - 1], chart.beads[stitch["through"][0] - 1]
            turn = math.atan2(there.y - y, there.x - x) - math.atan2(here.y - y, here.x - x)
            assert math.degrees(turn) % 360 == pytest.approx(30), "half of a sixth"


def test_flat_peyote_stands_in_columns_with_even_edges() -> None:
    """Row r bead k sits over row r - 2 bead k (interweave.com peyote-stitch-your-way-into-2011)."""
    course = SHIPPED["heather-strip"]
    chart = chart_of(course)
    by_column: dict[float, list[float]] = {}
    for bead in chart.beads:
        by_column.setdefault(bead.x, []).append(bead.y)
    assert len(by_column) == 10
    for heights in by_column.values():
        heights.sort()
        assert all(after - before == pytest.approx(1) for before, after in pairwise(heights)), "no gap in a column"
    assert len({len(heights) for heights in by_column.values()}) == 1


# ---- the needle, windows, the other hand --------------------------------------------------------


def test_done_next_and_coming() -> None:
    chart = chart_of(SHIPPED["first-try"])
    for done in (0, 1, 20, len(chart.beads)):
        states = Counter(chart.state(bead, done) for bead in chart.beads)
        assert states[State.DONE] == done
        assert states[State.NEXT] == (done < len(chart.beads))
        needle = chart.needle(done)
        assert needle is not None
        assert needle.number == min(done + 1, len(chart.beads))


def test_a_window_holds_the_beads_in_it() -> None:
    chart = chart_of(SHIPPED["gorse-ring"])
    for left, top in ((0, 0), (10, 3), (40, 5)):
        right, bottom = left + 12, top + 4
        plain = [bead for bead in chart.beads if left <= bead.x <= right and top <= bead.y <= bottom]
        assert sorted(chart.within(left, top, right, bottom), key=lambda bead: bead.number) == plain
    assert len(chart.within(0, 0, chart.width, chart.height)) == len(chart.beads)


def test_for_the_left_hand_right_and_left_are_changed_and_nothing_else() -> None:
    chart = chart_of(SHIPPED["kite-pendant"])
    other = chart.mirrored()
    for bead, back in zip(chart.beads, other.mirrored().beads, strict=True):
        assert (back.x, back.turn % 360) == (pytest.approx(bead.x), pytest.approx(bead.turn % 360))
    assert _overlaps(other) == _overlaps(chart)
    assert [(bead.number, bead.code, bead.y) for bead in other.beads] == [
        (bead.number, bead.code, bead.y) for bead in chart.beads
    ]


def test_a_chart_of_nothing_is_empty() -> None:
    chart = framed("nothing", [])
    assert chart.needle(0) is None
    assert ElementTree.fromstring(svg(chart, {})).findall(f"{SVG}rect") == []


# ---- SVG ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", SHIPPED)
def test_the_svg_is_well_formed_and_has_one_shape_a_bead(name: str) -> None:
    """Read by the XML parser of the standard library."""
    course = SHIPPED[name]
    root = ElementTree.fromstring(svg(chart_of(course), {}, done=7, letters=True))
    shapes = root.findall(f"{SVG}rect")
    assert [shape.get("id") for shape in shapes] == [f"b{number}" for number in range(1, course.beads + 1)]
    assert len([text for text in root.findall(f"{SVG}text") if text.get("class") is None]) == course.beads
    assert {child.tag for child in root} <= {f"{SVG}{tag}" for tag in ("title", "desc", "style", "rect", "text")}
    kinds = Counter(shape.get("class") for shape in shapes)
    assert kinds == {"bead": 7, "bead next": 1, "bead coming": course.beads - 8}
    box = [float(number) for number in root.get("viewBox", "").split()]
    for shape in shapes:
        x, y, width, height = (float(shape.get(key, "nan")) for key in ("x", "y", "width", "height"))
        assert box[0] <= x <= x + width <= box[2]
        assert box[1] <= y <= y + height <= box[3]


def test_words_of_a_plan_are_never_markup() -> None:
    chart = framed("</title><script>alert(1)</script> & \x1b[31m", chart_of(SHIPPED["first-try"]).beads)
    text = svg(chart, {"C": '#fff" onload="x'}, names={"C": "<b>&\x07"})
    root = ElementTree.fromstring(text)
    assert root.findall(f".//{SVG}script") == []
    assert root.findtext(f"{SVG}title") == "</title><script>alert(1)</script> & [31m"
    assert all(
        set(shape.keys()) <= {"class", "id", "x", "y", "width", "height", "rx", "fill", "transform"} for shape in root
    )


def test_the_description_counts_the_beads() -> None:
    course = SHIPPED["first-try"]
    root = ElementTree.fromstring(svg(chart_of(course), {}, done=3, names={"C": "cork"}))
    words = root.findtext(f"{SVG}desc") or ""
    assert words.startswith(f"{course.beads} beads: ")
    assert words.endswith("; 3 laid")


@pytest.mark.parametrize(
    ("colour", "light"),
    [
        ("#000000", False),
        ("#ffffff", True),
        ("#ffff00", True),
        ("#0000ff", False),
        ("#777777", True),
        ("#747474", False),
        ("x", True),
    ],
)
def test_letters_are_black_on_light_beads_and_white_on_dark_ones(colour: str, light: bool) -> None:
    """Contrast by WCAG 2.2, L being relative luminance: black (L + 0.05) / 0.05, white 1.05 / (L + 0.05)."""
    assert is_light(colour) is light
