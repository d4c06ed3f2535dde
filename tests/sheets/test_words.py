"""Plain text and Markdown, and what a sheet says."""

from __future__ import annotations

import re
import unicodedata
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from stitchalong.course.compile import compile_plan
from stitchalong.errors import UsageError
from stitchalong.measure.units import Units
from stitchalong.plan.read import read_text
from stitchalong.sheets.blocks import Sort, Steps
from stitchalong.sheets.latin import latin
from stitchalong.sheets.make import Wishes, kit_list, sheet
from stitchalong.sheets.supplies import needle_words
from stitchalong.sheets.text import as_markdown, as_text, md
from tests.sheets.made import NASTY, SHIPPED, nasty_plan, plan_and_course, sheet_of

OPEN = """
title = "Reed"
[beads.A]
name = "reed"
colour = "#808020"
size = "11/0"
shape = "cylinder"
[[work]]
start = "tube"
beads = "20A"
[[work]]
stitch = "peyote"
rounds = "A"
height = "4 to 90"
usual = 80
"""


def ring() -> Path:
    return next(path for path in SHIPPED if path.stem == "gorse-ring")


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_plain_text_is_narrow_and_has_a_box_for_every_round(path: Path) -> None:
    _, course = plan_and_course(path)
    text = as_text(sheet_of(path))
    assert max(map(len, text.splitlines())) <= 100
    assert len(re.findall(r"^\[ \] ", text, re.MULTILINE)) == len(course.rounds)


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_tables_in_markdown_have_as_many_cells_in_every_row(path: Path) -> None:
    text = as_markdown(sheet_of(path))
    tables = re.findall(r"(?:^\|.*\|\n)+", text, re.MULTILINE)
    assert tables
    for table in tables:
        assert len({len(re.findall(r"(?<!\\)\|", line)) for line in table.splitlines()}) == 1


def test_no_text_of_a_plan_is_markup_in_markdown() -> None:
    """Every sign of a plan's text stands behind a backslash (CommonMark 0.31, 2.4)."""
    plan = nasty_plan()
    text = as_markdown(sheet(compile_plan(plan), plan, Wishes()))
    assert NASTY not in text
    assert "\\<script\\>" in text
    assert not re.search(r"(?<!\\)<script", text)
    tables = re.findall(r"(?:^\|.*\|\n)+", text, re.MULTILINE)
    assert all(len({len(re.findall(r"(?<!\\)\|", line)) for line in table.splitlines()}) == 1 for table in tables)


@pytest.mark.parametrize(
    "text", ["6.7 g", "2. Ring", "3) Ring", "4.", "12.5 mm to 13.0 mm", "- 5", "= 3", "+ A", "0.5"]
)
def test_what_begins_with_a_number_is_read_as_it_is_written(text: str) -> None:
    """Read by markdown-it, which follows CommonMark."""
    assert MarkdownIt("commonmark").render(md(text)) == f"<p>{text}</p>\n"
    assert "\\" not in md(text) or not re.match(r"\d+\.\d", text), "a decimal needs no backslash"


def test_open_heights_ask_and_threads_change_at_a_round() -> None:
    """Beads are 1.3 mm long: a round of 10 and its step-up take 11 · 2.6 · 1.15 mm, 33 mm at most and 30 at least.

    Of a length of 1.5 m two ends of 15 cm are kept, so that it lasts for 36 to 40 rounds: 80 rounds take three.
    """
    plan = read_text(OPEN).plan
    (steps,) = (block.steps for block in sheet(compile_plan(plan), plan, Wishes()).blocks if isinstance(block, Steps))
    asked = [step.title for step in steps if any(note.sort is Sort.CHOICE for note in step.notes)]
    assert asked[0] == "Round 6"
    assert len(asked) == 77
    threads = [step.title for step in steps if any(note.sort is Sort.THREAD for note in step.notes)]
    rounds = [int(title.removeprefix("Round ")) for title in threads]
    assert len(rounds) == 2
    assert 36 <= rounds[0] - 2 <= 40
    assert 36 <= rounds[1] - rounds[0] <= 41


def test_other_sizes_are_told_with_the_beads_they_take() -> None:
    """Four sides, so 24 and 32 are the nearest with equal sides; by the gauge 2.24 mm a unit: 53.8 and 71.7 mm. A unit
    less takes 4 beads less from the band and one from each of the nine rounds: 13."""
    text = as_text(sheet_of(ring()))
    assert re.search(r"24  5 5 5 5 +53\.8 mm  54 .* 368$", text, re.MULTILINE)
    assert re.search(r"28  6 6 6 6 +62\.7 mm  63 .* 420  this sheet$", text, re.MULTILINE)
    assert re.search(r"32  7 7 7 7 +71\.7 mm  72 .* 472$", text, re.MULTILINE)
    assert 420 - 368 == 472 - 420 == 4 * (4 + 9)


def test_other_counts_are_told_of_other_starts_where_the_rounds_let_them() -> None:
    """An odd tube of 9 or 11 beads; rounds that are written out for their count let no other one."""
    head = OPEN.partition("[[work]]")[0]
    works = (
        'start = "odd tube"\nbeads = "9A"\n[[work]]\nstitch = "spiral peyote"\nrounds = ["A"]\nheight = 4',
        'start = "tube"\nbeads = "20A"\n[[work]]\nstitch = "peyote"\nrounds = ["3A, 2A, 5A"]',
    )
    plans = [read_text(f"{head}[[work]]\n{work}\n").plan for work in works]
    some, none = (as_text(sheet(compile_plan(plan), plan, Wishes())) for plan in plans)
    for count in (9, 11):
        assert re.search(rf"^ *{count} +\d+\.\d mm +\d+", some, re.MULTILINE)
    assert "begin with another count" in some
    assert "begin with another count" not in none


def test_inches_where_they_are_asked_for() -> None:
    """62.7 mm / 25.4 = 2.47 in."""
    assert "2.47 in" in as_text(sheet_of(ring(), Wishes(units=Units.INCH)))


@pytest.mark.parametrize(("people", "needles"), [(1, 2), (4, 5), (8, 10), (9, 12)])
def test_a_class_gets_a_needle_each_and_one_spare_for_four(people: int, needles: int) -> None:
    plan, course = plan_and_course(ring())
    text = as_text(kit_list(course, plan, people, Wishes()))
    assert f"Needles: {needles} (" in text
    assert f"{course.beads * people:,}" in text


def test_no_class_of_none() -> None:
    plan, course = plan_and_course(ring())
    with pytest.raises(UsageError, match="a class of 0"):
        kit_list(course, plan, 0, Wishes())


def test_the_needle_is_for_the_smallest_bead() -> None:
    plan, _ = plan_and_course(ring())  # cylinders 11/0 and round ones 15/0
    assert "15/0" in needle_words(plan)
    assert "11 or 12" in needle_words(read_text(OPEN).plan)


@given(st.text(max_size=60))
def test_latin_text_is_latin_and_plain_text_stays(text: str) -> None:
    made, lost = latin(text)
    made.encode("latin-1")
    assert lost <= set(text)
    if text.isascii() and text.isprintable():
        assert made == text


def test_accents_give_way_where_latin_1_has_none() -> None:
    """By the decompositions of Unicode: ő is o with a double acute; é is in Latin-1 and stays."""
    assert unicodedata.normalize("NFD", "ő") == "o\u030b"
    assert latin("ős é ½ “a”") == ('os é ½ "a"', set())


@pytest.mark.parametrize(
    ("name", "told", "never"),
    [
        ("gorse-ring", "the next round has a space between them", "stacks"),
        ("thistle-cup", "two stacks are drawn together", "a space between them"),
        ("shingle-leaf", "Catch the thread between two beads", "a space between them"),
        ("quay-lattice", "Count out the beads of a row", "Count the walls"),
        ("girder-pendant", "four to a cube", "step-up"),
    ],
)
def test_people_are_warned_of_what_they_work(name: str, told: str, never: str) -> None:
    """Common practice, no source: what is peyote's is not said of other stitches."""
    text = " ".join(as_text(sheet_of(next(path for path in SHIPPED if path.stem == name))).split())
    slips = text.partition("WHERE PEOPLE SLIP")[2].partition(" BY R")[0]
    assert told in slips
    assert never not in slips
