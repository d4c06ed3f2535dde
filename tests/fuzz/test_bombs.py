"""Plans that ask for far too much cost a bounded time and a bounded memory, and what is wrong is told.

`STITCHALONG_BOMBS=all` tries those too that take a second or more each.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.fuzz.bombs import BOMBS, MOST_MEGABYTES, SLOW

pytest.importorskip("resource", reason="Windows does not tell how much memory was used")

TOP = Path(__file__).parents[2]
ALL = os.environ.get("STITCHALONG_BOMBS") == "all"
FEW = 8
"""to a process"""

NAMES = [name for name in BOMBS if ALL or name not in SLOW]


@pytest.mark.timeout(900 if ALL else 120)
@pytest.mark.parametrize("first", range(0, len(NAMES), FEW))
def test_it_costs_a_bounded_time_and_memory_and_is_told(first: int) -> None:
    names = NAMES[first : first + FEW]
    command = [sys.executable, "-m", "tests.fuzz.bombs", *names]
    done = subprocess.run(command, cwd=TOP, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr[-2000:]
    found = {row[0]: row[1:] for row in map(json.loads, done.stdout.splitlines())}
    assert list(found) == names
    for name in names:
        _, megabytes, told = found[name]
        words = BOMBS[name][1]
        assert (words in told) if words else not told, (name, told)
        assert megabytes < MOST_MEGABYTES, name
