"""What the schema refuses, told in a person's words, with the key and its line."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from pydantic import BaseModel, ValidationError

from stitchalong.errors import Place, Problem, Problems
from stitchalong.plan.desk import MOST_TOLD, Path
from stitchalong.plan.further import further
from stitchalong.plan.schema import KINDS, STARTS, STITCHES, BeadTable, Document
from stitchalong.plan.table import Table
from stitchalong.plan.text import did_you_mean, listed, shown

_WANTED = {
    "string_type": "must be text in quotes",
    "int_type": "must be a whole number",
    "int_from_float": "must be a whole number",
    "float_type": "must be a number",
    "finite_number": "must be a number",
    "bool_type": "must be true or false",
    "list_type": "must be a list, as in [ … ]",
    "dict_type": "must be a table",
    "model_type": "must be a table",
    "model_attributes_type": "must be a table",
}
_BOUNDS = {
    "greater_than_equal": ("ge", "must be {} or more"),
    "greater_than": ("gt", "must be more than {}"),
    "less_than_equal": ("le", "must be {} or less"),
}


def check(data: Mapping[str, object], problems: Problems, place: Callable[[Path], Place]) -> dict[str, Any] | None:
    """Plain checked data of a document, as `checked.build` takes it, or None with the faults put down."""
    try:
        document = Document.model_validate(data)
    except ValidationError as error:
        refused = error.errors(include_url=False)
        found = [_problem(fault, place) for fault in refused[:MOST_TOLD]]
        found += further(data, [_clean_path(fault["loc"]) for fault in refused], place)[: MOST_TOLD - len(found)]
        found.sort(key=lambda problem: problem.place.line or 0)
        moved = {problem.place.key for problem in found if problem.fix == _TO_TOP}
        for problem in found:
            # a title below a table is one fault, not also a title that is missing
            if problem.what != _MISSING.format("title") or not any(key and key.endswith(".title") for key in moved):
                problems.add(problem)
        if len(refused) > MOST_TOLD:
            problems.add(Problem(f"and {len(refused) - MOST_TOLD:,} more faults like these"))
        return None
    return document.model_dump(by_alias=True, exclude_none=True)


_MISSING = "`{}` is missing"
_TO_TOP = "put it at the top of the file, above the first table"


def _problem(fault: Any, place: Callable[[Path], Place]) -> Problem:
    path, table = _clean_path(fault["loc"]), _table_at(fault["loc"])
    kind, value, context = fault["type"], fault["input"], fault.get("ctx") or {}
    name = path[-1] if path else ""
    label = f"`{shown(str(name))}`" if isinstance(name, str) else "this"
    if kind == "missing":
        return Problem(_MISSING.format(name), place(path), _example(table, str(name)))
    if kind == "extra_forbidden":
        what, fix = _unknown(str(name), path, table)
        return Problem(what, place(path), fix)
    if kind in ("union_tag_not_found", "union_tag_invalid"):
        return Problem(*_no_kind(value, place(path)))
    if fault["loc"] and fault["loc"][-1] == "[key]":
        upper = str(name).upper()
        fix = (
            f"write [beads.{upper}]"
            if len(upper) == 1 and "A" <= upper <= "Z"
            else "one of A to Z, so 26 beads at most"
        )
        return Problem(f"{label} is no bead code: a code is one capital letter", place(path), fix)
    if kind in _WANTED:
        fix = None
        if path in (("work",), ("remarks",)) and isinstance(value, dict):
            fix = f"write [[{name}]] with two brackets"
        elif path[:1] == ("beads",) and isinstance(value, list):
            fix = "write its table with single brackets"
        return Problem(f"{label} {_WANTED[kind]}, not {_said(value)}", place(path), fix)
    if kind in _BOUNDS:
        key, words = _BOUNDS[kind]
        return Problem(f"{label} {words.format(f'{context[key]:,}')}", place(path))
    if kind == "string_too_long":
        return Problem(f"{label} is longer than {context['max_length']:,} characters", place(path))
    if kind in ("string_too_short", "too_short"):
        return Problem(f"{label} is empty", place(path), _example(table, str(name)))
    if kind == "too_long":
        return Problem(f"{label} has more than {context['max_length']:,} entries", place(path))
    if kind == "string_pattern_mismatch":
        also = " or `ribs`" if "ribs" in context["pattern"] else ""
        return Problem(f"{label} must be a bead code, one capital letter{also}, not {_said(value)}", place(path))
    if kind == "literal_error":
        return Problem(
            f"{label} must be {context['expected'].replace(chr(39), chr(34))}, not {_said(value)}",
            place(path),
        )
    if kind == "value_error":
        return Problem(f"{label}: {context['error']}", place(path))
    return Problem(f"{label}: {shown(fault['msg'], 120)}", place(path))


def _clean_path(loc: Sequence[str | int]) -> Path:
    """The way into the file, without the marks that belong to the schema."""
    path = [part for part in loc if part != "[key]"]
    if len(path) > 2 and path[0] == "work" and path[2] in KINDS:
        del path[2]
    return tuple(path)


def _table_at(loc: Sequence[str | int]) -> type[BaseModel] | None:
    """The table in which the last key of a schema's path stands."""
    table: type[BaseModel] | None = Document
    parts = list(loc[:-1])
    if parts[:1] == ["work"]:
        table = KINDS.get(str(parts[2])) if len(parts) > 2 else None
        parts = parts[3:]
    elif parts[:1] == ["beads"]:
        return BeadTable if len(parts) == 2 else None
    for part in parts:
        if table is None or isinstance(part, int):
            continue
        table = _inner_table(table, part)
    return table


def _inner_table(table: type[BaseModel], key: str) -> type[BaseModel] | None:
    field = next((field for name, field in table.model_fields.items() if key in (name, field.alias)), None)
    if field is None:
        return None
    kinds = [field.annotation, *getattr(field.annotation, "__args__", ())]
    return next((kind for kind in kinds if isinstance(kind, type) and issubclass(kind, Table)), None)


def _keys(table: type[BaseModel]) -> list[str]:
    return [field.alias or name for name, field in table.model_fields.items()]


def _example(table: type[BaseModel] | None, name: str) -> str | None:
    for key, field in table.model_fields.items() if table else ():
        if name in (key, field.alias) and field.examples:
            example = field.examples[0]
            return f"{name} = " + (f'["{example[0]}"]' if isinstance(example, list) else f'"{example}"')
    if table is Document:
        return {
            "beads": "one table for each bead, as in [beads.A]",
            "work": "begin with [[work]] and a start",
        }.get(name)
    return None


def _unknown(name: str, path: Path, table: type[BaseModel] | None) -> tuple[str, str | None]:
    label = f"`{shown(name)}`"
    known = [key for key in _keys(table) if "schema" not in key] if table else []
    if len(path) > 1 and name in ("title", "about"):
        return f"{label} stands below a table and so belongs to it", _TO_TOP
    kind = next((kind for kind, work in KINDS.items() if work is table), None)
    if kind:
        owners = [work.said for work in KINDS.values() if name in _keys(work)]
        if owners:
            some = listed(owners) if len(owners) < 5 else listed([*owners[:3], "others"])
            return f"{label} belongs to {some}, not to {KINDS[kind].said}", None
    elif table is Document and any(name in _keys(work) for work in KINDS.values()):
        return f"{label} belongs into a [[work]] table", None
    return f"unknown key {label}", did_you_mean(name, known) or (f"known here: {', '.join(known)}" if known else None)


def _no_kind(value: object, place: Place) -> tuple[str, Place, str | None]:
    if not isinstance(value, dict):
        return f"a step of the work must be a table, not {_said(value)}", place, "begin it with [[work]]"
    for key, known in (("start", STARTS), ("stitch", STITCHES)):
        if key in value:
            name = value[key]
            hint = did_you_mean(name, known) if isinstance(name, str) else None
            return f"{_said(name)} is no {key}", place, hint or f"known: {listed(known)}"
    near = next(
        (hint for hint in (did_you_mean(str(key), ("start", "stitch", "walk")) for key in value) if hint),
        None,
    )
    return "this [[work]] has neither `start`, `stitch`, `walk`, `reinforce` nor `zip`", place, near


def _said(value: object) -> str:
    """What a value is, for a message."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        return str(value) if abs(value) < 10**12 else "a huge number"
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, str):
        return f'"{shown(value)}"'
    if isinstance(value, dict):
        return "a table"
    return "a list" if isinstance(value, list) else "a date or time"
