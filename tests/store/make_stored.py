"""Makes the stored database of the schema as it is now: `python -m tests.store.make_stored FILE`.

Run once for each version of the schema before it ships; the file is kept and never made again.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
from itertools import count
from pathlib import Path

from stitchalong.measure.measured import Measured
from stitchalong.store import Event, Store
from stitchalong.store.schema import MIGRATIONS

MEASURED = Measured("11/0", "cylinder", "MRAW band", "unit", "tight", 24, 53.8, 0.5)


def fill(store: Store) -> None:
    """Two pieces: one in the middle, with a choice, an undo and notes; one put away. A measured swatch."""
    ring = store.begin(
        title="Heather ring",
        plan_text='title = "Heather ring"\n',
        plan_data='{"title": "Heather ring"}',
        plan_name="heather-ring.toml",
        compiler=1,
        steps=420,
        place='{"part": 1, "edge": "top", "round": 0, "stitch": 0, "step": 0}',
    )
    seq = store.record(
        ring.id,
        0,
        [Event("press", 1, 1, 1), Event("press", 4, 5, 5), Event("undo", 1, 4, 5)],
        place='{"part": 1, "edge": "top", "round": 1, "stitch": 2, "step": 1}',
    )
    store.record(
        ring.id,
        seq,
        [Event("redo", 1, 5, 5), Event("choice", 0, 5, 5, '{"rounds": 6}'), Event("goto", 95, 100, 100)],
        place='{"part": 2, "edge": "top", "round": 3, "stitch": 7, "step": 0}',
        choices='[{"rounds": 6}]',
        steps=480,
    )
    store.add_note(ring.id, 60, "blue ran out, teal from here")
    store.add_note(ring.id, 12, "new thread")
    bell = store.begin(
        title="Bell",
        name="für Ella",
        plan_text="",
        plan_data="{}",
        plan_name="bell.toml",
        compiler=1,
        steps=0,
        place="{}",
    )
    store.put_away(bell.id)
    store.add_measured(MEASURED)


def main(target: Path) -> None:
    if target.exists():
        raise SystemExit(f"{target} is kept as it is")
    # each migration looks at the clock once; the pieces are begun at the same time in every version
    ticks = count(1_700_000_002 - 2 * len(MIGRATIONS), 2)
    with tempfile.TemporaryDirectory() as folder:
        store = Store.open(Path(folder), clock=lambda: float(next(ticks)))
        fill(store)
        store._database.close()  # without a daily copy
        shutil.copyfile(Path(folder) / "pieces.db", target)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
