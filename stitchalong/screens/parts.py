"""The parts of the stitching screen. Each makes lines of a view; `layout` puts them in their places."""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import cell_len

from stitchalong.course.outlook import Special, distance
from stitchalong.course.words import are, capital, counted, sentence
from stitchalong.screens.glyphs import ASK, DONE, LOW, MOVE, Glyphs, big
from stitchalong.screens.lines import BLANK, Line, Span, apart, fit, line, width_of, wrap, wrapped
from stitchalong.screens.thread_strip import bead
from stitchalong.screens.view import Answer, View
from stitchalong.settings.commands import Command, command, key_words

MARGIN = 1
NOT_KEPT = "not kept yet: the disk is slow"


def percent(view: View) -> int:
    """Of the beads, rounded down: not 100 before the last one is laid."""
    return int(view.outlook.fraction * 100)


def header(view: View, width: int, glyphs: Glyphs) -> Line:
    """Which piece this is, and how one is warned: in fewer words where there is little room, but never in none."""
    title = (Span(" " * MARGIN), Span(view.title, "strong"))
    named = f" {glyphs.dot} {view.name}" if view.name.casefold() != view.title.casefold() else ""
    right: Line = ()
    ink = "strong" if view.showing.unkept else "dim"
    for words in (NOT_KEPT,) if view.showing.unkept else warned_by(view, glyphs):
        right = (Span(words + " " * MARGIN, ink),)
        for left in ((*title, Span(named, "dim")), title):
            if width_of(left) + width_of(right) + 2 <= width:
                return apart(left, right, width)
    return (*fit(title, max(4, width - width_of(right) - 2)), Span("  "), *right)


def warned_by(view: View, glyphs: Glyphs) -> tuple[str, ...]:
    """How early and by which means one is warned, in fewer and fewer words."""
    if view.showing.scope == "watching":
        return ("only watching another window", "only watching")
    if not view.warn:
        return ("no warnings",)
    early, means = f"{view.warn} ahead", view.showing.means
    if not means:
        return (f"warns {counted(view.warn, 'bead')} ahead", early)
    dot = f" {glyphs.dot} "
    return (f"{means}{dot}warns {early}", f"{means}{dot}{early}", means, means.split(" (")[0])


def side_words(view: View) -> str:
    """`side 2 of 4`; empty where there is but one."""
    outlook = view.outlook
    if outlook.side is None or outlook.sides < 2:
        return ""
    return f"side {outlook.side + 1} of {outlook.sides}"


def place(view: View, width: int) -> Line:
    """For a screen without a header: round, side and progress in one line."""
    sided = ", ".join(part for part in (view.outlook.title, side_words(view)) if part)
    where = next((text for text in (sided, view.outlook.title) if cell_len(text) <= width), view.outlook.title)
    if view.showing.unkept:
        return line(NOT_KEPT, "strong")
    return apart(line(where, "strong"), line(f"{percent(view)} %", "dim"), width)


def facts(view: View) -> list[Line]:
    """What stands beside the number, the weightiest first."""
    outlook = view.outlook
    label = "the piece is done" if outlook.done else "another round, or on?" if outlook.decision else outlook.big_label
    lines = [line(label, "label")]
    where = ", ".join(part for part in (outlook.title, side_words(view)) if part)
    lines.append(line(where))
    if outlook.cut:
        lines.append(line(outlook.cut, "strong"))
    if outlook.left_piece:
        if outlook.left_round and outlook.left_round != outlook.big:
            lines.append(line(f"{outlook.left_round:,} left in this {view.word}", "dim"))
        lines.append(line(f"{outlook.left_piece:,} left in the piece", "dim"))
    return lines


def number_text(view: View) -> str:
    outlook = view.outlook
    if outlook.done:
        return DONE
    if outlook.decision is not None:
        return ASK
    return MOVE if outlook.big is None else str(outlook.big)


def number(view: View, width: int, glyphs: Glyphs, rows: int, *, with_place: bool = True) -> list[Line]:
    """The big number with its facts beside it."""
    low = rows == LOW
    digits = big(number_text(view), glyphs, rows)
    wanted = big("00", glyphs, rows)[0]
    column = max(len(digits[0]), len(wanted))
    if len(digits[0]) + 14 > width:  # a number as wide as the screen is better read as text
        digits = ("", number_text(view), *[""] * (rows - 2))
        column = len(digits[1])
    beside = width - column - (1 if low else 2 * MARGIN + 2)
    told = facts(view)
    if not with_place:
        told = told[:1] + told[2:]
    lines: list[Line] = []
    for fact in told:
        ink = fact[0].ink
        made = [line(text, ink) for text in wrap(fact[0].text, beside)]
        if len(lines) + len(made) <= rows:
            lines += made
    lines += [BLANK] * (rows - len(lines))
    margin = "" if low else " " * MARGIN
    gap = " " * (1 if low else MARGIN + 2)
    return [
        (Span(margin + text.rjust(column) + gap, "number"), *fact) for text, fact in zip(digits, lines, strict=True)
    ]


def alarm(view: View, width: int, glyphs: Glyphs, rows: int) -> list[Line]:
    """The warning, across the whole screen; empty where there is none."""
    if not view.showing.listening:
        text = "Not listening: this window is not in front. Keys go elsewhere until it is."
        return _banner(text, "lost", glyphs.here, width, rows, solid=True)
    if view.warning is None or view.outlook.decision is not None:
        return []
    here = view.warning.level == "now"
    sign = glyphs.here * 2 if here else glyphs.soon
    text = view.warning.text
    return _banner(capital(text), "here" if here else "soon", sign, width, rows, solid=here)


def _banner(text: str, ink: str, sign: str, width: int, rows: int, *, solid: bool) -> list[Line]:
    """Lines of one ink from edge to edge, its sign before and behind; a solid one fills all its rows."""
    lead = f" {sign} " if rows > 2 else f"{sign} "
    size = width - cell_len(lead) - (cell_len(sign) + 2 if rows > 2 else 0)
    filled: list[Line] = []
    for nth, words in enumerate(wrap(text, size)):
        start = " " * cell_len(lead) if nth else lead
        tail = f" {sign} " if rows > 2 and not nth else ""
        body = fit((Span(start + words, ink),), width - cell_len(tail), ink)
        filled.append((*body, Span(tail, ink)) if tail else body)
    spare = rows - len(filled)
    if spare > 0 and solid:
        blank: Line = (Span(" " * width, ink),)
        filled = [blank] * (spare // 2) + filled + [blank] * (spare - spare // 2)
    elif spare > 1:
        filled = [BLANK] * (spare // 2) + filled
    return filled


def now(view: View, width: int, *, brief: bool = False, lead: str = "") -> list[Line]:
    """The sentence for now."""
    text = view.brief[0] if brief else view.outlook.now
    return wrapped(text, width, "strong", lead=line(lead, "dim"))


def coming_up(view: View, width: int, *, lead: tuple[str, str] = ("next ", "then "), most: int = 0) -> list[Line]:
    """The next special action with its distance, and the one after."""
    outlook = view.outlook
    lines: list[Line] = []
    for label, special in zip(lead, (outlook.next, outlook.after), strict=True):
        if special is None:
            continue
        more = wrapped(special_words(special), width, lead=line(label, "dim"))
        if most and len(lines) + len(more) > most:
            break
        lines += more
    if outlook.next is None and not outlook.done:
        lines = [line("Nothing special before the end.", "dim")]
    return [some for some in lines if width_of(some) <= width]


def special_words(special: Special) -> str:
    away = distance(special) if special.away else "right after this"
    return f"{special.words}, {away}"


def comes_out(view: View, width: int, *, brief: bool = False, lead: str = "") -> list[Line]:
    """Which bead the thread comes out of."""
    text = view.brief[1] if brief else view.outlook.comes_out
    return wrapped(sentence(text), width, "dim", lead=line(lead))


def tray(view: View, width: int, glyphs: Glyphs, *, lead: str = "") -> Line:
    """How many beads of each code this round still takes; with names where they fit."""
    for named in (True, False):
        spans: list[Span] = [Span(lead, "dim")]
        for nth, (code, count) in enumerate(view.outlook.codes_left):
            name = view.name_of(code)
            text = f"{glyphs.times}{count:,}" + (f" {name}" if named and name else "")
            spans += [Span("  " if nth else ""), bead(code), Span(text)]
        if width_of(spans) <= width:
            return tuple(spans) if view.outlook.codes_left else BLANK
    return _cut_tray(tuple(spans), width)


def _cut_tray(spans: Line, width: int) -> Line:
    """As many beads as fit whole, and a word that there are more."""
    more = Span("  and more", "dim")
    room = width - width_of([more])
    kept: list[Span] = [spans[0]]
    for nth in range(1, len(spans), 3):
        piece = spans[nth : nth + 3]
        if width_of(kept) + width_of(piece) > room:
            break
        kept += piece
    return (*kept, more)


def remarks(view: View, width: int, rows: int, *, lead: str = "") -> list[Line]:
    """What the plan (first) and the technique remark here: each whole, or a word that there is more to read."""
    if not view.showing.remarks:
        return []
    every = sorted(view.outlook.remarks, key=lambda remark: not remark.own)
    drawn = [wrapped(remark.text, width, "remark", lead=line(lead, "dim")) for remark in every]
    if sum(map(len, drawn)) <= rows:
        return [some for lines in drawn for some in lines]
    kept: list[Line] = []
    for nth, lines in enumerate(drawn):
        if len(kept) + len(lines) > rows - 1:
            more = "a remark for this place" if not nth else counted(len(drawn) - nth, "more remark")
            return [*kept, line(f"{key_words(command('say', view.showing.commands).keys[0])} shows {more}", "remark")]
        kept += lines
    return kept


def progress(view: View, width: int, glyphs: Glyphs) -> Line:
    """How far the piece is."""
    outlook = view.outlook
    text = f" {percent(view)} %  {outlook.beads_done:,} of {counted(outlook.beads, 'bead')}"
    size = max(0, width - len(text))
    done = int(size * outlook.fraction)
    return Span(glyphs.full * done, "bar"), Span(glyphs.empty * (size - done), "rest"), Span(text, "dim")


def typed(view: View, glyphs: Glyphs) -> Line:
    """The count that waits for its key."""
    return (
        Span(f"{view.showing.count} {glyphs.times} ", "key"),
        Span("which key? Escape drops the number", "message"),
    )


def question(view: View, width: int, rows: int = 0) -> list[Line]:
    """Another round, or on: with what each means, in fewer words where so many rows (0: any) hold no more."""
    decision = view.outlook.decision
    if decision is None or view.another is None or view.on is None:
        return []
    answers = (("another", view.another), ("on", view.on))
    title = view.outlook.title
    bounds = f"{decision.least} or more" if decision.most is None else f"{decision.least} to {decision.most}"
    done = "1 is done" if decision.done == 1 else f"{decision.done} are done"
    told = f"{capital(title)} {are(title)} done. {bounds} rounds are planned here, usually {decision.usual}; {done}."
    brief = f"{bounds} rounds are planned, usually {decision.usual}; {done}."
    lines: list[Line] = []
    for head, briefly in ((told, False), (told, True), (brief, True), ("", True)):
        lines = wrapped(head, width, "strong") if head else []
        for name, answer in answers:
            asked = command(name, view.showing.commands)
            lead: Line = () if view.showing.scope == "watching" else (Span(f"{key_words(asked.keys[0])} ", "key"),)
            lines += wrapped(f"{asked.title}: {meaning(answer, briefly=briefly)}.", width, lead=lead)
        if not rows or len(lines) <= rows:
            break
    return lines


def meaning(answer: Answer, *, briefly: bool = False) -> str:
    """`a round of 96 beads, 8 stitches on each of 4 sides`; briefly, `96 beads`."""
    if answer.fault:
        return "not possible here" if briefly else f"not possible here, {answer.fault}"
    if not answer.beads:
        return "no bead follows"
    beads = counted(answer.beads, "bead")
    if briefly:
        return beads
    sides = answer.sides
    if len(sides) < 2:
        return f"a round of {beads}"
    if len(set(sides)) == 1:
        return f"a round of {beads}, {counted(sides[0], 'stitch', 'stitches')} on each of {len(sides)} sides"
    if len(sides) > 8:
        return f"a round of {beads}, {len(sides)} sides of {min(sides)} to {max(sides)} stitches"
    return f"a round of {beads}, sides of {', '.join(map(str, sides))}"


def ending(view: View) -> list[str]:
    """What is said when the last bead is laid."""
    watching = view.showing.scope == "watching"
    name, where = ("finish", ", on the first screen") if watching else ("all_again", "")
    key = key_words(command(name, view.showing.commands).keys[0])
    return [
        f"Well done: {view.title}, {counted(view.outlook.beads, 'bead')}, every one in its place.",
        "Weave each end in through several beads, turning twice, and cut it close; a cut end is sharp.",
        "Count your needles in, and sweep up what glass there is before anyone walks barefoot.",
        f"How did it come out? Its size and the thread it took make your own gauge: press {key}{where}.",
    ]


def footer(items: Sequence[tuple[str, str]], width: int) -> Line:
    """Keys and their words: as many as fit, the first ones first."""
    spans: list[Span] = []
    for key, word in items:
        more = [Span(("  " if spans else "") + key, "key"), Span(f" {word}", "dim")]
        if width_of(spans) + width_of(more) > width:
            break
        spans += more
    return tuple(spans)


def footer_items(some: Sequence[Command]) -> list[tuple[str, str]]:
    """Those commands that have a word in the footer; help is among the first, for it leads to all others."""
    shown = [item for item in some if item.footer and item.keys]
    helping = [item for item in shown if item.id == "help"]
    others = [item for item in shown if item.id != "help"]
    return [(key_words(item.keys[0]), item.footer) for item in (*others[:2], *helping, *others[2:])]


def keys_now(view: View, usual: Sequence[tuple[str, str]]) -> Sequence[tuple[str, str]]:
    """The keys that lead on from here, for the footer: those of a question, or of the end, come first."""
    if view.showing.scope == "watching":
        return usual
    names = ("another", "on") if view.outlook.decision is not None else ("quit",) if view.outlook.done else ()
    some = [command(name, view.showing.commands) for name in names]
    first = [(key_words(item.keys[0]), item.footer or item.title.casefold()) for item in some]
    if view.outlook.done:
        first.insert(0, (key_words(command("all_again", view.showing.commands).keys[0]), "how did it come out?"))
    leading = command("bead").footer, command("stitch").footer
    return [*first, *(pair for pair in usual if pair not in first and pair[1] not in leading)] if first else usual
