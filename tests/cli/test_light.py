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


FIRST_PICTURE = """
import sys
from pathlib import Path
from stitchalong.screens.app import ScreensApp
ready = ScreensApp.on_ready
def noted(self):
    Path({path!r}).write_text("\\n".join(sys.modules))
    ready(self)
ScreensApp.on_ready = noted
from stitchalong.cli import main
sys.exit(main(["go-on"]))
"""


@pytest.mark.skipif(sys.platform == "win32", reason="a pseudo-terminal is POSIX")
def test_the_first_picture_of_a_piece_in_progress_needs_no_plan_and_no_compiler(home: Path, tmp_path: Path) -> None:
    from tests.cli.terminal import Terminal

    path = tmp_path / "modules"
    with Terminal(home, code=FIRST_PICTURE.format(path=str(path))) as terminal:
        terminal.until("only closes this")
        terminal.type(" q")
        assert terminal.ends() == 0
    loaded = set(path.read_text().split())
    assert {"textual.app", "stitchalong.session", "stitchalong.screens.stitching"} <= loaded
    others = {"pydantic", "rich.markdown", "importlib.metadata", "numpy", "tomllib", "tomlkit", "statistics"}
    own = {
        "plan.checked",
        "plan.model",
        "plan.read",
        "course.compile",
        "course.techniques",
        "course.find",
        "plain.front",
    }
    assert not (others | {f"stitchalong.{name}" for name in own}) & loaded
    paths = (ROOT.joinpath(*name.split(".")) for name in loaded if name.startswith("stitchalong."))
    files = [path / "__init__.py" if path.is_dir() else path.with_suffix(".py") for path in paths]
    slow = "\n@dataclass(frozen=True, slots=True)"
    assert [path.name for path in files if slow in path.read_text(encoding="utf-8")] == [], "`value` makes them faster"
