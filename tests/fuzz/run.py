"""Many inputs for one target, made of its corpus.

    python -m tests.fuzz.run TARGET COUNT [SEED]

Prints what became of them, and each input that broke a promise with what it broke.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import islice

from tests.fuzz.mutate import inputs
from tests.fuzz.targets import TARGETS, Target


@dataclass(slots=True)
class Tally:
    """What became of so many inputs."""

    outcomes: Counter[str] = field(default_factory=Counter)
    slowest: float = 0.0
    """seconds of processor time that one input took"""
    broken: list[tuple[str, str]] = field(default_factory=list)
    """(input, what it broke)"""

    @property
    def count(self) -> int:
        return self.outcomes.total() + len(self.broken)


def tried(target: Target, texts: Iterable[str]) -> Tally:
    """Every input through the target."""
    tally = Tally()
    for text in texts:
        begun = time.process_time()
        try:
            tally.outcomes[target.run(text)] += 1
        except KeyboardInterrupt:
            raise
        except BaseException as error:
            tally.broken.append((text, f"{type(error).__name__}: {error}"))
        tally.slowest = max(tally.slowest, time.process_time() - begun)
    return tally


def made(target: Target, count: int, seed: int) -> Iterable[str]:
    """So many inputs of the target's corpus."""
    return islice(inputs(target.seeds(), target.words, seed), count)


def main(name: str, count: int, seed: int) -> int:
    target = TARGETS[name]
    begun = time.perf_counter()
    tally = tried(target, made(target, count, seed))
    words = ", ".join(f"{number:,} {word}" for word, number in sorted(tally.outcomes.items()))
    took = time.perf_counter() - begun
    print(f"{name}: {tally.count:,} inputs in {took:.0f} s: {words}, {len(tally.broken)} broken; "
          f"the slowest took {tally.slowest:.2f} s")  # fmt: skip
    for text, broken in tally.broken[:20]:
        print(f"--- {broken[:600]}\n{text[:2000]!r}")
    return 1 if tally.broken else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], int(sys.argv[2]), int(sys.argv[3]) if len(sys.argv) > 3 else 1))
