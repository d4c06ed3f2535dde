"""Where plans are found, and what a list of them costs."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from stitchalong.errors import PlanError
from stitchalong.plan import library
from stitchalong.plan.library import find_plan, glance, plans_in, shipped
from stitchalong.plan.read import read_plan
from tests.plan.samples import FULL, SMALL


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of plans in place of those that ship, beside the one that tests stand in."""
    made = tmp_path / "plans"
    made.mkdir()
    (made / "first-ring.toml").write_text(SMALL, encoding="utf-8")
    (made / "two-fins.toml").write_text(FULL, encoding="utf-8")
    (made / "notes.txt").write_text("no plan", encoding="utf-8")
    (made / "folder.toml").mkdir()
    monkeypatch.setattr(library, "shipped_folder", lambda: made)
    here = tmp_path / "here"
    here.mkdir()
    monkeypatch.chdir(here)
    return made


def test_the_plans_of_a_folder(folder: Path) -> None:
    assert shipped() == [folder / "first-ring.toml", folder / "two-fins.toml"]
    assert plans_in(folder / "none") == []


def test_a_plan_by_its_name_or_by_its_path(folder: Path) -> None:
    assert find_plan("first-ring") == folder / "first-ring.toml"
    assert find_plan(str(folder / "two-fins.toml")) == folder / "two-fins.toml"
    Path("mine.toml").write_text(SMALL, encoding="utf-8")
    assert find_plan("mine.toml") == Path("mine.toml")
    Path("first-ring").mkdir()
    assert find_plan("first-ring") == folder / "first-ring.toml"
    assert find_plan("./first-ring") == Path("first-ring")


@pytest.mark.parametrize(
    ("word", "words"),
    [
        ("frist-ring", "frist-ring: there is no such plan (did you mean `first-ring`?)"),
        ("two-fin.toml", "two-fin.toml: there is no such file (did you mean `two-fins`?)"),
        ("wxyz", "wxyz: there is no such plan (plans that ship: first-ring and two-fins)"),
        ("a/b/c", "a/b/c: there is no such file"),
        ("x" * 5000, "there is no such plan"),
        ("a\0b\x1b[2J", "ab[2J: there is no such plan"),
        ("", "there is no such"),
    ],
)
def test_a_plan_that_is_not_there(folder: Path, word: str, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        find_plan(word)
    assert words in str(caught.value)
    assert str(caught.value).isprintable()


def test_where_many_plans_ship_a_hint_says_where_to_look(folder: Path) -> None:
    for nth in range(9):
        (folder / f"piece-{nth}.toml").write_text(SMALL, encoding="utf-8")
    for word, hint in (("wxyz", "such as my-ring.toml"), ("wxyz.toml", "is it in another folder?")):
        with pytest.raises(PlanError, match="`stitchalong plans` lists those that ship") as caught:
            find_plan(word)
        assert hint in str(caught.value)
    Path("heron-ring.toml").write_text(SMALL, encoding="utf-8")
    for word in ("heron-rng.toml", "heron-ring"):
        with pytest.raises(PlanError, match=r"did you mean `heron-ring\.toml`"):
            find_plan(word)


def test_a_plan_that_ships_is_called_by_its_name_in_messages(folder: Path) -> None:
    (folder / "two-fins.toml").write_text("title = 3", encoding="utf-8")
    Path("mine.toml").write_text("title = 3", encoding="utf-8")
    for path, name in ((folder / "two-fins.toml", "two-fins, beads"), (Path("mine.toml"), "mine.toml, beads")):
        with pytest.raises(PlanError) as caught:
            read_plan(path)
        assert str(caught.value.problems[0]).startswith(name)


def test_a_glance_at_a_plan(folder: Path) -> None:
    listed = glance(folder / "two-fins.toml")
    assert (listed.name, listed.title, listed.about) == ("two-fins", "Two fins", "First line. Second line.")


@pytest.mark.parametrize(
    "raw", [b"title = ", b"\xff\xfe", b"title = 3\nabout = 4", b'title = "\\u001b"', b"x = " + b"[" * 5000]
)
def test_a_glance_at_a_file_that_is_no_plan(tmp_path: Path, raw: bytes) -> None:
    path = tmp_path / "odd.toml"
    path.write_bytes(raw)
    assert glance(path).title == "odd"
    assert glance(tmp_path / "none.toml").title == "none"


@pytest.mark.parametrize("module", ["library", "model", "notation", "checked", "sizes", "read"])
def test_nothing_but_checking_a_file_needs_pydantic(module: str) -> None:
    code = f"import sys, stitchalong.plan.{module}; print('pydantic' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "False\n"


def test_the_folder_of_a_checkout_or_of_an_installed_package(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    module = tmp_path / "stitchalong" / "plan" / "library.py"
    module.parent.mkdir(parents=True)
    monkeypatch.setattr(library, "__file__", str(module))
    beside = tmp_path / "plans"
    beside.mkdir()
    # beside an installed package a folder of this name is a stranger's
    assert library.shipped_folder() is None
    (tmp_path / "pyproject.toml").touch()
    assert library.shipped_folder() == beside
    inside = tmp_path / "stitchalong" / "shipped"
    inside.mkdir()
    assert library.shipped_folder() == inside
