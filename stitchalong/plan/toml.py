"""TOML text to plain data; what trips people who do not write TOML every day is told plainly or simply accepted."""

from __future__ import annotations

import re
import tomllib
from typing import Any

from stitchalong.errors import Place, Problem, Problems
from stitchalong.plan.text import shown

MAX_KEY_PARTS = 32
MAX_KEYS = 200
"""of one table"""
MAX_LIST = 20_000
MAX_VALUES = 250_000
"""of one file"""

_WHERE = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_PIECE = re.compile(
    # nothing here is ever given back (`*+`), so that a long text takes no memory of its own
    r'(?P<string>"""(?:[^"\\]++|\\.|"(?!""))*+"{3,5}|\'\'\'(?:[^\']++|\'(?!\'\'))*+\'{3,5}'
    r'|"(?:[^"\\\n]++|\\.)*+"|\'[^\'\n]*+\')'
    r"|(?P<comment>#[^\n]*)|(?P<open>[\[{])|(?P<close>[\]}])|(?P<line>\n)|(?P<part>[=,])"
    r"|(?P<blank>[ \t\r]+)|(?P<other>[^\"'#\[\]{}\n=, \t\r]+|.)",
    re.DOTALL,
)
_STRINGS = re.compile(r'"(?:[^"\\]++|\\.)*+"' r"|'[^']*+'")
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f]")
_CURLY = re.compile("[“”„‟‘’‚«»]")


def load_toml(text: str, name: str, problems: Problems) -> dict[str, Any]:
    """The data of a TOML text; empty, with the fault in `problems`, where it is none or is too large."""
    text = text.replace("\r\n", "\n")
    data: dict[str, Any] = {}
    try:
        data = _loaded(text)
        _refuse_too_large(data)
    except _Fault as fault:
        line = None if fault.at is None else text.count("\n", 0, fault.at) + 1
        problems.add(Problem(fault.what, Place(name or None, line), fault.fix))
        return {}
    return data


class _Fault(Exception):
    def __init__(self, at: int | None, what: str, fix: str | None = None) -> None:
        """`at`: where in the text, in characters, or None"""
        self.at, self.what, self.fix = at, what, fix


def _loaded(text: str) -> dict[str, Any]:
    control = _CONTROL.search(text)
    if control:
        raise _Fault(control.start(), f"a control character (U+{ord(control[0]):04X}) in the file", "delete it")
    mended = _mended(text)
    try:
        return tomllib.loads(mended)
    except tomllib.TOMLDecodeError as error:
        raise _told(str(error), text, mended) from None
    except RecursionError:
        raise _Fault(None, "lists or tables are nested too deeply") from None
    except ValueError:
        # a whole number of thousands of digits
        raise _Fault(None, "a number has too many digits") from None


def _mended(text: str) -> str:
    """The text with each inline table brought onto one line, sign for sign, so that every place stays where it was.

    Raises _Fault for what is easier to see here than in the TOML reader's refusals, and for keys of very many
    parts, over which that reader would take for ever.
    """
    out: list[str] = []
    opened: list[tuple[str, int]] = []
    curly: int | None = None
    comma: int | None = None
    dots = 0
    before = ""
    for match in _PIECE.finditer(text):
        kind, piece, at = match.lastgroup, match.group(), match.start()
        inside = bool(opened) and opened[-1][0] == "{"
        if kind == "comment" and before == "=":
            raise _Fault(at, "a colour without quotes", 'put it in quotes: colour = "#3a3d40"')
        if kind == "other":
            dots += piece.count(".")
            if dots > MAX_KEY_PARTS:
                raise _Fault(at, f"a key of more than {MAX_KEY_PARTS} parts")
            found = _CURLY.search(piece)
            if found and curly is None:
                curly = at + found.start()
        elif kind not in ("string", "blank"):
            dots = 0
        if kind == "open":
            opened.append((piece, at))
        elif kind == "close" and opened:
            if piece == "}" and inside and comma is not None:
                out[comma] = " "
            opened.pop()
        elif inside and kind in ("line", "comment"):
            piece = " " * len(piece)
        if kind not in ("blank", "line", "comment"):
            before = piece
            comma = len(out) if piece == "," else None
        out.append(piece)
    if curly is not None:
        raise _Fault(curly, "curly quotes where straight ones are needed", 'write "…"')
    if opened:
        sign, at = opened[0]
        raise _Fault(at, f"`{sign}` is opened here and never closed")
    return "".join(out)


def _refuse_too_large(data: dict[str, Any]) -> None:
    """Before anything looks at the data closely."""
    waiting: list[Any] = [data]
    seen = 0
    while waiting:
        value = waiting.pop()
        if isinstance(value, dict):
            if len(value) > MAX_KEYS:
                raise _Fault(None, f"a table has more than {MAX_KEYS} keys")
            waiting.extend(value.values())
        elif isinstance(value, list):
            if len(value) > MAX_LIST:
                raise _Fault(None, f"a list has more than {MAX_LIST:,} entries")
            waiting.extend(value)
        seen += 1
        if seen > MAX_VALUES:
            raise _Fault(None, f"this file holds more than {MAX_VALUES:,} values")


# ---- what the TOML reader refuses ---------------------------------------------------------------

# What a line looks like, its texts emptied -> what is wrong with it, and the fix.
_TRIPS = tuple(
    (re.compile(pattern), what, fix)
    for pattern, what, fix in (
        (r"=\s*-?\d+,\d", "a number with a decimal comma", "write a point: 1.3"),
        (r"^\s*[\w-]+\s*:", "`:` between a key and its value", "write `=`"),
        (r"=\s*\"\"\s*\S", "something stands after the text on this line", "one key and its value a line"),
        (r"=\s*[^\W\d]", "words without quotes", 'put them in quotes: name = "sea glass"'),
        (r"=\s*[*(]", "notation without quotes", 'put it in quotes: spacers = "*6S, M* 4 times"'),
        (r"=\s*$", "a key without a value", 'such as title = "Gorse ring"'),
        (r"^\s*[^=\[\]{}\"']+$", "this line is no table, no key with a value and no comment", "`#` begins a comment"),
        (r"(?<!\")[\"'](?!\")", "a text that is opened and never closed", "close it with the same quote"),
    )
)

# What the reader says -> the same in other words.
_SAID = (
    (r"Unescaped '\\'", "a lone backslash in a text", r"write it twice: \\"),
    (r"Unterminated string", "a text that is opened and never closed", None),
)


def _told(said: str, text: str, mended: str) -> _Fault:
    """A refusal of the TOML reader in a person's words."""
    match = _WHERE.search(said)
    at = len(text.rstrip())
    if match and match[1]:
        at = 0
        for _ in range(int(match[1]) - 1):
            at = mended.index("\n", at) + 1
        # the mended text has its signs where the file has them, but fewer lines
        at = min(at + int(match[2]) - 1, len(text))
    said = _WHERE.sub("", said)
    start, end = text.rfind("\n", 0, at) + 1, text.find("\n", at)
    line = text[start : end if end >= 0 else len(text)]
    if any(word in said for word in ("overwrite", "twice", "Duplicate", "mutate")):
        return _twice(text[:start], line.strip(), at)
    for pattern, what, fix in _SAID:
        if re.search(pattern, said):
            return _Fault(at, what, fix)
    bare = _STRINGS.sub('""', line).partition("#")[0]
    for trip, what, fix in _TRIPS:
        if trip.search(bare):
            return _Fault(at, what, fix)
    return _Fault(at, f"this is not TOML: {shown(said, 100)}")


def _twice(above: str, line: str, at: int) -> _Fault:
    """A key or table given a second time: a bead, most often."""
    tables = [other.strip() for other in above.split("\n") if other.lstrip().startswith("[")]
    bead = re.match(r"\[\s*beads\s*\.\s*[\"']?(\w+)", line)
    if not bead and tables and re.match(r"\[\s*beads\s*\]", tables[-1]):
        bead = re.match(r"[\"']?([A-Z])[\"']?\s*=", line)
    if bead:
        return _Fault(at, f"bead {shown(bead[1])} is defined twice", "keep one, or give it another code")
    if re.match(r"\[\s*(work|remarks)\s*\]", line):
        return _Fault(at, f"`{shown(line)}` is given twice", f"write [{shown(line)}] with two brackets")
    key = re.match(r"([^=]+?)\s*=", line)
    return _Fault(at, f"`{shown(key[1] if key else line)}` is given twice", "keep one")
