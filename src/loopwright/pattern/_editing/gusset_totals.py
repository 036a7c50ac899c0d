# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stitches between markers and the total told with them: what lies outside was there before."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.figures import alike, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Before, Sentences, next_on_line
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["gusset_totals"]

_Values = tuple[int, ...]
_BETWEEN = WordForm(
    rf"(?P<n>{COUNT}) (?:gusset |thumb )?{STS}(?: (?:lie|now|are))? (?:between (?:the )?(?:markers|m\b|them|[A-C] and [A-D])|in the (?:thumb )?gusset)|(?P<o2>{COUNT}) in the (?:thumb )?gusset\b|"
    rf"\bbetween (?:the )?(?:markers|m|them|[A-C] and [A-D])\b[^.;\d]{{0,20}}(?P<m>{COUNT}) {STS}",
)
_TOTAL = WordForm(
    rf"(?P<n>{COUNT}) {STS} (?:in all|altogether|(?:in )?total|on the needles?)\b|\b(?:all told|in all|altogether|in total|whole [a-z]+|total)[,:]? (?:(?:should|now|you|there|have|has|is|are) )*(?P<m>{COUNT}) {STS}|"
    rf"(?:^|[.;:=(—–-] ?)(?P<o>{COUNT}) {STS},? (?:of which|with)\b|"
    rf"(?:^|[.;:=(—–-] ?)(?P<p>{COUNT}) {STS}, (?={COUNT} in the (?:thumb )?gusset)|"
    rf"(?:[.:=(—–]|--?|\btimes[^.;\d]{{0,6}}) ?(?P<q>{COUNT}) {STS}[;,] (?:and )?(?={COUNT} (?:(?:gusset|thumb) )?{STS} between)",
)
_SOLE = WordForm(
    rf"(?<![\d.])(?P<n>{COUNT}) (?:(?:sole|heel) {STS}|{STS} (?:on|for) (?:the )?(?:sole|n2|needle 2|2nd needle))[,;:]? ?(?:and )?(?P<t>{COUNT}) {STS} (?:in all|altogether|in total|total)"
)
_COUNTED = WordForm(
    rf"(?<![\d.])(?P<n>{COUNT}) {STS}|\b(?:cast(?:ing)? (?:on|up)|co)\b:? ?(?P<m>{COUNT})",
)
MOST = 14  # stitches between the markers at first


def gusset_totals(sentences: Sentences) -> Iterator[Finding]:
    """Find a total that is not the stitches between the markers and those there were outside of them."""
    yield from _constant(sentences)
    counted = Before(sentences, _COUNTED, _counted)
    for at in sentences.places_about(_BETWEEN, _SOLE):
        (one, after), counts = sentences.pairs[at], counted(at)
        behind = next_on_line(one, after)
        text = one.figures
        whole = text if behind is None or behind.label is not None else f"{text} {behind.figures}"
        between = _BETWEEN.search(text)
        total = _TOTAL.search(whole) if between is not None else None
        if between is not None and total is not None:
            inner = values(between["n"] or between["m"] or between["o2"])
            made = values(next(filter(None, total.groups())))
            if said := _missed(inner, made, counts):
                place = one.place_in_figures(between.start())
                yield Finding(WARNING, "sum", said, place.line, place.column)
        sole = _SOLE.search(text)
        if sole is not None and (said := _instep(values(sole["n"]), values(sole["t"]), counts)):
            place = one.place_in_figures(sole.start())
            yield Finding(WARNING, "sum", said, place.line, place.column)


_INNER = WordForm(  # "3 of them for the gusset", "until there are 11 gusset sts"
    rf"\bof (?:which|these|them),? (?P<m>{COUNT}) (?:are |lie |make )?(?:for|in|of) (?:the )?(?:thumb )?gusset\b|(?<![\d.])(?P<n>{COUNT}) (?:(?:of (?:them|these|which) )(?:are |lie |make )?(?:for|in|of) (?:the )?(?:thumb )?gusset\b|(?:thumb gusset|gusset|thumb) {STS}(?![^.;]*\bm\b)|{STS} (?:for|in) the (?:thumb )?gusset\b)"
)
_BESIDE = WordForm(
    rf"(?:^|[.;:=(—–,-] *)(?:and )?(?P<n>{COUNT}) {STS}(?=[.,;)]|$| in all| altogether| in total)"
)
_SET_ASIDE = WordForm(
    r"\b(?:slip|put|place(?! (?:a |the )?m)|cast|co|waste|scrap|hold\w*|thread|leave|transfer|pick)\b"
)


def _constant(sentences: Sentences) -> Iterator[Finding]:
    """Find a gusset and its total that leave other stitches outside than the gusset had before."""
    before: tuple[int | None, _Values] = (None, ())
    for at in sentences.places_about(_INNER):
        one, after = sentences.pairs[at]
        inner = _INNER.search(one.figures)
        if inner is None or _SET_ASIDE.search(one.figures):
            continue
        behind = next_on_line(one, after)
        text = one.figures[: inner.start()] + " ; " + one.figures[inner.end() :]
        if behind is not None and behind.label is None:
            text += f"; {behind.figures}"
        totals = [values(match["n"]) for match in _BESIDE.finditer(text)]
        if len(totals) != 1:
            continue
        many, total = alike(values(inner["n"] or inner["m"]), totals[0])
        outside = tuple(t - n for t, n in zip(total, many, strict=True))
        there, rest = alike(before[1], outside)
        off = {b - a for a, b in zip(there, rest, strict=True)} if before[0] == one.section else {0}
        if len(off) == 1 and abs(off.copy().pop()) in (1, 2):
            place = one.place_in_figures(inner.start())
            said = f"{by_size(total)} sts less {by_size(many)} of the gusset leave {by_size(outside)} outside of it; before, there were {by_size(there)}"
            yield Finding(WARNING, "sum", said, place.line, place.column)
            return
        before = one.section, outside


def _counted(text: str) -> Iterator[_Values]:
    return (values(match["n"] or match["m"]) for match in _COUNTED.finditer(text))


def _instep(sole: _Values, total: _Values, counts: Sequence[_Values]) -> str:
    """Compare what lies outside of a sole with the halves before: one size is off, and the others are not."""
    sole, total = alike(sole, total)
    outside = tuple(t - n for t, n in zip(total, sole, strict=True))
    near = ""
    for count in dict.fromkeys(reversed(counts)):
        for half in (count, tuple(n // 2 for n in count)):
            before, rest = alike(half, outside)
            off = [b != r for b, r in zip(before, rest, strict=True)]
            if not before or len(off) < 2:
                continue
            if not any(off):
                return ""
            if sum(off) == 1 and not near:
                near = (
                    f"{by_size(total)} sts less {by_size(sole)} of the sole leave {by_size(outside)} outside of it; "
                    f"before, there were {by_size(before)}"
                )
    return near


def _missed(inner: _Values, total: _Values, counts: Sequence[_Values]) -> str:
    """Compare what lies outside of the markers with each count before: as many less in all sizes."""
    inner, total = alike(inner, total)
    outside = tuple(t - i for t, i in zip(total, inner, strict=True))
    near = ""
    for count in dict.fromkeys(reversed(counts)):
        before, rest = alike(count, outside)
        if not before:
            continue
        less = [b - r for b, r in zip(before, rest, strict=True)]
        usual = max(set(less), key=less.count)
        odd = len(less) - less.count(usual)
        if not odd and 0 <= usual <= MOST:
            return ""
        one_off = odd == 1 and len(less) > 2 and 0 <= usual <= MOST
        if not near and (one_off or (not odd and len(less) > 1 and -2 <= usual < 0)):
            near = (
                f"{by_size(total)} sts less {by_size(inner)} between the markers leave {by_size(outside)} outside of them; "
                f"before, there were {by_size(before)}"
            )
    return near
