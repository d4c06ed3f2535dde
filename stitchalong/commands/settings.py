"""Show the settings, or change one.

With `--json` an object with `format` (1, raised when it changes), `file`, `settings` (a list of `name`, `value`,
`usual`, `kind`, `help`, `choices`, `least`, `most`, `unit`) and `keys` (a list of `command`, `title`, `keys`, `own`).
"""

from __future__ import annotations

from argparse import Namespace

from stitchalong.commands.table import columns
from stitchalong.commands.world import World
from stitchalong.course.words import capital
from stitchalong.errors import Exit, UsageError
from stitchalong.plan.text import did_you_mean, shown
from stitchalong.settings.commands import Command, key_words
from stitchalong.settings.file import read_settings, sample, write_setting
from stitchalong.settings.kinds import Setting, Value
from stitchalong.settings.settings import Settings, registry
from stitchalong.settings.use import commands_of

FORMAT = 1


def run(asked: Namespace, world: World) -> int:
    """`settings`."""
    if asked.name is not None and (asked.keys or asked.sample or asked.json or asked.pedal):
        raise UsageError("a name and a list are not told together", fix="leave one of them out")
    if asked.pedal:
        return _pedal(world)
    if asked.sample:
        world.say_all(sample().splitlines())
        return Exit.OK
    path = world.paths.settings
    if asked.value is not None:
        found = write_setting(path, asked.name, asked.value)
        setting = registry()[asked.name]
        world.say(f"{asked.name} = {_shown(setting, found)}")
        return Exit.OK
    found = read_settings(path)
    if asked.name is not None:
        _one(world, found, asked.name)
    elif asked.keys:
        _keys(world, found)
    elif asked.json:
        world.say_data({"format": FORMAT, "file": str(path), "settings": _all(found), "keys": _all_keys(found)})
    else:
        rows = [("" if _is_usual(one, found) else "*", one.key, _shown(one, found)) for one in registry().values()]
        world.say_all(columns(rows))
        world.say()
        world.say(f"kept in {path}; * is not as usual. `stitchalong settings NAME` tells what one is for.")
    return Exit.OK


def _pedal(world: World) -> int:
    """Full screen: whatever key the pedal sends; then what was kept, in a line."""
    if not world.full_screen:
        fix = "or write keys into [keys.map]; `stitchalong settings --sample` shows how"
        raise UsageError("a pedal is tried on a full screen", fix=fix)
    from stitchalong.screens.app import run_pedal
    from stitchalong.screens.preferences import Preferences

    before = read_settings(world.paths.settings)
    after = run_pedal(preferences=Preferences.of(before, world.paths.settings))
    if after is None:
        world.say("no key was kept")
    else:
        for command in commands_of(after):
            if after.key_map.get(command.id) != before.key_map.get(command.id):
                world.say(f"{command.title}: {', '.join(map(key_words, command.keys))}")
    return Exit.OK


def _value(setting: Setting, found: Settings) -> Value:
    value = found.value(setting.key)
    assert isinstance(value, bool | int | float | str | tuple)
    return value


def _shown(setting: Setting, found: Settings) -> str:
    return setting.written(_value(setting, found))


def _is_usual(setting: Setting, found: Settings) -> bool:
    return _value(setting, found) == setting.default


def _one(world: World, found: Settings, name: str) -> None:
    setting = registry().get(name)
    if setting is None:
        raise UsageError(f"there is no setting {shown(name)}", fix=did_you_mean(name, registry()) or "leave it out")
    world.say(f"{name} = {_shown(setting, found)}")
    world.say(f"{setting.help} {capital(setting.wants)}; usually {setting.written(setting.default)}.")


def _keyed(found: Settings) -> list[Command]:
    return [command for command in commands_of(found) if command.keys]


def _keys(world: World, found: Settings) -> None:
    rows = [
        ("*" if command.id in found.key_map else "", command.id, ", ".join(map(key_words, command.keys)), command.title)
        for command in _keyed(found)
    ]
    world.say_all(columns(rows))
    world.say()
    world.say("* has keys of your own, from [keys.map] in the settings file.")


def _all(found: Settings) -> list[dict[str, object]]:
    return [
        {
            "name": one.key,
            "value": _value(one, found),
            "usual": one.default,
            "kind": one.kind,
            "help": one.help,
            "choices": list(one.choices),
            "least": one.least,
            "most": one.most,
            "unit": one.unit,
        }
        for one in registry().values()
    ]


def _all_keys(found: Settings) -> list[dict[str, object]]:
    return [
        {"command": one.id, "title": one.title, "keys": list(one.keys), "own": one.id in found.key_map}
        for one in _keyed(found)
    ]
