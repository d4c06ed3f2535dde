"""The command line: finds out what is asked, runs it, and turns what goes wrong into one line and a status."""

from __future__ import annotations

import gc
import os
import sys
import time
from collections.abc import Callable, Sequence
from contextlib import suppress
from importlib import import_module
from typing import TextIO, cast

from stitchalong.commands.parser import command_line
from stitchalong.commands.world import NAME, OutputError, World
from stitchalong.errors import Exit, StitchalongError, UsageError

INTERRUPTED = 130
"""the status that shells give to a program ended by Ctrl-C"""
NO_READER = 141
"""and to one that wrote to a pipe which nobody reads"""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line; the exit status. `arguments`: without the program's name; None: the process's own.

    Until a command is under way there is no garbage: nothing is collected then. What runs for long switches that on.
    """
    gc.disable()
    world = World(os.environ, time.time, *_streams())
    return run(sys.argv[1:] if arguments is None else arguments, world)


def run(arguments: Sequence[str], world: World) -> int:
    """Run one command in this world. `--help` and `--version` end by SystemExit, as argparse has it."""
    command = ""
    try:
        line = command_line(_wanted(arguments))
        _refuse_unknown(arguments, line.commands)
        asked = line.parser.parse_args(arguments)
        command = asked.command or ""
        module = import_module(f"stitchalong.commands.{asked.module}")
        act: Callable[..., int] = module.run
        return act(asked, world)
    except OutputError as error:
        world.tell_faults(error)
        _let_go(world)
        return error.status
    except KeyboardInterrupt:
        with suppress(OSError, StitchalongError):
            if world.stdout.isatty():
                world.say()  # the shell's prompt gets a line of its own
        return INTERRUPTED
    except BrokenPipeError:
        _let_go(world)
        return NO_READER
    except ExceptionGroup as several:
        statuses = [_failed(error, command, world, alone=False) for error in several.exceptions]
        return min(statuses)  # that of a fault of the program itself, if one of them is
    except Exception as error:
        return _failed(error, command, world)


def _wanted(arguments: Sequence[str]) -> str:
    """The command that is asked for; empty where none is, or the program itself is asked something."""
    word = next((word for word in arguments if word != "--plain"), "")
    return "" if word.startswith("-") else word


def _refuse_unknown(arguments: Sequence[str], commands: frozenset[str]) -> None:
    """Raise UsageError where the first word is no command; a plan's name there is an easy slip."""
    word = next((word for word in arguments if not word.startswith("-")), None)
    if word is None or word in commands:
        return
    from stitchalong.plan.library import shipped
    from stitchalong.plan.text import did_you_mean, shown

    name = shown(word)
    if word in {path.stem for path in shipped()} or word.endswith(".toml"):
        fix: str | None = f"did you mean `{NAME} start {name}`?"
    else:
        fix = did_you_mean(word, commands) or f"`{NAME} --help` lists the commands"
    raise UsageError(f"there is no command “{name}”", fix=fix)


def _streams() -> tuple[TextIO, TextIO, TextIO]:
    """The three streams. What knows few characters shows the others as `?`; what was closed leads nowhere."""
    found: list[TextIO] = []
    streams: list[tuple[TextIO | None, str]] = [(sys.stdin, "r"), (sys.stdout, "w"), (sys.stderr, "w")]
    for stream, mode in streams:
        if stream is None:
            stream = cast(TextIO, open(os.devnull, mode, encoding="utf-8"))  # noqa: SIM115
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")
        found.append(stream)
    return found[0], found[1], found[2]


def _let_go(world: World) -> None:
    """Nobody reads any more: let the interpreter's last flush go nowhere."""
    try:
        descriptor = os.open(os.devnull, os.O_WRONLY)
        os.dup2(descriptor, world.stdout.fileno())
        os.close(descriptor)
    except (OSError, ValueError):
        pass


def _failed(error: Exception, command: str, world: World, *, alone: bool = True) -> int:
    """Tell what went wrong; the exit status. `alone`: nothing else went wrong beside it."""
    if isinstance(error, StitchalongError):
        world.tell_faults(error)
        return error.status
    from stitchalong.commands.crash import home_of, write_report

    told = f"{NAME}: a fault of the program itself" + ("; your place is kept" if alone else "")
    try:
        path = write_report(world.paths.log, error, command=command, now=world.clock(), home=home_of(world.environ))
        world.tell(f"{told}; a report lies in {path}")
    except (OSError, StitchalongError):
        world.tell(f"{told}; no report could be written ({type(error).__name__})")
    return Exit.CRASH
