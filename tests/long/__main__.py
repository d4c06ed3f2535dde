"""The long runs, by one command; their results go into results.md beside this file.

    python -m tests.long [RUN…]

Without names all of them: an hour or two. A run that fails ends the command with a status that is not zero, and its
row says so.
"""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from importlib.util import find_spec
from pathlib import Path

from tests.long.results import Row, read, written

TOP = Path(__file__).parents[2]
RESULTS = Path(__file__).with_name("results.md")

KILLS = 200
BEADS = 1_000_000
INPUTS = {
    "notation": 560_000,
    "settings": 120_000,
    "plan": 70_000,
    "replan": 5_000,
    "parcel": 50_000,
    "commands": 1_000,
}
"""made of the corpus; with those below a million"""
GUIDED = {"notation": 120_000, "plan": 80_000}
"""guided by coverage, where atheris is installed"""
FLAT = 4.0
"""MB by which memory may be more late in the soak than early"""


class Failed(Exception):
    """A run that did not hold; says what."""


def run(*arguments: str, **environ: str) -> str:
    """Run Python with these arguments; what it wrote. Raises Failed with the last lines where it fails."""
    done = subprocess.run(
        [sys.executable, *arguments], cwd=TOP, env={**os.environ, **environ}, capture_output=True, text=True
    )
    if done.returncode:
        print(done.stdout + done.stderr, file=sys.stderr)
        last = " / ".join((done.stdout + done.stderr).strip().splitlines()[-4:])
        raise Failed(re.sub(r"\S*/\S+", "…", last)[:300])
    return done.stdout + done.stderr


def tested(*arguments: str, **environ: str) -> str:
    """Run tests; `12 passed`."""
    found = re.search(r"\d+ passed[^\n]*? in", run("-m", "pytest", "-q", "-n0", *arguments, **environ))
    if found is None:
        raise Failed("no test was run")
    return found[0].removesuffix(" in")


def kills() -> str:
    test = "tests/store/test_durability.py"
    told = tested(test, "-k", "killed", STITCHALONG_KILLS=str(KILLS))
    return f"{KILLS} processes of each sort killed while they record or begin: {told}"


def terminal() -> str:
    told = tested("tests/cli/test_killed.py", STITCHALONG_KILLS=str(KILLS))
    return f"the program killed {KILLS} times in a pseudo-terminal: {told}"


def cuts() -> str:
    told = tested("tests/store/test_durability.py", "-k", "cut", STITCHALONG_CUTS="all")
    return f"the log cut at every byte of the last three commits: {told}"


def soak() -> str:
    told = json.loads(run("-m", "tests.long.soak", str(BEADS)).strip().splitlines()[-1])
    acts = ", ".join(f"{count:,} {act}" for act, count in sorted(told["acts"].items()))
    early, late = told["memory_early"], told["memory_late"]
    result = (
        f"{told['beads']:,} beads, {told['steps']:,} steps; {acts}; {told['restarts']} restarts; "
        f"memory {early:.0f} MB early, {late:.0f} MB late; database {told['database']:.0f} MB"
    )
    if late > early + FLAT:
        raise Failed(f"memory is not flat: {result}")
    return result


def fuzz() -> str:
    """Inputs made of the corpus."""
    return _inputs((name, count, _made(name, count)) for name, count in INPUTS.items())


def guided() -> str:
    """Inputs that reach new code; made of the corpus like the others where there is no atheris."""
    reach = _guided if find_spec("atheris") is not None else _made
    return _inputs((name, count, reach(name, count)) for name, count in GUIDED.items())


def _inputs(parts: Iterator[tuple[str, int, str]]) -> str:
    told, total = [], 0
    for _, count, part in parts:
        print(part, file=sys.stderr, flush=True)
        told.append(part)
        total += count
    return f"{total:,} inputs: {'; '.join(told)}"


def _made(name: str, count: int) -> str:
    seed = int(time.time()) % 1_000_000
    told = run("-m", "tests.fuzz.run", name, str(count), str(seed), STITCHALONG_SECOND="1")
    return f"{told.strip().splitlines()[-1]} (seed {seed})"


def _guided(name: str, count: int) -> str:
    told = run("-m", "tests.fuzz.guided", name, str(count), STITCHALONG_SECOND="1")
    found = re.search(r"stat::number_of_executed_units: (\d+)", told)
    if found is None or int(found[1]) < count:
        raise Failed(f"the guided run of {name} ended early")
    return f"{name}, guided by coverage: {int(found[1]):,} inputs, 0 broken"


def bombs() -> str:
    told = [json.loads(line) for line in run("-m", "tests.fuzz.bombs").splitlines()]
    tested("tests/fuzz/test_bombs.py", STITCHALONG_BOMBS="all")
    slowest = max(told, key=lambda row: row[1])
    return f"{len(told)} plans; the slowest took {slowest[1]:.1f} s ({slowest[0]}); at most {told[-1][2]} MB"


def pages() -> str:
    return run("-m", "tests.long.pages").strip().splitlines()[-1]


RUNS: dict[str, Callable[[], str]] = {
    "kills": kills,
    "terminal": terminal,
    "cuts": cuts,
    "soak": soak,
    "bombs": bombs,
    "fuzz": fuzz,
    "guided": guided,
    "pages": pages,
}


def main(names: list[str]) -> int:
    unknown = [name for name in names if name not in RUNS]
    if unknown:
        print(f"no run called {', '.join(unknown)}; there are {', '.join(RUNS)}", file=sys.stderr)
        return 2
    failed = 0
    for name in names or RUNS:
        begun = time.monotonic()
        try:
            result = RUNS[name]()
        except Failed as error:
            failed += 1
            result = f"FAILED: {error}"
        date = datetime.now(UTC).strftime("%Y-%m-%d")
        row = Row(name, date, result, f"{time.monotonic() - begun:,.0f} s")
        rows = read(RESULTS)
        RESULTS.write_text(written({**rows, name: row}), encoding="utf-8")
        print(f"{row.run}: {row.result} ({row.time})", flush=True)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
