"""A plan given back as TOML, held against the standard library's reader."""

from __future__ import annotations

import tomllib
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from stitchalong.plan.printed import print_plan

PLAIN = {"title": "T", "beads": {"A": {"name": "ash", "colour": "#888888"}}, "work": [{"start": "ring", "beads": "6A"}]}
WORDS = st.text(st.characters(exclude_categories=("Cs", "Cc", "Zl", "Zp")), min_size=1, max_size=120)


@given(WORDS, st.lists(WORDS, min_size=1, max_size=4), WORDS)
def test_any_text_comes_back(title: str, rounds: list[str], about: str) -> None:
    data: dict[str, Any] = {**PLAIN, "title": title, "about": about}
    data["work"] = [*PLAIN["work"], {"stitch": "peyote", "rounds": rounds, "increase": {"with": rounds, "sides": 4}}]
    assert tomllib.loads(print_plan(data)) == data


def test_comments_and_lines_of_a_paragraph() -> None:
    data = {**PLAIN, "about": 'One "line"\nand another \\ one'}
    text = print_plan(data, head=["First."], notes={"beads": "The beads.", "work[1]": "The start.\nIn two lines."})
    read = tomllib.loads(text)
    assert read["about"].strip() == data["about"]
    assert [line for line in text.splitlines() if line.startswith("#")] == [
        "# First.", "# The beads.", "# The start.", "# In two lines."
    ]  # fmt: skip


def test_a_text_of_a_list_may_have_a_comment() -> None:
    data = {**PLAIN, "work": [{"stitch": "peyote", "rounds": [("6A", "round 2"), "6A"]}]}
    text = print_plan(data)
    assert '"6A",  # round 2' in text
    assert tomllib.loads(text)["work"][0]["rounds"] == ["6A", "6A"]
