"""The notation, row by row: what each form means, how it is printed and read aloud, and what is refused."""

from __future__ import annotations

import pytest

from stitchalong.errors import PlanError
from stitchalong.plan.model import Item, Lay, Repeat, Ruled, Total, Until, Written
from stitchalong.plan.notation import aloud, codes_in, count_of, parse_lay, parse_round, parse_written, print_round


def single(code: str, count: int = 1) -> Lay:
    return Lay("single", (code,), count)


def together(codes: str, count: int = 1) -> Lay:
    return Lay("together", tuple(codes), count)


def as_one(codes: str, count: int = 1) -> Lay:
    return Lay("as one", tuple(codes), count)


def picot(codes: str, count: int = 1) -> Lay:
    return Lay("picot", tuple(codes), count)


def no_bead(count: int = 1) -> Lay:
    return Lay("no bead", (), count)


CORNER = Lay("corner", ("C", "C", "C"))
FIVE_AND_PAIR = (single("A", 5), together("BB"))

AROUND = ("*A, B; repeat from * around", "one A, one B, all around")

# written, its items, printed, read aloud
ROWS: list[tuple[str, tuple[Item, ...], str, str]] = [
    ("5A", (single("A", 5),), "5A", "five A"),
    ("(5)A", (single("A", 5),), "5A", "five A"),
    ("5 A", (single("A", 5),), "5A", "five A"),
    ("21A", (single("A", 21),), "21A", "21 A"),
    ("1A", (single("A"),), "1A", "one A"),
    ("A, A", (single("A"), single("A")), "A, A", "one A, one A"),
    ("A B", (single("A"), single("B")), "A, B", "one A, one B"),
    ("1A2B", (single("A"), single("B", 2)), "A, 2B", "one A, two B"),
    ("A x 3", (single("A", 3),), "3A", "three A"),
    ("A, BB", (single("A"), together("BB")), "A, BB", "one A, two B together"),
    ("A, AB", (single("A"), together("AB")), "A, AB", "one A, A and B together"),
    ("A, 2B together", (single("A"), together("BB")), "A, BB", "one A, two B together"),
    ("A, BB together", (single("A"), together("BB")), "A, BB", "one A, two B together"),
    ("BB x 1", (together("BB"),), "BB x 1", "two B together"),
    ("BB x 3", (together("BB", 3),), "BB x 3", "two B together, three times"),
    ("BBx3", (together("BB", 3),), "BB x 3", "two B together, three times"),
    ("AB x 2", (together("AB", 2),), "AB x 2", "A and B together, twice"),
    ("A, DDD together", (single("A"), together("DDD")), "A, DDD together", "one A, three D together"),
    ("A, 3D together", (single("A"), together("DDD")), "A, DDD together", "one A, three D together"),
    ("A, ABC together", (single("A"), together("ABC")), "A, ABC together", "one A, A and B and C together"),
    ("A, TT as one", (single("A"), as_one("TT")), "A, TT as one", "one A, two T as one"),
    ("A, 2T as one", (single("A"), as_one("TT")), "A, TT as one", "one A, two T as one"),
    ("TB as one x 3", (as_one("TB", 3),), "TB as one x 3", "T and B as one, three times"),
    ("*A, B; repeat from * across", (Repeat((single("A"), single("B")), None),), *AROUND),
    ("A, no bead", (single("A"), no_bead()), "A, no bead", "one A, no bead in the next space"),
    ("A, no bead x 2", (single("A"), no_bead(2)), "A, no bead x 2", "one A, no bead in the next two spaces"),
    ("A, picot DDD", (single("A"), picot("DDD")), "A, picot DDD", "one A, a picot of three D"),
    ("A, picot of 3D", (single("A"), picot("DDD")), "A, picot DDD", "one A, a picot of three D"),
    ("picot ADADA x 2", (picot("ADADA", 2),), "picot ADADA x 2", "a picot of A, D, A, D and A, twice"),
    ("A, corner CCC", (single("A"), CORNER), "A, corner CCC", "one A, a corner of three C"),
    ("A to rib", (Until(single("A"), "rib"),), "A to rib", "A to the rib"),
    ("A to the next rib", (Until(single("A"), "rib"),), "A to rib", "A to the rib"),
    ("A to 1 before rib", (Until(single("A"), "rib", 1),), "A to 1 before rib", "A to one before the rib"),
    ("A to two before the rib", (Until(single("A"), "rib", 2),), "A to 2 before rib", "A to two before the rib"),
    ("A to marker", (Until(single("A"), "marker"),), "A to marker", "A to the marker"),
    ("A to end", (Until(single("A"), "end"),), "A to end", "A to the end"),
    ("BB to rib", (Until(together("BB"), "rib"),), "BB to rib", "two B together to the rib"),
    (
        "*5A, BB* 3 times",
        (Repeat(FIVE_AND_PAIR, 3),),
        "(5A, BB) x 3",
        "five A, two B together, three times in all",
    ),
    ("(5A, BB) x 3", (Repeat(FIVE_AND_PAIR, 3),), "(5A, BB) x 3", "five A, two B together, three times in all"),
    ("{5A BB} thrice", (Repeat(FIVE_AND_PAIR, 3),), "(5A, BB) x 3", "five A, two B together, three times in all"),
    ("[A] once", (Repeat((single("A"),), 1),), "(A) x 1", "one A, once in all"),
    (
        "*5A, BB; repeat from * around",
        (Repeat(FIVE_AND_PAIR, None),),
        "*5A, BB; repeat from * around",
        "five A, two B together, all around",
    ),
    (
        "3A, *5A, BB, rep from * around.",
        (single("A", 3), Repeat(FIVE_AND_PAIR, None)),
        "3A, *5A, BB; repeat from * around",
        "three A, a group of five A, two B together, all around",
    ),
    (
        "(5A, BB) around",
        (Repeat(FIVE_AND_PAIR, None),),
        "*5A, BB; repeat from * around",
        "five A, two B together, all around",
    ),
    (
        "*[A, B] x 2, CC* 3 times",
        (Repeat((Repeat((single("A"), single("B")), 2), together("CC")), 3),),
        "([A, B] x 2, CC) x 3",
        "a group of one A, one B, twice in all, two C together, three times in all",
    ),
    (
        "*A, B; repeat from * twice; 3C",
        (Repeat((single("A"), single("B")), 3), single("C", 3)),
        "(A, B) x 3, 3C",
        "a group of one A, one B, three times in all, three C",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("text", "items", "printed", "said"), ROWS, ids=[row[0] for row in ROWS])
def test_a_round_written_out(text: str, items: tuple[Item, ...], printed: str, said: str) -> None:
    round = parse_round(text)
    assert round == Written(items)
    assert round.text == text
    assert print_round(round) == printed
    assert parse_round(printed) == round
    assert aloud(round) == said


RULES = [
    ("C", Ruled(single("C")), "C", "one C in every space"),
    ("BB", Ruled(together("BB")), "BB", "two B together in every space"),
    ("picot DDD", Ruled(picot("DDD")), "picot DDD", "a picot of three D in every space"),
    (
        "C; ribs MM",
        Ruled(single("C"), ribs=together("MM")),
        "C; ribs MM",
        "one C in every space; at the ribs two M together",
    ),
    (
        "C; middle A; beside the ribs S; rib MM; over S A; over M no bead.",
        Ruled(
            single("C"),
            ribs=together("MM"),
            beside=single("S"),
            middle=single("A"),
            over=(("S", single("A")), ("M", no_bead())),
        ),
        "C; ribs MM; beside ribs S; middle A; over S A; over M no bead",
        "one C in every space; at the ribs two M together; beside the ribs one S; in the middle of a side one A;"
        " over S one A; over M no bead in the next space",
    ),
    (
        "C; before ribs S; after ribs A (21 beads)",
        Ruled(single("C"), before=single("S"), after=single("A"), total=Total(21, "beads")),
        "C; before ribs S; after ribs A (21 beads)",
        "one C in every space; before the ribs one S; after the ribs one A; 21 beads in all",
    ),
]


@pytest.mark.parametrize(("text", "rule", "printed", "said"), RULES, ids=[row[0] for row in RULES])
def test_a_rule(text: str, rule: Ruled, printed: str, said: str) -> None:
    round = parse_round(text)
    assert round == rule
    assert round.text == text
    assert print_round(round) == printed
    assert parse_round(printed) == round
    assert aloud(round) == said


def total_of(text: str) -> int:
    round = parse_round(text)
    assert isinstance(round, Written)
    repeat = round.items[0]
    assert isinstance(repeat, Repeat)
    assert repeat.times is not None
    return repeat.times


@pytest.mark.parametrize(
    ("text", "times"),
    [
        # "repeat from * four more times" is five in total: zanotowane.pl/837/653, a page of crochet conventions
        ("*5A, BB; repeat from * four more times", 5),
        ("*5A, BB; repeat from * 4 more times", 5),
        ("*5A, BB; repeat from * 2 more times", 3),
        ("*5A, BB; repeat from * once more", 2),
        # "repeat from * twice" is three in total: a shamrock in brick stitch on interweave.com
        ("*5A, BB; repeat from * twice", 3),
        # "[…] 7 times" is exactly seven: the page of crochet symbols on anniescatalog.com
        ("[5A, BB] 7 times", 7),
        # "(…) x 3" is exactly three: nataliesperlen.blogspot.com/2008/04
        ("(5A, BB) x 3", 3),
        # common practice, no source
        ("*5A, BB* 3 times in all", 3),
        ("(5A, BB) twice", 2),
    ],
)
def test_how_often_a_group_is_worked(text: str, times: int) -> None:
    assert total_of(text) == times


def test_the_last_repeat_may_end_early() -> None:
    # `**` marks where a last, partial repeat ends: zanotowane.pl/837/653
    round = parse_round("*5A, BB ** 2C; repeat from * 2 more times, ending last repeat at **")
    assert round == Written((Repeat((*FIVE_AND_PAIR, single("C", 2)), 2), *FIVE_AND_PAIR))
    assert count_of(round.items) == (3 * 6 + 2 * 2, 3 * 7 + 2 * 2)


@pytest.mark.parametrize(
    ("text", "total"),
    [
        # bead totals in brackets stand in print as "(6B total)", on interweave.com; this wording is ours
        ("*5A, BB* 3 times (21 beads)", Total(21, "beads")),
        ("*5A, BB* 3 times (18 stitches)", Total(18, "stitches")),
        ("1A (1 bead)", Total(1, "beads")),
        ("1A (1 stitch)", Total(1, "stitches")),
    ],
)
def test_a_check_at_the_end(text: str, total: Total) -> None:
    round = parse_round(text)
    assert round.total == total
    assert parse_round(print_round(round)) == round
    assert aloud(round).endswith(" in all")


@pytest.mark.parametrize("place", ["rib", "marker"])
def test_where_a_round_is_meant_to_begin(place: str) -> None:
    round = parse_round(f"from {place}: *A to {place}, BB; repeat from * around")
    assert isinstance(round, Written)
    assert round.begins == place
    assert round.around
    assert parse_round(print_round(round)) == round
    assert aloud(round).startswith(f"from the {place}: A to the {place}")


def test_in_a_start_a_bare_code_is_one_bead() -> None:
    assert parse_written("C") == Written((single("C"),))
    assert parse_round("C") == Ruled(single("C"))
    assert parse_round("1C") == Written((single("C"),))


def test_one_stitch_of_a_rule() -> None:
    assert parse_lay("MM") == together("MM")
    assert parse_lay("corner CCC") == CORNER
    with pytest.raises(PlanError, match="names one stitch and takes no count"):
        parse_lay("MM x 2")
    with pytest.raises(PlanError, match="end of the round"):
        parse_lay("M, M")


@pytest.mark.parametrize(
    ("written", "plain"),
    [
        ("BB × 3", "BB x 3"),
        ("（５Ａ，ＢＢ）ｘ３", "(5A,BB)x3"),
        ("∗5A、 BB； repeat from ∗ around", "*5A, BB; repeat from * around"),
        ("5A,\u00a0BB\t\nC", "5A, BB, C"),
    ],
)
def test_signs_of_a_word_processor_are_taken(written: str, plain: str) -> None:
    assert parse_round(written) == parse_round(plain)


def test_spans_point_into_the_text() -> None:
    text = "3A, *5A, BB x 2; repeat from * around (30 beads)"
    round = parse_round(text)
    assert isinstance(round, Written)
    assert round.total is not None
    repeat = round.items[1]
    assert isinstance(repeat, Repeat)
    spans = [item.span for item in (round.items[0], repeat, *repeat.items, round.total)]
    assert [text[start:end] for start, end in spans] == [
        "3A",
        "*5A, BB x 2; repeat from * around",
        "5A",
        "BB x 2",
        "(30 beads)",
    ]


def test_codes_of_a_round() -> None:
    assert codes_in(parse_round("*A to rib, (BC, picot DED) x 2; repeat from * around")) == {"A", "B", "C", "D", "E"}
    assert codes_in(parse_round("C; ribs MM; over S A")) == {"C", "M", "S", "A"}


# written, the span that is marked, words of the message
REFUSED = [
    ("3BB", "3BB", "`3BB` can be read two ways (write `BB x 3`"),
    ("2AB together", "2AB together", "can be read two ways"),
    ("DDD", "DDD", "write `picot DDD`, `corner DDD`, `DDD together`, or `3D`"),
    ("ABC", "ABC", "or `A, B, C` for single stitches"),
    ("5A, DDDD", "DDDD", "write `DDDD together`, or `4D`"),
    ("B as one", "B as one", "one bead alone cannot be as one (write `B` or `2B as one`)"),
    ("A, BB as", "", "where `one` after `as` should come"),
    ("B together", "B together", "one bead alone cannot be together"),
    ("1B together", "1B together", "one bead alone cannot be together"),
    ("picot DD", "picot DD", "one bead as its tip"),
    ("corner CC", "corner CC", "a corner has three beads"),
    ("picot", "", "the round ends where beads after `picot`"),
    ("31B together", "31", "counts go from 1 to 30"),
    ("A" * 31, "A" * 31, "at most 30 beads"),
    ("0A", "0", "`0` is no count (counts go from 1"),
    ("BB x 0", "0", "`0` is no count"),
    ("(A) x 000", "000", "is no count"),
    ("-3A", "-", "counts go from 1 up"),
    ("−3A", "−", "counts go from 1 up"),
    ("A x -1", "-", "counts go from 1 up"),
    ("1000001A", "1000001", "`1000001` is too many"),
    ("9" * 5000 + "A", "9" * 60, "is too many"),
    ("((2A) x 1000) x 1000", "((2A) x 1000) x 1000", "larger than 1,000,000 beads"),
    ("1000000A, A", "1000000A, A", "larger than 1,000,000 beads"),
    ("", "", "this round is empty"),
    ("  ", "", "this round is empty"),
    ("no bead", "no bead", "lays no bead at all"),
    ("no bead x 3", "no bead x 3", "lays no bead at all"),
    ("no", "", "`bead` after `no`"),
    ("5a", "a", "bead codes are capital letters: `A`"),
    ("5", "", "a bead code after `5`"),
    ("2.5A", ".", "a bead code after `2`"),
    ("5A; BB", "BB", "a place (ribs, beside"),
    ("A, , B", ",", "a stitch"),
    ("5A BB 3 times", "BB 3 times", "`times` can be read two ways"),
    ("A, 3 times", "3", "this count has no group"),
    ("5A x 3", "5A x", "counted twice"),
    ("3A to rib", "3A to", "both how many and how far"),
    ("A to corner", "corner", "`rib`, `marker` or `end`"),
    ("A to mraker", "mraker", "did you mean `marker`?"),
    ("A to 2 rib", "rib", "`before rib`"),
    ("(5A, BB", "(", "`(` is opened here and never closed"),
    ("[A, (5B) x 2", "[", "`[` is opened here and never closed"),
    ("[5A, BB) x 3", "[", "closed with `)`"),
    ("5A)", ")", "never opened"),
    ("(5A, BB)", "(5A, BB)", "does not say how many times"),
    ("(5A, BB) 3", "(5A, BB)", "does not say how many times"),
    ("*5A, BB*", "*5A, BB*", "does not say how many times"),
    ("() x 3", "()", "this group is empty"),
    ("*5A, BB", "*", "`*` is opened here and never closed"),
    ("5A; repeat from * around", ";", "no `*` says where this repeat begins"),
    ("A; repeat from * around", ";", "no `*` says where this repeat begins"),
    ("*5A; repeat from * 3", "", "`more times`"),
    ("*5A; repeat from *", "", "`around` or `2 more times`"),
    ("*5A; repeat around", "around", "`from *` after `repeat`"),
    ("*5A* 2 more times", "more", "`more` can be read two ways"),
    ("*5A, repet from * around", "repet", "did you mean `repeat`?"),
    ("*A, (B* 3 times) x 2", "*", "`)` should come"),
    ("*5A; repeat from * around, B", "*5A; repeat from * around", "nothing can follow a repeat `around`"),
    ("(*5A; repeat from * around) x 3", "*5A; repeat from * around", "inside another group"),
    ("*A ** B* 3 times", "*", "ending last repeat at **"),
    ("**A", "**", "`**` marks one place"),
    ("*A, B; repeat from * twice, ending last repeat at **", "*A, B; repeat from * twice, ending last repeat at **",
     "no `**` stands in the group"),
    ("*A ** B; repeat from * around, ending last repeat at **",
     "*A ** B; repeat from * around, ending last repeat at **", "how many there are is not known"),
    ("(((((((((A", "(", "more than 8 deep"),
    ("(21 beads) 5A", "(", "a stitch"),
    ("5A (21 beads) 5A", "(21 beads)", "stands at the end"),
    ("5A (0 beads)", "0", "`0` is no count"),
    ("from rib: C", "C", "no meaning before a fill"),
    ("from end: 5A", "end", "`rib:` or `marker:`"),
    ("from rib 5A", "5", "`:`"),
    ("5A; ribs MM", "5", "one fill without a count"),
    ("A, B; ribs MM", "A", "one fill without a count"),
    ("*A, B* 3 times; ribs MM", "*", "one fill without a count"),
    ("C; ribs 2M", "2M", "two beads in one space are written `MM`"),
    ("C; ribz MM", "ribz", "did you mean `rib`?"),
    ("C; beside S", "S", "`ribs` after `beside`"),
    ("C; ribs MM; ribs SS", "ribs SS", "`ribs` is given twice"),
    ("C; over S A; over S B", "over S B", "`over S` is given twice"),
    ("C; over SS A", "SS", "one bead code after `over`"),
    ("C; beside ribs A; before ribs B", "before ribs B", "`beside` means both"),
    ("C;", "", "a place"),
    ("С", "С", "(U+0421) is no sign of the notation"),
    ("5A \U0001f4ff", "\U0001f4ff", "is no sign of the notation"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "marked", "words"), REFUSED, ids=[row[0][:40] for row in REFUSED])
def test_refused(text: str, marked: str, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        parse_round(text)
    (problem,) = caught.value.problems
    assert words in str(problem)
    assert "\n" not in str(problem)
    source, span = problem.place.source, problem.place.span
    assert source is not None
    assert span is not None
    assert source[slice(*span)] == marked
    assert problem.caret() is not None


def test_a_fault_in_a_long_round_shows_its_neighbourhood() -> None:
    with pytest.raises(PlanError) as caught:
        parse_round("5A, " * 20_000 + "3BB" + ", 5A" * 20_000)
    place = caught.value.problems[0].place
    assert place.source is not None
    assert place.span is not None
    assert len(place.source) < 200
    assert place.source[slice(*place.span)] == "3BB"


def test_a_round_has_a_longest_text() -> None:
    assert count_of(parse_written("A," * 99_999 + "A").items) == (100_000, 100_000)
    with pytest.raises(PlanError, match="longer than 200,000 characters"):
        parse_written("A," * 100_000 + "A")
