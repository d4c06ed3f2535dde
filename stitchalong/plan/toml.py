"""TOML text to plain data, with the trips of people who do not write TOML every day told plainly."""

from __future__ import annotations

import re
import tomllib
from typing import Any

from stitchalong.errors import Place, Problem, Problems
from stitchalong.plan.text import shown

_WHERE = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")


def load_toml(text: str, name: str, problems: Problems) -> dict[str, Any]:
    """The data of a TOML text; empty, with the fault in `problems`, where it is none."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        match = _WHERE.search(str(error))
        line = int(match[1]) if match and match[1] else None
        problems.add(Problem(shown(_WHERE.sub("", str(error)), 120), Place(name or None, line)))
    return {}
