"""Throw bytes at the reader, the review and the knitting of patterns: see the README here.

Anything but one of the package's own errors ends the run and leaves the input in a file.
"""

from __future__ import annotations

import sys

import atheris

with atheris.instrument_imports(include=["loopwright", "lark"]):
    from loopwright.errors import LoopwrightError, PatternSyntaxError
    from loopwright.fabric.stitches import STITCHES
    from loopwright.pattern import knit, of_size, read, review, write
    from loopwright.pattern._words import ALIASES, phrases_by_head

WORDS = sorted(
    {
        *phrases_by_head(),
        *ALIASES,
        *(row.key for row in STITCHES),
        *"*[](),;.:-",
        "\n",
        "\n## ",
        "2",
        "16",
    }
    | {"Rnd 1: ", "Row 2 (WS): ", "k3", "p2", "(3, 4)", "(60 sts)", "to last 3 sts", "rep from *"}
    | {"Cast on 16 sts.\n", "Join in the round.\n", "rep rnds 1 and 2", "Sizes: S (M)\n"}
)


def text_of(data: bytes) -> str:
    """Return a text: the bytes as they are, or each byte a word of the trade."""
    if data[:1] < b"\x60":
        return data[1:].decode("utf-8", errors="replace")
    return " ".join(WORDS[byte % len(WORDS)] for byte in data[1:])


class _Fed:
    """How many bytes were thrown; a line a million."""

    total = 0


def one(data: bytes) -> None:
    before, _Fed.total = _Fed.total, _Fed.total + len(data)
    if before // 1_000_000 != _Fed.total // 1_000_000:
        print(f"{_Fed.total // 1_000_000} MB thrown", file=sys.stderr)
    text = text_of(data)
    try:
        pattern = read(text)
    except PatternSyntaxError as error:
        lines = text.split("\n")
        assert 1 <= error.line <= len(lines), (error.line, text)
        assert 1 <= error.column <= len(lines[error.line - 1]) + 1, (error.column, text)
        return
    again = write(pattern)
    assert read(again) == pattern, text
    assert write(read(again)) == again, text
    try:
        review(text)
        knit(of_size(pattern, 0))
    except LoopwrightError as error:
        assert str(error)


if __name__ == "__main__":
    atheris.Setup(sys.argv, one)
    atheris.Fuzz()
