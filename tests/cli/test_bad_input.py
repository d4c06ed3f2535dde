"""Bad input on every command: one clear line, a status that is not zero, no traceback, and nothing lost."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from stitchalong.commands.parser import command_line
from tests.cli.bad_figures import FIGURES
from tests.cli.running import RING, Ran, here

PLAN, ODD, NOT_TEXT, FOLDER, NOWHERE, FILE, PARCEL = (
    "{plan}",
    "{odd}",
    "{nottext}",
    "{folder}",
    "{nowhere}",
    "{file}",
    "{parcel}",
)

# command line, exit status, and a part of what is said
BAD: list[tuple[list[str], int, str]] = [
    (["stat"], 2, "did you mean `start`?"),
    (["first-try"], 2, "did you mean `stitchalong start first-try`?"),
    (["--wide"], 2, "unrecognized arguments: --wide"),
    (["st\x1b[31mart"], 2, "there is no command"),
    (["start"], 2, "PLAN"),
    (["start", "frist-try"], 3, "did you mean `first-try`?"),
    (["start", FOLDER], 3, "folder"),
    (["start", NOWHERE], 3, "no such file"),
    (["start", NOT_TEXT], 3, "UTF-8"),
    (["start", ODD], 3, "did you mean `height`?"),
    (["start", PLAN, "--units", "many"], 2, "“many” is no whole number"),
    (["start", PLAN, "--units", "0"], 2, "from 1 to"),
    (["start", PLAN, "--units", "9" * 5000], 2, "no whole number"),
    (["start", PLAN, "--units", "7", "--sides", "2,2"], 3, "make 6 units, not 7"),
    (["start", PLAN, "--sides", "6,x"], 2, "names no sides"),
    (["start", PLAN, "--sides", "0,3"], 3, "at least one plain spacer"),
    (["start", PLAN, "--name", "12"], 4, "needs a letter"),
    (["start", PLAN, "--name", "ring"], 4, "there is a piece “ring” already"),
    (["start", PLAN, "--warn", "-1"], 2, "--warn"),
    (["start", PLAN, "--warn", "2", "--no-warnings"], 2, "not allowed with"),
    (["go-on", "rong"], 4, "did you mean “ring”?"),
    (["go-on", "7"], 4, "no piece “7”"),
    (["go-on", ""], 4, "no piece"),
    (["go-on", "ring", "twice"], 2, "unrecognized arguments: twice"),
    (["plans", "mine"], 2, "unrecognized arguments: mine"),
    (["plans", "--yaml"], 2, "unrecognized arguments: --yaml"),
    (["plans", "--json=yes"], 2, "--json"),
    (["pieces", "ring"], 2, "unrecognized arguments: ring"),
    (["pieces", "--al"], 2, "unrecognized arguments: --al"),
    (["pieces", "--json=yes"], 2, "--json"),
    (["check", NOWHERE], 3, "no such file"),
    (["check", FOLDER], 3, "folder"),
    (["check", "first-try", "--sides", "4"], 3, "only a band has sides"),
    (["course", NOT_TEXT], 3, "UTF-8"),
    (["course", ODD], 3, "did you mean `height`?"),
    (["course", PLAN, "--units", "3.5"], 2, "no whole number"),
    (["check", PLAN, "--watch", "--json"], 2, "not allowed with"),
    (["new", "a.toml", "b.toml"], 2, "unrecognized arguments: b.toml"),
    (["new", "--kind", "ring"], 2, "unrecognized arguments"),
    (["new", "a.toml", "--replace"], 2, "unrecognized arguments: --replace"),
    (["sheet", NOWHERE], 3, "no such file"),
    (["sheet", PLAN, "--as", "doc"], 2, "--as"),
    (["sheet", PLAN, "--out", FILE + ".txt", "--paper", "a0"], 2, "--paper"),
    (["sheet", PLAN, "--as", "pdf"], 2, "a PDF is no text"),
    (["sheet", PLAN, "--class", "0"], 2, "from 1 to 500"),
    (["form", NOWHERE], 3, "no such file"),
    (["form", PLAN, "--png", FILE], 4, "there is a file already"),
    (["form", PLAN, "--tilt", "91"], 2, "from -90 to 90"),
    (["form", PLAN, "--round", "2", "--whole"], 2, "not allowed with"),
    (["start", PLAN, "--sound", "trumpet"], 2, "--sound"),
    (["start", PLAN, "--talk", "always"], 2, "--talk"),
    (["go-on", "ring", "--quiet=yes"], 2, "--quiet"),
    (["sound", "loud"], 2, "unrecognized arguments: loud"),
    (["sound", "--sound", "trumpet"], 2, "--sound"),
    (["sound", "--say"], 2, "--say"),
    (["schema", "--json"], 2, "unrecognized arguments: --json"),
    (["schema", PLAN], 2, "unrecognized arguments"),
    (["schema", "--yaml"], 2, "unrecognized arguments: --yaml"),
    (["settings", "counting.warm"], 2, "did you mean `counting.warn`?"),
    (["settings", "counting.warn", "lots"], 2, "“lots” is not a whole number of beads from 0 to 99"),
    (["settings", "--keys", "--json"], 2, "not allowed with"),
    (["settings", "--pedal"], 2, "a pedal is tried on a full screen"),
    (["settings", "counting.tap", "--pedal"], 2, "not told together"),
    (["where", "ring"], 2, "unrecognized arguments: ring"),
    (["where", "--j"], 2, "unrecognized arguments: --j"),
    (["where", "--json=yes"], 2, "--json"),
    (["replan", "ring", NOWHERE], 3, "no such file"),
    (["replan", "ring"], 2, "PLAN"),
    (["replan", "nothing", PLAN], 4, "no piece “nothing”"),
    (["replan", "ring", ODD, "--yes"], 3, "did you mean `height`?"),
    (["watch"], 2, "PIECE"),
    (["watch", "rin"], 4, "fits several pieces"),
    (["watch", "ring", "closely"], 2, "unrecognized arguments: closely"),
    (["rename", "ring", "ring two"], 4, "there is a piece “ring two” already"),
    (["rename", "ring", "\x07\x1b"], 4, "needs a letter"),
    (["rename", "nothing", "x"], 4, "no piece “nothing”"),
    (["finish", "nothing"], 4, "no piece “nothing”"),
    (["finish"], 2, "PIECE"),
    (["finish", "rin"], 4, "fits several pieces"),
    (["put-away", "nothing"], 4, "no piece “nothing”"),
    (["put-away"], 2, "PIECE"),
    (["put-away", "ring", "away"], 2, "unrecognized arguments: away"),
    (["remove", "nothing", "--yes"], 4, "no piece “nothing”"),
    (["remove", "ring"], 2, "add --yes"),
    (["remove", "--yes"], 2, "PIECE"),
    (["export", "nothing", "x.piece"], 4, "no piece “nothing”"),
    (["export", "ring", FILE], 4, "there is a file already"),
    (["export", "ring", "{folder}/no/such/folder/x.piece"], 4, "cannot be written"),
    (["import", NOWHERE], 4, "cannot be read"),
    (["import", FOLDER], 4, "cannot be read"),
    (["import", FILE], 4, "no parcel"),
    (["copies", "all"], 2, "unrecognized arguments: all"),
    (["copies", "--no"], 2, "unrecognized arguments: --no"),
    (["copies", "--json=yes"], 2, "--json"),
    (["restore", "99", "--yes"], 4, "no copy “99”"),
    (["restore", "../../pieces.db", "--yes"], 4, "no copy"),
    (["restore"], 2, "add --yes"),
    *FIGURES,
]


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """A home with two pieces and a copy, and files of every sort beside it."""
    (tmp_path / "plan.toml").write_text(RING)
    (tmp_path / "odd.toml").write_text(RING.replace("height", "heigth"))
    (tmp_path / "nottext.toml").write_bytes(b'title = "\xff"\n')
    (tmp_path / "folder").mkdir()
    (tmp_path / "file.piece").write_text("a letter to a friend")
    home = tmp_path / "home"
    for name in ("ring", "ring two"):
        assert here(home, "start", str(tmp_path / "plan.toml"), "--name", name, typed="9\n").status == 0
    assert here(home, "copies", "--now").status == 0
    return home


def filled(arguments: list[str], folder: Path) -> list[str]:
    names = {
        "plan": folder / "plan.toml",
        "odd": folder / "odd.toml",
        "nottext": folder / "nottext.toml",
        "folder": folder / "folder",
        "nowhere": folder / "nowhere.toml",
        "file": folder / "file.piece",
    }
    return [word.format(**names) for word in arguments]


def assert_one_clear_line(ran: Ran, status: int) -> None:
    assert ran.status == status
    assert ran.err.startswith("stitchalong: ")
    assert ran.err.count("\n") == 1
    assert ran.err.endswith("\n")
    assert ran.err[:-1].isprintable()
    assert "Traceback" not in ran.err


@pytest.mark.parametrize(("arguments", "status", "said"), BAD, ids=lambda value: str(value)[:40])
def test_bad_input_gets_one_clear_line_and_loses_nothing(
    home: Path, tmp_path: Path, arguments: list[str], status: int, said: str
) -> None:
    before = here(home, "pieces", "--all", "--json").out
    files = sorted(os.listdir(tmp_path))
    ran = here(home, *filled(arguments, tmp_path))
    assert_one_clear_line(ran, status)
    assert said in ran.err
    assert ran.out == ""
    assert here(home, "pieces", "--all", "--json").out == before
    assert sorted(os.listdir(tmp_path)) == files
    assert (tmp_path / "file.piece").read_text() == "a letter to a friend"


def test_the_table_has_three_sorts_of_bad_input_for_every_command() -> None:
    for command in command_line().commands:
        assert sum(arguments[0] == command for arguments, _, _ in BAD) >= 3, command


@pytest.mark.parametrize(
    "arguments",
    [
        [],
        ["start", PLAN],
        ["go-on"],
        ["pieces"],
        ["rename", "1", "x"],
        ["finish", "1"],
        ["put-away", "1"],
        ["remove", "1", "--yes"],
        ["export", "1", "x.piece"],
        ["import", FILE],
        ["copies", "--now"],
    ],
    ids=lambda value: " ".join(value),
)
def test_pieces_that_cannot_be_read_are_told_of_and_left_alone(
    home: Path, tmp_path: Path, arguments: list[str]
) -> None:
    file = home / "data" / "pieces.db"
    file.write_bytes(b"not a database, but somebody's letter" * 100)
    for end in ("-wal", "-shm"):
        (home / "data" / f"pieces.db{end}").unlink(missing_ok=True)
    ran = here(home, *filled(arguments, tmp_path))
    assert_one_clear_line(ran, 4)
    assert str(file) in ran.err
    assert file.read_bytes() == b"not a database, but somebody's letter" * 100


def test_what_a_typed_line_cannot_mean_ends_an_unattended_run_at_once(home: Path) -> None:
    ran = here(home, "go-on", "1", typed="2\nforward\n2\n")
    assert_one_clear_line(ran, 2)
    assert ran.err.startswith("stitchalong: line 2: “forward” is not understood")
    (piece,) = (p for p in here(home, "pieces", "--json").data["pieces"] if p["id"] == 1)
    assert piece["position"] == 11, "what came before is kept, what comes after is not counted"


def test_what_a_typed_line_cannot_mean_is_told_where_somebody_reads_along(home: Path) -> None:
    ran = here(home, "go-on", "1", typed="2\nforward\n2\n", terminal=True)
    assert (ran.status, ran.err) == (0, "")
    assert "“forward” is not understood" in ran.out
    assert ran.out.endswith("13 beads of 60 laid\n")


def test_a_file_name_with_signs_that_steer_a_terminal_is_shown_without_them(home: Path) -> None:
    ran = here(home, "check", "no\x1b]0;mine\x07\u202e\x9b31mway.toml")
    assert_one_clear_line(ran, 3)


@pytest.mark.parametrize("sign", ["\x1b[31m", "\x9b2J", "\x07", "\u202e", "[/]", "[click=x]"])
def test_signs_in_a_plan_never_reach_the_terminal(home: Path, tmp_path: Path, sign: str) -> None:
    path = tmp_path / "signs.toml"
    text = RING.replace("Sorrel ring", f"Sorrel {sign}ring").replace('"sorrel"', f'"sor{sign}rel"')
    text = text.replace("\nA = ", "") + f'\n[[remarks]]\nsay = "Mind {sign}the tail."\n'
    path.write_text(
        "".join(f"\\u{ord(c):04x}" if not c.isprintable() else c for c in text.replace("\n", "\0")).replace(
            "\\u0000", "\n"
        )
    )
    for arguments in (["check"], ["course"], ["start"], ["check", "--json"], ["course", "--json"]):
        ran = here(home, arguments[0], str(path), *arguments[1:], typed="9\nwhere\nleft\n")
        assert (ran.status, ran.err) == (0, "")
        assert all(line.isprintable() for line in ran.out.splitlines())
    for arguments in (["pieces"], ["pieces", "--json"], []):
        assert all(line.isprintable() for line in here(home, *arguments).out.split("\n"))
    parsed = json.loads(here(home, "check", str(path), "--json").out)
    assert parsed["title"].startswith("Sorrel")
