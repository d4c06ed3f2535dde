"""`sheet`: a handout of a plan or a piece, or the kit list of a class, as one file."""

from __future__ import annotations

from argparse import Namespace
from datetime import UTC, datetime
from pathlib import Path

from stitchalong.chart import chart_of, svg
from stitchalong.commands.making_words import KINDS
from stitchalong.commands.subject import Subject, subject_of, units_of
from stitchalong.commands.world import NAME, World
from stitchalong.errors import Exit, StoreError, UsageError, how_to_add
from stitchalong.plan.text import listed, shown
from stitchalong.settings.file import read_settings
from stitchalong.sheets.blocks import Document
from stitchalong.sheets.html import as_html
from stitchalong.sheets.make import MOST_DRAWN, Wishes, kit_list, sheet
from stitchalong.sheets.paper import PAPERS
from stitchalong.sheets.text import as_markdown, as_text


def run(asked: Namespace, world: World) -> int:
    """Make it, and write it."""
    kind = _kind(asked)
    if kind == "pdf" and asked.out is None:
        raise UsageError("a PDF is no text", fix="name the file: --out sheet.pdf")
    if asked.font and kind != "pdf":
        raise UsageError("only a PDF takes a font of your own", fix="leave --font out, or add --as pdf")
    hand = asked.hand or read_settings(world.paths.settings).words.hand
    units = units_of(asked, world)
    subject = subject_of(asked, world, usual="plan")
    if subject.doubt:
        world.tell(f"{NAME}: {subject.doubt}")
    wishes = Wishes(units, hand == "left", subject.book, subject.pace, in_space=kind in ("html", "pdf"))
    if kind == "svg":
        content = _drawing(subject, hand == "left").encode()
    else:
        document = _document(asked, subject, wishes)
        content = _pdf(document, asked, world) if kind == "pdf" else _text(document, asked, kind).encode()
    if asked.out is None:
        world.say_all(content.decode().splitlines())
        return Exit.OK
    path = _write(Path(asked.out), content, replace=asked.replace)
    world.say(f"written: {shown(str(path), 200)}")
    return Exit.OK


def _kind(asked: Namespace) -> str:
    """What is asked for, or what the file's ending says. Raises UsageError for an ending that says nothing."""
    if asked.kind:
        return str(asked.kind)
    if asked.out is None:
        return "txt"
    ending = Path(asked.out).suffix.lower().removeprefix(".")
    kind = {"htm": "html", "text": "txt", "markdown": "md"}.get(ending, ending)
    if kind not in KINDS:
        raise UsageError(
            f"{shown(asked.out, 200)} does not say which kind of sheet it is",
            fix=f"let it end in {listed(f'.{name}' for name in KINDS)}, or add --as",
        )
    return kind


def _document(asked: Namespace, subject: Subject, wishes: Wishes) -> Document:
    if asked.people is not None:
        return kit_list(subject.course, subject.plan, asked.people, wishes)
    return sheet(subject.course, subject.plan, wishes)


def _text(document: Document, asked: Namespace, kind: str) -> str:
    match kind:
        case "html":
            return as_html(document, PAPERS[asked.paper], large=asked.large)
        case "md":
            return as_markdown(document)
    return as_text(document)


def _pdf(document: Document, asked: Namespace, world: World) -> bytes:
    try:
        from stitchalong.sheets.pdf import as_pdf
    except ImportError as error:
        raise UsageError(
            "a PDF needs the package fpdf2", fix=f"{how_to_add('pdf')}, or print the html from a browser"
        ) from error
    made = datetime.fromtimestamp(world.clock(), UTC)
    font = Path(asked.font) if asked.font else None
    found = as_pdf(document, PAPERS[asked.paper], made, large=asked.large, font=font)
    if found.lost:
        signs = shown(" ".join(sorted(found.lost)))
        world.tell(f"{NAME}: the font of the PDF does not have {signs} (--font names one that does)")
    return found.content


def _drawing(subject: Subject, left_handed: bool) -> str:
    if subject.course.beads > MOST_DRAWN:
        raise UsageError(f"a picture of more than {MOST_DRAWN:,} beads is not drawn")
    chart = chart_of(subject.course)
    beads = subject.plan.beads
    return svg(
        chart.mirrored() if left_handed else chart,
        {bead.code: bead.colour for bead in beads},
        letters=True,
        names={bead.code: bead.name for bead in beads},
    )


def _write(path: Path, content: bytes, *, replace: bool) -> Path:
    """Raises StoreError where it cannot be written, or is there already."""
    try:
        with path.open("wb" if replace else "xb") as file:
            file.write(content)
    except FileExistsError:
        raise StoreError(f"there is {shown(str(path), 200)} already", fix="--replace writes over it") from None
    except (OSError, ValueError) as error:
        reason = (error.strerror if isinstance(error, OSError) else None) or "the name cannot be used"
        raise StoreError(f"{shown(str(path), 200)} cannot be written: {shown(reason, 80).lower()}") from None
    return path
