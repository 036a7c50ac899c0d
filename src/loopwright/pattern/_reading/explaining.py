"""How a text was understood: each line, as what, in our words, and the stitches after it."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence

import attrs

from loopwright.border import guard
from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.pattern import steps as st
from loopwright.pattern._reading.reader import read_closely
from loopwright.pattern._reading.reading import ReadLine
from loopwright.pattern._rewording.wordings import WORDINGS, OwnWording
from loopwright.pattern._write import in_words_alone

__all__ = ["Explanation", "explain"]


@attrs.frozen
class Explanation:
    """How each line of a text was understood.

    Parameters
    ----------
    lines : tuple of ReadLine
        In the order of the text; a wrapped line is one.
    sizes : tuple of str
        Names of the sizes, in the order of the counts.

    Examples
    --------
    >>> from loopwright.pattern import explain
    >>> told = explain('''Cast on 16 sts and join.
    ... Work 5 rnds in k2, p2 rib.''')
    >>> [line.kind for line in told.lines], told.lines[1].after
    (['instruction', 'instruction'], (16,))
    >>> import json
    >>> json.loads(told.to_json())["lines"][1]["stitches"]
    [16]
    """

    lines: tuple[ReadLine, ...]
    sizes: tuple[str, ...] = ()

    def __str__(self) -> str:
        return self.shown()

    def shown(self, name: str = "pattern") -> str:
        """Return the explanation for people: each line, what it was read as, the stitches then."""
        return "\n".join(row for line in self.lines for row in self._rows(line, name))

    def _rows(self, line: ReadLine, name: str) -> Iterator[str]:
        kind = "not understood" if line.kind == "lost" else line.kind
        yield f"{name}:{line.line}: {kind}: {line.text}"
        for said in _said(line):
            yield f"    {said}"
        if line.after and line.kind in ("instruction", "count", "lost"):
            counts = " / ".join(map(str, line.after))
            yield f"    -> {counts} {'st' if counts == '1' else 'sts'}"

    def to_json(self, name: str = "pattern") -> str:
        """Return the explanation for machines: one object with `file`, `sizes` and `lines`."""
        lines = [
            {
                "line": line.line, "last_line": line.last_line, "text": line.text,
                "kind": line.kind, "read_as": list(_said(line)), "stitches": list(line.after),
            }
            for line in self.lines
        ]  # fmt: skip
        return json.dumps({"file": name, "sizes": list(self.sizes), "lines": lines}, indent=2)


def _said(line: ReadLine) -> Iterator[str]:
    """Yield the steps of a line in our words; what was kept as text says itself."""
    for step in line.steps:
        if not isinstance(step, st.Section | st.Note):
            yield in_words_alone(step)  # the line has the number


def explain(
    text: str, *, stitches: StitchTable = STITCHES, wordings: Sequence[OwnWording] = WORDINGS
) -> Explanation:
    """Return how each line of a text is understood.

    Parameters
    ----------
    text : str
        A pattern, in anybody's words.
    stitches : StitchTable
        With stitches of your own, where the text uses any.
    wordings : sequence of OwnWording
        With ways of saying things of your own.

    Raises
    ------
    PatternSyntaxError
        The text is too long.

    Examples
    --------
    >>> print(explain('''Cast on 16 sts and join in the round.
    ... Knit straight for 3 rounds.''').shown("cowl.txt"))
    cowl.txt:1: instruction: Cast on 16 sts and join in the round.
        Cast on 16 sts, long-tail.
        Join to work in the round.
        -> 16 sts
    cowl.txt:2: instruction: Knit straight for 3 rounds.
        Rnds 1-3: Knit.
        -> 16 sts
    """
    reading = read_closely(text, stitches=stitches, wordings=wordings, go_on=True, explain=True)
    return Explanation(reading.lines, reading.pattern.sizes)


guard(globals())
