# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Which row comes last: "ending with a WS row" against how many rows there are, and against what comes next."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import attrs

from loopwright.pattern._editing.figures import bracketed, digits, rows_by_number
from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._reading.stated import numbers_in
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT

__all__ = ["row_ends"]

_CRS = r"(?:rows?|rounds?|rnds?|r)"
_ENDS = WordForm(
    rf"\b(?:end|finish|stop)(?:ing|s)? (?:with|on|after) (?:an? |the )?(?:(?P<side>ws|rs|wrong[- ]side|right[- ]side|purl|knit|p|k) row|{_CRS} ?(?P<row>\d{{1,3}}))\b(?P<of> of\b| or\b)?",
)
_ENDED = WordForm(r"\b(?:end|finish|stop)(?:ing|s)? (?:with|on|after) ")
BEGIN = 3  # letters before an end that a sentence begins with
_OTHER_END = WordForm(r"\bdo not turn\b|\bwithout turning\b|\bunturned\b")
_FIRST = WordForm(
    r"\W*(?:(?:(?:sl|slip)\b\.? ?1\b(?: st\w*)?[^,]*|m?ds|(?:make|work) (?:a |1 )?ds|double st\w*)[,.]? ?(?:and |then )?)?[*(]*(?P<verb>k|knit|p|purl)(?![a-z])",
)
_TURNS = WordForm(r"\b(?:turn|w&t|wrap)\b")
_USED = WordForm(
    r"\buntil (?:all|every|both|no|the (?:last|outer)|none)\b[^.;]*\b(?:worked|used|gone|left|included|unwrapped)\b|\buntil \d[^.;]*\b(?:unwrapped|not wrapped|without a wrap|between the wrap\w*)",
)
_ROWS_DONE = WordForm(
    rf"\b(?:until|for) (?:you have |there are |(?:the )?(?:flap|heel|strap|it) has )?(?:worked |made )?(?P<n>{COUNT}) (?:[a-z]+ )?rows\b(?: (?:are|have been|of [a-z ]{{3,20}} (?:are|have been)) (?:done|worked|made|complete\w*))?",
)
_PAIR = WordForm(rf"\b{_CRS} ?(?P<a>\d+) ?(?:-|–|and|&|to) ?(?:{_CRS} ?)?(?P<b>\d+)\b")
_NEXT_IS = WordForm(
    rf"^[\W\d]*$|^\W*(?:\(?{COUNT} (?:heel |gusset |flap )?(?:sts|stitches)\b|there (?:are|will be)\b|you (?:now )?have\b|step \d+\b|do not (?:cut|break)\b|turn\b)",
)
_WORKS = WordForm(
    r"\b(?:k|p|knit|purl|work|rep|repeat|cont\w*|turn|slip|sl|bind|cast|break|cut|join|pick|graft|change|rib|rnds?|rounds?|rows?|next|side)\b|\d+ ?(?:sts|stitches)",
)


@attrs.define
class _Run:
    """Rows that are numbered one after another: what is known of each."""

    section: int
    rows: dict[int, Spoken] = attrs.field(factory=dict)
    turning: bool = False

    def side(self, number: int) -> str:
        """Return which side faces in a row: "R", "W", or "" where the text does not tell."""
        for row in self.rows.values():
            assert row.label is not None
            there = row.label.side.upper().strip("() ")[:1]
            if there in ("R", "W") and not row.label.which and len(row.label.numbers) == 1:
                same = (number - row.label.numbers[0]) % 2 == 0
                return there if same else _other(there)
        if not self.turning or not self.rows.keys() >= {1, 2}:
            return ""
        one, two = (_verb(self.rows[number]) for number in (1, 2))
        if not one or not two or one == two:
            return ""
        first = "R" if one == "k" else "W"
        return first if number % 2 else _other(first)


_NAMES = {"R": "right-side", "W": "wrong-side"}


def _other(side: str) -> str:
    return "W" if side == "R" else "R"


def _verb(one: Spoken) -> str:
    match = _FIRST.match(one.text, one.start)
    return match["verb"][0].lower() if match else ""


def row_ends(sentences: Sentences) -> Iterator[Finding]:
    """Find ends of rows that can't be: the rows before them, or the row behind them, tell otherwise."""
    ended, turned = (set(sentences.places_about(form)) for form in (_ENDED, _TURNS))
    if not ended:
        return
    run = _Run(-1)
    most = max((n for one in sentences if one.label for n in one.label.numbers), default=0)
    for at, one in enumerate(sentences):
        label = one.label
        again = sentences[at - 1].text if at else ""  # the repeat that this end may belong to
        match = _ENDS.search(rows_by_number(one.text)) if at in ended else None
        if one.section != run.section and (match is None or match.start() >= BEGIN):
            run = _Run(one.section)
        if label is not None and label.course in ("ROW", "R", "RND") and label.numbers:
            if label.numbers[0] == 1:
                run = _Run(one.section)
            run.rows.update(dict.fromkeys(label.numbers, one))
        if run.rows and at in turned and _TURNS.search(one.text):
            run.turning = True
        if match is not None and (label is None or not label.numbers):
            said = digits(
                bracketed(
                    rows_by_number(f"{again} {one.text}" if match.start() < BEGIN else one.text)
                )
            )
            message = (
                _not_there(match, run, said)
                or _too_many(match, run, said)
                or _uneven(match, run, said)
            )
            if (
                match["row"]
                and most
                and most < int(match["row"])
                and not _is_behind_odd(int(match["row"]), run)
                and not message
                and not re.search(
                    r"\b(?:if|lace|chart)\b", said[: match.start()] + said[match.end() :]
                )
            ):
                message = f"no row {match['row']} is told of in this text"
            plain = _STOCKING.search(said) is not None or (match["side"] or "").lower()[:1] in (
                "k",
                "p",
            )
            message = message or _followed(match, run, sentences[at + 1 : at + 7], plain)
            if message:
                place = one.place(match.start())
                yield Finding(WARNING, "numbers", message, place.line, place.column)


def _ends_on(match: re.Match[str], run: _Run) -> str:
    """Return which side the last row is of, as its end says."""
    if match["row"]:
        return run.side(int(match["row"]))
    return _side(match["side"])


_GARTER = WordForm(r"\b(?:garter|g[- ]st|moss|seed)\b")


def _side(name: str) -> str:
    return "W" if name.lower()[0] in "wp" else "R"


def _not_there(match: re.Match[str], run: _Run, said: str) -> str:
    """Say that the last row is none of those that are repeated."""
    if not match["row"] or match["of"] or not run.rows:
        return ""
    row, pair = int(match["row"]), _PAIR.search(said)
    if pair is not None and int(pair["a"]) < int(pair["b"]):
        return ""
    if pair is None and not re.search(
        r"\b(?:rep|repeat|them|these|those|last)\b", said, re.IGNORECASE
    ):
        return ""
    if (
        row in run.rows
        or 1 not in run.rows
        or _is_behind_odd(row, run)
        or any(r.label and (r.label.which or r.label.times > 1) for r in run.rows.values())
    ):
        return ""
    return f"there is no row {row} here to end with; those given are {min(run.rows)} to {max(run.rows)}"


def _is_behind_odd(row: int, run: _Run) -> bool:
    """Tell whether a row comes behind the odd ones, whose even ones are told for themselves."""
    rows = [*run.rows]
    return len(rows) > 1 and all(number % 2 for number in rows) and row == max(rows) + 1


_THESE_TWO = WordForm(r"\brep(?:eat)? (?:these|the last|last) 2 rows\b")


def _too_many(match: re.Match[str], run: _Run, said: str) -> str:
    """Say that so many rows, by turns, end with the other one."""
    done = _ROWS_DONE.search(said[: match.start() + 40])
    pair = _PAIR.search(said)
    these = run.rows.keys() == {1, 2} and _THESE_TWO.search(said) is not None
    if done is None or not (these or (pair and (pair["a"], pair["b"]) == ("1", "2"))):
        return ""
    odd = {int(n) % 2 for n in numbers_in(done["n"])}
    if len(odd) != 1:
        return ""
    (is_odd,) = odd
    last, ends = (1 if is_odd else 2), _ends_on(match, run)
    if match["row"] and int(match["row"]) != last:
        return f"{done['n']} rows that begin with row 1 end with row {last}"
    there = run.side(last)
    if not match["row"] and there and there != ends:
        return f"{done['n']} rows that begin with row 1 end with row {last}, which is a {_NAMES[there]} row"
    return ""


def _uneven(match: re.Match[str], run: _Run, said: str) -> str:
    """Say that a turn ends with the row that uses up its other side."""
    if not run.turning or not _USED.search(said) or _OTHER_END.search(said):
        return ""
    if any(re.search(r"\bm?ds\b|double st", row.text, re.IGNORECASE) for row in run.rows.values()):
        return ""
    pair = _PAIR.search(said)
    if match["row"]:
        row = int(match["row"])
        if pair is None or row % 2 == 0 or row not in (int(pair["a"]), int(pair["b"])):
            return ""
        return f"both sides of the turn have as many sts: it ends with the other row, not with row {row}"
    first, last = run.side(1), _ends_on(match, run)
    if not first or 1 not in run.rows or 2 not in run.rows or first != last:
        return ""
    return f"row 1 is a {_NAMES[first]} row, and both sides of the turn have as many sts: it ends with a {_NAMES[_other(first)]} row"


_STOCKING = WordForm(r"\bst(?:ocking|ockinette)?\.? ?st")
_BEGINS = WordForm(
    r"\bbeg\w*\.? (?:again )?with (?:a |an )?(?P<side>ws|rs|wrong[- ]side|right[- ]side|purl|knit|p|k)\.? row",
)
_KNITS = re.compile(r"(?<![a-z])(?:k|knit|k ?\d ?tog|ssk|skpo?|m1[lr]?)(?![a-z])", re.IGNORECASE)
_PURLS = re.compile(r"(?<![a-z])(?:p|purl|p ?\d ?tog|ssp)(?![a-z])", re.IGNORECASE)


def _all_of_one(one: Spoken) -> str:
    """Return the side of a row that is all knitted or all purled, in stocking stitch."""
    knits, purls = (form.search(one.text, one.start) is not None for form in (_KNITS, _PURLS))
    return "" if knits == purls else "R" if knits else "W"


def _followed(match: re.Match[str], run: _Run, behind: Sequence[Spoken], plain: bool) -> str:
    """Say that the row behind is one of the same side as the last."""
    last = _ends_on(match, run)
    if not last or re.search(
        r"\b(?:break|cut|holder|slip|place|leave|join)\b",
        match.string[match.end() :],
        re.IGNORECASE,
    ):
        return ""
    if match.string[match.end() :].strip(" .,;:)") and not re.match(
        r"[\W\d]*(?:heel |flap )?(?:sts|stitches|rows)?\b[^,;]*$", match.string[match.end() :]
    ):
        return ""
    for one in behind:
        label = one.label
        if (begins := _BEGINS.search(one.text)) is not None and label is None:
            there = _side(begins["side"])
            if there == last and not _GARTER.search(one.text):
                return f"the last row is of the {_NAMES[last][:-5]} side, and the next of it too: one of them is the other's"
            return ""
        if label is None or not label.course:
            if _NEXT_IS.match(one.text) or not _WORKS.search(one.text):
                continue
            return ""
        there = label.side.upper().strip("() ")[:1]
        if label.numbers not in ((), (1,)) or label.course == "RND" or label.which:
            return ""
        if there not in ("R", "W"):
            after = [two for two in behind[behind.index(one) :] if two.label and two.label.numbers]
            there = _turn_side(after) or (_all_of_one(one) if plain else "")
        if there not in ("R", "W") or there != last:
            return ""
        return f"the last row is of the {_NAMES[last][:-5]} side, and the next of it too: one of them is the other's"
    return ""


def _turn_side(rows: Sequence[Spoken]) -> str:
    """Return which side faces in the first row of a turn, as its two rows tell."""
    run = _Run(0)
    for row in rows[:2]:
        assert row.label is not None
        run.rows.update(dict.fromkeys(row.label.numbers, row))
    if 1 not in run.rows or 2 not in run.rows:
        return ""
    texts = [run.rows[n].text.lower() for n in (1, 2)]
    if not all(re.search(r"tog|ssk|skp|w&t|turn", text) for text in texts):
        return ""
    run.turning = True
    return run.side(1)
