"""The picture of the form on a sheet: in HTML and PDF, where numpy is there."""

from __future__ import annotations

import base64
import io
import re
import sys
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image
from pypdf import PdfReader

from stitchalong.course.compile import compile_plan
from stitchalong.form.shape import Form
from stitchalong.form.whole import form_of
from stitchalong.plan.model import Plan
from stitchalong.plan.read import read_text
from stitchalong.sheets import in_space
from stitchalong.sheets.blocks import Photo
from stitchalong.sheets.html import as_html
from stitchalong.sheets.make import Wishes, sheet
from stitchalong.sheets.paper import PAPERS
from stitchalong.sheets.pdf import as_pdf
from stitchalong.sheets.text import as_markdown, as_text
from tests.sheets.made import HTML, WHEN, parsed, words_of

WITH = Wishes(in_space=True)


def tube(rounds: int = 14) -> Plan:
    return read_text(
        'title = "Reed"\n[beads.A]\nname = "reed"\ncolour = "#803020"\nsize = "11/0"\nshape = "cylinder"\n'
        '[[work]]\nstart = "tube"\nbeads = "16A"\n'
        f'[[work]]\nstitch = "peyote"\nrounds = "A"\nheight = {rounds}\n'
    ).plan


def photos(plan: Plan, wishes: Wishes = WITH) -> list[Photo]:
    return [block for block in sheet(compile_plan(plan), plan, wishes).blocks if isinstance(block, Photo)]


def opened(photo: Photo) -> Image.Image:
    return Image.open(io.BytesIO(photo.png))


def test_the_picture_is_of_the_beads_colour_on_white() -> None:
    (photo,) = photos(tube())
    seen = np.asarray(opened(photo).convert("RGB")).astype(int)
    assert (seen.reshape(-1, 3) == 255).all(axis=1).any()
    inked = seen[(seen < 250).any(axis=2)]
    # red before green before blue, as in the bead
    assert (np.diff(inked.mean(axis=0)) < 0).all()


def test_it_is_as_large_as_it_says() -> None:
    """Its height on paper against that of the form: what the two share is the factor that is told."""
    plan = tube(40)
    (photo,) = photos(plan)
    told = re.search(r"about ([\d.]+) times", photo.told)
    assert told
    form = form_of(compile_plan(plan), plan)
    wide, high = opened(photo).size
    # the eye looks from 35° above: the axis is shortened to its cosine, a round's width to its sine
    low, top = form.points[:, 2].min(), form.points[:, 2].max()
    tall = (top - low) * np.cos(np.radians(35)) + (16 * 1.3 / np.pi + 1.6) * np.sin(np.radians(35))
    assert photo.across * high / wide / float(told[1]) == pytest.approx(tall, rel=0.1)


def test_for_the_left_hand_it_is_mirrored() -> None:
    (right,), (left,) = photos(tube()), photos(tube(), Wishes(left_handed=True, in_space=True))
    assert np.array_equal(np.asarray(opened(left)), np.asarray(opened(right))[:, ::-1])


def test_a_form_that_goes_against_the_rule_is_doubted_and_no_other_doubt_is_told(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def doubted(*given: object, **more: object) -> Form:
        form = form_of(*given, **more)  # type: ignore[arg-type]
        return replace(form, doubts=("here its beads nest", "it folds"), against="it folds")

    monkeypatch.setattr("stitchalong.form.whole.form_of", doubted)
    (photo,) = photos(tube())
    assert photo.told.endswith("no size is taken from it. A doubt: it folds.")


def test_html_carries_it_within() -> None:
    plan = tube()
    (photo,) = photos(plan)
    tree = parsed(as_html(sheet(compile_plan(plan), plan, WITH), PAPERS["a4"]))
    (image,) = tree.iter(f"{HTML}img")
    assert base64.b64decode(image.get("src", "").removeprefix("data:image/png;base64,")) == photo.png
    assert image.get("alt") == photo.title
    assert "no size is taken from it" in words_of(tree)


def test_a_pdf_carries_it_once() -> None:
    plan = tube()
    (photo,) = photos(plan)
    made = as_pdf(sheet(compile_plan(plan), plan, WITH), PAPERS["a4"], WHEN)
    reader = PdfReader(io.BytesIO(made.content))
    (image,) = [image for page in reader.pages for image in page.images]
    assert image.image is not None
    assert image.image.size == opened(photo).size
    assert "no size is taken from it" in " ".join(" ".join(page.extract_text().split()) for page in reader.pages)


def test_text_says_where_it_is() -> None:
    plan = tube()
    document = sheet(compile_plan(plan), plan, Wishes())
    for text in (as_text(document), as_markdown(document)):
        assert "stitchalong form PLAN" in text


def test_there_is_none_of_a_piece_that_would_be_waited_for(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(in_space, "MOST_BEADS", 40)
    assert photos(tube()) == []
    assert len(photos(tube(3))) == 1


def test_without_numpy_the_sheet_is_as_before(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "numpy", None)
    plan = tube()
    course = compile_plan(plan)
    assert sheet(course, plan, WITH) == sheet(course, plan, Wishes())


def test_beads_without_measures_have_none() -> None:
    plan = read_text(
        'title = "T"\n[beads.A]\nname = "a"\ncolour = "#803020"\n[[work]]\nstart = "tube"\nbeads = "16A"\n'
        '[[work]]\nstitch = "peyote"\nrounds = "A"\n'
    ).plan
    assert photos(plan) == []
