# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Which way decreases lean in gussets and toes, as the words of a row alone show it."""

from __future__ import annotations

import re
from collections.abc import Iterator

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["worded_leans"]

_LEFT = (
    r"ssk|skpo?|k2tog[ -]?tbl|sl(?:ip)? ?(?:1|one)(?: st)?,? ?k(?:nit)? ?(?:1|one)(?: st)?,? ?"
    r"(?:psso|pass (?:the )?slipped(?: st(?:itch)?| one)? over)"
)
_RIGHT = r"k2tog(?![ -]?tbl)|(?:knit|k) ?(?:2|two) tog(?:ether)?(?!,? (?:tbl|through))"
_KNIT_TO = r"(?:k|knit) ? ?(?:until|to)\b"
_AT_END = WordForm(
    rf"\blast (?:\d|two|three|four) (?:[a-z]+ )?(?:sts?|stitches)\b[^;:*]{{0,14}}?, (?:(?P<left>{_LEFT})|{_RIGHT}), (?:k|knit) ?(?:\d|one)\b",
)
_AT_START = WordForm(
    rf"(?:^|[:;,.*(\[]|needles?) ?(?:k|knit) ?(?:\d|one), (?:{_LEFT}|(?P<right>{_RIGHT})) ?, {_KNIT_TO}",
)
_BOTH = WordForm(
    rf"(?:^|[:;,*(\[]) ?(?P<right>{_RIGHT}), {_KNIT_TO} (?:the )?last 2 (?:sts|stitches)\b\.?, (?P<left>{_LEFT})",
)
_TOP = r"(?:insteps?|top|upper|front|foot)\b(?!-down)"
_ROUND_TOP = WordForm(  # both lean away from the top of a foot, which stands between them
    rf"\bto (?:the last )?[23] (?:sts|stitches) (?:before|from|short of) (?:the |your |\d+ )*{_TOP}[^,.;]*, (?P<right>{_LEFT})(?:, k(?:nit)? ?(?:1|one))?[,;][^.;]*?\b{_TOP}[^,.;]*[,;] (?:k(?:nit)? ?(?:1|one), )?(?:{_RIGHT}),"
    rf"|\b(?:across|over|all) (?:the |your |\d+ )*{_TOP}[^,.;]*[,;] (?:k(?:nit)? ?(?:1|one), )?(?P<after>{_RIGHT}), {_KNIT_TO} (?:the )?last [23] (?:sts|stitches)\b[^,.;]*, (?:{_LEFT})",
)
_GROUP = WordForm(
    rf"[(*\[:] ?k ?\d, (?P<first>(?P<left>{_LEFT})|{_RIGHT}), (?:k|knit) ?\d+(?: ?[(\[][^)\]]*[)\]])?, "
    rf"(?(left)(?:{_RIGHT})|(?:{_LEFT})), k ?\d\b",
)
_DOTTED = WordForm(  # "k 2 tog., k. to last 3 sts., k 1", in as many letters
    r"(?<![a-z0-9])(?P<word>[kp]|tog|sts?)\.(?=[,;)]| (?:to|until|last)\b)"
)
_LEGS = WordForm(r"\b(?:leg|calf|sleeve|yo|seam)\b")
_MEANT = WordForm(r"\b(?:against|away|lean\w*)\b", re.NOFLAG)  # a swatch that shows both
_TAPERS = WordForm(r"\b(?:toe|top|tip|crown|gusset|thumb|heel|finger|hand|mitten)s?\b", re.NOFLAG)
_TOES = WordForm(r"\btoe\b|\btop\b", re.NOFLAG)


def worded_leans(sentences: Sentences) -> Iterator[Finding]:
    """Find decreases of a gusset or a toe that lean away from the line beside which they stand.

    At the end of a needle, or before a marker, they lean right (k2tog, k1), behind it left (k1,
    ssk): common practice.
    """
    orders: dict[int, list[tuple[bool, Spoken, int, str]]] = {}
    for one in sentences.about(_GROUP):
        if (group := _GROUP.search(one.text, max(0, one.start - 1))) is not None:
            found = (group["left"] is None, one, group.start("first"), group["first"])
            orders.setdefault(one.section, []).append(found)
    for listed in orders.values():
        if len({away for away, *_ in listed}) < 2 and not _TOES.search(listed[0][1].title):
            continue
        for away, one, offset, word in listed:
            if away:
                said = f"{word} behind a line leans away from it: k1, ssk?"
                place = one.place(offset)
                yield Finding(WARNING, "lean", said, place.line, place.column)
    for one in sentences.about(_ROUND_TOP, _BOTH, _AT_END, _AT_START):
        if (around := _ROUND_TOP.search(one.text, one.start)) is not None:
            name, side = ("right", "behind") if around["right"] else ("after", "before")
            said = f"both decreases lean away from the instep: is {around[name]} that {side} it?"
            place = one.place(around.start(name))
            yield Finding(WARNING, "lean", said, place.line, place.column)
            continue
        if _LEGS.search(one.title) or _LEGS.search(one.text) or _MEANT.search(one.title):
            continue  # they are shaped either way
        ends, starts = _AT_END.search(one.text), _AT_START.search(one.text)
        gusset = ends is not None and starts is not None and ends.start() < starts.start()
        if not _TAPERS.search(one.title) and ends and starts and not gusset:
            continue  # both ends of a round, in what may be a leg
        flat = one.label is not None and (one.label.course == "ROW" or one.label.side)
        if flat and not (ends and starts):
            continue  # one edge of a flat piece has no partner to mirror
        start = max(0, one.start - 2)
        text = _DOTTED.sub(lambda m: m["word"] + " ", one.text)
        for form, name in ((_BOTH, "right"), (_AT_END, "left"), (_AT_START, "right")):
            wrong = next((m for m in form.finditer(text, start) if m[name]), None)
            if wrong is not None:
                where = "before a line" if name == "left" else "behind a line"
                usual = "k2tog, k1" if name == "left" else "k1, ssk"
                said = f"{wrong[name]} {where} leans away from it: {usual}?"
                place = one.place(wrong.start(name))
                yield Finding(WARNING, "lean", said, place.line, place.column)
                break
