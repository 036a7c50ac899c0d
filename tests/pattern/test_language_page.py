"""The reference of the language says what is read: its tables are those of the reader.

Run this file to write the table of wordings into the page anew.
"""

from __future__ import annotations

import re
from pathlib import Path

from loopwright.pattern import WORDINGS, in_words, read
from loopwright.pattern._rewording.wordings import USUAL
from together import together

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "pattern-language.md"
BEGIN, END = "<!-- wordings -->", "<!-- end of wordings -->"
TUBE = "Cast on 24 sts and join in the round.\n"


def _cell(text: str) -> str:
    return f"`{' '.join(text.split())}`" if text.strip() else "nothing"


def table() -> str:
    """Return the table of wordings as the page holds it."""
    rows = [f"| {_cell(one.example)} | {_cell(_ours(one.example))} |" for one in WORDINGS]
    return "\n".join(["| said | read as |", "| --- | --- |", *rows])


def _ours(example: str) -> str:
    return USUAL.of(example).text.strip(" ,")


def _page() -> str:
    return PAGE.read_text(encoding="utf-8")


def _by_meaning() -> list[tuple[str, str]]:
    rows = re.findall(r"^\| `(.+?)` \| `(.+?)` \|$", _page().split("## Read by meaning")[1], re.M)
    return [row for row in rows if row[1][0].isupper()][: _rows()]


def _rows() -> int:
    part = _page().split("## Read by meaning")[1].split("##")[0]
    return part.count("\n| `")


def test_the_table_of_wordings_is_the_one_that_is_read() -> None:
    assert _page().split(BEGIN)[1].split(END)[0].strip() == table()


@together(("said", "ours"), _by_meaning())
def test_what_is_read_by_meaning_is_written_so(said: str, ours: str) -> None:
    steps = read(TUBE + said.replace(" / ", "\n")).steps
    assert in_words(steps[-1]) == ours


def test_there_are_rows_to_be_tested() -> None:
    assert len(_by_meaning()) > 10


if __name__ == "__main__":
    page = _page()
    before, rest = page.split(BEGIN)
    PAGE.write_text(before + BEGIN + "\n" + table() + "\n" + END + rest.split(END)[1], "utf-8")
