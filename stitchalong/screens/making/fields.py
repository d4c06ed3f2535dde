"""The form of a new plan, as a value: its rows, and what a key makes of it. Knows no screen."""

from __future__ import annotations

from dataclasses import dataclass, replace

from stitchalong.course.words import sentence
from stitchalong.design.draft import Draft
from stitchalong.design.file import usual_name
from stitchalong.design.reading import read_choice, read_one_colour
from stitchalong.errors import StitchalongError, UsageError

MOST_TYPED = 200
"""characters of an answer"""

FILE, WRITE = "file", "write"
"""the rows behind the questions"""


@dataclass(frozen=True, slots=True)
class Row:
    """One row: a question, or one of the colours."""

    key: str
    nth: int = -1
    """of a colour its place; behind the last: one more"""


@dataclass(frozen=True, slots=True)
class Making:
    """What is filled in, and which row is marked."""

    draft: Draft
    at: Row = Row("kind")
    file: str = ""
    """as typed; empty: made of the title"""
    typing: bool = False
    """a key goes on with the text; else it begins anew"""
    held: str | None = None
    """what is typed for the marked colour; a colour comes or goes by it when the row is left"""

    @property
    def rows(self) -> tuple[Row, ...]:
        out: list[Row] = []
        for key in self.draft.keys:
            if key == "colours":
                out += [Row(key, nth) for nth in range(len(self.draft.colour_texts) + 1)]
            else:
                out.append(Row(key))
        return (*out, Row(FILE), Row(WRITE))

    @property
    def place(self) -> int:
        """Of the marked row among the rows."""
        rows = self.rows
        return rows.index(self.at) if self.at in rows else 0

    @property
    def file_name(self) -> str:
        try:
            return self.file or usual_name(self.draft.title)
        except UsageError:
            return usual_name("")

    def text(self, row: Row) -> str:
        """What stands in a row, as it can be typed."""
        if row.key == WRITE:
            return ""
        if row.key == FILE:
            return self.file_name
        if row.key == "colours":
            texts = self.draft.colour_texts
            if row == self.at and self.held is not None:
                return self.held
            return texts[row.nth] if row.nth < len(texts) else ""
        try:
            return self.draft.text(row.key)
        except UsageError:
            return self.draft.answers.get(row.key, "")

    def shown(self, row: Row) -> str:
        """What stands in a row, in words: of choices the one that is chosen."""
        text = self.text(row)
        try:
            choices = self.draft.question(row.key).choices if row.key in self.draft.keys else ()
            return choices[read_choice(text, len(choices))] if choices else text
        except UsageError:
            return text

    def name(self, row: Row) -> str:
        """What a row is called."""
        if row.key == FILE:
            return "file"
        if row.key == WRITE:
            return "write the plan"
        if row.key == "colours":
            return self._colour_name(row.nth)
        try:
            return self.draft.question(row.key).name
        except UsageError:
            return {"order": "by round", "which": "count"}.get(row.key, row.key)

    def _colour_name(self, nth: int) -> str:
        texts = self.draft.colour_texts
        if nth >= len(texts):
            return "one more"
        marks = self.draft.kind.finned and nth == len(texts) - 1
        return f"{chr(ord('A') + nth)} {'the ribs' if marks else 'colour'}"

    def help(self, row: Row) -> str:
        """What is worth knowing about a row; of one with a fault the fault, its own or that of a row it leans on."""
        fault = self.fault(row)
        if fault is not None:
            return in_words(fault)
        if row == self.at and self.held is not None and row.key == "colours":
            if not self.held.strip():
                return "Without a colour this row goes when it is left. Type another colour to keep it."
            if row.nth >= len(self.draft.colour_texts):
                return "Enter or Down takes this colour. Backspace takes a letter back."
        if row.key == FILE:
            return "The file the plan goes into. A file that is there is not written over without asking."
        if row.key == WRITE:
            return "Enter writes the plan; then it can be begun at once. It stays a plain file, to be edited."
        if row.key == "colours" and row.nth >= len(self.draft.colour_texts):
            return "One colour more: Right takes one, or type its name and Enter. Delete takes a colour away."
        try:
            question = self.draft.question(row.key)
            if not question.choices:
                return question.help
            chosen = read_choice(self.draft.text(row.key), len(question.choices))
        except UsageError as error:
            return f"Another row comes first. {in_words(error)}"
        return f"{chosen + 1} of {len(question.choices)}: {question.choices[chosen]}. {question.help}"

    def fault(self, row: Row) -> StitchalongError | None:
        """What is wrong in a row; of several colours only in the one that is at fault."""
        if row == self.at and self.held is not None and (not self.held.strip() or self._is_more(row)):
            return None
        fault = self.draft.faults().get(row.key)
        if fault is None or row.key != "colours":
            return fault
        texts = self.draft.colour_texts
        for nth, text in enumerate(texts):
            try:
                read_one_colour(text)
            except UsageError as error:
                return error if nth == row.nth else None
        return fault if row.nth == len(texts) else None

    def _is_more(self, row: Row) -> bool:
        """Whether it is the row of one more colour."""
        return row.key == "colours" and row.nth >= len(self.draft.colour_texts)

    # ---- keys -----------------------------------------------------------------------------------

    def press(self, key: str, character: str) -> Making:
        """The form after a key; what means nothing here changes nothing."""
        match key:
            case "up" | "shift+tab":
                return self._left(-1)
            case "down" | "tab" | "enter":
                return self._left(1)
            case "home" | "end":
                left = self._left(0)
                return replace(left, at=left.rows[0 if key == "home" else -1])
            case "left" | "right":
                return self._stepped(1 if key == "right" else -1)
            case "backspace":
                return self._typed(self.text(self.at)[:-1])
            case "delete":
                return self._deleted()
        if len(character) == 1 and character.isprintable() and self.at.key != WRITE:
            before = self.text(self.at) if self.typing else ""
            return self._typed((before + character)[:MOST_TYPED])
        return self

    def _left(self, by: int) -> Making:
        """So many rows on. What was typed for one more colour is taken; a colour whose text is empty goes."""
        draft, row = self.draft, self.at
        if self.held is not None and row.key == "colours":
            more = self._is_more(row)
            if bool(self.held.strip()) == more:
                draft = draft.with_colour(row.nth, self.held.strip())
                row = Row("colours", row.nth + more)
                by -= 1 if by > 0 else 0
        left = replace(self, draft=draft, at=row, typing=False, held=None)
        rows, place = left.rows, left.place
        return replace(left, at=rows[(place + by) % len(rows)])

    def _deleted(self) -> Making:
        if self.at.key != "colours":
            return replace(self._typed(""), typing=False)
        made = replace(self, typing=False, held=None)
        return made if self._is_more(self.at) else replace(made, draft=self.draft.with_colour(self.at.nth, ""))._found()

    def _found(self) -> Making:
        """With a marked row that there is."""
        return self if self.at in self.rows else replace(self, at=Row("colours", 0))

    def _stepped(self, by: int) -> Making:
        row = self.at
        if row.key == "colours":
            before = self.draft.colour_texts
            draft = self.draft.colour_stepped(row.nth, by)
            if self._is_more(row):
                row = Row("colours", len(before) - (draft.kind.finned and len(before) > 1))
            return replace(self, draft=draft, at=row, typing=False, held=None)
        if row.key in (FILE, WRITE):
            return self
        return replace(self, draft=self.draft.stepped(row.key, by), typing=False)

    def _typed(self, text: str) -> Making:
        """With this text in the marked row. Of choices only a number that there is."""
        row = self.at
        if row.key == WRITE:
            return self
        if row.key == FILE:
            return replace(self, file=text, typing=True)
        if row.key == "colours":
            text = text.replace(",", "")
            keep = not text.strip() or self._is_more(row)
            draft = self.draft if keep else self.draft.with_colour(row.nth, text)
            return replace(self, draft=draft, typing=True, held=text)
        if self._choices(row):
            try:
                read_choice(text[-1:], self._choices(row))
            except UsageError:
                return self
            return replace(self, draft=self.draft.answered(row.key, text[-1:]), typing=False)
        return replace(self, draft=self.draft.answered(row.key, text), typing=True)

    def _choices(self, row: Row) -> int:
        try:
            return len(self.draft.question(row.key).choices)
        except UsageError:
            return 0

    def to_fault(self) -> Making | None:
        """With the first row marked that has a fault; None where there is none."""
        for row in self.rows:
            if row.key in self.draft.keys and self.fault(row) is not None:
                return replace(self, at=row, typing=False, held=None)
        return None


def in_words(error: StitchalongError) -> str:
    """What is wrong, and the likely fix; a place in a file that nobody has seen says nothing."""
    problem = error.problems[0]
    return sentence(f"{problem.what}{f' ({problem.fix})' if problem.fix else ''}")
