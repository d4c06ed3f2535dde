"""Files against the specifications of their formats."""

from __future__ import annotations

import math
import struct
import zlib
from collections import Counter
from xml.etree import ElementTree

import numpy as np
import pytest

from stitchalong.course.compile import compile_plan
from stitchalong.form.files import ply, png
from stitchalong.form.render import picture
from stitchalong.form.shape import Form
from stitchalong.form.svg import svg
from stitchalong.form.view import Marks, View
from stitchalong.form.whole import form_of
from stitchalong.measure.book import Book, measured
from stitchalong.measure.gauge import PEYOTE, Measurement, Per
from stitchalong.measure.of_start import asks_for
from tests.form.samples import fins, formed, plan_of, tube
from tests.form.test_render import beads


def _chunks(data: bytes) -> list[tuple[bytes, bytes]]:
    out, at = [], 8
    while at < len(data):
        (size,) = struct.unpack(">I", data[at : at + 4])
        name, body = data[at + 4 : at + 8], data[at + 8 : at + 8 + size]
        assert struct.unpack(">I", data[at + 8 + size : at + 12 + size])[0] == zlib.crc32(name + body)
        out.append((name, body))
        at += 12 + size
    return out


def test_png() -> None:
    """W3C Portable Network Graphics (Second Edition): 5.2 signature, 5.3 chunks, 9.2 filter type 1, 11.2.2 IHDR, and
    the IEND chunk that is the same in every file."""
    shot = picture(formed(tube(12, 2)), View(), 50, 40)
    data = png(shot)
    assert list(data[:8]) == [137, 80, 78, 71, 13, 10, 26, 10]
    assert data.endswith(bytes.fromhex("00000000 49454e44 ae426082"))
    chunks = _chunks(data)
    assert [name for name, _ in chunks] == [b"IHDR", b"IDAT", b"IEND"]
    assert struct.unpack(">IIBBBBB", chunks[0][1]) == (50, 40, 8, 2, 0, 0, 0)
    raw = zlib.decompress(chunks[1][1])
    assert len(raw) == 40 * (1 + 3 * 50)
    for row in range(40):
        line = raw[row * 151 : (row + 1) * 151]
        assert line[0] == 1
        here = [0, 0, 0]
        for column in range(50):
            here = [(here[at] + line[1 + 3 * column + at]) % 256 for at in range(3)]
            assert here == shot[row, column].tolist()


def _read(data: bytes) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Corners, colours and faces of a binary PLY, by its own header (Greg Turk, The PLY Polygon File Format, 1994)."""
    head, body = data.split(b"end_header\n", 1)
    lines = head.decode("ascii").splitlines()
    assert lines[:2] == ["ply", "format binary_little_endian 1.0"]
    number = {line.split()[1]: int(line.split()[2]) for line in lines if line.startswith("element")}
    properties = [line.split()[1:] for line in lines if line.startswith("property")]
    assert properties[:6] == [
        [kind, name]
        for kind, name in zip(["float"] * 3 + ["uchar"] * 3, ["x", "y", "z", "red", "green", "blue"], strict=True)
    ]
    assert properties[6:] == [["list", "uchar", "int", "vertex_indices"]]
    corners, colours, faces = [], [], []
    for at in range(number["vertex"]):
        *point, red, green, blue = struct.unpack_from("<fffBBB", body, 15 * at)
        corners.append(point)
        colours.append((red, green, blue))
    at = 15 * number["vertex"]
    for _ in range(number["face"]):
        assert body[at] == 4
        faces.append(struct.unpack_from("<iiii", body, at + 1))
        at += 17
    assert at == len(body)
    return np.array(corners), np.array(colours), np.array(faces)


def _volume(corners: np.ndarray, faces: np.ndarray) -> float:
    """By the divergence theorem, each face cut into two triangles."""
    a, b, c, d = (corners[faces[:, at]] for at in range(4))
    return float(((a * np.cross(b, c)).sum() + (a * np.cross(c, d)).sum()) / 6)


@pytest.mark.parametrize("rounded", [False, True])
def test_ply_beads_are_closed_rings_with_their_volume(rounded: bool) -> None:
    ways = [(1.0, 0.0, 0.0), (0.3, -0.5, 0.8), (0.0, 0.0, 1.0)]
    form = beads([(0, 0, 0), (3, 0, 0), (0, 5, 1)], ways, rounded=rounded)
    corners, colours, faces = _read(ply(form))
    # every edge once in each direction: closed, and all faces turned the same way
    edges = Counter((int(face[at]), int(face[(at + 1) % 4])) for face in faces for at in range(4))
    assert set(edges.values()) == {1}
    assert all((b, a) in edges for a, b in edges)
    # Euler: a body with one hole through it has as many edges as corners and faces together
    assert len(corners) - len(edges) // 2 + len(faces) == 0
    barrel = form.materials[0].barrel
    # a regular polygon of 16 corners takes so much of its circle
    polygon = 16 * math.sin(2 * math.pi / 16) / 2
    at = np.linspace(-barrel.half, barrel.half, 9 if rounded else 2)
    off = np.sqrt(barrel.thick**2 - barrel.bulge * at**2)
    # frustums between the rings, less the hole
    body = sum((b - a) * (p * p + p * q + q * q) / 3 for a, b, p, q in zip(at, at[1:], off, off[1:], strict=False))
    each = polygon * (body - 2 * barrel.half * (barrel.hole / 2) ** 2)
    assert _volume(corners, faces) == pytest.approx(3 * each, rel=1e-4)
    assert {tuple(colour) for colour in colours.tolist()} == {(200, 40, 40), (40, 200, 40)}


def test_ply_is_in_millimetres_of_the_stitchers_gauge() -> None:
    plan = fins(5, 4, 2)
    form = formed(plan)
    assert 0.85 < form.scale < 1
    corners, _, _ = _read(ply(form))
    wide = np.ptp(corners, axis=0)[0]
    points = np.ptp(form.points, axis=0)[0]
    assert form.scale * points < wide < form.scale * (points + 2.1)


def test_a_gauge_of_ones_own_scales_other_work_too() -> None:
    """A tube whose columns came out 5 % wider than a bead is long (geometry) is 5 % larger as a mesh."""
    plan = tube(16, 3)
    course = compile_plan(plan)
    asks = asks_for(plan)
    assert asks is not None
    assert asks.bead.length is not None
    assert (asks.stitch, asks.per) == (PEYOTE, Per.COLUMN)
    usual = Book().gauge(asks.bead, asks.stitch, asks.per)
    swatches = [measured(asks.bead, asks.stitch, asks.per, Measurement(20, 20 * 1.05 * asks.bead.length))] * 50
    own = Book(swatches).gauge(asks.bead, asks.stitch, asks.per)
    found, larger = form_of(course, plan, gauge=usual), form_of(course, plan, gauge=own)
    assert (found.scale, form_of(course, plan).scale) == (1.0, 1.0)
    assert larger.scale == pytest.approx(1.05, abs=0.002)
    small, large = (np.ptp(_read(ply(form))[0], axis=0)[0] for form in (found, larger))
    assert large / small == pytest.approx(larger.scale, rel=1e-3)


SVG = "{http://www.w3.org/2000/svg}"


def _groups(text: str) -> list[ElementTree.Element]:
    root = ElementTree.fromstring(text)
    assert root.tag == SVG + "svg"
    (drawing,) = root.findall(SVG + "g")
    return drawing.findall(SVG + "g")


def test_svg_has_every_bead_once_the_furthest_first() -> None:
    form = beads([(0, 0, 1), (2, 0, -5), (-2, 1, 3)], [(1, 0, 0), (0, 1, 1), (1, 1, 1)])
    groups = _groups(svg(form, View(0, 90)))
    assert len(groups) == 3
    middles = [group.attrib["transform"].split("translate(")[1].split(")")[0].split() for group in groups]
    assert [float(x) for x, _ in middles] == [2, 0, -2]
    # the bead that lies flat shows no end
    assert len(groups[1].findall(SVG + "ellipse")) == 0
    assert len(groups[0].findall(SVG + "ellipse")) == 2
    assert len(_groups(svg(form, View(0, 90, shown=1)))) == 1


def test_svg_title_is_text_and_nothing_else() -> None:
    form = beads([(0, 0, 0)], [(1, 0, 0)])
    title = "A <script>&\x1b[31m</title> of one bead"
    root = ElementTree.fromstring(svg(Form(title, *[getattr(form, name) for name in Form.__slots__[1:]]), View()))
    found = root.findtext(SVG + "title")
    assert found is not None
    assert "<script>&" in found
    assert "\x1b" not in found
    assert [child.tag for child in root] == [SVG + "title", SVG + "style", SVG + "g"]


def test_svg_marks() -> None:
    form = beads([(0, 0, 0), (4, 0, 0)], [(1, 0, 0), (1, 0, 0)])
    plain, marked = (_groups(svg(form, View(), marks=marks)) for marks in (None, Marks(frozenset({0}), 1)))
    by_place = [sorted(groups, key=lambda group: group.attrib["transform"]) for groups in (plain, marked)]
    assert sum(len(group) for group in by_place[1]) == sum(len(group) for group in by_place[0]) + 1
    assert sum("fill-opacity" in group.attrib for group in by_place[1]) == 1


def test_files_of_a_whole_piece() -> None:
    plan = plan_of('start = "tube" ;; beads = "12R"', 'stitch = "peyote" ;; rounds = ["A", "R"]')
    form = formed(plan)
    assert len(_groups(svg(form, View()))) == form.beads
    corners, _, faces = _read(ply(form))
    assert np.isfinite(corners).all()
    assert faces.max() == len(corners) - 1
