"""Parcels of pieces, as lines of text that can be changed, and sealed again as a forger would."""

from __future__ import annotations

import gzip
import hashlib
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from stitchalong.plan.library import shipped
from stitchalong.plan.read import read_text
from stitchalong.session import Session
from stitchalong.store import Store

PLANS = ("first-try", "moth-tile", "kite-pendant", "heather-strip")


def sealed(body: bytes) -> bytes:
    """A parcel of these lines, with the digest that belongs to them."""
    body = body if body.endswith(b"\n") or not body else body + b"\n"
    digest = hashlib.sha256(body).hexdigest()
    return gzip.compress(body + f'{{"sha256":"{digest}"}}\n'.encode(), 1, mtime=0)


@cache
def parcels(more: tuple[str, ...]) -> tuple[str, ...]:
    """The lines, without their digest, of pieces of some plans that ship and of these plan texts."""
    texts = [path.read_text(encoding="utf-8") for path in shipped() if path.stem in PLANS]
    with TemporaryDirectory(prefix="stitchalong-fuzz-") as folder:
        return tuple(_lines(Path(folder) / str(nth), text) for nth, text in enumerate((*texts, *more)))


def _lines(folder: Path, text: str) -> str:
    """A piece with a bit of everything: presses, a step back, notes, thread, a choice, a place in the middle."""
    ticks = iter(range(1_700_000_000, 1_800_000_000, 7))
    store = Store.open(folder, clock=lambda: float(next(ticks)))
    loaded = read_text(text)
    session = Session.begin(
        store, plan=loaded.plan, plan_text=text, plan_data=loaded.data, plan_name="fuzz", name="fuzz"
    )
    session.press(5)
    session.undo()
    session.pin_note("a note")
    session.new_thread(2000.0)
    for _ in range(4):
        session.press(max(1, session.course.steps // 6))
        if session.outlook.decision:
            session.choose(more=True)
    if session.can_step_up_elsewhere() > 2:
        session.step_up_elsewhere(2)
    store.pack(session.piece.id, folder / "parcel")
    uid = session.piece.uid
    store.close()
    body = gzip.decompress((folder / "parcel").read_bytes()).decode()
    # always the same name, so that the same seed makes the same inputs
    return body.replace(uid, hashlib.md5(text.encode()).hexdigest()).rsplit("\n", 2)[0] + "\n"
