"""Imports go up the house and never down: what gets loaded when a part is loaded alone."""

from __future__ import annotations

import subprocess
import sys

import pytest

HEAVY = {"textual", "pydantic", "rich", "tomlkit", "sqlite3", "networkx", "numpy", "importlib.metadata"}


def _loaded(code: str) -> set[str]:
    script = f"{code}\nimport sys\nprint('\\n'.join(sys.modules))"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True, timeout=60)
    return set(done.stdout.split())


@pytest.mark.parametrize(
    ("module", "may_load", "may_not_load"),
    [
        ("stitchalong.errors", set(), {"fabric", "plan", "course", "measure", "store", "cues"}),
        ("stitchalong.fabric.peyote", set(), {"plan", "course", "measure", "store", "cues", "settings"}),
        ("stitchalong.plan.model", set(), {"course", "measure", "store", "cues", "settings"}),
        ("stitchalong.plan.checked", set(), {"course", "measure", "store", "cues", "settings"}),
        ("stitchalong.course.compile", set(), {"measure", "store", "cues", "settings"}),
        ("stitchalong.course.outlook", set(), {"measure", "store", "cues", "settings"}),
        ("stitchalong.store.pieces", {"sqlite3"}, {"plan", "cues", "plain", "screens"}),
        ("stitchalong.chart", set(), {"measure", "store", "cues", "settings", "session", "plain", "screens"}),
        ("stitchalong.settings.file", set(), {"store", "measure", "session", "plain", "screens"}),
        ("stitchalong.cues.words", set(), {"store", "measure", "plain", "screens"}),
        ("stitchalong.session", {"sqlite3"}, {"plain", "screens", "sheets", "cli"}),
    ],
)
def test_a_part_loads_nothing_from_above_and_nothing_heavy(
    module: str, may_load: set[str], may_not_load: set[str]
) -> None:
    loaded = _loaded(f"import {module}")
    assert not (HEAVY - may_load) & loaded
    assert not {f"stitchalong.{name}" for name in may_not_load} & loaded


def test_going_on_with_a_piece_needs_no_pydantic() -> None:
    loaded = _loaded("import stitchalong.session, stitchalong.plan.checked, stitchalong.plan.library")
    assert "pydantic" not in loaded
