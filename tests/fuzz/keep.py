"""Keeps what guided fuzzing found to reach new code.

    python -m tests.fuzz.keep TARGET FOLDER

writes the short ones of a folder of inputs into the corpus, as one JSON list.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

from tests.fuzz.targets import CORPUS, TARGETS

LONGEST = 400
"""characters of an input that is kept"""
MOST = 40_000
"""characters of all that are kept"""


def main(name: str, folder: Path) -> None:
    known = set(TARGETS[name].corpus())
    texts = {path.read_bytes().decode("utf-8", "surrogateescape") for path in folder.glob("*")}
    kept: list[str] = []
    room = MOST
    for text in sorted(texts - known, key=lambda text: (len(text), text)):
        room -= len(text)
        if len(text) > LONGEST or room < 0:
            break
        kept.append(text)
    path = CORPUS / f"{name}.found.json"
    path.write_text(json.dumps(kept, indent=0, ensure_ascii=True) + "\n", encoding="ascii")
    print(f"{len(kept)} inputs kept in {path.name}")


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]))
