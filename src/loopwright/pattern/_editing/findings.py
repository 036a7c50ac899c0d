"""What a review finds, and how it is printed."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence

import attrs

__all__ = ["ERROR", "NOTE", "WARNING", "Finding", "Review", "by_size"]

ERROR, WARNING, NOTE = "error", "warning", "note"


def by_size(values: Sequence[float | str]) -> str:
    """Return numbers by size as a pattern writes them; one where all sizes have the same.

    Examples
    --------
    >>> by_size((48, 54, 60)), by_size((12, 12))
    ('48 (54, 60)', '12')
    """
    if len(set(values)) == 1:
        return str(values[0])
    return f"{values[0]} ({', '.join(map(str, values[1:]))})"


@attrs.frozen
class Finding:
    """Something that an editor would query.

    Parameters
    ----------
    severity : str
        ``"error"`` cannot be worked as written; ``"warning"`` can be misread or is left open;
        ``"note"`` is for the editor's judgement.
    kind : str
        What was checked: ``count``, ``multiple``, ``halves``, ``needles``, ``side`` …
    message : str
        What was found and, where it is known, what was expected.
    line, column : int
        Place in the text, from 1; 0 where the pattern was not read from text.
    sizes : tuple of str
        The sizes it concerns; empty where there is one, or where it concerns the text itself.
    """

    severity: str
    kind: str
    message: str
    line: int = 0
    column: int = 0
    sizes: tuple[str, ...] = ()

    def __str__(self) -> str:
        sizes = f" (size {', '.join(self.sizes)})" if self.sizes else ""
        return f"{self.line}:{self.column}: {self.severity}: {self.message}{sizes}"


@attrs.frozen
class Review:
    """All findings, in the order of the text.

    Examples
    --------
    >>> from loopwright.pattern import review
    >>> found = review("Cast on 10 sts. Join in the round. Rnd 1: *K2, p2; rep from * to end.")
    >>> found.ok, len(found.of("multiple"))
    (False, 1)
    >>> print(found.shown("cuff.txt"))
    cuff.txt:1:43: error: 10 sts are no multiple of 4: after 2 times 2 are left over
        Cast on 10 sts. Join in the round. Rnd 1: *K2, p2; rep from * to end.
                                                  ^
    cuff.txt: 1 error
    >>> found.without_notes() == found
    True
    >>> print(found.to_json("cuff.txt"))
    {
      "file": "cuff.txt",
      "ok": false,
      "findings": [
        {
          "severity": "error",
          "kind": "multiple",
          "message": "10 sts are no multiple of 4: after 2 times 2 are left over",
          "line": 1,
          "column": 43,
          "sizes": []
        }
      ]
    }
    """

    findings: tuple[Finding, ...]
    text: str = attrs.field(default="", repr=False)

    @property
    def ok(self) -> bool:
        """Whether there is nothing to mend: notes at most."""
        return all(finding.severity == NOTE for finding in self.findings)

    def of(self, *kinds: str) -> tuple[Finding, ...]:
        """Return the findings of some kinds."""
        return tuple(finding for finding in self.findings if finding.kind in kinds)

    def without_notes(self) -> Review:
        """Return the review without what only a person can judge."""
        kept = tuple(finding for finding in self.findings if finding.severity != NOTE)
        return Review(kept, self.text)

    def shown(self, name: str = "pattern") -> str:
        """Return the findings as a compiler prints them: place, message, the line and a caret.

        A note that comes again in other lines is printed once, with the numbers of those lines.
        """
        lines = self.text.split("\n")
        blocks = []
        again = _lines_of_notes(self.findings)
        for finding in self.findings:
            others = again.pop(_said(finding), []) if finding.severity == NOTE else [0]
            if not others:
                continue  # it was printed with the first
            also = [str(line) for line in others[1:] if line != others[0]]
            more = f"; also in line{'s' * (len(also) > 1)} {', '.join(also)}" * bool(also)
            block = [f"{name}:{finding}{more}"]
            if 0 < finding.line <= len(lines):
                start = max(0, finding.column - 61)
                block.append("    " + lines[finding.line - 1][start : start + 100].rstrip())
                block.append("    " + " " * (finding.column - 1 - start) + "^")
            blocks.append("\n".join(block))
        counted = _counted(self.findings)
        return "\n".join([*blocks, f"{name}: {counted}"])

    def to_json(self, name: str = "pattern") -> str:
        """Return the findings for machines: one object with `file`, `ok` and `findings`."""
        found = [attrs.asdict(finding) for finding in self.findings]
        return json.dumps({"file": name, "ok": self.ok, "findings": found}, indent=2)

    def __str__(self) -> str:
        return self.shown()


def _said(finding: Finding) -> tuple[str, str, tuple[str, ...]]:
    return finding.kind, finding.message.lower(), finding.sizes


def _lines_of_notes(
    findings: Iterable[Finding],
) -> dict[tuple[str, str, tuple[str, ...]], list[int]]:
    """Return in which lines each note stands."""
    found: dict[tuple[str, str, tuple[str, ...]], list[int]] = {}
    for one in findings:
        if one.severity == NOTE and one.line not in found.setdefault(_said(one), []):
            found[_said(one)].append(one.line)
    return found


def _counted(findings: Iterable[Finding]) -> str:
    severities = [finding.severity for finding in findings]
    parts = [
        f"{severities.count(name)} {name}{'' if severities.count(name) == 1 else 's'}"
        for name in (ERROR, WARNING, NOTE)
        if name in severities
    ]
    return ", ".join(parts) or "nothing to mend"
