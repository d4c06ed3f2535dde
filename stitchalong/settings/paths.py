"""Where files lie."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from stitchalong.values import value

if TYPE_CHECKING:
    from pathlib import Path

HOME_VARIABLE = "STITCHALONG_HOME"
"""names one folder for everything: pieces, settings, log"""


@value
class Paths:
    """Folders and files; none of them need exist."""

    data: Path
    """the pieces and their copies"""
    settings: Path
    """the settings file"""
    log: Path
    """log and crash reports"""
    plans: Path
    """plans of one's own"""

    @classmethod
    def of(cls, environ: Mapping[str, str]) -> Paths:
        """From `STITCHALONG_HOME` where that is set and not empty, else as the system has it."""
        from pathlib import Path

        home = environ.get(HOME_VARIABLE, "").strip()
        if home:
            top = Path(home).expanduser().absolute()
            return cls(top / "data", top / "settings.toml", top / "log", top / "plans")
        from platformdirs import PlatformDirs

        folders = PlatformDirs("stitchalong", appauthor=False)
        data = folders.user_data_path
        return cls(data, folders.user_config_path / "settings.toml", folders.user_log_path, data / "plans")
