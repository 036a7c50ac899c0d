# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Plain stretches without a verb: "then plain knitting for another 12 rounds", "12 cm more"."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import MANY

__all__ = ["with_so_many_more"]

_LENGTH = r"(?:\d[\d.½¼¾]*(?: ?[(\[][\d., :;/½¼¾]+[)\]])?|half an?|an?|one) ?(?:cm\b|inch(?:es)?\b|in\b(?! (?:the|rounds|rows|patt|rib))|[\"”″])(?: ?[/(] ?[\d.½¼¾]+ ?(?:cm|in(?:ch(?:es)?)?|[\"”″])\)?)?"
_CRS = r"(?:rounds?|rnds?|rows?)\b"
_MORE = r"(?:another|a further|an extra|an additional|the next|some)"
_LEAD = r"(?P<b>^|[.;] )(?P<label>[A-Z][A-Za-z]*(?: [a-z]+){0,2}: )?(?:(?:and|then|now|next|after (?:that|this|it),?|from (?:here|there),?|(?:continue|go on|carry on|cont) with|there follow|follow(?:ed)? by)[,:]? )*"
_KNITTING = r"(?:plain(?: knitting)?|straight(?: knitting)?|plain and straight|knitting plain|plain stocking stitch)"
_FABRIC = r"(?:(?:reverse )?st(?:ocking|ockinette)?\.? ?st(?:itch)?\b\.?|stockinette|garter(?: st(?:itch)?)?|moss(?: st(?:itch)?)?|seed(?: st(?:itch)?)?|(?:single|double) rib(?:bing)?)"
_STOP = r"(?=[.;]|\s*$|,? (?:and |then )+(?:change|join|bind|cast|graft|turn)\b)"
_SO_MANY = WordForm(
    rf"{_LEAD}(?:"
    rf"(?:(?P<plain>{_KNITTING})|(?P<fabric>{_FABRIC})),? (?:for )?(?:{_MORE} )?(?:(?P<n>{MANY}) (?:more |further )?(?P<crs>{_CRS})|(?P<far>{_LENGTH}))(?: more| further)?"
    rf"|(?P<plain2>plain|knit|purl) (?P<crs2>{_CRS}),? (?P<n2>{MANY}) of them"
    rf"|(?:{_MORE} (?P<n3>{MANY}) (?P<crs3>{_CRS})|(?P<n4>{MANY}) (?:more|further|extra) (?P<crs4>{_CRS})|(?P<n5>{MANY}) (?P<crs5>{_CRS}) more)(?P<how> (?:plain|even|straight|in plain knitting))?"
    rf"|(?P<n6>{MANY}) (?P<plain6>plain|knit|purl) (?P<crs6>{_CRS})|(?P<n7>{MANY}) (?P<crs7>{_CRS}) (?:(?:of|in) )?(?P<plain7>plain|plain knitting)"
    rf"|(?P<n8>{MANY}) (?P<crs8>{_CRS}) (?:(?:of|in) )?(?P<fabric8>{_FABRIC})"
    rf"|(?:change|switch) to (?P<fabric9>{_FABRIC}|[*(\[][kp0-9, ]+[*)\]] rib(?:bing)?)(?:(?: and|,) (?:work|knit|continue|cont))? (?:for )?(?P<n9>{MANY}) (?P<crs9>{_CRS})"
    rf"|(?P<far4>{_LENGTH}(?<![\"”″])) (?:(?:of|in) )?(?:(?P<plain4>{_KNITTING})|(?P<fabric4>{_FABRIC}))"
    rf"|{_MORE} (?P<far2>{_LENGTH})|(?P<far3>{_LENGTH}) more)(?: (?:as before|as set))?{_STOP}"
)


_UNTIL = WordForm(  # "LEG: plain, till it is 12 cm long"
    rf"(?P<b>^|[.;] )(?P<label>[A-Z][A-Za-z]*(?: [a-z]+){{0,2}}: ){_KNITTING},? (?=(?:un)?til\b)"
)


def with_so_many_more(said: MappedText) -> MappedText:
    """Return a line with a verb ahead of each stretch that has none.

    Examples
    --------
    >>> with_so_many_more(MappedText.of("Then plain knitting for another 12 rounds.")).text
    'Knit 12 rounds.'
    >>> with_so_many_more(MappedText.of("LEG: 12 more rounds.")).text
    'LEG: Work 12 more rounds.'
    """
    return said.sub(_SO_MANY, _with_verb).sub(_UNTIL, r"\g<b>\g<label>Knit ")


def _with_verb(match: re.Match[str]) -> str:
    if match["fabric8"] and match["b"].startswith(";"):
        return match[0]  # "cast on 60 sts and join; two rounds of garter stitch"
    return f"{match['b']}{match['label'] or ''}{_told(match)}"


def _told(match: re.Match[str]) -> str:
    if match["fabric"]:
        return f"Work in {match['fabric']} for {match['far'] or match['n'] + ' ' + match['crs']}"
    if match["far"]:
        return f"Knit for another {match['far']}"
    for number in ("", "2", "6", "7"):
        if plain := match[f"plain{number}"]:
            verb = "Purl" if plain.lower() == "purl" else "Knit"
            return f"{verb} {match['n' + number]} {match['crs' + number]}"
    for number in ("8", "9"):
        if fabric := match[f"fabric{number}"]:
            return f"Work in {fabric} for {match['n' + number]} {match['crs' + number]}"
    if match["far4"]:
        verb = f"Work in {match['fabric4']}" if match["fabric4"] else "Knit"
        return f"{verb} for {match['far4']}"
    if far := match["far2"] or match["far3"]:
        return f"Work for another {far}"
    many = match["n3"] or match["n4"] or match["n5"]
    course = match["crs3"] or match["crs4"] or match["crs5"]
    return f"Knit {many} {course}" if match["how"] else f"Work {many} more {course}"
