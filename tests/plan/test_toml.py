"""What trips people who do not write TOML every day: each has its own plain line, with the line it stands on."""

from __future__ import annotations

import time
import tomllib

import pytest

from stitchalong.errors import PlanError
from stitchalong.plan.read import read_text

GOOD = """\
title = "Gorse ring"
[beads.A]
name = "gorse"
colour = "red"
[[work]]
start = "ring"
beads = "6A"
"""
INLINE = 'title = "x"\n[beads]\nA = { name = "gorse",\n  colour = "red" }\n[[work]]\nstart = "ring"\nbeads = "6A"\n'

TRIPS: list[tuple[str, str, str]] = [
    ("curly quotes", GOOD.replace('"gorse"', "“gorse”"), "line 3: curly quotes where straight ones are needed"),
    ("one curly quote", GOOD.replace('"gorse"', '"gorse”'), "line 3: curly quotes"),
    ("low and angled quotes", GOOD.replace('"gorse"', "„gorse«"), "line 3: curly quotes"),
    ("colour without quotes", GOOD.replace('"red"', "#e02"), "line 4: a colour without quotes"),
    ("the same in an inline table", INLINE.replace('"red"', "#e02"), "line 4: a colour without quotes"),
    ("words without quotes", GOOD.replace('"gorse"', "gorse"), "line 3: words without quotes"),
    ("notation without quotes", GOOD.replace('"6A"', "*A* 6 times"), "line 7: notation without quotes"),
    ("decimal comma", GOOD.replace("colour", "length = 1,3\ncolour"), "line 4: a number with a decimal comma"),
    ("decimal comma in an inline table", INLINE.replace("colour", "hole = 0,8, colour"),
     "line 4: a number with a decimal comma"),
    ("colon for equals", GOOD.replace("title =", "title:"), "line 1: `:` between a key and its value"),
    ("no value", GOOD.replace('"Gorse ring"', ""), "line 1: a key without a value"),
    ("a sentence", "Gorse ring, four sides\n" + GOOD, "line 1: this line is no table"),
    ("a sentence at the end", GOOD + "the end", "line 8: this line is no table"),
    ("two keys on a line", GOOD.replace('"gorse"\n', '"gorse" '), "line 3: something stands after the text"),
    ("no closing quote", GOOD.replace('gorse"', "gorse"), "line 3: a text that is opened and never closed"),
    ("no closing quotes", GOOD.replace('"gorse"', '"""gorse'), "a text that is opened and never closed"),
    ("no closing bracket", GOOD.replace("[beads.A]", "[beads.A"), "line 2: `[` is opened here and never closed"),
    ("a list without its end", GOOD + 'rounds = [\n"A",\n', "line 8: `[` is opened here and never closed"),
    ("an inline table without its end", INLINE.replace(" }", ""), "line 3: `{` is opened here and never closed"),
    ("a backslash", GOOD.replace("gorse", r"g\orse"), "line 3: a lone backslash in a text"),
    ("a control character", GOOD.replace("gorse", "g\x1bse"), "line 3: a control character (U+001B) in the file"),
    ("a bead twice", GOOD + "[beads.A]\n", "line 8: bead A is defined twice"),
    ("a bead twice, inline",
     INLINE.replace("[[", 'A = { name = "x", colour = "red" }\n[['), "line 5: bead A is defined twice"),
    ("a key twice", GOOD.replace("colour", 'name = "x"\ncolour'), "line 4: `name` is given twice"),
    ("a key twice in a table over lines",
     INLINE.replace('"red"', '"red",\ncolour = "red"'), "line 5: `colour` is given twice"),
    ("[work] twice", GOOD.replace("[[work]]", "[work]") + "[work]\n", "`[work]` is given twice (write [[work]]"),
    ("[work] once", GOOD.replace("[[work]]", "[work]"), "line 5, work: `work` must be a list"),
    ("[[beads.A]]", GOOD.replace("[beads.A]", "[[beads.A]]"), "(write its table with single"),
    ("a title below a table", GOOD.replace('title = "Gorse ring"\n', "") + 'title = "x"\n',
     "line 7, work[1].title: `title` stands below a table and so belongs to it (put it at the top of the file"),
    ("words about it below a table", GOOD.replace("colour", 'about = "x"\ncolour'),
     "line 4, beads.A.about: `about` stands below a table"),
    ("a number of thousands of digits", GOOD.replace('"6A"', "9" * 5000), "a number has too many digits"),
    ("a huge number", GOOD.replace('"6A"', "0x" + "f" * 5000), "`beads` must be text in quotes, not a huge number"),
    ("lists in lists", GOOD + "x = " + "[" * 5000 + "]" * 5000, "nested too deeply"),
    ("a key of many parts", GOOD + "a." * 500_000 + "b = 1", "line 8: a key of more than 32 parts"),
    ("a key of many quoted parts", GOOD + '"a".' * 500_000 + "b = 1", "line 8: a key of more than 32 parts"),
    ("a table of many keys", "".join(f"k{at} = 1\n" for at in range(50_000)), "a table has more than 200 keys"),
    ("a list of many entries", GOOD + f"x = [{'1,' * 100_000}]", "a list has more than 20,000 entries"),
    ("very many values", GOOD + "".join(f"x{at} = [{'1,' * 19_000}]\n" for at in range(14)),
     "more than 250,000 values"),
    ("a date", GOOD.replace('"gorse"', "1999-12-31"), "`name` must be text in quotes, not a date or time"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "words"), [row[1:] for row in TRIPS], ids=[row[0] for row in TRIPS])
def test_trips(text: str, words: str) -> None:
    begun = time.process_time()
    with pytest.raises(PlanError) as caught:
        read_text(text, "p")
    (problem,) = caught.value.problems
    assert words in str(problem)
    assert len(str(problem)) < 300
    assert time.process_time() - begun < 10


@pytest.mark.parametrize(
    "text",
    [
        GOOD.replace("gorse", "the “old” gorse"),
        GOOD.replace('"gorse"', "'“gorse”'"),
        GOOD.replace('"gorse"', '"""“gorse”"""'),
        '# “quotes” in a remark, [ { and a lone "\n' + GOOD,
        GOOD.replace('"red"', '"#e02" # red'),
        INLINE,
        INLINE.replace('" }', '",  # dark\n}'),
        GOOD.replace('"gorse"', "'''go{r[se'''"),
    ],
)
def test_what_looks_like_a_trip_and_is_none(text: str) -> None:
    assert read_text(text).plan.bead("A").colour in ("#c23030", "#ee0022")


@pytest.mark.parametrize("text", [GOOD, INLINE.replace(",\n", ","), GOOD.replace('"6A"', "'''6A'''")])
def test_good_toml_is_left_as_it_is(text: str) -> None:
    # tomllib of the standard library is the judge of what TOML is
    from stitchalong.errors import Problems
    from stitchalong.plan.toml import load_toml

    assert load_toml(text, "", Problems()) == tomllib.loads(text)
