"""A plan given back as a tidy TOML text, from plain checked data (that of `Loaded.data`) or data made like it."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

_WIDTH = 100
"""a list longer than this gets a line for each of its texts"""

Noted = tuple[str, str]
"""a text of a list, and the comment that stands behind it"""


def print_plan(data: Mapping[str, Any], *, head: Sequence[str] = (), notes: Mapping[str, str] | None = None) -> str:
    """The text of a plan file. Lists of rounds may hold `Noted` texts.

    `head`: comment lines at the top. `notes`: a comment before a table, by its place as a person counts (`beads`,
    `work[2]`, `remarks`); a line for each of its lines.
    """
    told = notes or {}
    lines = [*_comment("\n".join(head)), f"title = {_string(data['title'])}"]
    if data.get("about"):
        lines.append(f"about = {_paragraphs(data['about'])}")
    if data.get("thread"):
        lines += ["", *_comment(told.get("thread", "")), "[thread]", *_keys(data["thread"], "thread")]
    for nth, (code, bead) in enumerate(data["beads"].items()):
        lines += ["", *_comment(told.get("beads", "") if not nth else ""), f"[beads.{code}]"]
        lines += _keys({key: value for key, value in bead.items() if value is not False}, f"beads.{code}")
    for nth, work in enumerate(data["work"], start=1):
        lines += ["", *_comment(told.get(f"work[{nth}]", "")), "[[work]]", *_keys(_led(work), "work")]
    for nth, remark in enumerate(data.get("remarks", ())):
        lines += ["", *_comment(told.get("remarks", "") if not nth else ""), "[[remarks]]", *_keys(remark, "remarks")]
    return "\n".join(lines) + "\n"


def _led(work: Mapping[str, Any]) -> dict[str, Any]:
    """The same table, what it is before what belongs to it."""
    first = {key: work[key] for key in ("part", "start", "stitch") if key in work}
    return {**first, **work}


def _comment(text: str) -> Iterator[str]:
    for line in text.splitlines():
        yield f"# {line}".rstrip()


def _keys(table: Mapping[str, Any], name: str) -> Iterator[str]:
    """The keys of a table, empty texts left out; those that hold long tables stand last, as TOML has it."""
    inner = [(key, value) for key, value in table.items() if isinstance(value, Mapping) and len(_inline(value)) > 70]
    for key, value in table.items():
        if value is None or value == "" or any(key == other for other, _ in inner):
            continue
        yield f"{key} = {_value(value)}"
    for key, value in inner:
        yield ""
        yield f"[{name}.{key}]"
        yield from _keys(value, f"{name}.{key}")


def _value(value: Any) -> str:
    if isinstance(value, Mapping):
        return _inline(value)
    if isinstance(value, list) and any(isinstance(item, tuple) for item in value):
        rows = [item if isinstance(item, tuple) else (item, "") for item in value]
        body = (f"  {_string(text)},{f'  # {note}' if note else ''}" for text, note in rows)
        return "\n".join(("[", *body, "]"))
    if isinstance(value, list):
        flat = f"[{', '.join(_value(item) for item in value)}]"
        if len(flat) <= _WIDTH or not all(isinstance(item, str) for item in value):
            return flat
        return "\n".join(("[", *(f"  {_string(item)}," for item in value), "]"))
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return repr(value)
    return _string(str(value))


def _inline(table: Mapping[str, Any]) -> str:
    return "{ " + ", ".join(f"{key} = {_value(value)}" for key, value in table.items() if value is not None) + " }"


def _string(text: str) -> str:
    """A basic string; what JSON escapes, TOML escapes alike."""
    return json.dumps(text, ensure_ascii=False)


def _paragraphs(text: str) -> str:
    if "\n" not in text and len(text) <= _WIDTH:
        return _string(text)
    body = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"""\n{body}\n"""'
