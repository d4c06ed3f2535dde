"""The picture of a piece's form on a sheet: where numpy is there, and of pieces that need not be waited for."""

from __future__ import annotations

from collections.abc import Iterator

from stitchalong.course.course import Course
from stitchalong.errors import UsageError
from stitchalong.form import ready
from stitchalong.measure.book import Book
from stitchalong.measure.of_start import asks_for
from stitchalong.plan.model import Plan
from stitchalong.sheets.blocks import Block, Photo

MOST_BEADS = 1500
"""of a piece whose form is worked out for a sheet: about two seconds"""
_SIZE = (80.0, 55.0)
"""mm on paper, at most"""
_LARGEST = 8.0
"""times the size of the piece, at most"""
_PIXELS = 900
_WHITE = (255, 255, 255)


def in_space(course: Course, plan: Plan, book: Book, *, left_handed: bool) -> Iterator[Block]:
    """The picture and what is to be said with it; nothing where there is none to be had."""
    if not ready() or not 0 < course.beads <= MOST_BEADS:
        return
    from stitchalong.form.files import png
    from stitchalong.form.render import cropped, picture, shown
    from stitchalong.form.view import View
    from stitchalong.form.whole import form_of

    asks = asks_for(plan)
    try:
        form = form_of(course, plan, gauge=book.gauge(asks.bead, asks.stitch, asks.per) if asks else None)
    except UsageError:
        return
    drawn = cropped(picture(form, View(), _PIXELS, _PIXELS, ground=_WHITE), _WHITE, mirrored=left_handed)
    # mm of the piece that a pixel stands for
    pixel = shown(form, View()) * form.scale / _PIXELS
    high, wide = (length * pixel for length in drawn.shape[:2])
    times = min(_SIZE[0] / wide, _SIZE[1] / high, _LARGEST)
    large = "as large as the piece" if 0.95 < times < 1.05 else f"about {times:.1f} times as large as the piece"
    doubt = f" A doubt: {form.against}." if form.against else ""
    yield Photo(
        png(drawn),
        wide * times,
        "What the piece will look like",
        f"One likely form, {large}, reckoned from its stitches and beads: no size is taken from it.{doubt}",
    )
