"""What most tests of the command line begin with."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.running import RING


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """A folder to keep everything in; nothing is there yet."""
    return tmp_path / "home"


@pytest.fixture
def plan(tmp_path: Path) -> str:
    """The file of a small ring."""
    path = tmp_path / "ring.toml"
    path.write_text(RING)
    return str(path)
