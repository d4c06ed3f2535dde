"""The made-up machine as a fixture."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cues.sound.rig import Rig


@pytest.fixture
def rig(tmp_path: Path) -> Rig:
    return Rig(tmp_path)
