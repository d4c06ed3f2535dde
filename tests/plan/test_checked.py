"""What the keys of a plan mean together, and what is refused because it would mean nothing or two things."""

from __future__ import annotations

import pytest

from stitchalong.errors import PlanError
from stitchalong.plan.model import Band, Height, Increase, Peyote, RingStart, TubeStart
from stitchalong.plan.notation import parse_lay, parse_written
from stitchalong.plan.read import read_text
from stitchalong.plan.sizes import singles
from tests.plan.samples import BEADS, RING

HEAD = f'title = "x"\n{BEADS}'


def band_of(keys: str) -> Band:
    work = read_text(f'{HEAD}[[work]]\nstart = "MRAW band"\nframe = "C"\n{keys}\n').plan.work[0]
    assert isinstance(work, Band)
    return work


def peyote_of(keys: str) -> Peyote:
    work = read_text(f'{HEAD}{RING}[[work]]\nstitch = "peyote"\n{keys}\n').plan.work[1]
    assert isinstance(work, Peyote)
    return work


def fault_of(text: str) -> str:
    with pytest.raises(PlanError) as caught:
        read_text(text)
    (problem,) = caught.value.problems
    return str(problem)


# ---- starts -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("keys", "units", "spacers"),
    [
        ('spacers = "*6S, M* 4 times"', 28, "(6S, M) x 4"),
        ('units = 28\nspacers = "*6S, M* 4 times (28 beads)"', 28, "(6S, M) x 4"),
        ('units = 28\nspacers = "*6S, M; repeat from * around"', 28, "(6S, M) x 4"),
        ('units = 9\nspacers = "S, *3S, M; repeat from * around"', 9, "S, (3S, M) x 2"),
        ('spacers = "S, M, S"', 3, "S, M, S"),
        ('units = 12\nspacers = "*S; repeat from * around"', 12, "(S) x 12"),
        ('side = "S"\nmarker = "M"\nsides = [6, 7, 6, 5]', 28, "6S, M, 7S, M, 6S, M, 5S, M"),
        ('side = "S"\nmarker = "M"\nsides = [6, 7, 6, 5]\nunits = 28', 28, "6S, M, 7S, M, 6S, M, 5S, M"),
        ('side = "S"\nmarker = "M"\nsides = 4\nunits = 28', 28, "(6S, M) x 4"),
        # 26 over 4 is 7, 6, 7, 6 units, each with its marker: the wording of the plan format itself
        ('side = "S"\nmarker = "M"\nsides = 4\nunits = 26', 26, "6S, M, 5S, M, 6S, M, 5S, M"),
        ('side = "S"\nmarker = "M"\nsides = 1\nunits = 9', 9, "8S, M"),
        ('side = "S"\nunits = 20', 20, "20S"),
    ],
)
def test_a_band(keys: str, units: int, spacers: str) -> None:
    band = band_of(keys)
    assert band.units == units
    assert singles(band.spacers.items) == singles(parse_written(spacers).items)
    assert len(singles(band.spacers.items)) == units
    assert band.reinforce
    assert band.joined


def test_a_frame_of_one_code_or_of_three() -> None:
    band = band_of('units = 3\nside = "S"')
    assert (band.top, band.side, band.bottom) == ("C", "C", "C")
    frame = 'frame = { top = "C", side = "S", bottom = "M" }'
    other = read_text(f'{HEAD}[[work]]\nstart = "mraw  Band"\n{frame}\nunits = 3\nside = "S"\n').plan.work[0]
    assert isinstance(other, Band)
    assert (other.top, other.side, other.bottom) == ("C", "S", "M")


def test_a_ring_and_a_tube() -> None:
    ring = read_text(f'{HEAD}[[work]]\nstart = "ring"\nbeads = "*C, S* 3 times"\n').plan.work
    assert ring == (RingStart(parse_written("(C, S) x 3")),)
    tube = read_text(f'{HEAD}[[work]]\nstart = "tube"\nbeads = "20C"\n').plan.work
    assert tube == (TubeStart(parse_written("20C")),)
    smallest = read_text(f'{HEAD}[[work]]\nstart = "ring"\nbeads = "3C"\n').plan.work
    assert smallest == (RingStart(parse_written("3C")),)


BANDS = [
    ("", "does not say its spacers"),
    ('spacers = "3S"\nside = "S"', "says its spacers in two ways"),
    ('spacers = "3S"\nmarker = "M"', "`marker` goes with `side`"),
    ('spacers = "3S"\nsides = 4', "`sides` goes with `side`"),
    ('spacers = "2S"', "a band of 2 units cannot be joined (3 units or more)"),
    ("units = 2", "`units` must be 3 or more"),
    ("units = -3", "`units` must be 3 or more"),
    ("units = 1000001", "`units` must be 1,000,000 or less"),
    ('units = "28"', '`units` must be a whole number, not "28"'),
    ("units = 28.0", "`units` must be a whole number, not 28"),
    ("units = true", "`units` must be a whole number, not true"),
    ('units = 27\nspacers = "*6S, M* 4 times"', "28 spacers for 27 units (each unit carries one; units = 28"),
    ('units = 27\nspacers = "*6S, M; repeat from * around"', "the repeat does not come out even over 27 units"),
    ('units = 3\nspacers = "3S, *M; repeat from * around"', "does not come out even over 3 units"),
    ('spacers = "*6S, M; repeat from * around"', "a start has no round to go around"),
    ('spacers = "6S, MM"', "only single beads with counts can be strung"),
    ('spacers = "6S, no bead"', "only single beads with counts can be strung"),
    ('spacers = "S to end"', "only single beads with counts can be strung"),
    ('spacers = "6S, M (8 beads)"', "the check says 8, but there are 7 beads"),
    ('spacers = "6S, Z"', "bead `Z` is not in the palette (the palette has C, M, S; or add [beads.Z])"),
    ('side = "S"', "does not say how many units"),
    ('side = "S"\nmarker = "M"', "`marker` and `sides` go together"),
    ('side = "S"\nsides = 4\nunits = 28', "`marker` and `sides` go together"),
    ('side = "S"\nmarker = "M"\nsides = 4', "does not say how many units"),
    ('side = "S"\nmarker = "M"\nsides = 4\nunits = 7', "7 units cannot make 4 sides"),
    ('side = "S"\nmarker = "M"\nsides = [6, 7]\nunits = 14', "make 15 units, not 14 (units = 15"),
    ('side = "S"\nmarker = "M"\nsides = [6, 0]', "counts of sides go from 1"),
    ('side = "S"\nmarker = "M"\nsides = []', "must be a whole number of sides, or the count of each"),
    ('side = "S"\nmarker = "M"\nsides = [999999, 999999]', "more than 1,000,000 units"),
    ('side = "sea"\nunits = 3', '`side` must be a bead code, one capital letter, not "sea"'),
    ('side = "Z"\nunits = 3', "bead `Z` is not in the palette"),
    ('rounds = "C"', "`rounds` belongs to peyote"),
    ("units = 3\nspacrs = 3", "unknown key `spacrs` (did you mean `spacers`?)"),
]


@pytest.mark.parametrize(("keys", "words"), BANDS, ids=[row[0] for row in BANDS])
def test_a_band_is_refused(keys: str, words: str) -> None:
    assert words in fault_of(f'{HEAD}[[work]]\nstart = "MRAW band"\nframe = "C"\n{keys}\n')


STRUNG = [
    ("ring", "2C", "a ring of 2 beads cannot be closed (3 beads or more)"),
    ("tube", "4C", "a tube of 4 beads cannot be closed (6 beads or more)"),
    ("tube", "7C", "a tube needs an even number of beads, and 7 are strung (string 8)"),
    ("ring", "CC", "only single beads"),
    ("ring", "", "this round is empty"),
    ("rinq", "6C", '"rinq" is no start (did you mean `ring`?)'),
    ("knot", "6C", '"knot" is no start (known: MRAW band, ring, tube'),
]


@pytest.mark.parametrize(("start", "beads", "words"), STRUNG)
def test_a_strung_start_is_refused(start: str, beads: str, words: str) -> None:
    assert words in fault_of(f'{HEAD}[[work]]\nstart = "{start}"\nbeads = "{beads}"\n')


# ---- rounds -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("keys", "height"),
    [
        ("", Height(2, 2, 2)),
        ("height = 6", Height(6, 6, 6)),
        ('height = "6"', Height(6, 6, 6)),
        ('height = "4 to 6"', Height(4, 5, 6)),
        ('height = "4–7"', Height(4, 5, 7)),
        ('height = "4 to 6"\nusual = 6', Height(4, 6, 6)),
        ('height = "4 or more"', Height(4, 4, None)),
        ('height = "1 or more"', Height(1, 2, None)),
        ('height = "as high as you like"', Height(1, 2, None)),
        ('height = "As high  as you like"\nusual = 9', Height(1, 9, None)),
    ],
)
def test_heights(keys: str, height: Height) -> None:
    assert peyote_of(f'rounds = ["C", "S"]\n{keys}').height == height


@pytest.mark.parametrize(
    ("keys", "increase"),
    [
        ('over = "M"', Increase(over="M")),
        ('over = "ribs"', Increase(over="ribs")),
        ('between = "M"', Increase(between="M")),
        ("sides = 4", Increase(sides=4)),
        ("sides = [6, 7]", Increase(sides=(6, 7))),
        ("sides = [0, 7]", Increase(sides=(0, 7))),
        ('at = "every space"', Increase(every_space=True)),
        ('over = "M", with = "MM"', Increase(over="M", pair=(parse_lay("MM"),))),
        (
            'over = "M", with = ["MM", "corner SSS"]',
            Increase(over="M", pair=(parse_lay("MM"), parse_lay("corner SSS"))),
        ),
        ('over = "M", from_round = 2, rounds = 3', Increase(over="M", from_round=2, rounds=3)),
    ],
)
def test_increases(keys: str, increase: Increase) -> None:
    assert peyote_of(f'rounds = "C"\nincrease = {{ {keys} }}').increase == increase


def test_one_round_need_not_stand_in_a_list() -> None:
    assert peyote_of('rounds = "C; over M S"') == peyote_of('rounds = ["C; over M S"]')


PEYOTES = [
    ("", '`rounds` is missing (rounds = ["A"])'),
    ("rounds = []", "`rounds` is empty"),
    ('rounds = "C"\nedge = "left"', '`edge` must be "top" or "bottom", not "left"'),
    ('rounds = "C"\nheight = 0', "must be from 1 to 20,000 rounds"),
    ('rounds = "C"\nheight = 20001', "must be from 1 to 20,000 rounds"),
    ('rounds = "C"\nheight = "0 to 3"', '"0 to 3" is no height'),
    ('rounds = "C"\nheight = "6 to 4"', '"6 to 4" is no height (from 1 to 20,000 rounds, the lower first)'),
    ('rounds = "C"\nheight = "high"', 'must be a number of rounds, "4 to 6", "4 or more" or "as high as you like"'),
    ('rounds = "C"\nheight = 2.5', "must be a number of rounds"),
    ('rounds = "C"\nusual = 3', "`usual` belongs to an open height"),
    ('rounds = "C"\nheight = "4 to 6"\nusual = 7', "`usual` must lie within the height, 4 to 6"),
    ('rounds = "C"\nheight = "4 or more"\nusual = 3', "`usual` must lie within the height, 4 or more"),
    ('rounds = "C"\nfill = "C"', "`fill` belongs to the bottom edge of a band"),
    ('rounds = "C"\nincrease = {}', "does not say where: it needs one of `over`, `between`, `sides`, `at`"),
    ('rounds = "C"\nincrease = { sides = 0 }', "counts of sides go from 1"),
    ('rounds = "C"\nincrease = { sides = [-1, 7] }', "counts of sides go from 0"),
    ('rounds = "C"\nincrease = { over = "M", sides = 4 }', "says where in 2 ways"),
    ('rounds = "C"\nincrease = { over = "M", with = "M" }', "`M` does not increase"),
    ('rounds = "C"\nincrease = { over = "M", with = "picot MMM" }', "`picot MMM` does not increase"),
    ('rounds = "C"\nincrease = { over = "M", with = "MM x 2" }', "takes no count"),
    ('rounds = "C"\nincrease = { over = "Z" }', "bead `Z` is not in the palette"),
    ('rounds = "C"\nincrease = { over = "rib" }', 'must be a bead code, one capital letter or `ribs`, not "rib"'),
    ('rounds = "C"\nincrease = { at = "each space" }', '`at` must be "every space", not "each space"'),
    ('rounds = "C"\nincrease = { over = "M", from_round = 0 }', "`from_round` must be 1 or more"),
    ('rounds = "C"\nincrease = { over = "M", form_round = 2 }', "did you mean `from_round`?"),
    ('rounds = "C"\nincrease = "over M"', '`increase` must be a table, not "over M"'),
    ('rounds = "C"\ndecrease = {}', "needs one of `over`, `sides`"),
    ('rounds = "C"\ndecrease = { over = "Z" }', "bead `Z` is not in the palette"),
    ('rounds = "C"\ndecrease = { over = "M", with = "MM" }', "nothing is laid where the space stays empty"),
    ('rounds = "C"\nunits = 28', "`units` belongs to an MRAW band, not to peyote"),
    ('rounds = "C"\nbeads = "6A"', "`beads` belongs to a ring, a tube"),
    ('rounds = "C"\nwalk = 3', "`walk` belongs to walking along, not to peyote"),
    ('rounds = "C; over Z S"', "bead `Z` is not in the palette"),
]


@pytest.mark.parametrize(("keys", "words"), PEYOTES, ids=[row[0] for row in PEYOTES])
def test_rounds_are_refused(keys: str, words: str) -> None:
    assert words in fault_of(f'{HEAD}{RING}[[work]]\nstitch = "peyote"\n{keys}\n')


# ---- the whole ----------------------------------------------------------------------------------

WHOLES = [
    (f'{HEAD}[[work]]\nstitch = "peyote"\nrounds = "C"\n', "does not begin with a start"),
    (f"{HEAD}{RING}{RING}", "a second start in one plan"),
    (f"{HEAD}{RING}[[work]]\n", "neither `start`, `stitch`, `walk`, `reinforce` nor `zip`"),
    (f'{HEAD}{RING}[[work]]\nstich = "peyote"\n', "did you mean `stitch`?"),
    (f'{HEAD}{RING}[[work]]\nstitch = "knot"\nrounds = "C"\n', '"knot" is no stitch (known: peyote'),
    (f"{HEAD}{RING}[[work]]\nwalk = 0\n", "`walk` must be 1 or more"),
    (f'{HEAD}{RING}[[work]]\nreinforce = "botom"\n', '`reinforce` must be "top" or "bottom", not "botom"'),
    (f"work = 3\n{HEAD}", "`work` must be a list, as in [ … ], not 3"),
    (f"{HEAD}{RING}[[remarks]]\n", "`say` is missing"),
    (f'{HEAD}{RING}[[remarks]]\nsay = " "\n', "`say`: is empty"),
    (f'{HEAD}{RING}[[remarks]]\nsay = "x"\nstitch = 3\n', "needs `round` too"),
    (f'{HEAD}{RING}[[remarks]]\nsay = "{"x" * 2001}"\n', "`say` is longer than 2,000 characters"),
    (f'title = "\\u200b"\n{BEADS}{RING}', "`title`: is empty"),
    (f'title = "{"x" * 201}"\n{BEADS}{RING}', "`title` is longer than 200 characters"),
    (f'{HEAD}[thread]\ncolor = "red"\n{RING}', "unknown key `color` (did you mean `colour`?)"),
    (f'{HEAD}[beads.MM]\nname = "x"\ncolour = "red"\n{RING}', "`MM` is no bead code"),
    (f'{HEAD}[beads.m]\nname = "x"\ncolour = "red"\n{RING}', "a code is one capital letter (write [beads.M])"),
    (f'{HEAD}length = -1\n{RING}', "`length` must be more than 0"),
    (f'{HEAD}length = nan\n{RING}', "`length` must be a number"),
    (f'{HEAD}marked = true\n{RING}', "unknown key `marked` (did you mean `marker`?)"),
    (f'rounds = "C"\n{HEAD}{RING}', "`rounds` belongs into a [[work]] table"),
    (f'bead = 3\n{HEAD}{RING}', "unknown key `bead` (did you mean `beads`?)"),
    (f'"\\u001b[2J" = 3\n{HEAD}{RING}', "unknown key `[2J`"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "words"), WHOLES)
def test_a_whole_plan_is_refused(text: str, words: str) -> None:
    assert words in fault_of(text)


def test_a_plan_of_too_many_rounds_or_steps() -> None:
    rounds = '[[work]]\nstitch = "peyote"\nrounds = [' + '"C",' * 10_001 + "]\n"
    assert "more than 20,000 rounds are listed" in fault_of(HEAD + RING + rounds * 2)
    assert "`work` has more than 2,000 entries" in fault_of(HEAD + RING + "[[work]]\nwalk = 1\n" * 2_000)


@pytest.mark.parametrize(
    ("written", "meant"), [("#A1B2C3", "#a1b2c3"), ("#a1c", "#aa11cc"), (" Teal ", "#2f8589"), ("#000", "#000000")]
)
def test_colours(written: str, meant: str) -> None:
    # three digits stand for six, each doubled: CSS Color Module Level 4, section 5.2
    text = f'title = "x"\n[beads.C]\nname = "x"\ncolour = "{written}"\n{RING}'
    assert read_text(text).plan.bead("C").colour == meant


@pytest.mark.parametrize("written", ["", "#12345", "#ggg", "teel", "rgb(1,2,3)", "#1234567", "＃ａａａ"])
def test_what_is_no_colour(written: str) -> None:
    text = f'title = "x"\n[beads.C]\nname = "x"\ncolour = "{written}"\n{RING}'
    assert "is no colour the program knows" in fault_of(text)
