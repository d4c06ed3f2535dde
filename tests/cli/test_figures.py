"""Figures of plans and pieces on the command line: sizes, beads, thread, time, price, and one's own gauge."""

from __future__ import annotations

import json
import re
import shlex
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

import pytest

from stitchalong.measure.sizes import Scale, circumference_of
from stitchalong.session import Session
from stitchalong.store import Store
from tests.cli.running import NOW, RING, here, ok

BAND = """
title = "Thistle band"
[beads.A]
name = "thistle"
colour = "#7b5a8c"
size = "11/0"
shape = "cylinder"
price = 0.5
[beads.M]
name = "chalk"
colour = "#e9e2cf"
size = "11/0"
shape = "cylinder"
[[work]]
start = "MRAW band"
frame = "A"
side = "A"
marker = "M"
sides = [5, 5, 5, 5]
"""
"""24 units of cylinders: 24 · 3 frame beads and 20 spacers A, four M"""


@pytest.fixture
def band(tmp_path: Path) -> str:
    path = tmp_path / "thistle.toml"
    path.write_text(BAND)
    return str(path)


def lay(home: Path, name: str, steps: int | None = None) -> None:
    """So many steps are counted; None: all."""
    store = Store.open(home / "data", clock=lambda: NOW)
    try:
        session = Session.resume(store, store.find(name).id)
        session.press(session.course.steps if steps is None else steps)
    finally:
        store.close()


# ---- size and fit -----------------------------------------------------------------------------------


def test_a_band_of_24_units_lies_between_us_6_and_a_half_and_7(home: Path, band: str) -> None:
    # common practice, no source: 24 units of 11/0 cylinders, 1.6 × 1.3 mm, worked snugly
    found = ok(here(home, "size", band, "--json")).data
    inside = found["inside"]
    low, high = (circumference_of(Scale.US, us) for us in (6.5, 7))
    assert inside["low"] <= low <= inside["value"] <= high <= inside["high"]
    assert (found["sort"], found["count"], found["of"]) == ("ring", 24, "units")
    words = ok(here(home, "size", band)).out
    assert "US 6¾ (6 to 7½)" in words
    assert "24 units of 11/0 cylinder: common practice" in words
    assert "no standard" in words
    assert "Printed charts differ" in words
    assert "too tight" in words


def test_a_ring_size_is_told_on_every_scale(home: Path) -> None:
    # US 10 is 62.1 mm round and 19.76 mm across: en.wikipedia.org/wiki/Ring_size; beside it one international chart has
    # JP 20, where the Japanese rule (cho-kin.com/tool_size-ring.html) gives 21
    found = ok(here(home, "size", "--ring", "us 10", "--json")).data
    assert (found["ring"], round(found["inside"], 1), round(found["across"], 2)) == ("US 10", 62.1, 19.76)
    assert {one["scale"]: one["size"] for one in found["rings"]} == {
        "ISO": "ISO 62", "US": "US 10", "UK": "UK T½", "JP": "JP 21"
    }  # fmt: skip
    words = ok(here(home, "size", "--ring", "UK N½")).out
    # UK C is 40 mm and a letter 1.25 mm: measurement.enacademic.com/2380/ring_size
    assert words.startswith("UK N½: 54.4 mm around inside, 17.3 mm across\n")
    for one in ("ISO 54;", "US 7;", "JP 14;", "Printed charts differ"):
        assert one in words


def test_inches_are_asked_for_or_set(home: Path, band: str) -> None:
    assert " mm " in ok(here(home, "size", band)).out
    asked = ok(here(home, "size", band, "--inch")).out
    # 53.76 mm over 25.4
    assert "inside: 2.12 in (2.03 to 2.20)" in asked
    settings = Path(ok(here(home, "where", "--json")).data["settings"])
    settings.parent.mkdir(parents=True, exist_ok=True)
    settings.write_text('[words]\nunits = "inch"\n')
    assert ok(here(home, "size", band)).out == asked
    assert " mm " in ok(here(home, "size", band, "--metric")).out


def test_what_is_asked_for_can_be_begun_as_it_says(home: Path) -> None:
    found = ok(here(home, "fit", "gorse-ring", "--ring", "US 7", "--json")).data
    line = found["nearest"]["begin"]
    assert line.startswith("stitchalong start gorse-ring --units ")
    ok(here(home, *shlex.split(line)[1:]))
    (piece,) = ok(here(home, "pieces", "--json")).data["pieces"]
    size = ok(here(home, "size", piece["name"], "--json")).data
    assert size["inside"] == found["nearest"]["length"]
    assert (size["piece"], size["count"]) == (piece["name"], found["nearest"]["count"])
    assert abs(size["inside"]["value"] - found["target"]) <= found["step"] / 2
    every = [found["nearest"], found["smaller"], found["larger"], *found["choices"]]
    every += [other["choice"] for other in found["alternatives"]]
    for choice in every:
        assert sum(choice["sides"]) == choice["count"]
        if choice["begin"] and not choice["cannot"]:
            words = shlex.split(choice["begin"])[2:]
            units = ok(here(home, "check", *words, "--json")).data["rounds"][0]["stitches"]
            assert units == choice["count"]


def test_the_answer_stands_in_the_first_lines(home: Path) -> None:
    title, first, beside, begin, *more = ok(here(home, "fit", "gorse-ring", "--ring", "US 7")).out.splitlines()
    assert title == "Gorse ring"
    # 25 units of 2.24 mm (common practice, no source) are 56.0 mm; US 7½ is 17.73 mm across, 55.7 mm round
    # (en.wikipedia.org/wiki/Ring_size): right for US 7 in a wide band (careypearson.com/finding-a-ring-size)
    assert first.startswith("for US 7: 25 units, sides 7 6 6 6: 56.0 mm (53.8 to 58.2) inside, US 7½")
    assert first.endswith("fits US 7")
    assert beside == "smaller: 24 units, equal sides of 6, for US 6¼; larger: 26 units, sides 7 6 7 6, for US 8"
    assert begin == "to begin it: stitchalong start gorse-ring --units 25"
    assert len(more) <= 8
    assert "too tight" in more[-2]
    assert "--all" in more[-1]
    for other in ("5 sides: 25 units", "15/0 cylinder: 32 units"):
        assert any(line.startswith(f"  {other}") for line in more)


def test_one_unit_on_each_of_four_sides_is_three_and_a_half_us_sizes(home: Path) -> None:
    for more in ((), ("--all",)):
        words = ok(here(home, "fit", "gorse-ring", "--ring", "US 7", *more)).out
        # 4 · 2.24 mm is 9.0 mm; 2.5535 mm of circumference a US size: en.wikipedia.org/wiki/Ring_size
        assert "with equal sides 9.0 mm, 3.5 US sizes" in words
        assert "half a US size more" in words
        assert "too tight" in words
    for other in ("unequal sides ", "5 sides ", "15/0 cylinder "):
        assert f"\n  {other}" in words
    assert "over one day a finger may vary" in words
    assert "common practice" in words


def test_a_bangle_a_tube_and_a_strip(home: Path) -> None:
    # at least 2 cm more than the closed hand: kawaiius.com/pages/bracelet-bangle-size-guide
    bangle = ok(here(home, "fit", "gorse-ring", "--hand", "20 cm", "--json")).data
    assert bangle["target"] == 220
    assert "too tight" not in " ".join(bangle["notes"])
    tube = ok(here(home, "fit", "reed-tube", "--ring", "US 7", "--json")).data
    assert tube["nearest"]["begin"] == f"stitchalong start reed-tube --units {2 * tube['nearest']['count']}"
    assert tube["nearest"]["cannot"], "its rounds are written out for ten stitches"
    assert tube["possible"]["count"] == 10, "no other count has those rounds"
    assert not tube["possible"]["cannot"]
    assert "possible" not in bangle
    words = ok(here(home, "fit", "reed-tube", "--ring", "US 7")).out
    assert "it cannot be begun so; --all says why\nthe nearest that can be begun: 10 stitches a round, " in words
    (line,) = (line for line in words.splitlines() if line.startswith("the nearest that can"))
    ok(here(home, *shlex.split(line.rpartition(": ")[2])[1:]))
    assert "11 spaces have no bead" in ok(here(home, "fit", "reed-tube", "--ring", "US 7", "--all")).out
    for more in ((), ("--all",)):
        words = ok(here(home, "fit", "gorse-ring", "--hand", "20 cm", *more)).out
        assert (
            words.count("looked for: 220.0 mm around inside: the hand's 200.0 mm and 20.0 mm more to slip over it") == 1
        )
    strip = ok(here(home, "fit", "heather-strip", "--wrist", "16cm", "--ease", "snug")).out
    # ¼ to ½ in more than the wrist is snug: tasitreasures.com, bracelet size
    assert "looked for: 169.5 mm (166.3 to 172.7) long" in strip
    assert re.search(r"write height = \d+ into the plan", strip)


def test_of_a_piece_and_a_plan_of_one_name_it_says_which(home: Path) -> None:
    ok(here(home, "start", "gorse-ring", "--units", "24"))
    told = ok(here(home, "size", "gorse-ring")).out.splitlines()
    assert told[1] == "this is the piece; there is a plan of that name too: add --plan for it"
    for words, piece, count in (
        (("gorse-ring",), "gorse-ring", 24),
        (("gorse-ring", "--piece"), "gorse-ring", 24),
        (("1",), "gorse-ring", 24),
        (("gorse",), "gorse-ring", 24),
        (("gorse-ring", "--plan"), None, 28),
        (("gorse-ring", "--units", "32"), None, 32),
    ):
        found = ok(here(home, "size", *words, "--json")).data
        assert (found["piece"], found["count"]) == (piece, count)
        assert len(words) == 1 or "of that name too" not in ok(here(home, "size", *words)).out


# ---- beads, thread, flatness ------------------------------------------------------------------------


def test_beads_for_a_class(home: Path, band: str) -> None:
    one = ok(here(home, "beads", band, "--json")).data
    class_of = ok(here(home, "beads", band, "--people", "12", "--json")).data
    assert [(code["code"], code["count"]) for code in one["codes"]] == [("A", 92), ("M", 4)]
    assert [code["count"] for code in class_of["codes"]] == [12 * 92, 12 * 4]
    for code in class_of["codes"]:
        bought = sum(pack["grams"] * pack["number"] for pack in code["packs"])
        assert bought >= code["buy_grams"] >= code["grams"]["value"]
        assert code["buy_count"] >= 1.1 * code["count"]
    # published: 190 to 200 cylinders in a gram (from memory; the table of beads)
    grams = class_of["codes"][0]["grams"]
    assert grams["low"] <= 12 * 92 / 200
    assert grams["high"] >= 12 * 92 / 190
    words = ok(here(home, "beads", band, "--people", "12")).out
    assert "A thistle: 1,104 beads" in words
    assert "for 12 people" in words
    assert " oz" in ok(here(home, "beads", band, "--inch")).out


def test_thread_says_where_it_changes_in_words(home: Path) -> None:
    found = ok(here(home, "thread", "gorse-ring", "--length", "60cm", "--json")).data
    assert found["length"] == 600
    assert found["lengths"]["low"] <= found["lengths"]["value"] <= found["lengths"]["high"]
    assert len(found["changes"]) == found["lengths"]["value"] - 1 > 0
    stitched = sum(part["length"]["value"] for part in found["parts"])
    # two tails of 6 in (firemountaingems.com) and 25 cm a change
    assert found["ends"]["value"] == 300 + 250 * len(found["changes"])
    assert found["total"]["value"] == pytest.approx(stitched + 300 + 250 * len(found["changes"]), abs=0.01)
    words = ok(here(home, "thread", "gorse-ring", "--length", "60cm")).out
    for number, change in enumerate(found["changes"], start=2):
        assert f"length {number} from about {change['place']}" in words
        assert re.search(r"(round \d+|band), .*stitch \d+", change["place"])


def test_flat_gives_the_figure_of_each_part(home: Path) -> None:
    # 2-1-0 corners of six: a published flat hexagon is 341°, see the flat patterns of beadmechanics.com
    disc = ok(here(home, "flat", "frost-disc", "--json")).data["parts"][0]
    assert (disc["verdict"], round(disc["angle"]), disc["ribs"]) == ("lies flat", 341, 6)
    words = ok(here(home, "flat", "acorn-cap")).out
    assert "closes in; 4 ribs, 2.00 columns fewer a round and rib" in words
    assert "doubtful" in words, "round beads"
    # four pairs a round are 467° where 360° is flat: beadmechanics.com (octagon); on a band they rise as fins
    words = ok(here(home, "flat", "gorse-ring")).out
    assert "rises as fins; 467°, 4 ribs, 2.00 columns a round and rib where 1.23 would be flat\n" in words
    assert "saddle" not in words, "that is meant"
    assert "\nit hangs from a band" in words
    first, *walls = ok(here(home, "flat", "gorse-ring", "--json")).data["parts"]
    assert (first["fins"], {part["fins"] for part in walls}) == (True, {False})


# ---- time and price ---------------------------------------------------------------------------------


def test_the_guess_is_one_wherever_it_is_told(home: Path) -> None:
    course = ok(here(home, "time", "gorse-ring")).out
    guess = course.partition(" beads: ")[2].partition("\n")[0]
    assert guess
    sheet = ok(here(home, "sheet", "gorse-ring", "--as", "txt")).out
    assert f"{guess}, an estimate at" in " ".join(sheet.split())
    begun = ok(here(home, "start", "gorse-ring", typed="time\n", now=NOW)).out
    assert f"about {guess} left, an estimate" in begun


def test_time_goes_by_the_stitchers_own_pace(home: Path, band: str) -> None:
    guess = ok(here(home, "time", band)).out
    assert "an estimate at 20 s a bead" in guess
    assert "your own pace is found from the first twenty beads" in guess
    ok(here(home, "start", band, "--name", "slow", now=NOW))
    for nth in range(1, 31):
        ok(here(home, "go-on", "slow", typed="\n", now=NOW + 6 * nth))
    found = ok(here(home, "time", "slow", "--json")).data
    assert found["pace"]["value"] == 6
    assert found["whole"]["value"] == 6 * 96
    assert found["rest"]["value"] == 6 * found["left"] == 6 * (96 - 30)
    assert found["spent"] == 180
    plan = ok(here(home, "time", band, "--json")).data
    assert (plan["piece"], plan["whole"]["value"]) == (None, 576)
    assert "by your own pace, 6.0 s a bead" in ok(here(home, "time", band)).out


def test_price_is_plain_arithmetic_that_is_shown(home: Path, band: str) -> None:
    grams = ok(here(home, "beads", band, "--json")).data["codes"][0]["grams"]["value"]
    found = ok(here(home, "price", band, "--hours", "2", "--hourly", "12", "--json")).data
    first, work = found["lines"]
    half = Decimal(str(round(grams, 2))) / 2
    assert first["sum"] == str(half.quantize(Decimal("0.01"), ROUND_HALF_UP))
    assert (work["sum"], found["work"]) == ("24.00", "24.00")
    assert float(found["total"]) == pytest.approx(float(first["sum"]) + 24)
    assert found["missing"] == ["M"]
    words = ok(here(home, "price", band, "--bought")).out
    # 92 beads are half a gram: the smallest packing holds 5 g
    assert "bead A: 5.00 g × 0.5 = 2.50" in words
    assert "not in it, because price or weight is not known: M" in words
    assert here(home, "price", band, "--hourly", "12").status == 2


# ---- one's own gauge --------------------------------------------------------------------------------


def test_a_swatch_is_used_from_then_on_and_can_be_forgotten(home: Path, band: str) -> None:
    usual = ok(here(home, "size", band, "--json")).data["inside"]
    assert "nothing measured yet" in ok(here(home, "gauge", "list")).out
    ok(here(home, "gauge", "add", "11/0 cylinder", "band", "24", "51.6 mm"))
    own = ok(here(home, "size", band, "--json")).data["inside"]
    assert 51.6 < own["value"] < usual["value"]
    assert own["high"] - own["low"] < usual["high"] - usual["low"]
    assert "1 measurement of your own" in own["basis"]
    assert ok(here(home, "size", band, "--tension", "loose", "--json")).data["inside"] == usual
    listed = ok(here(home, "gauge", "list", "--json")).data
    assert [(row["bead"], row["of"], row["count"], row["length"]) for row in listed["measured"]] == [
        ("11/0 cylinder", "band", 24, 51.6)
    ]
    assert listed["gauges"][0]["usual"]["value"] == 2.24
    fitted = ok(here(home, "fit", band, "--ring", "US 7", "--json")).data
    assert fitted["nearest"]["length"]["value"] == pytest.approx(
        own["value"] / 24 * fitted["nearest"]["count"], abs=0.01
    )
    ok(here(home, "gauge", "remove", str(listed["measured"][0]["number"])))
    assert ok(here(home, "size", band, "--json")).data["inside"] == usual


def test_a_ring_size_a_tension_columns_and_rows_can_be_measured(home: Path) -> None:
    ok(here(home, "gauge", "add", "11/0 cylinder", "band", "24", "US 7", "--tension", " Tight "))
    ok(here(home, "gauge", "add", "8/0 round", "columns", "20", "1 3/4 in"))
    ok(here(home, "gauge", "add", "8/0 round", "rows", "20", "32mm"))
    ok(here(home, "gauge", "add", "11/0 round", "weave", "10", "33mm"))
    words = ok(here(home, "gauge", "list")).out
    assert "11/0 cylinder, tight:" in words
    assert "20 columns of peyote" in words
    assert "a row of peyote; 1 measurement" in words
    assert "a unit of weave; 1 measurement" in words


def test_columns_and_rows_of_other_stitches_can_be_measured(home: Path, tmp_path: Path) -> None:
    usual = ok(here(home, "size", "shingle-leaf", "--json")).data["measures"]
    # cylinders standing are 1.6 mm wide and 1.3 mm high (geometry)
    ok(here(home, "gauge", "add", "11/0 cylinder", "rows", "20", "27.3mm", "--stitch", "brick"))
    own = ok(here(home, "size", "shingle-leaf", "--json")).data["measures"]
    assert [one["label"] for one in own] == ["wide", "long"]
    assert own[0] == usual[0]
    assert own[1]["length"]["value"] > usual[1]["length"]["value"]
    words = ok(here(home, "gauge", "list")).out
    assert "20 rows of brick stitch" in words
    assert "a row of brick stitch; 1 measurement of your own, and the default; without it 1.30 mm" in words
    (gauge,) = ok(here(home, "gauge", "list", "--json")).data["gauges"]
    assert (gauge["of"], gauge["stitch"]) == ("rows", "brick stitch")


def test_finishing_a_piece_with_its_size_makes_the_gauge_better(home: Path, band: str) -> None:
    ok(here(home, "start", band, "--name", "first"))
    lay(home, "first")
    told = ok(here(home, "finish", "first", "--size", "US 6", "--thread", "0.8 m")).out
    assert told.startswith("first is finished\n")
    assert "a unit of a band; 1 measurement of your own, and the default" in told
    assert "thread: " in told
    assert "kept as 1; `stitchalong gauge remove 1` forgets it" in told
    (piece,) = ok(here(home, "pieces", "--json")).data["pieces"]
    assert piece["state"] == "finished"
    once = ok(here(home, "gauge", "list", "--json")).data
    assert {row["piece"] for row in once["measured"]} == {piece["uid"]}
    ok(here(home, "finish", "first", "--size", "US 6½"))
    again = ok(here(home, "gauge", "list", "--json")).data
    assert len(again["measured"]) == len(once["measured"]) == 2, "measured anew, not twice"
    own = ok(here(home, "thread", band, "--json")).data["total"]
    assert "of your own" in own["basis"]


def test_a_size_that_cannot_be_finishes_nothing(home: Path, band: str) -> None:
    ok(here(home, "start", band, "--name", "first"))
    ran = here(home, "finish", "first", "--size", "US 16", "--thread", "100m")
    assert ran.status == 2
    assert ran.err.count("\n") == 1
    assert ok(here(home, "pieces", "--json")).data["pieces"][0]["state"] == "going"
    assert ok(here(home, "gauge", "list", "--json")).data["measured"] == []


def test_what_is_not_stitched_teaches_nothing(home: Path, band: str) -> None:
    """24 units of four beads are closed after 96; the rest of the plan is not there."""
    ok(here(home, "start", band, "--name", "first"))
    lay(home, "first", 95)
    ran = here(home, "finish", "first", "--size", "US 6")
    assert (ran.status, ran.err.count("\n")) == (2, 1)
    assert "not closed yet" in ran.err
    assert "not every bead" in here(home, "finish", "first", "--thread", "0.8m").err
    assert ok(here(home, "gauge", "list", "--json")).data["measured"] == []
    ok(here(home, "finish", "first"))


def test_signs_in_a_plan_never_reach_the_terminal(home: Path, tmp_path: Path) -> None:
    path = tmp_path / "signs.toml"
    path.write_text(BAND.replace("Thistle", "This\\u001b[31mtle").replace('"chalk"', '"cha\\u202elk"'))
    for command in ("size", "beads", "thread", "flat", "time", "price"):
        for more in ((), ("--json",)):
            out = ok(here(home, command, str(path), *more)).out
            assert all(line.isprintable() for line in out.splitlines())
    json.loads(ok(here(home, "fit", str(path), "--ring", "US 7", "--json")).out)


def test_without_any_measure_a_plan_still_has_its_counts(home: Path, tmp_path: Path) -> None:
    path = tmp_path / "plain.toml"
    path.write_text(RING)
    found = ok(here(home, "beads", str(path), "--json")).data["codes"]
    assert sum(code["count"] for code in found) == 60
    assert {code["grams"] for code in found} == {None}
    assert "does not say its size and shape" in ok(here(home, "size", str(path))).out
    assert "nothing of it" in ok(here(home, "flat", str(path))).out
