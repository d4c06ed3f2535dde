"""What answers at once: commands load nothing heavy that they do not need."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.running import RING, ROOT, environment, here

HEAVY = {"textual", "pydantic", "rich", "sqlite3", "importlib.metadata", "asyncio", "numpy"}

LOOK = """
import json, sys
from stitchalong.cli import main
try:
    status = main(sys.argv[1:])
except SystemExit as ended:
    status = ended.code
print(json.dumps([status, sorted(sys.modules)]), file=sys.stderr)
"""


@pytest.fixture
def home(tmp_path: Path) -> Path:
    (tmp_path / "ring.toml").write_text(RING)
    home = tmp_path / "home"
    assert here(home, "start", str(tmp_path / "ring.toml"), typed="5\n").status == 0
    return home


@pytest.mark.parametrize(
    ("arguments", "needed"),
    [
        (["--version"], set()),
        (["--help"], set()),
        (["start", "--help"], set()),
        (["sound", "--help"], set()),
        (["sound", "--no-voice"], set()),
        (["go-on", "--help"], set()),
        (["plans"], set()),
        (["plans", "--json"], set()),
        (["where"], set()),
        (["pieces"], {"sqlite3"}),
        (["pieces", "--json"], {"sqlite3"}),
        ([], {"sqlite3"}),
        (["copies"], {"sqlite3"}),
        (["go-on", "--plain"], {"sqlite3"}),
        (["finish", "1"], {"sqlite3"}),
        (["check", "first-try"], {"pydantic"}),
        (["size", "gorse-ring"], {"pydantic", "sqlite3"}),
        (["beads", "1"], {"sqlite3"}),
        (["gauge", "list"], {"sqlite3"}),
        (["course", "first-try", "--json"], {"pydantic"}),
    ],
    ids=lambda value: " ".join(sorted(value) if isinstance(value, set) else value),
)
def test_a_command_loads_no_more_than_it_needs(home: Path, arguments: list[str], needed: set[str]) -> None:
    done = subprocess.run(
        [sys.executable, "-c", LOOK, *arguments],
        cwd=ROOT,
        env=environment(home),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    status, loaded = json.loads(done.stderr.splitlines()[-1])  # a plan may be in doubt
    assert status == 0
    assert done.stdout
    # asyncio comes with pydantic on some versions; it is measured where nothing heavy is needed at all
    allowed = needed | ({"asyncio", "importlib.metadata"} if "pydantic" in needed else set())
    assert not (HEAVY - allowed) & set(loaded)
    assert needed <= set(loaded), "if it is not needed any more, say so here"


def test_version_tells_the_packages_version(home: Path) -> None:
    from stitchalong import __version__

    done = subprocess.run(
        [sys.executable, "-m", "stitchalong", "--version"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert done.stdout == f"stitchalong {__version__}\n"
