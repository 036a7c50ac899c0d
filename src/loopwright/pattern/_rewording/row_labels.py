# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Labels of rows and needles, however they are set: their sides, what they do, and what ends them."""

from __future__ import annotations

import re
from typing import Final

from loopwright.pattern._rewording.set_in import CRS as _CRS
from loopwright.pattern._rewording.set_in import NTH as _NTH
from loopwright.pattern._rewording.set_in import SHORT_LABEL as _SHORT_LABEL
from loopwright.pattern._rewording.set_in import WORK as _WORK
from loopwright.pattern._rewording.tables import Means

__all__ = ["ALT", "ENDED", "ENDS", "LABELS", "LEAD", "NAMED", "SIDE", "SIDED"]

LEAD = r"^(?P<lead>\s*)"
SIDE = r"(?:RS|WS|(?:right|wrong)[ -]side)"
_WORKED = (
    r"(?:(?:k|p|sl) ?\d|(?:k|p|sl|knit|purl|slip|work)\b|[*(\[]+ ?(?:[kp]|sl|yo|ssk|m1|knit|purl)"
    r"|(?:ssk|ssp|skpo?|yo|k2tog|p2tog|m1[lr]?|kfb|patt|as (?:round|rnd|row)|(?:on )?(?:the )?(?:needles? (?:\d|one)|first needle|n\d|instep)\b(?! only)))"
)


def _sided(match: re.Match[str]) -> str:
    return f"{match['lead']}{match['label']} ({match['side']}){match['end'] or ':'}"


SIDED: tuple[tuple[str, Means], ...] = (
    (  # "Row 1, RS:", "Row 1 - WS:", "Row 1 on the right side.", "Row 1 = RS:"; amid a line too
        rf"(?:^|(?<=[.;] ))(?P<lead>\s*)(?P<label>{_SHORT_LABEL})(?:,| ?[-–—/=]| on(?: the)?)? ?\[?(?P<side>{SIDE})(?: facing)?\]?(?P<end>[:.])(?=\s)",
        _sided,
    ),
    (  # "Row 1: (RS) K3", "Row 1. (RS): K3", "Row 1: RS: K3"
        rf"{LEAD}(?P<label>{_SHORT_LABEL})[.:] (?:[(\[](?P<side>{SIDE})(?: facing)?[)\]](?P<end>:?)|(?P<side2>{SIDE})(?: facing)?(?P<end2>:))(?=\s)",
        lambda match: f"{match['lead']}{match['label']} ({match['side'] or match['side2']}):",
    ),
    (  # "RS Row 1:", "WS, row 2.", "(RS) Row 1:"
        rf"{LEAD}(?P<in>[(\[])?(?P<side>{SIDE})(?(in)[)\]]:?|)(?:,| [-–—])? (?P<label>{_SHORT_LABEL})(?P<end>[:.])(?=\s)",
        _sided,
    ),
)
ENDED: tuple[tuple[str, Means], ...] = (
    (  # "Round 1, k1, ssk …", "Round 2; knit.", "Rnd 1 → *k1, p1"
        rf"{LEAD}(?P<label>(?:{_SHORT_LABEL}|(?:next|following) {_CRS})(?: ?\({SIDE}\))?)(?:, (?={_WORKED})|(?:;| ?(?:→|-+>)) (?=[\w*(\[]))",
        r"\g<lead>\g<label>: ",
    ),
    (  # "Work the next rnd as follows:", "For the next round:"
        rf"{LEAD}(?:(?:now )?(?:work|knit) (?:the )?(?P<crs>next {_CRS})(?: (?:as follows|like this|thus|so))|for (?:the )?(?P<crs2>next {_CRS})(?: (?:work|knit) as follows)?): ",
        lambda match: f"{match['lead']}{(match['crs'] or match['crs2']).capitalize()}: ",
    ),
)

_NUMBER = r"\d{1,3}(?:st|nd|rd|th)"


def _as_those(match: re.Match[str]) -> str:
    """Put "3rd to 12th rnd: as 1st and 2nd" as rows by their numbers."""
    a, b, c, d = (re.sub(r"\D", "", match[key] or "") for key in "abcd")
    s = "" if match["crs"].endswith("s") else "s"
    rows = f"{match['crs']}{s} {c} and {d}" if d else f"{match['crs'].rstrip('s')} {c}"
    return f"{match['lead']}{match['crs'].capitalize()}{s} {a} to {b}: as {rows}"


NAMED: tuple[tuple[str, Means], ...] = (
    (  # "3rd to 12th rnd: as 1st and 2nd"
        rf"{LEAD}(?P<a>{_NUMBER}) ?(?:to|-|–) ?(?P<b>{_NUMBER}) (?P<crs>{_CRS}): (?:work |knit )?(?:as|like|rep(?:eat)?)(?: the)? (?P<c>{_NUMBER})(?: (?:and|&) (?P<d>{_NUMBER}))?(?: {_CRS})?(?=\.|$)",
        _as_those,
    ),
    (  # "4th round: like the 2nd"
        rf"{LEAD}(?P<label>{_NUMBER} (?P<crs>rnd|round|row)): (?P<as>as|like) (?:the )?(?P<n>{_NUMBER})(?=\.|$)",
        r"\g<lead>\g<label>: \g<as> \g<n> \g<crs>",
    ),
    (  # "Rnds 3-12: rnds 1 and 2 over and over"
        rf"{LEAD}(?P<label>{_CRS} \d+ ?(?:-|–|to) ?\d+): (?P<rows>{_CRS} \d+ (?:and|&) \d+),? (?:over and over(?: again)?|again and again|by turns|in turn|alternately)(?=\.|$)",
        r"\g<lead>\g<label>: rep \g<rows>",
    ),
    (  # "rd 2: knit", "2nd rd."
        rf"{LEAD}(?P<nth>\d{{1,2}}(?:st|nd|rd|th) )?(?P<r>r)d(?P<s>s?)(?=\b|\d)(?(nth)|(?=\.? ?\d))",
        r"\g<lead>\g<nth>\g<r>nd\g<s>",
    ),
    (  # "Needle #1: k", "Nd 2:", "dpn 3:", "Needle no. 4:"
        r"(?<![\w#])(?P<name>needle ?(?:#|no\.? ?|number )|nd\.? ?#?|dpn ?#?) ?(?P<number>[1-4])(?=(?:,? (?:and|to|once)\b| ?[:;=]|[,.](?:\s|$)))",
        lambda match: f"{'N' if match['name'][0].isupper() else 'n'}eedle {match['number']}",
    ),
    (  # "N1. K2", "Needle 2 = ssk, k to end"
        r"(?P<name>(?:^\s*|[:.;] )(?:needle|ndl\.?|n) ?[1-4])(?:\.| =) (?=(?:[kp] ?\d|(?:k|p|knit|purl|ssk|sl|slip|work|pick|as|same)\b))",
        r"\g<name>: ",
    ),
)
ENDS: tuple[tuple[str, Means], ...] = (
    (r"(?<=[\w)\]]\.)  (?=[A-Z(]|\[[a-z])", " "),  # two blanks between sentences, as typists set it
    (  # "Rep rows 1 and 2 until 16 sts remain!"
        rf"(?P<said>(?:^\s*|[.!:] ){_WORK}[^.!?:]*\d[^.!?]*[\w)\]])!+(?=\s|$)",
        r"\g<said>.",
    ),
)

ALT = rf"(?:foll(?:owing)?\.? )?(?:alt(?:ernate)?\.?|(?:even|odd)(?:[- ]numbered)?|other|2nd|second|{SIDE}) {_CRS}"
_UNSTOPPED = rf"(?:{_SHORT_LABEL}(?:,? and (?:every|all) {ALT})?|(?:next|foll(?:owing)?\.?) {_CRS}|{_NTH} and (?:(?:every|all) )?{ALT}|(?:every|all) {ALT})"
_SHAPING = rf"(?:dec|inc)(?:r?\.|reas(?:e|es|ing))?(?: {_CRS})?"
_FABRIC = r"(?:rib|moss|seed|lace|eyelet|garter|patt(?:ern)?|band|ridge|cable|border)"
_TIMES = r"(?:\d+|two|three|four|five|six|seven|eight|nine|ten|twelve) (?:more )?times?"
_BEGINS_ROW = (  # of a row whose label has no colon
    r"(?:(?:\*\s?[(\[]?|[(\[])(?:[kp]\s?\d|[kp]\b|knit|purl|sl|yo|ssk|m1|inc|work \d)"
    r"|(?-i:[KP])(?:\d| \d+(?=,| tog)|\.?$|\.? to\b)|(?:knit|purl)[.;,]?\s*$|(?-i:Knit|Purl)(?: (?:to|across|\d|each|every|all)\b)"
    r"|(?-i:Sl|Slip) ?(?:1|one|first)\b|(?-i:Kfb|Yo|Ssk|M1|Skpo?),|(?-i:As|Like|Same as) (?:(?:round|rnd|row)s? \d|(?:the )?\d{1,2}(?:st|nd|rd|th) (?:round|rnd|row)))"
)
_ROW_NAME = r"(?:cuff|rib(?:bing)?|leg|foot|toe|heel|flap|gusset|thumb|crown|hand|body|brim|hem|edg(?:e|ing)|joining|turning|ridge|lace|eyelet|picot|garter|patt(?:ern)?|shaping|foundation|set-?up|(?:dec|inc)(?:rease)?)"

LABELS: Final[tuple[tuple[str, Means], ...]] = (
    (  # "1: K19, w&t."
        rf"{LEAD}(?P<n>\d{{1,2}}): (?={_BEGINS_ROW})(?!(?:knit|purl|work|k|p) \d+ (?:more )?(?:{_CRS}|cm|in))(?=[^.]*\b(?:turn|w ?& ?t|wrap|to (?:the )?(?:end|last|st)))",
        r"\g<lead>R\g<n>: ",
    ),
    (  # "Toe, round 1:", "Heel turn - Row 2 (WS):"
        rf"^(?P<lead>\s*(?:\d{{1,2}}[.)] +)?)(?P<name>(?:[a-z]+ )?{_ROW_NAME}(?: [a-z]+)?)(?:,| ?[-–—/]) (?P<label>{_CRS} \d{{1,2}})(?=(?:(?: ?[-–—,]| and| to|,? ?\() ?[^:;.]{{1,25}})?: )",
        r"\g<lead>\g<name> \g<label>",
    ),
    (  # "Cuff rnd. *K2, p2; rep from *"
        rf"{LEAD}(?P<label>{_ROW_NAME} {_CRS})[.,] (?={_BEGINS_ROW})",
        r"\g<lead>\g<label>: ",
    ),
    (  # "Round 1, inc:", "Round 1. (inc) k1", "Round 1 [inc rnd] *k1": in brackets before the colon
        rf"{LEAD}(?P<label>{_SHORT_LABEL})(?:[.:,]? ?[(\[](?P<what>{_SHAPING})[)\]](?! ?:),?| ?\[(?P<what2>{_SHAPING})\]:|(?:,|:)? (?P<what3>{_SHAPING}):) (?=\S)",
        lambda match: (
            f"{match['lead']}{match['label']} ({match['what'] or match['what2'] or match['what3']}): "
        ),
    ),
    (  # "Dec round - K1, ssk", "Decrease round. Instep: k1, ssk"
        rf"{LEAD}(?P<label>(?:[a-z]+ )?(?:dec|inc)(?:\.|reas(?:e|es|ing))? {_CRS})(?: ?[-–—]|\.) (?=\S+[^.]*\b(?:k2tog|ssk|skp\w*|p2tog|m1\w?|kfb|yo)\b)",
        r"\g<lead>\g<label>: ",
    ),
    (  # "Round 1 = k1, ssk, …"
        rf"{LEAD}(?P<label>{_SHORT_LABEL}) ?= ?(?={_BEGINS_ROW}|(?:on (?:each|both)|needle 1|n1|instep)\b)",
        r"\g<lead>\g<label>: ",
    ),
    (  # "Rib 1: k1, p1": a row of the fabric that is named so
        rf"^(?P<lead>\s*)(?P<name>{_FABRIC}) (?P<n>[1-9])(?=(?: ?[(\[][^()\[\]]*[)\]])?: ?[*(\[]*(?:[kp]\s?\d|[kp]\b|knit|purl|sl|yo|ssk|m1))",
        r"\g<lead>\g<name> row \g<n>",
    ),
    (  # "Rib 1 and rib 2 four times more", "repeat moss 1 and 2"
        rf"(?P<do>^\s*|[.;] |\b(?:rep(?:eat)?|work) )(?P<name>{_FABRIC}) (?P<n>[1-9]) (?:and|&) (?:(?P=name) )?(?P<m>[1-9])(?= (?:{_TIMES}|until|again|once|twice))",
        lambda match: (
            f"{match['do']}{'' if re.search('rep|work', match['do'], re.I) else 'Work '}{match['name'].lower()} rows {match['n']} and {match['m']}"
        ),
    ),
    (  # "1st row (RS) * K2, p2", "2nd and every alt row P.", "Next row K1, k2tog", as leaflets set it
        rf"{LEAD}(?P<label>{_UNSTOPPED})(?:,? [(\[]?(?P<side>{SIDE})(?: facing)?[)\]]?)? (?![(\[][^()\[\]]*[)\]]\s*:)(?={_BEGINS_ROW})",
        lambda match: (
            f"{match['lead']}{match['label']}{' (' + match['side'] + ')' if match['side'] else ''}: "
        ),
    ),
)
