"""The settings file: one TOML file, read with every fault told in one clear line, changed without losing a comment."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import Any

from stitchalong.errors import Place, Problem, Problems, UsageError
from stitchalong.plan.text import did_you_mean, shown
from stitchalong.settings.key_map import read_map
from stitchalong.settings.kinds import Value
from stitchalong.settings.settings import GROUPS, Settings, registry

LARGEST = 256 * 1024
"""bytes"""
MOST_TOLD = 20


def read_settings(path: Path) -> Settings:
    """The settings of a file; the usual ones where there is none. Raises UsageError with every fault."""
    text = _text(path)
    return Settings() if text is None else settings_from(text, str(path))


def settings_from(text: str, name: str) -> Settings:
    """The settings of a text. Raises UsageError with every fault; `name` is told as the file's."""
    from stitchalong.plan.lines import key_lines
    from stitchalong.plan.toml import load_toml

    problems = Problems()
    data = load_toml(text, name, problems)
    lines = key_lines(text)

    def place(*path: str) -> Place:
        return Place(file=name, line=lines.get(path))

    found = Settings()
    for table, values in data.items():
        if table not in GROUPS:
            problems.add(Problem(f"there is no table [{shown(table)}]", place(table), _meant(table, GROUPS)))
        elif not isinstance(values, dict):
            problems.add(Problem(f"{table} is a table", place(table), f"write [{table}] on a line of its own"))
        else:
            found = _table(found, table, values, problems, place)
    if found.keys.first_repeat_from > found.keys.first_repeat_to:
        what = "keys.first_repeat_from is longer than keys.first_repeat_to"
        problems.add(Problem(what, place("keys", "first_repeat_from"), "change one of them"))
    if problems.faults:
        told = problems.faults[:MOST_TOLD]
        if len(problems.faults) > MOST_TOLD:
            told.append(Problem(f"and {len(problems.faults) - MOST_TOLD} more faults like these"))
        raise UsageError(told)
    return found


def _table(found: Settings, table: str, values: dict[str, Any], problems: Problems, place: Any) -> Settings:
    changed: dict[str, Value] = {}
    for name, value in values.items():
        setting = registry().get(f"{table}.{name}")
        if table == "keys" and name == "map":
            if not isinstance(value, dict):
                problems.add(
                    Problem("keys.map is a table", place(table, name), "write [keys.map] on a line of its own")
                )
                continue
            places = {command: place("keys", "map", command) for command in value}
            found = replace(found, key_map=read_map(value, problems, places))
        elif setting is None:
            names = (key.partition(".")[2] for key in registry() if key.startswith(f"{table}."))
            problems.add(Problem(f"there is no setting {table}.{shown(name)}", place(table, name), _meant(name, names)))
        else:
            try:
                changed[name] = setting.checked(value)
            except UsageError as error:
                fault = error.problems[0]
                problems.add(Problem(f"{setting.key}: {fault.what}", place(table, name), fault.fix))
    return replace(found, **{table: replace(getattr(found, table), **changed)})


def _meant(word: str, known: Iterable[str]) -> str:
    names = list(known)
    return did_you_mean(word, names) or f"there are {', '.join(names)}"


def _text(path: Path) -> str | None:
    try:
        if path.stat().st_size > LARGEST:
            raise UsageError("this is far too large for settings", place=Place(str(path)))
        return path.read_bytes().decode("utf-8-sig")
    except FileNotFoundError:
        return None
    except UnicodeDecodeError as error:
        raise UsageError("the settings are no UTF-8 text", fix="save them as UTF-8", place=Place(str(path))) from error
    except OSError as error:
        raise UsageError(
            f"the settings cannot be read: {error.strerror}", fix="look at the file's rights", place=Place(str(path))
        ) from error


# ---- changing -----------------------------------------------------------------------------------


def write_setting(path: Path, key: str, word: str) -> Settings:
    """Change one setting as somebody typed it, and keep all else in the file as it is. The settings as they are then.

    `key` is as in the file (`counting.warn`). Raises UsageError; then the file is as before.
    """
    known = registry()
    if key not in known:
        raise UsageError(f"there is no setting {shown(key)}", fix=did_you_mean(key, known) or "`stitchalong settings`")
    try:
        value = known[key].typed(word)
    except UsageError as error:
        raise UsageError(f"{key}: {error.problems[0].what}", fix=error.problems[0].fix) from error
    kept = list(value) if isinstance(value, tuple) else value
    return _change(path, {tuple(key.split(".")): kept}, known[key].help)


def write_keys(path: Path, keys: Mapping[str, tuple[str, ...]]) -> Settings:
    """Give commands keys of their own (a pedal, for one), by command; none: the usual ones again.

    All of them or none. Raises as `write_setting` does.
    """
    return _change(path, {("keys", "map", name): list(some) or None for name, some in keys.items()}, "")


def _change(path: Path, changes: Mapping[tuple[str, ...], object], comment: str) -> Settings:
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    before = _text(path) or ""
    settings_from(before, str(path))  # a file with faults is mended by hand, not written over
    wanted = _data(before)
    try:
        document = tomlkit.parse(before)
        for keys, value in changes.items():
            _put_in(document, keys, value, comment)
            wanted = _with(wanted, keys, value)
        after = document.as_string()
    except TOMLKitError as error:
        raise UsageError(f"the settings cannot be changed: {error}", fix="change the file by hand") from error
    found = settings_from(after, str(path))
    if _data(after) != wanted:
        raise UsageError("the settings are written in a way that cannot be changed", fix="change the file by hand")
    _put(path, after)
    return found


def _put_in(document: Any, keys: tuple[str, ...], value: object, comment: str) -> None:
    """Change the text of the file. Raises TOMLKitError."""
    import tomlkit
    from tomlkit.items import Table

    table = document
    for name in keys[:-1]:
        if name not in table:
            table.add(name, tomlkit.table())
        table = table[name]
    if value is None:
        table.pop(keys[-1], None)
        return
    if keys[-1] not in table and comment and isinstance(table, Table):
        table.add(tomlkit.comment(comment))
    table[keys[-1]] = value


def _data(text: str) -> dict[str, Any]:
    from stitchalong.plan.toml import load_toml

    return load_toml(text, "", Problems())


def _with(data: dict[str, Any], keys: tuple[str, ...], value: object) -> dict[str, Any]:
    """The data with one value changed, or taken out."""
    table = data
    for name in keys[:-1]:
        table = table.setdefault(name, {})
    if value is None:
        table.pop(keys[-1], None)
    else:
        table[keys[-1]] = value
    return data


def _put(path: Path, text: str) -> None:
    """In place whole, or not at all; a link stays one."""
    target = Path(os.path.realpath(path))
    fresh = target.with_name(f"{target.name}.{os.getpid()}.new")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        with fresh.open("w", encoding="utf-8", newline="") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        fresh.replace(target)
    except OSError as error:
        with suppress(OSError):
            fresh.unlink()
        what = f"the settings cannot be written: {error.strerror}"
        raise UsageError(what, fix="look at the folder's rights", place=Place(str(path))) from error


def sample() -> str:
    """A settings file with every setting at its usual value, commented out, and its help."""
    lines = ["# Settings of stitchalong. A line counts once its # is taken away.", ""]
    for table, group in GROUPS.items():
        lines += [f"# {group.__doc__}", f"[{table}]"]
        for setting in registry().values():
            name = setting.key.partition(".")
            if name[0] == table:
                lines += [f"# {setting.help} ({setting.wants})", f"# {name[2]} = {setting.written(setting.default)}"]
        lines.append("")
    lines += ["# Keys of one's own, by command.", "[keys.map]"]
    lines += ['# bead = ["space", "pagedown", "right"]', ""]
    return "\n".join(lines)
