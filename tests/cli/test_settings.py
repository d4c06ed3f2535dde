"""`stitchalong settings`."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from stitchalong.settings.file import settings_from
from stitchalong.settings.settings import Settings, registry
from tests.cli.running import here


def test_all_settings_are_listed_with_their_values(tmp_path: Path) -> None:
    ran = here(tmp_path, "settings")
    assert ran.status == 0
    for key, setting in registry().items():
        line = next(line for line in ran.out.splitlines() if line.split()[:1] == [key])
        assert setting.written(setting.default) in line
    assert "settings.toml" in ran.out.splitlines()[-1]


def test_one_is_told_with_its_help_changed_and_marked(tmp_path: Path) -> None:
    ran = here(tmp_path, "settings", "counting.warn")
    assert ran.out.splitlines()[0] == "counting.warn = 2"
    assert registry()["counting.warn"].help in ran.out
    ran = here(tmp_path, "settings", "counting.warn", "5")
    assert (ran.status, ran.out) == (0, "counting.warn = 5\n")
    assert tomllib.loads((tmp_path / "settings.toml").read_text()) == {"counting": {"warn": 5}}
    assert "* counting.warn" in " ".join(here(tmp_path, "settings").out.split())
    found = {one["name"]: one for one in here(tmp_path, "settings", "--json").data["settings"]}
    assert (found["counting.warn"]["value"], found["counting.warn"]["usual"]) == (5, 2)
    assert list(found) == list(registry())


def test_keys_are_listed_those_of_ones_own_marked(tmp_path: Path) -> None:
    (tmp_path / "settings.toml").write_text("[keys.map]\nbead = ['f5']\n")
    lines = here(tmp_path, "settings", "--keys").out.splitlines()
    assert next(line for line in lines if " bead " in line).split()[:3] == ["*", "bead", "F5"]
    assert next(line for line in lines if line.split()[:1] == ["stitch"]).split()[1] == "Enter"
    keys = {one["command"]: one for one in here(tmp_path, "settings", "--json").data["keys"]}
    assert keys["bead"] == {"command": "bead", "title": "One bead", "keys": ["f5"], "own": True}


def test_the_sample_can_be_used_as_it_is(tmp_path: Path) -> None:
    text = here(tmp_path, "settings", "--sample").out
    assert settings_from(text, "sample") == Settings()
    assert all(key.partition(".")[2] in text for key in registry())


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["counting.warm"], "did you mean `counting.warn`?"),
        (["counting.warn", "lots"], "“lots” is not a whole number of beads from 0 to 99"),
        (["counting.warn", "2", "3"], "unrecognized arguments: 3"),
        (["--keys", "--json"], "not allowed with"),
        (["counting.warn", "--json"], "not told together"),
        (["counting\x1b.warn", "2"], "no setting counting.warn"),
        (["look.theme", "pink"], "one of dark, light"),
    ],
)
def test_what_cannot_be_meant_is_told_in_one_line(tmp_path: Path, arguments: list[str], words: str) -> None:
    ran = here(tmp_path, "settings", *arguments)
    assert ran.status == 2
    assert words in ran.err
    assert len(ran.err.splitlines()) == 1
    assert "\x1b" not in ran.err
    assert not (tmp_path / "settings.toml").exists()


def test_a_file_with_faults_is_told_with_every_line(tmp_path: Path) -> None:
    (tmp_path / "settings.toml").write_text("[counting]\nwarn = 'x'\nremark = true\n")
    for arguments in ([], ["--keys"], ["--json"], ["counting.warn"], ["counting.warn", "3"]):
        ran = here(tmp_path, "settings", *arguments)
        assert ran.status == 2
        assert [line.rpartition("line ")[2][0] for line in ran.err.splitlines()] == ["2", "3"]
    assert here(tmp_path, "settings", "--sample").status == 0
