"""Where files lie; the folders of the system are checked against platformdirs."""

from __future__ import annotations

from pathlib import Path

import platformdirs
import pytest

from stitchalong.settings.paths import Paths


def test_one_folder_can_be_named_for_everything(tmp_path):
    paths = Paths.of({"STITCHALONG_HOME": str(tmp_path)})
    for path in (paths.data, paths.settings, paths.log, paths.plans):
        assert path.is_relative_to(tmp_path)
        assert path != tmp_path
    assert not list(tmp_path.iterdir()), "nothing is made by asking"


def test_a_folder_may_be_named_from_here_or_from_home(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("HOME", str(tmp_path / "me"))
    monkeypatch.setenv("USERPROFILE", str(tmp_path / "me"))
    assert Paths.of({"STITCHALONG_HOME": "beads"}).data == tmp_path / "beads" / "data"
    assert Paths.of({"STITCHALONG_HOME": "~/beads"}).data == tmp_path / "me" / "beads" / "data"


@pytest.mark.parametrize("environ", [{}, {"STITCHALONG_HOME": ""}, {"STITCHALONG_HOME": "  "}])
def test_without_it_the_system_says_where(environ):
    paths = Paths.of(environ)
    data = Path(platformdirs.user_data_dir("stitchalong", appauthor=False))
    assert paths == Paths(
        data,
        Path(platformdirs.user_config_dir("stitchalong", appauthor=False)) / "settings.toml",
        Path(platformdirs.user_log_dir("stitchalong", appauthor=False)),
        data / "plans",
    )
