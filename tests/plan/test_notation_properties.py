"""What holds for every round and for any text at all."""

from __future__ import annotations

import sys

from hypothesis import example, given, settings
from hypothesis import strategies as st

from stitchalong.errors import PlanError
from stitchalong.plan.model import Item, Lay, Round, Until, Written
from stitchalong.plan.notation import aloud, codes_in, count_of, parse_lay, parse_round, parse_written, print_round
from tests.plan.harmless import is_harmless
from tests.plan.strategies import ROUNDS, written

# Pieces from which near misses are put together; plain random text would seldom get past the first sign.
PIECES = (
    "A", "B", "BB", "DDD", "5", "0", "3", "x", "*", "**", "(", ")", "[", "]", "{", "}", ",", ";", ":", ".", "-",
    "to", "rib", "marker", "end", "before", "after", "beside", "ribs", "middle", "over", "no", "bead", "beads", "picot",
    "corner", "together", "repeat", "from", "around", "more", "times", "twice", "once", "ending", "last", "at", "two",
    "stitches", "in", "all", "of", "the", "next", "\u200b", "\x1b", "é", "Ａ", "٣",
)  # fmt: skip


@given(ROUNDS)
def test_what_is_printed_reads_as_the_same_round(round: Round) -> None:
    printed = print_round(round)
    assert parse_round(printed) == round
    assert print_round(parse_round(printed)) == printed


@given(ROUNDS)
def test_every_round_can_be_read_aloud(round: Round) -> None:
    said = aloud(round)
    assert "\n" not in said
    assert all(code in said for code in codes_in(round))


def naive_count(item: Item) -> tuple[int, int]:
    """Stitches and beads, by laying them out one by one."""
    if isinstance(item, Lay):
        laid = [item.codes for _ in range(item.count)]
        return len(laid), sum(map(len, laid))
    if isinstance(item, Until):
        return 1, len(item.lay.codes)
    rows = [naive_count(inner) for _ in range(item.times or 1) for inner in item.items]
    return sum(row[0] for row in rows), sum(row[1] for row in rows)


@given(written().filter(lambda round: max(count_of(round.items)) <= 20_000))
def test_counting_is_the_same_as_laying_out(round: Written) -> None:
    rows = [naive_count(item) for item in round.items]
    assert count_of(round.items) == (sum(row[0] for row in rows), sum(row[1] for row in rows))


@settings(max_examples=1000)
@given(st.lists(st.sampled_from(PIECES), max_size=14), st.sampled_from(["", " "]))
@example(["*", "A", "**", "B", ";", "repeat", "from", "*", "twice", ",", "ending", "last", "repeat", "at", "**"], " ")
def test_near_misses_are_read_or_refused_in_one_line(pieces: list[str], between: str) -> None:
    read_or_refuse(between.join(pieces))


@settings(max_examples=500)
@given(st.text(max_size=60))
def test_any_text_is_read_or_refused_in_one_line(text: str) -> None:
    read_or_refuse(text)


def read_or_refuse(text: str) -> None:
    for parse in (parse_round, parse_written, parse_lay):
        try:
            found = parse(text)
        except PlanError as error:
            (problem,) = error.problems
            start, end = problem.place.span or (0, 0)
            assert 0 <= start <= end <= len(problem.place.source or "")
            assert is_harmless(str(problem))
        else:
            if not isinstance(found, Lay):
                again = print_round(found)
                assert (parse_written if parse is parse_written else parse_round)(again) == found


def calls(text: str) -> int:
    """How many functions are called to read a text: a measure of work that does not hang on the machine."""
    count = 0

    def seen(*_: object) -> None:
        nonlocal count
        count += 1

    before = sys.getprofile()
    sys.setprofile(seen)
    try:
        read_or_refuse(text)
    finally:
        sys.setprofile(before)
    return count


def test_work_grows_with_the_length_and_no_faster() -> None:
    # each of these once took, or could take, quadratic work or a stack as deep as the text
    for piece in ("A,", "(A) x 2,", "*A*2 times,", "(", "*", "9", "A", "q", "x ", "A x ", "no bead,", "** ", "; "):
        text = piece * (6_000 // len(piece))
        short, long = calls(text[: len(text) // 10]), calls(text)
        assert long < 30 * short, piece  # quadratic work would be a hundred times as much
