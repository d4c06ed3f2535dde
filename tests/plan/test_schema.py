"""The published JSON schema: complete, described, and of one mind with the program."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from stitchalong.errors import PlanError
from stitchalong.plan.library import shipped
from stitchalong.plan.read import read_plan, read_text
from stitchalong.plan.schema import json_schema
from tests.plan.judge import agrees
from tests.plan.samples import FULL, SMALL

SCHEMA = json_schema()
ONE_LINE = FULL.replace("length = 1.3,\n     ", "length = 1.3,")


def tables(schema: Any) -> Iterator[dict[str, Any]]:
    yield schema
    yield from schema["$defs"].values()


def test_it_is_plain_json_and_says_its_draft() -> None:
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert json.loads(json.dumps(SCHEMA)) == SCHEMA
    assert "null" not in json.dumps(SCHEMA)


def test_every_key_has_a_description_and_no_table_takes_others() -> None:
    for table in tables(SCHEMA):
        assert table["description"]
        assert table["additionalProperties"] is False
        for key, said in table["properties"].items():
            assert said.get("description"), key


@pytest.mark.parametrize("text", [SMALL, ONE_LINE], ids=["small", "full"])
def test_good_plans_keep_to_it(text: str) -> None:
    assert agrees(tomllib.loads(text), SCHEMA, SCHEMA)
    assert read_text(text).plan.work


def test_plans_that_ship_keep_to_it() -> None:
    assert shipped()
    for path in shipped():
        assert agrees(tomllib.loads(path.read_text(encoding="utf-8")), SCHEMA, SCHEMA), path
        assert read_plan(path).plan.work


@pytest.mark.parametrize("key", ["title", "beads", "work"])
def test_what_is_missing_is_missed_by_both(key: str) -> None:
    data = tomllib.loads(SMALL)
    del data[key]
    assert not agrees(data, SCHEMA, SCHEMA)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('"Gorse ring"', "3"),
        ('"charcoal"', '""'),
        ("[beads.C]", "[beads.cc]"),
        ("units = 28", "units = 2"),
        ("units = 28", 'units = "28"'),
        ("units = 28", "units = 2.5"),
        ("units = 28", "units = true"),
        ("units = 28", "unit = 28"),
        ('frame = "C"', 'frame = "CC"'),
        ('frame = "C"', 'frame = { top = "C" }'),
        ('start = "MRAW band"', 'start = "knot"'),
        ('["C", "S", "M"]', "[]"),
        ('["C", "S", "M"]', "[1]"),
        ("marker = true", 'marker = "yes"'),
        ("marker = true", "length = 0"),
        ('stitch = "peyote"', 'stitch = "peyote"\nedge = "left"'),
        ('stitch = "peyote"', 'stitch = "peyote"\nincrease = { over = "rib" }'),
        ('stitch = "peyote"', 'stitch = "peyote"\nincrease = { over = "M", wiht = "MM" }'),
        ('stitch = "peyote"', "walk = 0"),
    ],
)
def test_what_is_wrong_is_refused_by_both(old: str, new: str) -> None:
    text = SMALL.replace(old, new, 1)
    assert text != SMALL
    assert not agrees(tomllib.loads(text), SCHEMA, SCHEMA)
    with pytest.raises(PlanError):
        read_text(text)


def test_the_judge_judges() -> None:
    # examples of the specification's own words: 6.5.3 required, 6.3.3 pattern, 10.2.1.3 oneOf
    assert agrees({"a": 1}, {"required": ["a"]}, {})
    assert not agrees({"b": 1}, {"required": ["a"]}, {})
    assert not agrees("b", {"pattern": "^a$"}, {})
    assert not agrees(3, {"oneOf": [{"type": "integer"}, {"minimum": 2}]}, {})
    assert agrees(True, {"type": "boolean"}, {})
    assert not agrees(True, {"type": "integer"}, {})
    with pytest.raises(KeyError):
        agrees(3, {"multipleOf": 2}, {})


def test_a_plan_that_names_its_schema_is_read(tmp_path: Path) -> None:
    for key in ('"$schema"', "schema"):
        path = tmp_path / "plan.toml"
        path.write_text(f'{key} = "plan.schema.json"\n{SMALL}', encoding="utf-8")
        loaded = read_plan(path)
        assert loaded.plan == read_text(SMALL).plan
        assert "schema" not in "".join(loaded.data)
