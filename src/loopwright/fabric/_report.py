"""What checks find, what they allow, and the report that gathers it."""

from __future__ import annotations

from html import escape

import attrs

from loopwright.border import guard
from loopwright.errors import UnsoundFabricError
from loopwright.fabric.fabric import Fabric

__all__ = ["Flaw", "Limits", "Report"]


@attrs.frozen
class Flaw:
    """Something that a check found.

    Parameters
    ----------
    kind : str
        Name of the check: ``"secured"``, ``"surface"`` ...
    loops : tuple of int
        The loops concerned.
    place : str
        Where they are, in words.
    problem, advice : str
        What was found and expected; what to do.
    is_mistake : bool
        False for a blemish.

    Examples
    --------
    >>> from loopwright.fabric import check
    >>> from loopwright.making import Work, cast_on
    >>> work = Work()
    >>> cast_on(work, 12)
    >>> found = check(work.fabric(), openings=2).findings[0]
    >>> found.kind, found.is_mistake
    ('surface', True)
    >>> print(found.problem, "-", found.advice)
    found 1 opening (of 22 edges), expected 2 - leave open what should be
    """

    kind: str
    loops: tuple[int, ...]
    place: str
    problem: str
    advice: str
    is_mistake: bool = True

    def __str__(self) -> str:
        return f"{self.kind}: {self.problem} ({self.place}); {self.advice}"


@attrs.frozen(kw_only=True)
class Limits:
    """What the checks allow.

    Parameters
    ----------
    openings : int, optional
        How many are expected; a finished sock has 1. None leaves the number open.
    gap_edges : int, edges
        Cells up to this size are no gaps.
    float_stitches : int, stitches
        Longest float that no toe catches in (common practice: five stitches or 2.5 cm).
    stitch_mm, course_mm : float, optional
        Size of a stitch; with both, gaps and floats are given in mm too.
    finished : bool, optional
        Whether nothing may be left on needles, holders or waste yarn. By default, where nothing is
        live, or where every working yarn is cut and its tails are woven in. A yarn that is only cut
        may leave loops to another: those are told as a blemish.

    Examples
    --------
    >>> from loopwright.making import Work, bind_off, cast_on
    >>> work = Work()
    >>> cast_on(work, 12)
    >>> Limits().is_finished(work.fabric())  # stitches are on the needles
    False
    >>> work.turn()
    >>> bind_off(work)
    >>> Limits().is_finished(work.fabric())
    True
    """

    openings: int | None = None
    gap_edges: int = 6
    float_stitches: int = 5
    stitch_mm: float | None = None
    course_mm: float | None = None
    finished: bool | None = None

    def is_finished(self, fabric: Fabric) -> bool:
        """Return whether `fabric` is to be judged as a finished piece."""
        if self.finished is not None:
            return self.finished
        working = [strand for strand in fabric.strands if strand.role != "waste"]
        woven = all(strand.cut and all(strand.woven) for strand in working)
        return not len(fabric.live) or (bool(working) and woven)


@attrs.frozen
class Report:
    """What all checks found.

    Examples
    --------
    >>> from loopwright.fabric import check
    >>> from loopwright.making import Work, cast_on
    >>> work = Work()
    >>> cast_on(work, 12)
    >>> work.join_round()
    >>> work.plain_rounds(3)
    >>> report = check(work.fabric(), limits=Limits(openings=1, finished=True))
    >>> [found.kind for found in report.mistakes]
    ['secured', 'surface']
    >>> [found.kind for found in report.blemishes]
    ['tails']
    >>> report.require_ok()
    Traceback (most recent call last):
    ...
    loopwright.errors.UnsoundFabricError: the fabric has mistakes:
      secured: 12 loops are live in a finished piece (course 3, stitch 1 of 12: loop 36
        (k, main) and 11 more); bind off, graft or draw up whatever is live
      surface: found 2 openings (of 13, 13 edges), expected 1 (course 3, stitch 1 of 12: loop 36
        (k, main) and 12 more); close what should be closed
    """

    findings: tuple[Flaw, ...]
    summary: str

    @property
    def ok(self) -> bool:
        """No mistakes; blemishes are allowed."""
        return not self.mistakes

    @property
    def mistakes(self) -> tuple[Flaw, ...]:
        """Findings that mean the fabric can't stay as it is."""
        return tuple(finding for finding in self.findings if finding.is_mistake)

    @property
    def blemishes(self) -> tuple[Flaw, ...]:
        """Findings that are a matter of choice."""
        return tuple(finding for finding in self.findings if not finding.is_mistake)

    def require_ok(self) -> None:
        """Raise `UnsoundFabricError` with the mistakes, if there are any."""
        if self.mistakes:
            raise UnsoundFabricError(tuple(map(str, self.mistakes)))

    def __str__(self) -> str:
        lines = [self.summary]
        for word, findings in (("mistake", self.mistakes), ("blemish", self.blemishes)):
            lines += [f"  {word}: {finding}" for finding in findings]
        return "\n".join(lines if self.findings else [*lines, "  every check passed"])

    def _repr_html_(self) -> str:
        rows = "".join(
            f"<tr><td>{'mistake' if found.is_mistake else 'blemish'}</td>"
            + "".join(
                f"<td>{escape(text)}</td>"
                for text in (found.kind, found.place, found.problem, found.advice)
            )
            + "</tr>"
            for found in (*self.mistakes, *self.blemishes)
        )
        if not rows:
            return f"<p>{escape(self.summary)}: every check passed.</p>"
        head = "".join(
            f"<th>{t}</th>" for t in ("", "check", "where", "what was found", "what to do")
        )
        return (
            f"<table><caption>{escape(self.summary)}</caption>"
            f"<thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"
        )


guard(globals())
