"""Each command does its work, in words for people and in data for scripts."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.running import NOW, RING, corners, here, ok


@pytest.fixture
def plan(tmp_path: Path) -> str:
    path = tmp_path / "sorrel.toml"
    path.write_text(RING)
    return str(path)


# ---- beginning and going on -------------------------------------------------------------------------


def test_start_begins_a_piece_and_go_on_finds_it_where_it_was_left(home: Path, plan: str) -> None:
    begun = ok(here(home, "start", plan, typed="5\n"))
    assert begun.out.startswith("begun: sorrel-ring, Sorrel ring, 60 beads\n")
    gone_on = ok(here(home, "go-on", now=NOW + 3600))
    assert "last worked on" in gone_on.out
    assert "60 minutes ago" in gone_on.out
    assert gone_on.out.splitlines()[-1].endswith("; 5 beads of 60 laid")
    assert begun.out.splitlines()[-1] == gone_on.out.splitlines()[-1]


def test_a_piece_is_named_and_found_by_name_by_its_beginning_and_by_number(home: Path, plan: str) -> None:
    ok(here(home, "start", plan, "--name", "For Ida"))
    ok(here(home, "start", plan))
    for word in ("For Ida", "for i", "1"):
        assert ok(here(home, "go-on", word)).out.startswith("going on with For Ida,")


def test_go_on_takes_the_piece_last_worked_on_that_is_not_finished(home: Path, plan: str) -> None:
    for number, name in enumerate(("first", "second", "third")):
        ok(here(home, "start", plan, "--name", name, now=NOW + number))
    ok(here(home, "go-on", "first", typed="\n", now=NOW + 10))
    ok(here(home, "go-on", "second", typed="\n", now=NOW + 20))
    ok(here(home, "finish", "second"))
    assert ok(here(home, "go-on")).out.startswith("going on with first,")


def test_a_piece_put_away_comes_back_when_one_goes_on_with_it(home: Path, plan: str) -> None:
    ok(here(home, "start", plan))
    ok(here(home, "put-away", "sorrel-ring"))
    assert ok(here(home, "pieces")).out == "no pieces yet\n"
    assert "put away" in ok(here(home, "pieces", "--all")).out
    ok(here(home, "go-on", "sorrel-ring"))
    assert "sorrel-ring" in ok(here(home, "pieces")).out


def test_a_piece_keeps_the_plan_and_the_size_that_it_was_begun_with(home: Path, plan: str) -> None:
    ok(here(home, "start", plan, "--sides", "3,4", typed="3\n"))
    Path(plan).unlink()
    gone_on = ok(here(home, "go-on"))
    # 3 and 4 plain units and two with markers make 9: 4 beads a unit (four of the frame and spacer), then 9 in
    # round 1 and two more in each of the three rounds with two pairs
    assert gone_on.out.splitlines()[-1].endswith(f"3 beads of {9 * 4 + 9 + 11 + 13 + 15} laid")


@pytest.mark.parametrize("arguments", [("--units", "9"), ("--sides", "3,4")])
def test_units_and_sides_choose_the_size(home: Path, plan: str, arguments: tuple[str, str]) -> None:
    checked = ok(here(home, "check", plan, "--json", *arguments)).data
    assert checked["rounds"][0]["stitches"] == 9
    assert sorted(checked["rounds"][0]["sides"]) == [3, 4]
    assert checked["beads"] == 9 * 4 + 9 + 11 + 13 + 15


def test_warnings_and_remarks_can_be_left_out(home: Path, tmp_path: Path) -> None:
    path = tmp_path / "told.toml"
    path.write_text(RING + '\n[[remarks]]\nsay = "Mind the tail."\n')
    told = ok(here(home, "start", str(path), "--warn", "3", typed="\n" * 22)).out
    assert "warning: the join in 3 beads" in told
    assert "remark: Mind the tail." in told
    quiet = ok(here(home, "start", str(path), "--no-warnings", "--no-remarks", typed="\n" * 22)).out
    assert "warning:" not in quiet
    assert "remark:" not in quiet


def test_of_many_open_heights_the_first_are_told_with_their_beads(home: Path, tmp_path: Path) -> None:
    path = tmp_path / "open.toml"
    path.write_text(RING + '[[work]]\nstitch = "peyote"\nrounds = "A"\nheight = "1 to 3"\n' * 11)
    told = [line for line in ok(here(home, "check", str(path))).out.splitlines() if "open height" in line]
    assert [line.startswith("open height on the top edge: least 1 round") for line in told] == [True] * 8 + [False]
    assert told[-1] == "and 3 more open heights"


# ---- lists ------------------------------------------------------------------------------------------


def test_home_lists_pieces_and_plans_with_what_to_type(home: Path, plan: str) -> None:
    empty = ok(here(home)).out
    assert "stitchalong start NAME" in empty
    assert "go-on" not in empty
    ok(here(home, "start", plan, typed="7\n"))
    listing = ok(here(home)).out
    assert listing.startswith("to go on with sorrel-ring, type: stitchalong go-on\n")
    assert "first-try" in listing
    assert listing == ok(here(home, "--plain")).out


def test_plans_lists_those_that_ship_and_ones_own(home: Path) -> None:
    (home / "plans").mkdir(parents=True)
    (home / "plans" / "mine.toml").write_text(RING)
    plans = ok(here(home, "plans", "--json")).data["plans"]
    assert {"first-try", "gorse-ring", "kite-pendant"} <= {plan["name"] for plan in plans if plan["ships"]}
    assert [(plan["title"], plan["path"]) for plan in plans if not plan["ships"]] == [
        ("Sorrel ring", str(home / "plans" / "mine.toml"))
    ]
    words = ok(here(home, "plans")).out
    assert all(plan["title"] in words for plan in plans)


def test_pieces_tells_how_far_each_is(home: Path, plan: str) -> None:
    ok(here(home, "start", plan, typed="32\n"))
    (piece,) = ok(here(home, "pieces", "--json")).data["pieces"]
    assert (piece["name"], piece["title"], piece["state"]) == ("sorrel-ring", "Sorrel ring", "going")
    assert (piece["position"], piece["touched"]) == (32, NOW)
    assert piece["place"]["edge"] == "top"
    share = 100 * 32 // piece["steps"]
    assert f"{share} %" in ok(here(home, "pieces")).out


def test_where_tells_where_files_are_kept(home: Path) -> None:
    kept = ok(here(home, "where", "--json")).data
    assert kept["pieces"] == str(home / "data")
    assert (Path(kept["shipped_plans"]) / "first-try.toml").is_file()
    words = ok(here(home, "where")).out
    assert all(path in words for name, path in kept.items() if name != "format")
    assert not home.exists(), "only telling makes no folder"


# ---- plans ------------------------------------------------------------------------------------------


def test_check_prints_a_table_of_rounds_and_totals(home: Path, plan: str) -> None:
    lines = ok(here(home, "check", plan)).out.splitlines()
    rows = [line.split() for line in lines[2:-1]]
    assert [(row[1], row[3]) for row in rows] == [("0", "24"), ("1", "6"), ("2", "8"), ("3", "10"), ("4", "12")]
    assert lines[-1].startswith("in all 60 beads: ")


# A flat piece of k corners has k·r(r+1)/2 beads after r rounds: OEIS A045943 (k = 3), A046092 (k = 4; there as
# 2·r(r+1)) and A028896 (k = 6; there as 6·t(r)).
@pytest.mark.parametrize(
    ("k", "known"),
    [
        (3, [3, 9, 18, 30, 45, 63, 84, 108]),
        (4, [4, 12, 24, 40, 60, 84, 112, 144]),
        (6, [6, 18, 36, 60, 90, 126, 168, 216]),
    ],
)
def test_check_counts_flat_pieces_as_the_known_sequences_do(
    home: Path, tmp_path: Path, k: int, known: list[int]
) -> None:
    path = tmp_path / "flat.toml"
    path.write_text(corners(k, 8))
    rounds = ok(here(home, "check", str(path), "--json")).data["rounds"]
    sums = [sum(row["beads"] for row in rounds[: r + 1]) for r in range(8)]
    assert sums == known


def test_check_prints_least_usual_and_most_of_an_open_height(home: Path, tmp_path: Path) -> None:
    path = tmp_path / "open.toml"
    path.write_text(RING.replace("height = 4", 'height = "2 to 5"'))
    told = ok(here(home, "check", str(path))).out
    assert told.splitlines()[-1] == (
        "open height on the top edge: least 2 rounds (38 beads in all), usual 3 rounds (48 beads in all), "
        "most 5 rounds (74 beads in all)"
    )
    assert ok(here(home, "check", str(path), "--json")).data["open"] == [{"least": 2, "usual": 3, "most": 5}]


def test_check_tells_every_fault_at_once_and_marks_it(home: Path, tmp_path: Path) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(RING.replace('rounds = ["A", "B"]', 'rounds = ["A, (B", "3BB"]'))
    ran = here(home, "check", str(path))
    lines = ran.err.splitlines()
    assert (ran.status, ran.out) == (3, "")
    assert [line.startswith("stitchalong: ") for line in lines] == [True, False, False] * 2
    assert "work[2].rounds[1]" in lines[0]
    assert (lines[1], lines[2]) == ("    A, (B", "       ^")
    line = RING.splitlines().index('rounds = ["A", "B"]') + 1
    assert f"line {line}," in lines[0]


def test_check_tells_a_doubt_and_goes_on(home: Path, tmp_path: Path) -> None:
    path = tmp_path / "spare.toml"
    path.write_text(RING.replace("[[work]]", '[beads.Z]\nname = "spare"\ncolour = "red"\n[[work]]', 1))
    ran = here(home, "check", str(path), "--json")
    assert ran.status == 0
    assert json.loads(ran.out)["beads"] == 60
    assert ran.err.startswith("stitchalong: a doubt: ")
    assert ran.err.count("\n") == 1


def test_course_prints_the_rounds_in_words(home: Path, plan: str) -> None:
    lines = ok(here(home, "course", plan)).out.splitlines()
    assert lines[0] == "Sorrel ring: 60 beads"
    assert lines[3].startswith("the band: 6 units of right-angle weave, spacers (2A, B) x 2; 6 stitches, 24 beads")
    assert lines[4].startswith("round 1, top edge: 6A; 6 stitches, 6 beads")


def test_course_json_holds_every_bead_in_order(home: Path, plan: str) -> None:
    rounds = ok(here(home, "course", plan, "--json")).data["rounds"]
    ids = [number for item in rounds for stitch in item["stitches"] for number in stitch["ids"]]
    assert ids == list(range(1, 61))


def test_schema_prints_a_json_schema(home: Path) -> None:
    schema = ok(here(home, "schema")).data
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert {"title", "beads", "work"} <= set(schema["required"])


# ---- pieces and files -------------------------------------------------------------------------------


def test_rename_and_finish(home: Path, plan: str) -> None:
    ok(here(home, "start", plan))
    assert ok(here(home, "rename", "sorrel-ring", "hedge")).out == "sorrel-ring is now called hedge\n"
    assert ok(here(home, "finish", "hedge")).out == "hedge is finished\n"
    (piece,) = ok(here(home, "pieces", "--json")).data["pieces"]
    assert (piece["name"], piece["state"]) == ("hedge", "finished")


@pytest.mark.parametrize(("answer", "left"), [("yes\n", 0), ("no\n", 1), ("\n", 1), ("", 1)])
def test_remove_asks_first(home: Path, plan: str, answer: str, left: int) -> None:
    ok(here(home, "start", plan))
    ran = ok(here(home, "remove", "sorrel-ring", typed=answer, terminal=True))
    assert ran.out.startswith("Remove sorrel-ring (Sorrel ring, 0 %) for good? Type yes to do it: ")
    assert len(ok(here(home, "pieces", "--json")).data["pieces"]) == left


def test_remove_can_be_told_that_one_is_sure(home: Path, plan: str) -> None:
    ok(here(home, "start", plan))
    assert ok(here(home, "remove", "1", "--yes")).out == "sorrel-ring is removed\n"
    assert ok(here(home, "pieces", "--all")).out == "no pieces yet\n"


def test_a_piece_moves_house_as_one_file(home: Path, plan: str, tmp_path: Path) -> None:
    parcel = str(tmp_path / "ring.piece")
    ok(here(home, "start", plan, typed="11\n"))
    ok(here(home, "export", "sorrel-ring", parcel))
    other = tmp_path / "other"
    assert ok(here(other, "import", parcel)).out == "sorrel-ring is taken in\n"
    assert "nothing changed" in ok(here(other, "import", parcel)).out
    assert ok(here(other, "import", parcel, "--as-new")).out == "sorrel-ring-2 is taken in\n"
    assert ok(here(other, "go-on", "sorrel-ring")).out.endswith("11 beads of 60 laid\n")
    ok(here(home, "export", "sorrel-ring", parcel, "--replace"))


def test_a_copy_is_made_listed_and_brought_back(home: Path, plan: str) -> None:
    ok(here(home, "start", plan, typed="11\n"))
    ok(here(home, "copies", "--now"))
    ok(here(home, "go-on", typed="9\n", now=NOW + 60))
    made = ok(here(home, "copies", "--json")).data["copies"]
    assert [copy["why"] for copy in made][:1] == ["asked"]
    assert "asked for" in ok(here(home, "copies")).out
    assert ok(here(home, "restore", typed="no\n", terminal=True)).out.endswith("all stays as it is\n")
    assert ok(here(home, "go-on")).out.endswith("20 beads of 60 laid\n")
    restored = ok(here(home, "restore", "1", "--yes")).out
    assert "what was there before lies in" in restored
    assert ok(here(home, "go-on")).out.endswith("11 beads of 60 laid\n")


def test_every_command_has_help_that_tells_more_than_its_name(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from stitchalong.commands.parser import command_line

    for command in command_line().commands:
        with pytest.raises(SystemExit) as ended:
            here(home, command, "--help")
        assert ended.value.code == 0
        told = capsys.readouterr().out
        assert told.startswith(f"usage: stitchalong {command} ")
        assert len(told.splitlines()[2:]) > 2
    assert not home.exists()
