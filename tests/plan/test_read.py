"""Reading plan files: good ones whole, and every way of being wrong in one clear line."""

from __future__ import annotations

import errno
import json
import os
import socket
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stitchalong.errors import Exit, Place, PlanError, Problem, Problems
from stitchalong.plan.checked import build
from stitchalong.plan.model import Band, Bead, Decrease, Height, Increase, Peyote, Reinforce, Thread, WalkAlong
from stitchalong.plan.notation import parse_lay, parse_round, parse_written, print_round
from stitchalong.plan.read import MAX_BYTES, read_plan, read_text
from tests.plan.harmless import is_harmless
from tests.plan.samples import BEADS, FULL, PEYOTE, RING, SMALL

# ---- good ones ----------------------------------------------------------------------------------


def test_every_key_arrives() -> None:
    plan = read_text(FULL, "fins.toml").plan
    assert plan.title == "Two fins"
    assert plan.about == "First line.\nSecond line."
    assert plan.source == "fins.toml"
    assert plan.thread == Thread("braided", "smoke", "doubled")
    assert plan.beads == (
        Bead("C", "charcoal", "#3a3d40", "11/0", "cylinder", "tray 3", False, 1.3, 1.6, 0.8, 0.25),
        Bead("S", "sea glass", "#7fb8ad"),
        Bead("M", "gorse", "#e0b020", marker=True),
    )
    band, top, walk, again, bottom = plan.work
    assert band == Band(28, "C", "S", "C", parse_written("6S, M, 7S, M, 6S, M, 5S, M"), True, False)
    assert top == Peyote(
        "top",
        (
            parse_round("C"),
            parse_round("C; ribs MM; beside ribs S"),
            parse_round("*S to rib, MM; repeat from * around"),
        ),
        Height(4, 6, 7),
        Increase(over="M", pair=(parse_lay("MM"), parse_lay("SS")), from_round=2, rounds=3),
        None,
        None,
        True,
    )
    assert walk == WalkAlong("top", 5)
    assert again == Reinforce("top")
    assert bottom == Peyote(
        "bottom",
        (parse_round("C"),),
        Height(1, 1, None),
        None,
        Decrease(sides=4, from_round=2, rounds=1),
        parse_round("S"),
    )
    first, second = plan.remarks
    assert (first.say, first.edge, first.round, first.stitch) == ("Line the beads up.", None, None, None)
    assert (second.say, second.edge, second.round, second.stitch) == ("Here it turns.", "bottom", 1, 3)


def test_the_checked_data_survives_json_and_builds_the_same_plan() -> None:
    loaded = read_text(FULL, "fins.toml")
    assert build(json.loads(json.dumps(loaded.data))) == loaded.plan


def test_a_file_and_its_text_give_the_same_plan(tmp_path: Path) -> None:
    path = tmp_path / "small.toml"
    path.write_text(SMALL, encoding="utf-8")
    loaded = read_plan(path)
    assert loaded.plan == read_text(SMALL).plan
    assert loaded.text == SMALL
    assert loaded.plan.source == str(path)


@pytest.mark.parametrize(
    "raw",
    [
        SMALL.encode("utf-8-sig"),
        SMALL.replace("\n", "\r\n").encode(),
        SMALL.replace("Gorse ring", "Gorse ring\N{RING OPERATOR}").encode(),
    ],
    ids=["byte-order mark", "line ends of another system", "beyond ASCII"],
)
def test_files_as_editors_write_them(tmp_path: Path, raw: bytes) -> None:
    path = tmp_path / "small.toml"
    path.write_bytes(raw)
    plan = read_plan(path).plan
    assert replace(plan, title="Gorse ring") == read_text(SMALL).plan


def test_an_inline_table_may_go_over_lines() -> None:
    lines = (
        '[beads]\nC = { # the dark one\n  name = "charcoal", colour = "#3a3d40",  # near black\n}\n'
        'S = {name="sea glass",\n\n colour="teal"}\nM = {\nname = "gorse", colour = "#e02", marker = true }\n'
    )
    assert read_text(SMALL.replace(BEADS, lines)).plan == read_text(SMALL).plan


def test_marks_of_terminals_stay_text_or_go() -> None:
    text = SMALL.replace("Gorse ring", r"[bold]Gorse[/] \u001b[31mring\u0007\u202e\u200b").replace(
        "gorse", r"g\torse\n\U0001F469\u200D\U0001F33E"
    )
    plan = read_text(text).plan
    assert plan.title == "[bold]Gorse[/] [31mring"
    assert plan.bead("M").name == "g orse \U0001f469\u200d\U0001f33e"


def test_what_was_read_knows_its_lines() -> None:
    loaded = read_text(FULL)
    line = (
        FULL.splitlines().index('rounds = ["C", "C; ribs MM; beside ribs S", "*S to rib, MM; repeat from * around"]')
        + 1
    )
    problem = Problem("does not come out even", Place(key="work[2].rounds[3]"))
    assert loaded.located(problem).place.line == line
    elsewhere = Problem("unknown", Place(key="nowhere"))
    assert loaded.located(elsewhere) is elsewhere


def test_doubts_are_left_with_the_caller() -> None:
    problems = Problems()
    read_text(
        SMALL.replace("frame", "frame").replace('"C", "S", "M"', '"C", "C", "C"')
        + '[beads.Z]\nname="zinc"\ncolour="grey"\n',
        "",
        problems,
    )
    (doubt,) = problems
    assert doubt.doubtful
    assert str(doubt).endswith("beads.Z: bead Z is in the palette but nothing names it")
    assert not problems.faults


# ---- files that cannot be read ------------------------------------------------------------------


def refused(path: Path) -> str:
    """The one line with which a file is refused."""
    with pytest.raises(PlanError) as caught:
        read_plan(path)
    assert caught.value.status is Exit.PLAN
    (problem,) = caught.value.problems
    line = str(problem)
    assert is_harmless(line)
    assert len(line) < 400
    return line


def write(text: str | bytes) -> Callable[[Path], Path]:
    def make(folder: Path) -> Path:
        path = folder / "plan.toml"
        path.write_bytes(text.encode() if isinstance(text, str) else text)
        return path

    return make


def a_hole_of_50_megabytes(folder: Path) -> Path:
    path = folder / "plan.toml"
    with path.open("wb") as file:
        file.truncate(50 * 1024 * 1024)
    return path


def a_pipe(folder: Path) -> Path:
    path = folder / "plan.toml"
    os.mkfifo(path)
    return path


def a_socket(folder: Path) -> Path:
    path = folder / "s"
    with socket.socket(socket.AF_UNIX) as made:
        made.bind(str(path))
    return path


def a_loop(folder: Path) -> Path:
    path = folder / "plan.toml"
    path.symlink_to(path)
    return path


FILES: list[tuple[str, Callable[[Path], Path], str]] = [
    ("missing", lambda folder: folder / "none.toml", "there is no such file"),
    ("a folder", lambda folder: folder, "this is a folder, not a plan file"),
    ("50 MB", a_hole_of_50_megabytes, "this file is larger than 4 MiB"),
    ("a pipe", a_pipe, "this is no ordinary file"),
    ("a socket", a_socket, "this is no ordinary file"),
    ("a device", lambda _: Path("/dev/zero"), "this is no ordinary file"),
    ("a link to itself", a_loop, "this file cannot be read"),
    ("a name too long", lambda folder: folder / ("x" * 5000), "this file cannot be read"),
    ("a name with NUL", lambda folder: folder / "x\0y", "this file cannot be read: the name cannot be used"),
    ("a name that clears the screen", lambda folder: folder / "\x1b[2J\n.toml", "there is no such file"),
    ("through a file", lambda folder: write("")(folder) / "plan.toml", "this file cannot be read: not a directory"),
    ("empty", write(""), "this file is empty"),
    ("blank", write(" \n\n"), "this file is empty"),
    ("Latin-1", write(b'title = "x"\nabout = "caf\xe9"\n'), "line 2: this is not UTF-8 text (byte 0xe9)"),
    ("UTF-16", write(SMALL.encode("utf-16")), "this file is UTF-16 text"),
    ("NUL bytes", write(b"\0" * 100), "line 1: a control character (U+0000) in the file"),
    ("NUL within", write(SMALL.replace("sea", "s\0a")), "line 8: a control character (U+0000) in the file"),
    ("a picture", write(b"\x89PNG\r\n\x1a\n" + bytes(range(256))), "line 1: this is not UTF-8 text (byte 0x89)"),
    ("old line ends", write(SMALL.replace("\n", "\r")), "line 1: a control character (U+000D)"),
]


@pytest.mark.parametrize(("make", "words"), [row[1:] for row in FILES], ids=[row[0] for row in FILES])
def test_files_that_cannot_be_read(tmp_path: Path, make: Callable[[Path], Path], words: str) -> None:
    assert words in refused(make(tmp_path))


def test_a_file_one_may_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> int:
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))

    path = write(SMALL)(tmp_path)
    monkeypatch.setattr(os, "open", refuse)
    assert "permission denied" in refused(path)


def test_a_file_that_grows_while_it_is_read_is_refused_too(tmp_path: Path) -> None:
    assert "larger than 4 MiB" in refused(write(b"#" * (MAX_BYTES + 1))(tmp_path))


def test_a_refused_file_is_put_down_with_the_callers_problems(tmp_path: Path) -> None:
    problems = Problems()
    with pytest.raises(PlanError):
        read_plan(tmp_path, problems)
    assert [problem.what for problem in problems.faults] == ["this is a folder, not a plan file"]


# ---- texts that are wrong -----------------------------------------------------------------------


def faults(text: str) -> list[str]:
    with pytest.raises(PlanError) as caught:
        read_text(text, "p")
    lines = [str(problem) for problem in caught.value.problems]
    assert all(is_harmless(line) for line in lines)
    return lines


def test_all_faults_of_a_file_are_told_at_once_with_their_lines() -> None:
    text = (
        SMALL.replace("title", "titel").replace('"teal"', '"tael"').replace("frame", "farme").replace('"S", "M"', "7")
    )
    assert faults(text) == [
        'p, title: `title` is missing (title = "Gorse ring")',
        "p, line 1, titel: unknown key `titel` (did you mean `title`?)",
        "p, line 9, beads.S.colour: `colour`: `tael` is no colour the program knows; did you mean `teal`?",
        'p, line 16, work[1].frame: `frame` is missing (frame = "C")',
        "p, line 19, work[1].farme: unknown key `farme` (did you mean `frame`?)",
        "p, line 24, work[2].rounds[2]: this must be text in quotes, not 7",
    ]


def test_faults_of_meaning_are_told_at_once_too() -> None:
    text = SMALL.replace("*6S, M*", "*6S, Q*").replace('"S", "M"', '"3SS", "Z to rib"') + "increase = { }\n"
    assert faults(text) == [
        "p, line 20, work[1].spacers: bead `Q` is not in the palette (the palette has C, M, S; or add [beads.Q])",
        "p, line 24, work[2].rounds[2]: `3SS` can be read two ways"
        " (write `SS x 3` for beads together, `3S, S` for single ones)",
        "p, line 24, work[2].rounds[3]: bead `Z` is not in the palette (the palette has C, M, S; or add [beads.Z])",
        "p, line 25, work[2].increase: this rule does not say where: it needs one of `over`, `between`, `sides`, `at`",
    ]


def test_a_fault_of_notation_carries_the_text_and_the_place_in_it() -> None:
    with pytest.raises(PlanError) as caught:
        read_text(SMALL.replace('"S", "M"', '"5S, 3MM"'))
    (problem,) = caught.value.problems
    assert problem.caret() == "5S, 3MM\n    ^^^"
    assert problem.place.key == "work[2].rounds[2]"


def test_hundreds_of_faults_are_cut_short() -> None:
    many = PEYOTE.replace('"C", "S", "M"', '"3BB", ' * 500)
    told = faults(f'title = "x"\n{BEADS}{RING}{many}')
    assert len(told) == 101
    assert told[-1] == "and 400 more faults"
    shapes = PEYOTE.replace('"C", "S", "M"', "3, " * 500)
    assert faults(f'title = "x"\n{BEADS}{RING}{shapes}')[-1] == "and 400 more faults like these"


CHARACTERS = st.sampled_from([*"\"'[]{}=,#.\n\\ *ABx0", "“", "\0", "\x1b", "\u202e", "é", '"""', "[[work]]\n"])


@settings(max_examples=300)
@given(st.lists(st.tuples(st.integers(0, len(FULL)), st.integers(0, 3), CHARACTERS), min_size=1, max_size=4))
def test_a_damaged_file_is_read_or_refused_in_clear_lines(damage: list[tuple[int, int, str]]) -> None:
    text = FULL
    for at, gone, put in damage:
        text = text[:at] + put + text[at + gone :]
    try:
        plan = read_text(text, "p").plan
    except PlanError as error:
        told = error.problems
    else:
        told = ()
        assert all(is_harmless(bead.name + bead.note) for bead in plan.beads)
        assert all(
            parse_round(print_round(round)) == round
            for work in plan.work
            if isinstance(work, Peyote)
            for round in work.rounds
        )
    assert all(is_harmless(str(problem)) for problem in told)
    lines = [problem.place.line for problem in told if problem.place.line is not None]
    assert all(1 <= line <= text.count("\n") + 1 for line in lines)


PLAIN = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8) | st.just("5A"),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=8,
)
KEYS = st.sampled_from(
    ["title", "beads", "work", "thread", "remarks", "start", "stitch", "rounds", "spacers", "units", "sides", "side",
     "frame", "increase", "over", "with", "height", "usual", "walk", "reinforce", "edge", "fill", "C", "say", "name"]
)  # fmt: skip


@settings(max_examples=300)
@given(st.lists(st.tuples(st.lists(KEYS, min_size=1, max_size=4), PLAIN), min_size=1, max_size=3))
def test_any_value_in_any_place_is_taken_or_refused(puts: list[tuple[list[str], object]]) -> None:
    # pydantic's own words or a traceback would show here
    from stitchalong.plan.faults import check

    data = json.loads(json.dumps(read_text(FULL).data))
    for keys, value in puts:
        here = data
        for key in keys[:-1]:
            inner = here.get(key)
            here = (inner[len(inner) // 2] if isinstance(inner, list) and inner else inner) or here
            if not isinstance(here, dict):
                break
        if isinstance(here, dict):
            here[keys[-1]] = value
    problems = Problems()
    checked = check(data, problems, lambda path: Place())
    if checked is None:
        assert problems.faults
        assert all(is_harmless(str(problem)) and "Input should" not in str(problem) for problem in problems)
        return
    told: tuple[Problem, ...] = ()
    try:
        build(checked)
    except PlanError as error:
        told = error.problems
    assert all(is_harmless(str(problem)) for problem in told)
