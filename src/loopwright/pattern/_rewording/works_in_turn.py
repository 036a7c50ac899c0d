# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Plain works told in one sentence, one after another: "cast on 48, join, 6 rounds of rib, knit ten"."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.needed_words import in_small
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import NUMBER_WORDS

__all__ = ["with_works_apart"]

_FEW = "|".join(NUMBER_WORDS)
_N = rf"(?:\d+(?:\.\d+)?(?: ?[(\[][^()\[\]]{{1,60}}[)\]])?|(?:{_FEW})\b)"
_CRS = r"(?:rounds?|rnds?|rows?)\b"
_LENGTH = rf"{_N} ?(?:cm\b|mm\b|in\b\.?(?! (?:[a-z]|\d))|ins\b\.?|inch(?:es)?\b|[\"”″])"
_RIB = r"(?:k(?:nit)? ?\d,? ?(?:and )?p(?:url)? ?\d(?: rib(?:bing)?)?|\d ?[x×] ?\d rib(?:bing)?|(?:single |double |twisted )?rib(?:bing)?\b)"
_FABRIC = rf"(?:{_RIB}|(?:reverse )?(?:st\.? ?st\b\.?|stocking[- ](?:stitch|st)\b|stockinette(?: (?:stitch|st)\b)?)|(?:plain )?garter(?: (?:stitch|st)\b)?|(?:double |single )?(?:moss|seed)(?: (?:stitch|st)\b)?|plain(?: knitting)?\b)"
_ENDING = r"(?:,? (?:end|finish)ing (?:with|on|after|so) [^,;.]*?(?= (?:and|then)\b|,|$))?"
_VERB = r"(?:(?:work|go on|continue|carry on)(?: even| straight)?|knit|k|purl|p|rib|do)"
_MORE = r"(?:more |further )?"
_PIECES: tuple[tuple[str, re.Pattern[str]], ...] = tuple(
    (kind, re.compile(said + r"(?=,| and\b| then\b| but\b|$)", re.IGNORECASE))
    for kind, said in (
        ("on", rf"(?:[^,*\d]{{0,40}}(?:\d+(?:\.\d+)? ?mm [a-z ]{{3,20}},? ?)?\b)?(?:cast on|co) (?P<n>{_N})(?: (?:sts|stitches)\b)?(?: (?!and\b|then\b)[a-z][a-z -]{{0,50}}?)?"),
        ("on", r"(?:begin|start) with (?P<n>{N}) (?:sts|stitches)\b".replace("{N}", _N)),
        ("join", r"join\b(?: (?!and\b|then\b)[a-z][a-z -]{0,50}?)?"),
        ("far", rf"(?P<verb>{_VERB} )?(?:for )?(?P<far>{_N} {_MORE}(?P<plain>plain )?(?P<crs>{_CRS})|{_LENGTH})(?: (?:of |in |even in )?(?P<fabric>{_FABRIC}))?(?P<end>{_ENDING})"),
        ("far", rf"(?P<verb>{_VERB} )?(?:in )?(?P<fabric>{_FABRIC}),? (?:for )?(?P<far>{_N} {_MORE}(?P<plain>plain )?(?P<crs>{_CRS})|{_LENGTH})(?P<end>{_ENDING})"),
        ("till", rf"(?:(?P<verb>{_VERB} )(?:in )?)?(?P<fabric>{_FABRIC}),? (?:until|till|to) (?:(?:it|work|piece|you|have|is|has|the|measures?|reached)\b ?)*{_LENGTH}(?: (?:long|in all|from [a-z -]{{4,30}}))?"),
        ("back", rf"(?P<how>knit|purl|k|p) (?:the way )?back(?: (?:over|across) (?:all|these|the)(?: {_N})?(?: sts| stitches)?)?"),
        ("aside", r"(?:(?:cut|break) (?:the )?(?:yarn|wool),? and )?(?:put|leave|slip|place|set|keep|park)\b(?: (?:it|them|(?:these|the|all|all the|those) (?:sts|stitches)|sts|stitches))? (?:aside )?(?:on ?to|on|to) (?:an? |the |some )?(?:[a-z]+ ){0,2}(?:holder|needle|yarn|pin|thread|wool|cotton|cable)(?: (?:for|with|until) [a-z -]{3,40})?"),
        ("close", r"(?:bind|cast) off(?: (?:loosely|firmly|all (?:the )?(?:sts|stitches)|in (?:rib|patt\w*)))?"),
        ("off", rf"(?:cast|bind) off {_N} (?:(?:sts|stitches) )?(?:at|on) (?:the )?(?:beg\w*|start)\.? of [a-z0-9 ]{{4,40}}?\brows?(?: for (?:the )?[a-z]+)?"),
        ("bare", r"(?P<verb>knit|purl|work) (?P<n>{N})(?: more)?".replace("{N}", _N)),
    )
)  # fmt: skip
_JOINT = WordForm(r"(?:,| and| then| but)+ ")
_SENTENCE = WordForm(
    rf"(?P<b>^|[.;:!] )(?:(?P<then>(?:and |now )?then|next|now) |(?=(?:[^.;:*]|\.\d)*(?:,| and| then) ))(?P<s>(?:[^.;:*]{{0,60}}\b(?:cast on|co) \d|(?:begin|start) with \d|{_VERB}\b|join\b|{_FABRIC}|{_N})(?:[^.;:*]|\.\d|\b(?:in|ins|st)\.(?= ))*)(?=[.;]|$)",
)


def with_works_apart(said: MappedText) -> MappedText:
    """Return a line in which each of several plain works is a sentence of its own.

    Examples
    --------
    >>> with_works_apart(MappedText.of("Cast on 32, join, rib six rounds, knit ten.")).text
    'Cast on 32. Join. Work six rounds of rib. Knit ten rounds.'
    """
    low = in_small(said.text)
    if not any(word in low for word in (" row", " rnd", " round", "cm", "mm", " in", '"', "″")):
        return said
    return said.sub(_SENTENCE, _apart)


def _apart(match: re.Match[str]) -> str:
    text, at, course = match["s"].strip(), 0, ""
    found: list[str] = []
    works, spoken = 0, False
    while at < len(text):
        tried = ((kind, piece.match(text, at)) for kind, piece in _PIECES)
        kind, one = next((found for found in tried if found[1] is not None), ("", None))
        if one is None:
            return match[0]
        spoken = kind != "far" or bool(one["verb"])
        works += kind in ("far", "till", "bare", "back")
        if kind == "bare" and not course:
            return match[0]
        course = one["crs"] or course if kind == "far" else course
        found.append(_said(kind, one, course))
        at = one.end()
        if at < len(text):
            joint = _JOINT.match(text, at)
            if joint is None:
                return match[0]
            at = joint.end()
    if len(found) == 1 and (match["then"] is None or spoken):
        return match[0]  # as it can be read
    if not works or not all(found):
        return match[0]
    return match["b"] + ". ".join(found)


def _said(kind: str, one: re.Match[str], course: str) -> str:
    """Return one piece of work as a sentence of its own; nothing where it says too little."""
    whole = one[0][0].upper() + one[0][1:]
    if kind in ("on", "join", "off", "close"):
        return whole
    if kind == "aside":
        return "" if course.lower().startswith(("rou", "rn")) else "Leave these sts on a holder"
    if kind == "back":
        return "Purl 1 row" if one["how"][0] in "pP" else "Knit 1 row"
    if kind == "bare":
        return f"{whole} {course}"
    verb, fabric = (one["verb"] or "").strip().lower(), one["fabric"]
    if kind == "till":
        return (
            f"Work {'in ' if verb else ''}{whole[len(one['verb'] or '') :].removeprefix('in ')}"
            if verb != "rib"
            else ""
        )
    if verb == "rib":
        rib = fabric or "rib"
        fabric = rib if "rib" in rib.lower() else f"{rib} rib"
    if fabric is None:
        if not verb and not one["plain"]:
            return ""
        if verb.startswith(("go", "con", "car")):
            return f"Work {one['far']}{one['end']}"
        return whole if verb else f"Knit {one['far'].replace('plain ', '')}{one['end']}"
    if fabric.lower().startswith("plain"):
        return f"Knit {one['far']}{one['end']}"
    if re.match(r"k(?:nit)? ?\d", fabric, re.IGNORECASE) and "rib" not in fabric.lower():
        fabric += " rib"
    if one["crs"]:
        return f"Work {one['far']} of {fabric}{one['end']}"
    return f"Work in {fabric} for {one['far']}{one['end']}"
