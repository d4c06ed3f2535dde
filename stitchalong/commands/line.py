"""The command line as a parser: what is the same for all commands. Light: `--help` needs no more than this."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable
from typing import Any, NoReturn, cast

from stitchalong import __version__
from stitchalong.commands.world import NAME
from stitchalong.course.words import capital
from stitchalong.errors import UsageError

_ABOUT = "Counts along while you stitch geometric beadwork. Without a command: what you are stitching, and plans."
_END = """\
begin with:   stitchalong start first-try
go on with:   stitchalong go-on

Where there is no full terminal, or with --plain or STITCHALONG_PLAIN=1, it reads and writes line by line.
STITCHALONG_HOME names one folder to keep everything in.

exit status:  0 all went well; 1 a fault of the program; 2 words that are not understood;
              3 a plan that cannot be read or stitched; 4 pieces that cannot be found, kept or read"""


class Parser(argparse.ArgumentParser):
    """A parser whose faults are told in one line."""

    def error(self, message: str) -> NoReturn:
        raise UsageError(message.removeprefix("argument "), fix=f"`{self.prog} --help` tells more")


class _Nobody:
    """Stands for the parser of a command that is not asked for: it takes everything and does nothing."""

    def __getattr__(self, name: str) -> Callable[..., Any]:
        return self._take

    def _take(self, *_: object, **__: object) -> _Nobody:
        return self


class Line:
    """The whole command line. `modules` says by which module of `stitchalong.commands` a command is run."""

    def __init__(self, adding: Iterable[Callable[[Line], None]], wanted: str | None = None) -> None:
        """Each of `adding` adds commands of its own.

        `wanted`: the command that is asked for, and alone gets a parser, for all of them take longer than most commands
        do; empty: none is, only their names and what they do are known; None: all of them.
        """
        self._wanted = wanted
        self._names: set[str] = set()
        self.parser = Parser(
            prog=NAME,
            description=_ABOUT,
            epilog=_END,
            formatter_class=argparse.RawDescriptionHelpFormatter,
            allow_abbrev=False,
        )
        self.parser.add_argument("--version", action="version", version=f"{NAME} {__version__}")
        self.parser.add_argument("--plain", dest="lines", action="store_true", help="line by line, never full screen")
        self.parser.set_defaults(module="home")
        self._commands = self.parser.add_subparsers(title="commands", metavar="COMMAND", dest="command")
        self.modules = {"home"}
        for add in adding:
            add(self)

    @property
    def commands(self) -> frozenset[str]:
        """Their names."""
        return frozenset(self._names)

    def command(self, name: str, module: str, short: str, more: str = "") -> argparse.ArgumentParser:
        """A new command."""
        self._names.add(name)
        self.modules.add(module)
        if self._wanted and name != self._wanted:
            return cast(argparse.ArgumentParser, _Nobody())
        text = f"{capital(short)}. {more}".strip()
        parser: argparse.ArgumentParser = self._commands.add_parser(
            name, help=short, description=text, allow_abbrev=False
        )
        parser.set_defaults(module=module)
        return cast(argparse.ArgumentParser, _Nobody()) if self._wanted == "" else parser
