"""Lines told are true lines: each key is looked for on the line it is said to stand on."""

from __future__ import annotations

import tomllib

from hypothesis import given
from hypothesis import strategies as st

from stitchalong.plan.lines import key_lines
from tests.plan.samples import FULL


def value_at(data: object, path: tuple[str | int, ...]) -> object:
    for part in path:
        data = data[part]  # type: ignore[index]
    return data


def paths_in(data: object, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    """Every path of the data but its top."""
    if isinstance(data, dict):
        inner: list[tuple[str | int, object]] = list(data.items())
    elif isinstance(data, list):
        inner = list(enumerate(data))
    else:
        inner = []
    return [found for part, value in inner for found in [(*path, part), *paths_in(value, (*path, part))]]


def test_every_key_of_a_full_plan_is_on_its_line() -> None:
    lines = FULL.splitlines()
    found = key_lines(FULL)
    data = tomllib.loads(FULL.replace("length = 1.3,\n     ", "length = 1.3,"))
    for path in paths_in(data):
        line = lines[found[path] - 1]
        value = value_at(data, path)
        names = [part for part in path if isinstance(part, str)]
        if isinstance(value, str):
            assert value.replace("\n", "\\n") in line
        elif isinstance(value, dict) and isinstance(path[-1], int):
            assert line == f"[[{names[-1]}]]"
        else:
            assert names[-1] in line


@st.composite
def documents(draw: st.DrawFn) -> tuple[str, dict[str, int]]:
    """A TOML text, and the line on which each of its marks stands, written down while it is made."""
    text: list[str] = []
    marks: dict[str, int] = {}

    def mark() -> str:
        name = f"mark{len(marks)}"
        marks[name] = "".join(text).count("\n") + 1
        return name

    def blank() -> None:
        text.append(draw(st.sampled_from(["", "", "\n", "  # a = [ { 'x\n", "\r\n"])))

    def value(depth: int) -> None:
        shape = draw(st.integers(0, 6 if depth < 3 else 3))
        if shape == 0:
            text.append(f'"{mark()} # [ \\" {{"')
        elif shape == 1:
            text.append(f"'{mark()} \" ]'")
        elif shape == 2:
            text.append(f'"""{mark()}\n\n] "" }}"""')
        elif shape == 3:
            text.append(f"'''{mark()}\n}} ' '''")
        elif shape in (4, 5):
            text.append("[")
            for _ in range(draw(st.integers(0, 3))):
                blank()
                value(depth + 1)
                blank()
                text.append(",")
            text.append("]")
        else:
            text.append("{")
            for at in range(draw(st.integers(0, 3))):
                text.append(f"{', ' if at else ''}k{at} = ")
                value(depth + 1)
            text.append("}")

    for at in range(draw(st.integers(0, 3))):
        blank()
        text.append(f"top{at} = ")
        value(0)
        text.append("\n")
    for at in range(draw(st.integers(0, 4))):
        text.append(
            draw(st.sampled_from([f"[table{at}]", f"[ table{at} . inner ]", "[[many]]", "[[many.deep]]"])) + "\n"
        )
        for key in range(draw(st.integers(0, 2))):
            text.append(f'key{key}."part" = ')
            value(0)
            text.append(" # done\n")
    return "".join(text), marks


@given(documents())
def test_lines_of_any_document(made: tuple[str, dict[str, int]]) -> None:
    text, marks = made
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        # [[many]] after [[many.deep]] made it a table
        return
    found = key_lines(text)
    for path in paths_in(data):
        value = value_at(data, path)
        if isinstance(value, str):
            assert found[path] == marks[value.split()[0]]


@given(st.text(alphabet="[]{}=\"',#.\na1 \\", max_size=40))
def test_any_text_is_walked_without_a_fall(text: str) -> None:
    assert all(1 <= line <= text.count("\n") + 1 for line in key_lines(text).values())
