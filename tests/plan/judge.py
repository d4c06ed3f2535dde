"""A small judge of JSON schemas: the keywords that a plan's schema uses, and no others.

Written from JSON Schema draft 2020-12 (json-schema.org/draft/2020-12/json-schema-validation.html, sections 6
and 9, and the core specification, sections 8.2.3 and 10).
"""

from __future__ import annotations

import re
from typing import Any

_TYPES: dict[str, tuple[type, ...]] = {
    "object": (dict,),
    "array": (list,),
    "string": (str,),
    "integer": (int,),
    "number": (int, float),
    "boolean": (bool,),
}
_SAYING_NOTHING = {"title", "description", "default", "examples", "$defs", "$schema", "properties", "discriminator"}


def agrees(value: Any, schema: Any, root: Any) -> bool:
    """Whether a value keeps to a schema. Raises KeyError for a keyword that this judge does not know."""
    return all(
        _RULES[key](value, said, schema, root) for key, said in schema.items() if key not in _SAYING_NOTHING
    ) and (
        not isinstance(value, dict)
        or all(agrees(value[key], part, root) for key, part in schema.get("properties", {}).items() if key in value)
    )


def _is_type(value: Any, said: str) -> bool:
    if isinstance(value, bool):
        return said == "boolean"
    return isinstance(value, _TYPES[said])


def _reference(value: Any, said: str, schema: Any, root: Any) -> bool:
    here = root
    for part in said.removeprefix("#/").split("/"):
        here = here[part]
    return agrees(value, here, root)


def _additional(value: Any, said: Any, schema: Any, root: Any) -> bool:
    if not isinstance(value, dict):
        return True
    known = schema.get("properties", {}).keys()
    patterns = schema.get("patternProperties", {})
    others = [key for key in value if key not in known and not any(re.search(pattern, key) for pattern in patterns)]
    return all(said is not False and (said is True or agrees(value[key], said, root)) for key in others)


def _pattern_properties(value: Any, said: Any, schema: Any, root: Any) -> bool:
    if not isinstance(value, dict):
        return True
    return all(
        agrees(value[key], part, root) for pattern, part in said.items() for key in value if re.search(pattern, key)
    )


def _number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


_RULES: dict[str, Any] = {
    "$ref": _reference,
    "type": lambda value, said, schema, root: _is_type(value, said),
    "const": lambda value, said, schema, root: value == said,
    "enum": lambda value, said, schema, root: value in said,
    "anyOf": lambda value, said, schema, root: any(agrees(value, part, root) for part in said),
    "oneOf": lambda value, said, schema, root: sum(agrees(value, part, root) for part in said) == 1,
    "required": lambda value, said, schema, root: not isinstance(value, dict) or set(said) <= value.keys(),
    "additionalProperties": _additional,
    "patternProperties": _pattern_properties,
    "propertyNames": lambda value, said, schema, root: (
        not isinstance(value, dict) or all(agrees(key, said, root) for key in value)
    ),
    "items": lambda value, said, schema, root: (
        not isinstance(value, list) or all(agrees(part, said, root) for part in value)
    ),
    "pattern": lambda value, said, schema, root: not isinstance(value, str) or bool(re.search(said, value)),
    "minLength": lambda value, said, schema, root: not isinstance(value, str) or len(value) >= said,
    "maxLength": lambda value, said, schema, root: not isinstance(value, str) or len(value) <= said,
    "minItems": lambda value, said, schema, root: not isinstance(value, list) or len(value) >= said,
    "maxItems": lambda value, said, schema, root: not isinstance(value, list) or len(value) <= said,
    "minProperties": lambda value, said, schema, root: not isinstance(value, dict) or len(value) >= said,
    "minimum": lambda value, said, schema, root: not _number(value) or value >= said,
    "maximum": lambda value, said, schema, root: not _number(value) or value <= said,
    "exclusiveMinimum": lambda value, said, schema, root: not _number(value) or value > said,
}
