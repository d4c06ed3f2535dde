"""The folder the pieces lie in: there, writable, and on a disk of this computer."""

from __future__ import annotations

import os
import re
from pathlib import Path

from stitchalong.errors import Place, StoreError
from stitchalong.store.faults import ELSEWHERE, faults
from stitchalong.store.files import sync
from stitchalong.store.layout import FILE_NAME

MOUNTS = Path("/proc/self/mountinfo")
"""where Linux tells what is mounted; other systems have no such file"""

_NETWORK = re.compile(
    r"nfs4?|cifs|smb3|smbfs|ncpfs|afs|coda|ceph|glusterfs|lustre|beegfs|gpfs|ocfs2|davfs"
    r"|fuse\.(sshfs|rclone|davfs|glusterfs|ceph|s3fs|curlftpfs)"
)
"""file systems, by the names the kernel gives them, that lie on another computer"""


def ready(folder: Path, mounts: Path = MOUNTS) -> None:
    """Make the folder where it is missing. Raises `StoreError` where pieces cannot be kept in it.

    A write-ahead log does not work over a network (https://www.sqlite.org/wal.html, "Overview", point 2).
    """
    place = Place(str(folder))
    try:
        missing = [path for path in (folder, *folder.parents) if not path.exists()]
        folder.mkdir(parents=True, exist_ok=True)
        for path in missing:
            sync(path.parent)
    except (FileExistsError, NotADirectoryError) as error:
        raise StoreError(
            "there is a file where the folder of the pieces should be",
            fix=f"move it away, or {ELSEWHERE}",
            place=place,
        ) from error
    except OSError as error:
        raise StoreError(f"the folder cannot be made: {error.strerror}", fix=ELSEWHERE, place=place) from error
    with faults(folder):
        file = folder / FILE_NAME
        if not os.access(folder, os.W_OK | os.X_OK):
            raise StoreError("the folder cannot be written", fix=ELSEWHERE, place=place)
        if file.exists() and not os.access(file, os.W_OK | os.R_OK):
            raise StoreError("the file cannot be written", fix=ELSEWHERE, place=Place(str(file)))
        kind = _kind_of_disk(folder.resolve(), mounts)
    if _NETWORK.fullmatch(kind):
        raise StoreError(
            f"the folder is on a network file system ({kind}), where presses cannot be kept safely",
            fix="set STITCHALONG_HOME to a folder on a disk of this computer",
            place=place,
        )


def _kind_of_disk(folder: Path, mounts: Path) -> str:
    """The file system's name, as proc(5) gives it; empty where it is not known."""
    try:
        lines = mounts.read_text(encoding="utf-8", errors="surrogateescape").splitlines()
    except OSError:
        return ""
    longest, kind = -1, ""
    for line in lines:
        left, _, right = line.partition(" - ")
        parts = left.split(" ")
        if len(parts) < 5 or not right:
            continue
        point = re.sub(r"\\([0-7]{3})", lambda octal: chr(int(octal[1], 8)), parts[4])
        if folder.is_relative_to(point) and len(point) >= longest:
            longest, kind = len(point), right.split(" ")[0]
    return kind
