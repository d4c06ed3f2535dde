"""A process that records press after press and says so when each is kept; to be killed or watched.

    python -m tests.store.stitcher FOLDER store|writer COUNT [weak]

Goes on with the first piece in FOLDER. After each record it writes the piece's number and a newline to its
standard output with one system call. COUNT 0 has no end. `weak` turns syncing off, to show that a watcher
notices. Ends without closing anything.
"""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path

from stitchalong.store import Event, Record, Store
from stitchalong.store.writer import Ticket, Writer


def event(number: int) -> Event:
    """Every seventh is an undo of one step, the rest are presses; the position follows from the number."""
    position = place(number)
    return Event("undo" if number % 7 == 0 else "press", 1, position, position + (number % 7 == 0))


def place(number: int) -> int:
    """The position after `number` events."""
    return number - 2 * (number // 7)


def say(seq: int) -> None:
    os.write(1, f"{seq}\n".encode())


def main(folder: Path, way: str, count: int, weak: bool) -> None:
    store = Store.open(folder, clock=time.time)
    piece = store.pieces()[0]
    seq = piece.seq
    last = seq + count if count else sys.maxsize
    if way == "store":
        if weak:
            store._database.execute("PRAGMA synchronous = OFF")
        while seq < last:
            seq = store.record(piece.id, seq, [event(seq + 1)], place=f'{{"stitch": {seq + 1}}}')
            say(seq)
    else:

        def told(tickets: list[Ticket]) -> None:
            for ticket in tickets:
                say(ticket.wait(0))

        writer = Writer(folder, clock=time.time, told=told)
        while seq < last:
            for _ in range(min(20, last - seq)):
                seq += 1
                writer.put(Record(piece.id, seq - 1, (event(seq),), f'{{"stitch": {seq}}}'))
            writer.flush()
    os._exit(0)


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2], int(sys.argv[3]), "weak" in sys.argv[4:])
