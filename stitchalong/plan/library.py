"""Where plans are found: those that ship with the program, and files by their path.

Listing reads titles alone and needs neither the schema nor the notation.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from itertools import islice
from pathlib import Path

from stitchalong.errors import Place, PlanError, Problems
from stitchalong.plan.sorts import OTHER, sort_of
from stitchalong.plan.text import clean, did_you_mean, listed, shown
from stitchalong.plan.toml import load_toml
from stitchalong.values import value

SUFFIX = ".toml"

_FEW = 6
"""plans that are all named in a hint"""
_LOOKED_AT = 1_000
"""files of a folder that a slip of a name is compared with"""

LONGEST = 500
"""characters of a glance at what a plan is about"""


@value
class Listed:
    """A plan in a list."""

    name: str
    """what `find_plan` finds it by"""
    path: Path
    title: str
    about: str
    """its first paragraph, on one line"""
    sort: str = OTHER
    """of work, as `sorts` names them"""


def shipped_folder() -> Path | None:
    """The folder of the plans that ship: within an installed package, or beside it in a checkout."""
    package = Path(__file__).resolve().parent.parent
    installed = package / "shipped"
    if installed.is_dir():
        return installed
    # any other folder of this name beside an installed package is a stranger's
    checkout = package.parent
    return checkout / "plans" if (checkout / "pyproject.toml").is_file() and (checkout / "plans").is_dir() else None


def shipped() -> list[Path]:
    """The files of the plans that ship, by name."""
    return plans_in(folder) if (folder := shipped_folder()) else []


def plans_in(folder: Path) -> list[Path]:
    """The plan files of a folder, by name; empty where there is no such folder."""
    return sorted(path for path in folder.glob(f"*{SUFFIX}") if path.is_file())


def glance(path: Path) -> Listed:
    """Title and first paragraph of a plan, without checking it. A file that cannot be read is listed by its name."""
    try:
        data = load_toml(path.read_text(encoding="utf-8-sig"), "", Problems())
    except (OSError, ValueError):
        data = {}
    title, about = data.get("title"), data.get("about")
    paragraphs = clean(about, keep_lines=True).split("\n\n") if isinstance(about, str) else [""]
    return Listed(
        name=path.stem,
        path=path,
        title=clean(title)[:200] if isinstance(title, str) and clean(title) else shown(path.stem),
        about=" ".join(paragraphs[0].split())[:LONGEST],
        sort=sort_of(data),
    )


def find_plan(word: str) -> Path:
    """The file meant by a path, or by the name of a plan that ships (`first-ring`).

    A name wins over a file of the same name without a suffix in the folder one stands in. Raises PlanError.
    """
    names = {path.stem: path for path in shipped()}
    if word in names:
        return names[word]
    path = Path(word)
    if _found(word, Path.exists):
        return path
    is_file = path.suffix == SUFFIX or path.name != word
    raise PlanError(
        "there is no such file" if is_file else "there is no such plan",
        fix=_neighbour(path, exactly=True)
        or did_you_mean(path.stem, names)
        or _neighbour(path)
        or _where_to_look(names, is_file=is_file),
        place=Place(shown(word, 200)),
    )


def is_plan(word: str) -> bool:
    """Whether `find_plan` finds a file."""
    return _found(word, Path.is_file) or word in {path.stem for path in shipped()}


def _found(word: str, there: Callable[[Path], bool]) -> bool:
    try:
        return bool(word) and there(Path(word))
    except (OSError, ValueError):
        return False


def _neighbour(path: Path, *, exactly: bool = False) -> str | None:
    """A plan file in the same folder of nearly that name; `exactly`: that lacks nothing but the suffix."""
    name = path.name if path.suffix == SUFFIX else path.name + SUFFIX
    try:
        files = [one.name for one in islice(path.parent.glob(f"*{SUFFIX}"), _LOOKED_AT)]
    except (OSError, ValueError):
        return None
    return did_you_mean(name, [one for one in files if one == name] if exactly else files)


def _where_to_look(names: Mapping[str, Path], *, is_file: bool) -> str | None:
    if not names:
        return None
    if len(names) <= _FEW:
        return f"plans that ship: {listed(names, 'and')}"
    if is_file:
        return "is it in another folder? `stitchalong plans` lists those that ship, and your own"
    return "`stitchalong plans` lists those that ship; a plan of your own is named by its file, such as my-ring.toml"


def called(path: str | os.PathLike[str]) -> str:
    """What messages call a plan file: a plan that ships by its name, any other by its path."""
    here = Path(path)
    folder = shipped_folder()
    return here.stem if folder is not None and here.parent == folder else shown(os.fspath(path), 200)
