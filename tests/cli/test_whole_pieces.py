"""Whole pieces stitched from the first bead to the last, line by line through a pipe."""

from __future__ import annotations

import gzip
import json
from pathlib import Path

import pytest

from stitchalong.plan.library import shipped
from tests.cli.running import corners, here, process


def pieces(home: Path) -> dict[str, object]:
    (piece,) = here(home, "pieces", "--json").data["pieces"]
    return dict(piece)


# k·r(r+1)/2 beads: OEIS A045943 (3, 9, 18, …), A046092 (4, 12, 24, …), A028896 (6, 18, 36, …)
@pytest.mark.parametrize(("k", "rounds", "beads"), [(3, 9, 135), (4, 8, 144), (6, 7, 168)])
def test_a_flat_piece_has_as_many_beads_in_the_hand_as_the_sequence_says(
    tmp_path: Path, k: int, rounds: int, beads: int
) -> None:
    path = tmp_path / "flat.toml"
    path.write_text(corners(k, rounds))
    home = tmp_path / "home"
    lines = "\n" * (beads + 2 * rounds)
    ran = here(home, "start", str(path), typed=lines)
    assert ran.status == 0
    assert ran.out.splitlines()[-1].endswith(f"; {beads} beads of {beads} laid")
    assert pieces(home)["state"] == "finished"
    # every press was a bead or one of the moves: closing the ring, and a step-up after each round of peyote but one
    assert pieces(home)["position"] == beads + 1 + (rounds - 2)


@pytest.mark.parametrize("plan", shipped(), ids=lambda path: path.stem)
def test_every_plan_that_ships_can_be_stitched_to_the_end(tmp_path: Path, plan: Path) -> None:
    home = tmp_path / "home"
    # enough for any of them: presses, and answers to the questions that come on the way
    typed = "\n" * 50 + "50\n" * 20 + ("another\n" + "50\n" * 12) * 4 + ("on\n" + "50\n" * 12) * 4
    ran = here(home, "start", plan.stem, typed=typed)
    assert (ran.status, ran.err) == (0, "")
    piece = pieces(home)
    assert piece["state"] == "finished"
    assert piece["position"] == piece["steps"]
    told = ran.out.splitlines()[-1]
    done, _, of = told.rpartition("; ")[2].removesuffix(" laid").partition(" beads of ")
    assert done == of


def test_a_shipped_ring_is_stitched_through_a_real_pipe_with_the_right_count(tmp_path: Path) -> None:
    """The triangle that ships: three corners, ten rounds; OEIS A045943 has 165 there."""
    home = tmp_path / "home"
    ran = process(home, "start", "kite-pendant", typed="\n" * 40 + "back 5\n5\n" + "\n" * 200)
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.splitlines()[-1].endswith("; 165 beads of 165 laid")
    assert pieces(home)["state"] == "finished"


def test_a_count_is_one_record(tmp_path: Path) -> None:
    home = tmp_path / "home"
    here(home, "start", "gorse-ring", typed="300\n")
    parcel = tmp_path / "ring.piece"
    assert here(home, "export", "1", str(parcel)).status == 0
    lines = [json.loads(line) for line in gzip.decompress(parcel.read_bytes()).splitlines()]
    presses = [line["press"] for line in lines if "press" in line]
    assert [(press[2], press[3], press[4]) for press in presses] == [("press", 300, 300)]
