"""Settings: documented once, read with clear faults, changed without losing a word of the file."""

from __future__ import annotations

import tomllib
from dataclasses import fields
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stitchalong.cues.sound.settings import SoundSettings
from stitchalong.errors import Exit, UsageError
from stitchalong.settings.commands import COMMANDS, clashes, commands
from stitchalong.settings.file import LARGEST, read_settings, sample, settings_from, write_keys, write_setting
from stitchalong.settings.held import HeldKeys
from stitchalong.settings.kinds import Setting
from stitchalong.settings.settings import GROUPS, Settings, registry
from stitchalong.settings.use import commands_of, held_keys, rests, sound

# ---- documented once ----------------------------------------------------------------------------


@pytest.mark.parametrize("setting", registry().values(), ids=list(registry()))
def test_every_setting_says_what_it_is_and_holds_its_usual_value(setting: Setting) -> None:
    assert setting.help.endswith(".")
    assert setting.help[0].isupper()
    assert setting.checked(setting.default) == setting.default
    shown = setting.written(setting.default)
    assert tomllib.loads(f"x = {shown}")["x"] == (
        list(setting.default) if isinstance(setting.default, tuple) else setting.default
    )
    if not isinstance(setting.default, tuple):
        assert setting.typed(str(setting.default)) == setting.default
    assert Settings().value(setting.key) == setting.default


def test_every_field_is_a_setting() -> None:
    assert list(registry()) == [f"{table}.{item.name}" for table, group in GROUPS.items() for item in fields(group)]
    assert all(group.__doc__ for group in GROUPS.values())


def test_the_sample_file_holds_every_setting_at_its_usual_value() -> None:
    """Read by the reader of the standard library, with the comment signs taken away from keys."""
    text = sample()
    assert settings_from(text, "sample") == Settings()
    lines = [line.removeprefix("# ") if " = " in line else line for line in text.splitlines()]
    data = tomllib.loads("\n".join(lines))
    assert data.pop("keys")["map"] == {"bead": list(next(one.keys for one in COMMANDS if one.id == "bead"))}
    assert settings_from("\n".join(lines), "sample") == settings_from(
        '[keys.map]\nbead = ["space", "pagedown", "right"]', ""
    )
    for key, setting in registry().items():
        table, _, name = key.partition(".")
        if table != "keys":
            want = list(setting.default) if isinstance(setting.default, tuple) else setting.default
            assert data[table][name] == want


def test_what_the_parts_take_is_what_they_have_by_themselves() -> None:
    assert sound(Settings()) == SoundSettings()
    assert held_keys(Settings()) == HeldKeys()
    assert commands_of(Settings()) == COMMANDS
    assert (rests(Settings()).look_after, rests(Settings()).rest_after) == (20 * 60, 50 * 60)
    off = settings_from("[reminders]\nlook_up = 0\nrest = 0", "")
    assert (rests(off).look_after, rests(off).rest_after) == (None, None)


# ---- reading ------------------------------------------------------------------------------------


def test_without_a_file_all_is_as_usual(tmp_path: Path) -> None:
    assert read_settings(tmp_path / "none.toml") == Settings()
    empty = tmp_path / "empty.toml"
    empty.write_text("")
    assert read_settings(empty) == Settings()


def test_what_is_set_is_read(tmp_path: Path) -> None:
    file = tmp_path / "settings.toml"
    file.write_bytes(
        b'\xef\xbb\xbf[counting]\r\nwarn = 4 # early\r\n[sound]\nmeans = ["bell"]\nvolume_bead = 1\n'
        b"talkative = 'every stitch'\n[keys.map]\nbead = ['f5', 'Space']\nlarge = 'f9'\n"
    )
    found = read_settings(file)
    assert found.counting.warn == 4
    assert found.counting.remarks is True
    assert found.sound.means == ("bell",)
    assert found.sound.volume_bead == 1.0
    assert found.sound.talkative == "every stitch"
    assert dict(found.key_map) == {"bead": ("f5", "space"), "large": ("f9",)}
    mine = {command.id: command.keys for command in commands_of(found)}
    assert mine["bead"] == ("f5", "space")
    assert mine["stitch"] == ("enter",)


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("[counting]\nwarm = 3", 2, "no setting counting.warm (did you mean `warn`?)"),
        ("[counting]\nwarn = -1", 2, "counting.warn: “-1” is not a whole number of beads from 0 to 99"),
        ("[counting]\nwarn = 2.5", 2, "“2.5” is not a whole number"),
        ("[counting]\nwarn = true", 2, "true is not a whole number"),
        ("[counting]\nremarks = 1", 2, "“1” is not true or false"),
        (
            "[look]\ntheme = 'darc'",
            2,
            "“darc” is not one of dark, light, contrast-dark and contrast-light (did you mean",
        ),
        ("[sound]\nmeans = ['horn']", 2, "“horn” is not any of device, player and bell"),
        ("[sound]\nmeans = 3", 2, "“3” is no list of words"),
        ("[sound]\nrate = 1000", 2, "from 80 to 450"),
        ("[sound]\nvolume_now = nan", 2, "“nan” is not a number from 0 to 1"),
        ("[sond]\nmuted = true", 1, "no table [sond] (did you mean `sound`?)"),
        ("counting = 3", 1, "counting is a table"),
        ("[keys]\nmap = 3", 2, "keys.map is a table"),
        ("[keys.map]\nbeed = 'f5'", 2, "no command “beed” (did you mean `bead`?)"),
        ("[keys.map]\nbead = 'two words'", 2, "“two words” is no key"),
        ("[keys.map]\nbead = '7'", 2, "digits say how many"),
        ("[keys.map]\nbead = 'escape'", 2, "Escape cannot be given away"),
        ("[keys.map]\nbead = []", 2, "bead would have no key"),
        ("[keys.map]\nbead = [1]", 2, "the keys of bead are no list"),
        ("[keys.map]\nlarge = 'g'", 2, "g is both for go_to and for large"),
        ("[keys.map]\nlarge = 'h'", 2, "h is both for large and for help"),
        ("[keys]\nfirst_repeat_from = 2.0", 2, "longer than keys.first_repeat_to"),
        ("[counting\nwarn = 3", 1, ""),
        ("[counting]\nwarn = 3\nwarn = 4", 3, "warn"),
        ('[words]\nhand = "le\\u0007ft"', 2, "is not one of right and left"),
    ],
)
def test_a_fault_is_told_in_one_clear_line_with_its_place(text: str, line: int, words: str) -> None:
    with pytest.raises(UsageError) as caught:
        settings_from(text, "settings.toml")
    assert caught.value.status is Exit.USAGE
    (problem,) = caught.value.problems
    told = str(problem)
    assert told.isprintable()
    assert told.startswith(f"settings.toml, line {line}: ")
    assert words in told


def test_all_faults_are_told_at_once_and_not_without_end() -> None:
    with pytest.raises(UsageError) as caught:
        settings_from("[counting]\nwarn = -1\nremarks = 3\n[look]\nlarge = 0", "x")
    assert len(caught.value.problems) == 3
    many = "[counting]\n" + "\n".join(f"k{nth} = 1" for nth in range(100))
    with pytest.raises(UsageError) as caught:
        settings_from(many, "x")
    assert len(caught.value.problems) == 21
    assert "and 80 more" in str(caught.value.problems[-1])


def test_commands_that_are_on_different_screens_may_share_a_key() -> None:
    assert settings_from("[keys.map]\nremove = 'l'", "").key_map == {"remove": ("l",)}
    both = settings_from("[keys.map]\nlarge = 'g'\ngo_to = 'l'", "")
    mine = commands_of(both)
    assert clashes([one for one in mine if "stitching" in one.scopes]) == []
    assert len(mine) == len(COMMANDS) > len(commands("home"))


def test_files_that_cannot_be_read_are_told(tmp_path: Path) -> None:
    wrong = tmp_path / "wrong.toml"
    wrong.write_bytes(b"\xff\xfe")
    with pytest.raises(UsageError, match="no UTF-8 text"):
        read_settings(wrong)
    wrong.write_bytes(b"#" * (LARGEST + 1))
    with pytest.raises(UsageError, match="far too large"):
        read_settings(wrong)
    with pytest.raises(UsageError, match="cannot be read"):
        read_settings(tmp_path)


@settings(deadline=None)
@given(st.text(max_size=200))
def test_no_text_breaks_the_reader(text: str) -> None:
    told: list[str] = []
    try:
        settings_from(text, "x")
    except UsageError as error:
        told = [str(problem) for problem in error.problems]
    assert all(line.isprintable() for line in told)


# ---- changing -----------------------------------------------------------------------------------

FILE = """# my settings, do not lose this
[counting]   # how I count
warn = 2     # two beads are enough

[sound]
volume_now = 0.5 # neighbours
"""


def test_one_setting_is_changed_and_all_else_stays(tmp_path: Path) -> None:
    file = tmp_path / "settings.toml"
    file.write_text(FILE)
    found = write_setting(file, "counting.warn", " 5 ")
    assert found.counting.warn == 5
    assert file.read_text() == FILE.replace("warn = 2 ", "warn = 5 ")
    write_setting(file, "sound.means", "bell, device")
    write_setting(file, "sound.muted", "on")
    write_setting(file, "look.theme", "light")
    write_setting(file, "sound.volume_bead", "0,25")
    text = file.read_text()
    for line in FILE.replace("warn = 2 ", "warn = 5 ").splitlines():
        assert line in text.splitlines()
    again = read_settings(file)
    assert (again.sound.means, again.sound.muted, again.look.theme) == (("bell", "device"), True, "light")
    assert again.sound.volume_bead == 0.25
    assert f"# {registry()['look.theme'].help}" in text, "a new one comes with its help"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["settings.toml"]


def test_a_file_and_its_folder_are_made_where_there_is_none(tmp_path: Path) -> None:
    file = tmp_path / "deep" / "settings.toml"
    assert write_setting(file, "words.units", "inch").words.units == "inch"
    assert tomllib.loads(file.read_text()) == {"words": {"units": "inch"}}


def test_a_pedal_gets_its_key_and_gives_it_back(tmp_path: Path) -> None:
    file = tmp_path / "settings.toml"
    file.write_text(FILE)
    assert write_keys(file, {"bead": ("f5", "space")}).key_map == {"bead": ("f5", "space")}
    assert write_keys(file, {"bead": ()}).key_map == {}
    assert file.read_text().startswith(FILE)
    before = file.read_text()
    with pytest.raises(UsageError, match="both for"):
        write_keys(file, {"bead": ("g",)})
    with pytest.raises(UsageError, match="no command"):
        write_keys(file, {"beads": ("f6",)})
    assert file.read_text() == before


@pytest.mark.parametrize(
    ("text", "key", "word"),
    [
        ("counting.warn = 3\n", "counting.warn", "4"),
        ("counting = { warn = 3 } # all in one\n", "counting.warn", "4"),
        ("counting = { warn = 3 }\n", "counting.remarks", "off"),
        ("[counting]\nwarn = 3\n[keys.map]\nbead = 'f5'\n", "keys.guard", "no"),
        ("[keys]\n[keys.map]\n# none yet\n", "keys.repeats", "4"),
    ],
)
def test_however_the_file_is_written_the_change_is_made_or_refused(
    tmp_path: Path, text: str, key: str, word: str
) -> None:
    file = tmp_path / "settings.toml"
    file.write_text(text)
    refused = ""
    try:
        write_setting(file, key, word)
    except UsageError as error:
        refused = str(error)
    if refused:
        assert "by hand" in refused
        assert file.read_text() == text
        return
    table, _, name = key.partition(".")
    assert tomllib.loads(file.read_text())[table][name] == registry()[key].typed(word)


@pytest.mark.parametrize(
    ("key", "word", "words"),
    [
        ("counting.wan", "3", "no setting counting.wan"),
        ("counting.warn", "many", "counting.warn: “many” is not a whole number"),
        ("counting.warn", "", "is not a whole number"),
        ("look.theme", "pink", "is not one of"),
        ("sound.muted", "maybe", "is not true or false"),
        ("sound.voice", "a\nb", "cannot be meant"),
    ],
)
def test_what_cannot_be_set_changes_nothing(tmp_path: Path, key: str, word: str, words: str) -> None:
    file = tmp_path / "settings.toml"
    file.write_text(FILE)
    with pytest.raises(UsageError) as caught:
        write_setting(file, key, word)
    assert words in str(caught.value)
    assert file.read_text() == FILE


def test_a_file_with_faults_is_not_written_over(tmp_path: Path) -> None:
    file = tmp_path / "settings.toml"
    file.write_text("[counting]\nwarn = 'lots'\n")
    with pytest.raises(UsageError, match="line 2"):
        write_setting(file, "look.large", "on")
    assert file.read_text() == "[counting]\nwarn = 'lots'\n"


def test_a_link_to_the_settings_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    real = tmp_path / "real" / "settings.toml"
    real.write_text(FILE)
    link = tmp_path / "settings.toml"
    link.symlink_to(real)
    write_setting(link, "counting.warn", "7")
    assert link.is_symlink()
    assert "warn = 7" in real.read_text()


def test_a_place_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(UsageError, match="cannot be"):
        write_setting(tmp_path / "file" / "settings.toml", "counting.warn", "3")
