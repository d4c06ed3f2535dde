"""Fuzzing guided by coverage, with atheris (`pip install atheris`; Linux and macOS only).

    python -m tests.fuzz.guided TARGET COUNT [FOLDER]

Runs so many inputs, made of the target's corpus and of what was found to reach new code. FOLDER keeps the latter and
is begun with when it has any. Ends with a status that is not zero, and the input in FOLDER, where a promise is broken.
"""

from __future__ import annotations

import random
import sys
from hashlib import sha1
from pathlib import Path
from tempfile import mkdtemp

import atheris

from tests.fuzz import judge
from tests.fuzz.mutate import LONGEST, changed

with atheris.instrument_imports(include=["stitchalong"]):
    from tests.fuzz.targets import TARGETS, Target

SLOWER = 5.0
"""code that is watched"""


def text_of(data: bytes) -> str:
    return data.decode("utf-8", "surrogateescape")


def bytes_of(text: str) -> bytes:
    return text.encode("utf-8", "surrogateescape")


def mutator(target: Target, corpus: list[str]):  # type: ignore[no-untyped-def]
    """Changes as `mutate` makes them, and by turns those of the fuzzer itself."""

    def mutate(data: bytes, most: int, seed: int) -> bytes:
        chance = random.Random(seed)
        if chance.random() < 0.3:
            return bytes(atheris.Mutate(data, most))
        try:
            return bytes_of(changed(text_of(data), corpus, target.words, chance))[:most]
        except UnicodeError:  # a lone half of a pair, which JSON can hold and UTF-8 cannot
            return data

    return mutate


def main(name: str, count: int, folder: Path) -> None:
    judge.slower = SLOWER
    target = TARGETS[name]
    corpus = target.corpus()
    folder.mkdir(parents=True, exist_ok=True)
    for text in corpus:
        data = bytes_of(text)
        (folder / sha1(data).hexdigest()).write_bytes(data)
    options = [f"-runs={count}", f"-max_len={LONGEST}", "-timeout=60", "-rss_limit_mb=3000", "-print_final_stats=1"]
    atheris.Setup(
        [sys.argv[0], *options, f"-artifact_prefix={folder}/broken-", str(folder)],
        lambda data: target.run(text_of(data)) and None,
        custom_mutator=mutator(target, target.seeds()),
    )
    atheris.Fuzz()


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]), Path(sys.argv[3] if len(sys.argv) > 3 else mkdtemp(prefix="stitchalong-fuzz-")))
