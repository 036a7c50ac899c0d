# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Buttons and buttonholes: as many of the one as of the other, and as many in the row as it says."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.figures import digits
from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Spoken, plain_lines
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["buttons"]

_BUTTONS = WordForm(
    r"(?<![\d.(,\[-])(?P<n>\d{1,2}) (?:(?:small|large|flat|round|wooden|shell|matching|horn|toggle|leather) )*buttons?\b(?!holes?)",
)
_HOLES = WordForm(
    r"(?<![\d.(,\[-])(?P<n>\d{1,2}) buttonholes?\b(?: (?:made|in all|worked|are made))?|\bbuttonholes?\b[^.;\d]{0,10}\((?P<m>\d) in all\)",
)
_NOT_ALL = WordForm(
    r"\b(?:each|every|more|next|other|rem\w*|first|last|another|apart|between|if|or|spare|sizes?)\b",
)
_HOLE_ROW = WordForm(r"\bbuttonhole\b")
_EYELETS = WordForm(
    r"(?:(?:k|knit) ?\d+, )?\*(?P<inner>[^*;]+?)[;,] ?rep(?:eat)? from \*,? (?P<often>once|twice|\d times?|2 times|3 times|4 times)(?: more)?(?P<rest>[^.]*)",
)
_YO = WordForm(r"(?<![a-z])(?:yo|yfwd|yrn)(?![a-z])")


_OWN_ROW = WordForm(r"[^:*]*\b(?:buttonhole|button-?hole)\b[^:*]*: ?(?P<row>[^.;]*)")
_TOGETHER = WordForm(r"(?<![a-z])(?:[kp] ?2 ?tog|ssk|ssp|skpo?|psso|tog(?:ether)?)(?![a-z0-9])")
_OTHERWISE = WordForm(
    r"[*(\[]|\b(?:twice|times|double|large|2|two|cast|bind|bo|co|drop\w*|slip|sl|pass\w*|dec\w*|inc\w*|m1\w*|kfb|[kp]3tog|cdd|s[2k]\w+|sts?|stitch\w*|as|like)\b"
)


def _one_more(one: Spoken, after: Spoken | None) -> str:
    """Say that a row of buttonholes leaves more stitches than there were, by its yarn overs."""
    match = _OWN_ROW.match(one.text)
    if match is None or _OTHERWISE.search(match["row"]):
        return ""
    made, taken = (len(form.findall(match["row"])) for form in (_YO, _TOGETHER))
    mended = after is not None and _TOGETHER.search(after.text)
    if not made or made <= taken or mended or not (made == 1 or taken):
        return ""
    return f"this row of buttonholes adds {made - taken} st{'s' * (made - taken > 1)}: is k2tog meant beside the yarn over?"


def buttons(text: str, sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find numbers of buttons and buttonholes in a text that are not alike."""
    if "button" not in text.lower():
        return
    told: list[tuple[int, int, int]] = []  # how many, line, column
    for number, line in enumerate(plain_lines(text), start=1):
        said = digits(line.text)
        if "button" not in said.lower() or "sets of" in said:
            continue
        for form in (_BUTTONS, _HOLES):
            for match in form.finditer(said):
                around = said[max(0, match.start() - 10) : match.end() + 16]
                if not _NOT_ALL.search(around):
                    told.append(
                        (int(next(n for n in match.groups() if n)), number, match.start() + 1)
                    )
    for one, after in zip(sentences, [*sentences[1:], None], strict=True):
        if said := _one_more(one, after):
            place = one.place()
            yield Finding(WARNING, "sum", said, place.line, place.column)
        row = _EYELETS.search(one.figures) if _HOLE_ROW.search(one.text) else None
        if row is None:
            continue
        often = {"once": 1, "twice": 2}.get(row["often"].lower()) or int(row["often"].split()[0])
        head = one.figures[one.start : row.start()]
        made = len(_YO.findall(row["inner"])) * (often + 1)
        made += len(_YO.findall(head)) + len(_YO.findall(row["rest"]))
        if made:
            told.append((made, one.line, 1))
    if len(told) < 2 or len({many for many, _, _ in told}) != 2:
        return
    usual = max(
        (many for many, _, _ in told), key=lambda n: sum(other == n for other, _, _ in told)
    )
    for many, number, column in told:
        if many != usual:
            said = f"{many} here, {usual} elsewhere: how many buttons and buttonholes are there?"
            yield Finding(WARNING, "sum", said, number, column)
            return
