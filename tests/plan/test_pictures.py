"""Pictures as charts: what they are read as, where they may lie, and what is refused."""

from __future__ import annotations

import json
import os
import struct
import sys
import zlib
from pathlib import Path

import pytest

from stitchalong.errors import PlanError, Problems
from stitchalong.plan.charted import in_words
from stitchalong.plan.checked import build
from stitchalong.plan.pictures import MAX_BYTES, lab
from stitchalong.plan.read import read_plan, read_text
from tests.cli.running import here

PLAN = """
title = "A picture"
[beads.N]
name = "night"
colour = "#203050"
[beads.F]
name = "frost"
colour = "#e8f0f4"
[beads.K]
name = "copper"
colour = "#b06a3c"
[[work]]
start = "strung row"
chart = "moon"
[[work]]
stitch = "flat peyote"
chart = "moon"
[charts.moon]
picture = "moon.png"
"""

Pixel = tuple[int, ...]
NIGHT, FROST, NEAR_COPPER = (32, 48, 80), (232, 240, 244), (170, 100, 64)


def png(rows: list[list[Pixel]], *, size: tuple[int, int] | None = None) -> bytes:
    """A PNG by hand, of 8 bits in each of three or four channels (w3.org/TR/png-3, 5.3, 9 and 11.2)."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    width, height = size or (len(rows[0]), len(rows))
    header = struct.pack(">IIBBBBB", width, height, 8, 6 if len(rows[0][0]) == 4 else 2, 0, 0, 0)
    raw = b"".join(b"\0" + bytes(part for pixel in row for part in pixel) for row in rows)
    chunks = chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(raw)) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + chunks


MOON = [[NIGHT, FROST, FROST, NIGHT], [FROST, NEAR_COPPER, FROST, FROST], [NIGHT, FROST, FROST, NIGHT]]


def written(folder: Path, picture: bytes | None = None, plan: str = PLAN) -> Path:
    if picture is not None:
        (folder / "moon.png").write_bytes(picture)
    path = folder / "moon.toml"
    path.write_text(plan, encoding="utf-8")
    return path


def fault_of(path: Path) -> str:
    with pytest.raises(PlanError) as caught:
        read_plan(path)
    (problem,) = caught.value.problems
    return str(problem)


def test_each_pixel_is_the_nearest_bead(tmp_path: Path) -> None:
    problems = Problems()
    loaded = read_plan(written(tmp_path, png(MOON)), problems)
    (chart,) = loaded.plan.charts
    assert chart.lines == ("NFFN", "FKFF", "NFFN")
    assert sorted(chart.mapping) == [("#203050", "N", 4), ("#aa6440", "K", 1), ("#e8f0f4", "F", 7)]
    assert not list(problems)


def test_the_mapping_is_told(tmp_path: Path) -> None:
    (chart,) = read_plan(written(tmp_path, png(MOON))).plan.charts
    assert in_words(chart) == (
        "chart moon from moon.png, 4 by 3 beads: #e8f0f4 is F, 7; #203050 is N, 4; #aa6440 is K, 1"
    )


def test_a_piece_never_needs_the_picture_again(tmp_path: Path) -> None:
    path = written(tmp_path, png(MOON))
    loaded = read_plan(path)
    (tmp_path / "moon.png").unlink()
    assert build(json.loads(json.dumps(loaded.data)), source=loaded.plan.source) == loaded.plan


def test_a_picture_may_say_its_own_colours_for_the_beads(tmp_path: Path) -> None:
    plan = PLAN + 'colours = { N = "#ff0000", F = "#00ff00" }\n'
    path = written(tmp_path, png([[(250, 0, 0), (0, 250, 0)], [(0, 250, 0), (250, 0, 0)]]), plan)
    assert read_plan(path).plan.charts[0].lines == ("NF", "FN")


def test_a_colour_that_no_bead_comes_near_is_doubted(tmp_path: Path) -> None:
    problems = Problems()
    read_plan(written(tmp_path, png([[(255, 0, 255), NIGHT], [NIGHT, FROST]])), problems)
    told = [str(problem) for problem in problems if problem.doubtful]
    assert any("no bead comes near #ff00ff of the picture" in text for text in told)


def test_a_folder_below_the_plan_will_do(tmp_path: Path) -> None:
    (tmp_path / "pictures").mkdir()
    (tmp_path / "pictures" / "moon.png").write_bytes(png(MOON))
    path = written(tmp_path, None, PLAN.replace("moon.png", "pictures/moon.png"))
    assert read_plan(path).plan.charts[0].lines[1] == "FKFF"


def test_lightness_runs_from_black_to_white_and_red_is_red() -> None:
    """CIE L*a*b* of sRGB's black, white and red; the numbers of red from memory."""
    assert lab("#000000") == pytest.approx((0, 0, 0), abs=0.01)
    assert lab("#ffffff") == pytest.approx((100, 0, 0), abs=0.02)
    assert lab("#ff0000") == pytest.approx((53.24, 80.09, 67.20), abs=0.05)


def test_pictures_are_read_up_to_a_bound_of_all_together(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("stitchalong.plan.charted.MOST_PIXELS", 30)
    more = "".join(f'[charts.more{nth}]\npicture = "moon.png"\n' for nth in range(9))
    path = written(tmp_path, png(MOON), PLAN + more)
    assert "charts.more2.picture: the pictures come to more than 30 pixels" in fault_of(path)


# ---- where it may lie ---------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["/etc/hostname", "../moon.png", "a/../../moon.png", "C:moon.png", "..\\\\moon.png"])
def test_a_picture_outside_the_plans_folder_is_refused(tmp_path: Path, name: str) -> None:
    inner = tmp_path / "inner"
    inner.mkdir()
    (tmp_path / "moon.png").write_bytes(png(MOON))
    assert "does not lie beside the plan or below it" in fault_of(written(inner, None, PLAN.replace("moon.png", name)))


@pytest.mark.parametrize("link", ["moon.png", "away"])
def test_a_link_that_leads_out_is_refused(tmp_path: Path, link: str) -> None:
    inner, outer = tmp_path / "inner", tmp_path / "outer"
    inner.mkdir()
    outer.mkdir()
    (outer / "moon.png").write_bytes(png(MOON))
    (inner / link).symlink_to(outer / "moon.png" if link == "moon.png" else outer)
    name = link if link == "moon.png" else "away/moon.png"
    assert "leads out of the plan's folder" in fault_of(written(inner, None, PLAN.replace("moon.png", name)))


def test_a_link_that_stays_below_is_followed(tmp_path: Path) -> None:
    (tmp_path / "real.png").write_bytes(png(MOON))
    (tmp_path / "moon.png").symlink_to("real.png")
    assert read_plan(written(tmp_path)).plan.charts


def test_links_in_a_circle_and_pipes_are_refused(tmp_path: Path) -> None:
    (tmp_path / "moon.png").symlink_to("moon.png")
    assert "moon.png" in fault_of(written(tmp_path))
    (tmp_path / "moon.png").unlink()
    os.mkfifo(tmp_path / "moon.png")
    assert "no ordinary file" in fault_of(written(tmp_path))


def test_a_plan_without_a_folder_has_no_pictures() -> None:
    with pytest.raises(PlanError, match="this plan has none"):
        read_text(PLAN)


# ---- what it may be -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("picture", "words"),
    [
        (None, "there is no picture `moon.png` beside the plan"),
        (b"GIF89a" + b"\0" * 40, "is no PNG (save it as PNG)"),
        (b"", "is no PNG"),
        (png(MOON)[:-30], "cannot be read as a PNG"),
        (png(MOON, size=(100_000, 100_000)), "100,000 pixels by 100,000"),
        (png([[(0, 0, 0, 255), (0, 0, 0, 0)]]), "see-through pixels"),
        (png([[(at, side, 7) for at in range(20)] for side in range(20)]), "more than 256 colours"),
        (png([[NIGHT, NIGHT]]), "a chart has two lines or more"),
        (png(MOON) + b"\0" * MAX_BYTES, "larger than 4 MiB"),
    ],
    ids=["none", "gif", "empty", "cut", "huge", "clear", "many", "line", "long"],
)
def test_what_is_no_small_picture_is_refused(tmp_path: Path, picture: bytes | None, words: str) -> None:
    told = fault_of(written(tmp_path, picture))
    assert words in told
    assert "\n" not in told


def test_without_the_library_the_extra_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "PIL", None)
    assert "in the program's folder: .venv/bin/pip install '.[picture]'" in fault_of(written(tmp_path, png(MOON)))


def test_the_library_is_not_loaded_before_a_picture_is_read() -> None:
    import subprocess

    code = "import sys; import stitchalong.plan.read, stitchalong.course.compile; print('PIL' in sys.modules)"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert out.strip() == "False"


def test_checking_a_plan_shows_how_its_picture_was_read(tmp_path: Path) -> None:
    path = written(tmp_path, png(MOON))
    ran = here(tmp_path / "home", "check", str(path))
    assert ran.status == 0
    assert "chart moon from moon.png, 4 by 3 beads: #e8f0f4 is F, 7; #203050 is N, 4; #aa6440 is K, 1" in ran.out
