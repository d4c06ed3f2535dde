"""What the README says of the program's own tests and commands is so."""

from __future__ import annotations

import re

from stitchalong.commands.parser import command_line
from tests.cli.running import ROOT

README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_each_of_the_five_promises_names_tests_that_there_are() -> None:
    part = README.split("## What is promised\n")[1].split("\n## ")[0]
    promises = re.findall(r"^\d\. .+$", part, re.MULTILINE)
    assert len(promises) == 5
    for promise in promises:
        named = re.findall(r"`(tests/\S+)`", promise)
        assert named, promise
        for path in named:
            assert "def test_" in (ROOT / path).read_text(encoding="utf-8"), path


def test_the_commands_that_are_shown_are_commands() -> None:
    shown = set(re.findall(r"^ {4}stitchalong ([a-z-]+)|`stitchalong ([a-z-]+)", README, re.MULTILINE))
    words = {one or other for one, other in shown}
    assert len(words) > 15
    assert words <= command_line().commands
