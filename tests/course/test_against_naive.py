"""The course against an independent, naive model of the same piece, bead by bead."""

from __future__ import annotations

import copy
import os
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from stitchalong.course.compile import compile_plan
from stitchalong.course.report import check_document, course_document
from stitchalong.plan.read import read_text
from tests.naive.compare import TOLD, differences, leaps
from tests.naive.parts import Bead, Column, Gap, Stitch, Unworkable
from tests.naive.piece import Piece
from tests.naive.strategies import plans
from tests.naive.wording import as_toml, written_out
from tests.naive.work import Worker

Dict = dict[str, Any]

WANTED = os.environ.get("STITCHALONG_EXAMPLES")
"""How many random plans; without it the same two hundred are drawn each time."""
many = settings(
    max_examples=int(WANTED or 200),
    derandomize=WANTED is None,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)


def documents(plan: Dict) -> tuple[Dict, Dict]:
    course = compile_plan(read_text(as_toml(plan), "drawn").plan)
    return check_document(course), course_document(course)


def worked(plan: Dict, piece: Piece | None = None) -> Worker:
    worker = Worker(plan, piece)
    worker.run()
    return worker


@many
@given(plans())
def test_random_plans_agree(plan: Dict) -> None:
    check, course = documents(plan)
    worker = worked(plan)
    assert differences(check, course, worker) == []
    assert leaps(course, worker.piece) == []


@many
@given(plans())
def test_rules_and_written_rounds_compile_to_the_same(plan: Dict) -> None:
    """What a designer writes as a rule and what she writes out bead by bead."""
    check, course = documents(plan)
    # How far a rise may be taken is not part of the work.
    check.pop("open", None)
    assert documents(written_out(worked(plan))) == (check, course)


# ---- the comparison sees a fault ------------------------------------------------------------------


def band(spacers: str, *works: Dict) -> Dict:
    return {
        "title": "A band",
        "beads": {code: {"marker": code == "M"} for code in "CSDPM"},
        "start": {"kind": "band", "frame": ("C", "C", "C"), "spacers": list(spacers), "reinforce": True},
        "works": list(works),
    }


def rounds(edge: str, *specs: Dict, **more: Any) -> Dict:
    fill = {"fill": ("single", "C")} if edge == "bottom" else None
    work = {"do": "rounds", "edge": edge, "rounds": list(specs), "height": None, "fill": fill}
    return {**work, "increase": None, "decrease": None, "reinforce": False, **more}


def plain(codes: str) -> list[Dict]:
    return [{"fill": ("single", code)} for code in codes]


def over(from_round: int, rounds: int | None = None) -> Dict:
    return {"over": "M", "with": ["MM"], "from_round": from_round, "rounds": rounds}


UNEQUAL = "SSSSSSMSSSSSSSMSSSSSSMSSSSSM"
"""Sides of six, seven, six and five."""


class ParityWrong(Piece):
    """Keeps each space over the column below the round before: markers have spaces in the wrong rounds."""

    def next_edge(self, stitches: list[Stitch]) -> tuple[list[Bead], list[Gap]]:
        ups, _ = super().next_edge(stitches)
        return ups, [Gap(s.space.column, j > 0) for s in stitches for j, _ in enumerate(s.ups)]


class OneSpaceLate(Piece):
    """Takes a space to lie over the up bead before it."""

    def next_edge(self, stitches: list[Stitch]) -> tuple[list[Bead], list[Gap]]:
        ups, gaps = super().next_edge(stitches)
        return ups, [Gap(before.column, gap.inside) for before, gap in zip([gaps[-1], *gaps], gaps, strict=False)]


class SecondEdgeForward(Piece):
    """Works the second edge in the order of the first."""

    def cross(self, to: str) -> None:
        fresh = not self.edges[to].begun
        super().cross(to)
        edge = self.edges[to]
        if to == "bottom" and fresh:
            edge.ups = [edge.ups[0], *reversed(edge.ups[1:])]
            edge.gaps = list(reversed(edge.gaps))


class FlankLeftOut(Piece):
    """Does not look across the step-up for the space beside an increase."""

    def mark_flanks(self, stitches: list[Stitch]) -> None:
        super().mark_flanks(stitches)
        if stitches[0].increase or stitches[0].inside:
            stitches[-1].flank = None


class TwoBeadsAlways(Piece):
    """Steps up through two beads even where the first space was left empty."""

    def step_up(self, name: str) -> None:
        super().step_up(name)
        self.log[-1].step_up = min(self.log[-1].step_up, 2)


class StartStays(Piece):
    """Steps up as if each round began over the same bead: the start does not travel."""

    def step_up(self, name: str) -> None:
        done = self.edges[name].done
        super().step_up(name)
        edge = self.edges[name]
        if done:
            edge.ups = [edge.ups[-1], *edge.ups[:-1]]
            edge.gaps = [edge.gaps[-1], *edge.gaps[:-1]]
            self.needle = edge.ups[0]


class PairsClosed(Piece):
    """Forgets that the two beads of a pair have a space between them."""

    def next_edge(self, stitches: list[Stitch]) -> tuple[list[Bead], list[Gap]]:
        ups, gaps = super().next_edge(stitches)
        return ups, [Gap(gap.column) for gap in gaps]


FAULTS: list[tuple[type[Piece], Dict]] = [
    (ParityWrong, band("SSSSSSM" * 4, rounds("top", *plain("CSCS"), increase=over(2)))),
    (OneSpaceLate, band("SSSSSSM" * 4, rounds("top", *plain("CSCS"), increase=over(2)))),
    (SecondEdgeForward, band(UNEQUAL, rounds("bottom", *plain("CSCS"), increase=over(2)))),
    (FlankLeftOut, band("SM" + "SSSSSSM" * 3 + "SSSSS", rounds("top", *plain("CSC"), increase=over(2)))),
    (
        TwoBeadsAlways,
        band(
            "SSSSSS",
            rounds("top", {"items": [("lay", ("no bead", ""), 1), ("lay", ("single", "C"), 5)]}, *plain("C")),
        ),
    ),
    (StartStays, band("SSSSSSM" * 4, rounds("top", *plain("CSCS"), increase=over(2)))),
    (PairsClosed, band("SSSSSSM" * 4, rounds("top", *plain("CSCS"), increase=over(2)))),
]


@pytest.mark.parametrize(("fault", "plan"), FAULTS, ids=[fault.__name__ for fault, _ in FAULTS])
def test_a_planted_fault_is_seen(fault: type[Piece], plan: Dict) -> None:
    """The same plan agrees with the sound model; the one with the fault disagrees, or cannot work the plan at all."""
    check, course = documents(plan)
    assert differences(check, course, worked(plan)) == []
    try:
        found = differences(check, course, worked(plan, fault()))
    except Unworkable as refused:
        found = [str(refused)]
    assert found != []


@many
@given(plans(), st.data())
def test_any_single_fault_in_a_document_is_seen(plan: Dict, data: st.DataObject) -> None:
    check, course = documents(plan)
    worker = worked(plan)
    faulty_check, faulty_course = copy.deepcopy(check), copy.deepcopy(course)
    if data.draw(st.booleans()):
        row = data.draw(st.sampled_from(faulty_check["rounds"]))
        spoil(row, data.draw(st.sampled_from(sorted(row))))
    else:
        lap = data.draw(st.sampled_from([lap for lap in faulty_course["rounds"] if lap["stitches"]]))
        stitch = data.draw(st.sampled_from(lap["stitches"]))
        # Moves with more than one right way are held to the bead where they end.
        assume(stitch["kind"] not in ("join", "cross"))
        spoil(stitch, data.draw(st.sampled_from(TOLD)))
    assert differences(faulty_check, faulty_course, worker) != []


def spoil(record: Dict, key: str) -> None:
    """Changes one value to another of its kind."""
    value = record[key]
    if isinstance(value, bool):
        record[key] = not value
    elif isinstance(value, int):
        record[key] = value + 1
    elif isinstance(value, str):
        record[key] = value + "x"
    elif isinstance(value, list):
        record[key] = value[1:] + value[:1] if len(set(value)) > 1 else [*value, 1]
    elif isinstance(value, dict):
        record[key] = {**value, "C": value.get("C", 0) + 1}
    else:
        record[key] = 0


def test_a_leap_of_the_thread_is_seen() -> None:
    plan = band("SSSSSSM" * 4, rounds("top", *plain("CS"), increase=over(2)))
    course = documents(plan)[1]
    piece = worked(plan).piece
    assert leaps(course, piece) == []
    missed = next(s for s in course["rounds"][2]["stitches"] if s["kind"] == "pair")
    missed["through"] = [missed["through"][0] + 1]
    assert leaps(course, piece) != []


# ---- small plans that a course easily gets wrong --------------------------------------------------


def written(*told: str) -> list[Dict]:
    """Rounds from one word a stitch: `C` a single, `MM` a pair, `-` no bead; `~` before it: all around."""
    specs: list[Dict] = []
    for text in told:
        forms = {0: "no bead", 1: "single", 2: "together"}
        words = [word.strip("-") for word in text.strip("~ ").split()]
        items: list[Any] = [("lay", (forms[len(word)], word), 1) for word in words]
        specs.append({"items": [("repeat", items, None)] if text.startswith("~") else items})
    return specs


def over_ribs(rule: str, from_round: int) -> Dict:
    return {rule: {"over": "ribs", "with": ["PP"], "from_round": from_round, "rounds": 1}}


SMALL: dict[str, Dict] = {
    "the needle is in the first top bead before it crosses": band("SSS", rounds("bottom", *plain("C"))),
    "pairs over both beads of a pair": band(
        "SSS", rounds("top", *written("MM C C"), *plain("CDC"), *written("D D MM MM"))
    ),
    "around, by the ribs of the other edge": band(
        "SSSSSS", rounds("top", *written("DD C C C C C")), rounds("bottom", *written("~ C C C C C DD"))
    ),
    "around, by the other edge's ribs, on the way back": band(
        "SSSSSSSS",
        rounds("bottom", *plain("C")),
        rounds("top", *plain("C"), *written("DD C C DD C C C C")),
        {**rounds("bottom", *written("~ C C DD C C C C DD")), "fill": None},
    ),
    "over the other edge's ribs in the columns of units": band(
        "SSSSS",
        rounds("top", *written("MM C C C C")),
        rounds("bottom", *plain("C"), **over_ribs("increase", 1)),
    ),
    "over its own ribs where the other edge has some too": band(
        "SSSSSS",
        rounds("top", *plain("C"), *written("MM C C C C C")),
        rounds("bottom", *written("MM C C C C C", "MM C C C C C C")),
        {**rounds("bottom", *plain("CC"), **over_ribs("decrease", 3)), "fill": None},
    ),
    "a first space passed over": band("SSSSSS", rounds("top", *written("- C C C C C"), *plain("CC"))),
    "one walk along": band(
        "SSSSSSM" * 2,
        rounds("top", *plain("CS"), increase=over(2)),
        {"do": "walk", "edge": "top", "spaces": 3},
        rounds("top", *plain("CS"), increase=over(3)),
    ),
}


@pytest.mark.parametrize("name", SMALL)
def test_small_plans_agree(name: str) -> None:
    check, course = documents(SMALL[name])
    worker = worked(SMALL[name])
    assert differences(check, course, worker) == []
    assert leaps(course, worker.piece) == []


# ---- where a round starts -------------------------------------------------------------------------


def singles_and_pairs(course: Dict, edge: str, number: int) -> list[int | str]:
    """A round from the needle: runs of singles as numbers, pairs as `pair`."""
    told: list[int | str] = []
    for lap in course["rounds"]:
        if (lap["edge"], lap["round"]) != (edge, number):
            continue
        for stitch in lap["stitches"]:
            if stitch["kind"] == "pair":
                told.append("pair")
            elif stitch["kind"] == "single":
                if told and isinstance(told[-1], int):
                    told[-1] += 1
                else:
                    told.append(1)
    return told


def increase_rounds(spacers: str, edge: str = "top", other: str | None = None) -> list[list[int | str]]:
    works = [rounds(e, *plain("CCCCC"), increase=over(2)) for e in (other, edge) if e]
    course = documents(band(spacers, *works))[1]
    return [singles_and_pairs(course, edge, number) for number in range(2, 6)]


def test_a_round_begun_right_after_a_marker() -> None:
    """Four sides of six and a marker, from the spacer after a marker: 5, pair, whole sides, then 1, 2, 3 …"""
    told = increase_rounds("SSSSSSM" * 4)
    assert told == [[5, "pair", side, "pair", side, "pair", side, "pair", side - 5] for side in (6, 7, 8, 9)]


def test_a_round_begun_right_before_a_marker_opens_with_the_pair() -> None:
    told = increase_rounds("SM" + "SSSSSSM" * 3 + "SSSSS")
    assert [row[0] for row in told] == ["pair"] * 4


def test_a_round_begun_on_a_marker_ends_with_the_pair() -> None:
    told = increase_rounds("M" + "SSSSSSM" * 3 + "SSSSSS")
    assert told[0][-1] == "pair"
    assert told[1][-2:] == ["pair", 1]


def test_the_second_edge_meets_the_sides_reversed() -> None:
    """Sides 6, 7, 6, 5 with ribs on both edges: the second has 5, 6, 7, 6, in the same columns.

    Those four numbers read alike both ways round, so the order is also looked for in the columns.
    """
    plan = band(
        UNEQUAL,
        rounds("top", *plain("CC"), increase=over(2)),
        rounds("bottom", *plain("CC"), increase=over(2)),
    )
    check, course = documents(plan)
    first, second = (row["sides"] for row in check["rounds"] if row["round"] == 2)
    assert first == [6, 7, 6, 5]
    assert second in turns([5, 6, 7, 6])
    piece = worked(plan).piece
    markers = [bead.column for bead in piece.spacers if bead.code == "M"]
    met = {
        edge: [
            markers.index(column)
            for lap in course["rounds"]
            if (lap["edge"], lap["round"]) == (edge, 2)
            for stitch in lap["stitches"]
            if stitch["kind"] == "pair"
            for column in [column_of(piece, stitch["ids"][0])]
        ]
        for edge in ("top", "bottom")
    }
    assert met["top"] == [0, 1, 2, 3]
    assert met["bottom"] in turns([3, 2, 1, 0])


def turns(ring: list[int]) -> list[list[int]]:
    return [ring[i:] + ring[:i] for i in range(len(ring))]


def column_of(piece: Piece, number: int) -> Column:
    """The column of the space in which the naive piece laid this bead."""
    stitch = piece.beads[number - 1].stitch
    assert stitch is not None
    return stitch.space.column
