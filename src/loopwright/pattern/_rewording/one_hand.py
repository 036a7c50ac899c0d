# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A whole text as one hand writes it: signs, labels and lists of numbers that mean one thing.

What differs between two typists and says nothing is made alike before anything is read, line by
line, so that no reader and no check has to know it: stars of other shapes, labels in bold or behind
a bullet, "Row 1, RS", "48 (54) (60)". Each character remembers its column.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from itertools import pairwise

import attrs

from loopwright.pattern._rewording.between_sizes import by_sign, with_first_outside
from loopwright.pattern._rewording.headed_rows import with_heads_on_rows
from loopwright.pattern._rewording.how_far_in_words import LISTED
from loopwright.pattern._rewording.lettered_rows import with_rows_numbered
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.openings import with_cast_on_first
from loopwright.pattern._rewording.ornaments import ORNAMENTED
from loopwright.pattern._rewording.own_words import with_own_words
from loopwright.pattern._rewording.row_labels import ALT as _ALT
from loopwright.pattern._rewording.row_labels import ENDED, ENDS, LABELS, NAMED, SIDED
from loopwright.pattern._rewording.row_labels import LEAD as _LEAD
from loopwright.pattern._rewording.row_labels import SIDE as _SIDE
from loopwright.pattern._rewording.set_in import CRS as _CRS
from loopwright.pattern._rewording.set_in import LABEL as _LABEL
from loopwright.pattern._rewording.set_in import NTH as _NTH
from loopwright.pattern._rewording.set_in import ON as _ON
from loopwright.pattern._rewording.set_in import SHORT_LABEL as _SHORT_LABEL
from loopwright.pattern._rewording.set_in import WORK as _WORK
from loopwright.pattern._rewording.set_in import stands_alone, title_of_part
from loopwright.pattern._rewording.sheets import with_column
from loopwright.pattern._rewording.sizes_by_name import with_sizes_by_name
from loopwright.pattern._rewording.striped import with_rounds_by_colour
from loopwright.pattern._rewording.tables import Means, Rewordings
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import NUMBER_WORDS

__all__ = ["OneHand", "in_one_hand"]

_N = r"\d+(?:\.\d+)?[½¼¾]?"
_COUNTED = rf"{_N}(?: ?[(\[]{_N}(?: ?[,:;/] ?{_N})*[)\]])?"
_STS = r"(?:sts|stitches|st|stitch)"
_SIZE_NAME = (
    r"(?:[A-Z]{1,4}\d?|\d(?!\d)(?:XL)?|small|medium|large|child|adult|wom[ae]n|m[ae]n|baby|toddler)"
)
_STITCH = r"(?:(?:k|p|knit|purl) ?\d{1,2}(?: ?tog)?|ssk|ssp|skpo?|sk2po?|s2kp2?|cdd|yo|kfb|m1[lr]?|sl ?1(?:(?:, ?| ?[-–] ?)k(?: ?2 ?tog| ?1)(?:, ?| ?[-–] ?)psso)?|[ct]\d{1,2}[fblr]|\d/\d ?[lr]p?c)"
_AND_ALT = (
    rf",? (?:and|&) (?:then )?(?:(?:all|every|each) (?:(?:of )?the )?)?(?:rem(?:aining)? )?{_ALT}"
)


def _emphasised(match: re.Match[str]) -> str:
    return f"{match['lead']}{match['label']}: "


def _listed(match: re.Match[str]) -> str:
    """Put "48 (54) (60)" as "48 (54, 60)"."""
    return f"{match['first']} ({', '.join(match['more'].strip(' ()').replace(')', ' ').replace('(', ' ').split())})"


_IN_BARS = WordForm(rf"(?<=[\d½¼¾\"”″]) ?\| ?(?={_N})", re.NOFLAG)


def _barred(match: re.Match[str]) -> str:
    """Put "8 | 9 | 10 times" as "8/9/10 times", but in no row of a table."""
    text = match.string
    inside = len(_IN_BARS.findall(text)) == text.count("|")
    if not inside or not re.search("[a-z]{2}|[kp]", text.replace(match[0], ""), re.IGNORECASE):
        return match[0]
    return _IN_BARS.sub("/", match[0])


def _in_brackets(match: re.Match[str]) -> str:
    numbers = re.split(r"\s*[,:;/|]\s*", match["more"])
    return f"{match['first']}({', '.join(numbers)})"


def _slashed(match: re.Match[str]) -> str:
    if re.search(r"\b(?:1/[2348]|3/[48]|[57]/8)$", match["more"]):
        return match[0]
    return _in_brackets(match)


def _changed(match: re.Match[str]) -> str:
    return f"{match['stop'] or ''} ({match['what'].strip()})"


_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "eleventh", "twelfth")  # fmt: skip


def _nth_shaping(match: re.Match[str]) -> str:
    """Put "1st dec (Cream):" as "Dec 1 (Cream):"."""
    nth = match["nth"].lower()
    number = nth.rstrip("stndrh") if nth[0].isdigit() else _ORDINALS.index(nth) + 1
    aside = (match["aside"] or "").strip(" ,()")
    aside = re.sub(r"^(?:with|in|using) ", "", aside)
    return f"{match['lead']}{match['what'].capitalize()}{(match['course'] or '').lower()} {number}{f' ({aside})' if aside else ''}: "


_IN_ORDER = r"(?P<order>,? \(?in (?:that|this|reverse|reversed|backward) order\)?|,? backwards|,? in reverse)?"
_LISTED_ROWS = rf"(?:(?:work|knit|repeat|rep|do|use|as) )?(?:the )?(?:{_CRS} (?P<rows>\d{{1,2}}(?:(?:, ?(?:and |then )?| and | then | ?(?:-|–|to) ?)(?:{_CRS} )?\d{{1,2}})+)|first (?P<first>\d|two|three|four|five|six) {_CRS})"


def _row_by_row(match: re.Match[str]) -> str:
    """Put "Rows 6 to 9: go back, that is, work rows 4, 3, 2 and 1" row by row."""
    found, order = match.groupdict(), (match["order"] or "").lower()
    told = [int(n) for n in re.findall(r"\d+", match["rows"] or "")]
    if match["first"]:
        few = ("two", "three", "four", "five", "six")
        told = [1, few.index(match["first"]) + 2 if match["first"] in few else int(match["first"])]
    if len(told) == 2 and (match["first"] or re.search("-|–|to", match["rows"])):
        down = -1 if told[0] > told[1] else 1
        told = list(range(told[0], told[1] + down, down))
    if ("reverse" in order or "backward" in order) and told == sorted(told):
        told.reverse()
    numbers = [int(n) for n in re.findall(r"\d+", found.get("label") or "")]
    back = all(a == b + 1 for a, b in pairwise(told))
    fits = not numbers or (len(numbers) == 2 and numbers[1] - numbers[0] + 1 == len(told))
    if not (back and fits and (order or numbers)) or len(told) < 2:
        return match[0]
    course = "Row" if "row" in match[0].lower() else "Round"
    labels = [f"{course} {numbers[0] + n}" for n in range(len(told))] if numbers else None
    return match["lead"] + " ".join(
        f"{labels[n] if labels else f'Next {course.lower()}'}: work {course.lower()} {row}."
        for n, row in enumerate(told)
    )


_ROWS: tuple[tuple[str, Means], ...] = (
    ORNAMENTED,
    (  # "Rows 6 to 9: go back down the ladder, that is, work rows 4, 3, 2 and 1 in that order."
        rf"{_LEAD}(?P<label>{_CRS} ?\d+ ?(?:-|–|to|and|through|&) ?\d+)(?: \([^()\d]*\))?: (?:(?:go|work|run|the|now|back|again|same)\b[a-z' ]*(?:,? that is,? |,? i\.e\.,? |: |, so |, ))?(?:now )?{_LISTED_ROWS}{_IN_ORDER}\.?\s*$",
        _row_by_row,
    ),
    (
        rf"{_LEAD}(?:(?:now|then|next)\b,? )?(?=(?:work|knit|repeat|rep|do)\b){_LISTED_ROWS}{_IN_ORDER}(?:,? to [a-z ]{{3,40}})?\.?\s*$",
        _row_by_row,
    ),
    # signs
    (r"\\(?=[*_#()\[\]~+.-])", ""),  # as Markdown keeps a star from being a sign of its own
    (r"&amp;", "&"),
    (r"&nbsp;", " "),
    ("[∗✱★✻＊❋⁎]", "*"),
    ("(?<=\\d) ?[−‒‑] ?(?=\\d)", "-"),
    ("(?<=[a-z])[‑‐](?=[a-z])", "-"),
    ("[ﬁ]", "fi"),
    ("[ﬂ]", "fl"),
    ("[\u2000-\u200a\u202f\u205f\u00a0]", " "),
    ("[\u200b\u00ad\ufeff]", ""),
    (r"\r$", ""),
    (r"^<b>([^<>]*)</b>", r"\1"),
    (
        rf"^\s*(?:[-•–—·◦▪■□☐→+>]|o|(?:- )?(?:\[ ?\]|\( ?\)|_{{2,5}}))\s+(?={_LABEL}[^.:]{{0,30}}[:.]|(?:step )?\d{{1,2}}[.):] |{_WORK})",
        "",
    ),
    (r"^\s*(?:- )?(?:\[[ _]?\]|[☐□])\s+(?=[A-Z0-9][A-Za-z0-9])", ""),  # a box to tick
    (r"(?<=[a-z,;:]) {2,}(?=[a-z\d(\[*])|(?<=\d) {2,}(?=[a-z])", " "),
    (r"(?<=\d) ?(?:centimet(?:re|er)s?|cms)\b", " cm"),
    (rf"^(?P<b>\s*)(?:toe|heel|gusset|foot|leg|cuff|crown|thumb|flap)[,:] ?(?=(?:odd|even|plain|shaping|{_SIDE}) {_CRS}\b[^:]{{0,20}}:)", r"\g<b>"),  # "Toe, odd rounds:"
    (rf"\b(?P<n>{'|'.join(NUMBER_WORDS)}) (?P<more>more )?(?:centimet(?:re|er)s?|cms?)\b", r"\g<n> \g<more>cm"),
    (r"(?P<b>^|[.!] )[\"“](?P<name>[A-Za-z&]{2,12})[\"”](?= ?=)", lambda match: f"{match['b']}{match['name'][0].upper() if match['b'] else match['name'][0]}{match['name'][1:]}"),  # "… heel. “w&t” = slip …"
    (rf"\b(?:to|until) (?P<n>{_COUNTED}) {_STS} (?:before|from) (?:the )?BOR\b(?: (?:marker|m)\b)?", r"to last \g<n> sts"),
    # steps and sentences
    (r"^(?P<lead>\s*(?:\d{1,2}[.)] +)?)(?-i:TURN)(?=[.:] [A-Z][a-z])", r"\g<lead>HEEL TURN"),  # a title
    (r"^\s*\((?P<n>\d{1,2})\)\s+(?=[A-Z*\[])", r"\g<n>. "),
    (
        r"(?<=[a-z)\]]\. )(?<!\bin\. )(?:join|divide|distribute|arrange|place|graft|weave|repeat|slide|hold|there|you|turn|change|break|cut|bind|cast)(?= [a-z\d(])",
        lambda match: match[0].capitalize(),
    ),
    # labels
    *ENDS,
    *NAMED,
    (
        rf"{_LEAD}(?P<marks>\*\*|__|\*|_)(?P<label>{_LABEL}[^*_:.]{{0,30}}?)\s*(?:[:.]?(?P=marks)\s*[:.–—-]?|[:.](?P=marks))\s+(?=\S)",
        _emphasised,
    ),
    (rf"{_LEAD}(?P<word>{_CRS}|r|dec(?:rease)?|inc(?:rease)?)\.? ?(?:#|no\.? ?) ?(?=\d)", r"\g<lead>\g<word> "),
    (rf"{_LEAD}(?P<word>{_CRS})\. ?(?=\d)", r"\g<lead>\g<word> "),
    *SIDED,
    (
        rf"{_LEAD}(?P<label>{_SHORT_LABEL}(?: ?\({_SIDE}[^()]*\))?)[.)] +(?=[*(\[A-Za-z])",
        r"\g<lead>\g<label>: ",
    ),
    (  # "2nd and every following alternate round. Knit.", "Round 2 and all even rounds from here - knit"
        rf"{_LEAD}(?P<label>(?:{_SHORT_LABEL}|{_NTH}){_AND_ALT}|(?:(?:all|every|each) )?(?:even|odd)(?:[- ]numbered)? {_CRS})(?: (?:throughout|thereafter|(?:from )?(?:here|now|then) on(?:wards?)?|from (?:here|now|then)|(?:after (?:that|this|it)|to the (?:top|end|tip))))?(?: ?[:.]| [-–—]) (?=[*(\[A-Za-z])",
        r"\g<lead>\g<label>: ",
    ),
    (  # "1st dec (Cream): *k8, k2tog", "Second decrease round: …"
        rf"(?P<lead>^[ ]*(?:(?:[A-Z][A-Za-z]+ ?){{1,3}}[:.] )?)(?P<nth>\d{{1,2}}(?:st|nd|rd|th)|{'|'.join(_ORDINALS)}) (?P<what>dec|inc)(?:rease)?\.?(?P<course> {_CRS})?(?P<aside>,? ?\([^():]{{1,30}}\)|,? (?:with|in|using) [^():.,*\d]{{1,24}})?(?:: | [–—-] )(?=[*(\[]|[kp] ?\d|(?:k|knit|p|purl|ssk|skpo?|sl|slip|on|needle|work|m1[lr]?|make|yo|yfwd|kfb|k2tog)\b)",
        _nth_shaping,
    ),
    (  # "Rnd 1 (k1, ssk, k30, k2tog, k1) 2x", "1st round - (k2, p3), three times"
        rf"{_LEAD}(?P<label>{_SHORT_LABEL})(?: ?[-–—])? (?=[*(\[]+(?:[kp] ?\d|ssk|sl|yo|m1|[a-z]?\d/\d|rt|lt)\b)",
        r"\g<lead>\g<label>: ",
    ),
    (  # "R1 k36, turn. R2 ds, p35, turn."
        rf"(?P<lead>^\s*|(?<=turn\. ))(?P<label>{_CRS} ?\d+|r ?\d+) (?=(?:[kp] ?\d+|ds|yo|sl ?1), |(?:k|p|knit|purl)\.?\s*$)",
        r"\g<lead>\g<label>: ",
    ),
    *ENDED,
    *LABELS,
    (r"(?<=[)\]]) ?(?P<n>\d+) ?x(?=[.,;]| ?=| \(|\s*$)", r" \g<n> times"),
    (  # "Rnd 1: (k1, ssk, k30, k2tog, k1) 2x = 68"
        rf"^(?P<row>\s*{_SHORT_LABEL}(?: ?[(\[][^()\[\]:]*[)\]])?: [^=]*[\w)*\]])(?<!total)(?<!sts)(?<!stitches)(?<!now) ?= ?(?P<n>{_COUNTED})\.?\s*$",
        r"\g<row> (\g<n> sts)",
    ),
    (  # "(k2, p3), three times per needle"
        r"[(\[](?P<group>[^()\[\]*]+)[)\]],? (?P<n>\d+ times|twice|two times|three times|four times|five times|six times) (?:per|on each|on every|for each|to each|to a|each) needle(?=[.;,]|$| \()",
        r"*\g<group>*, \g<n> on every needle",
    ),
    (  # "1st round - as 1st."
        rf"{_LEAD}(?P<label>{_NTH} {_CRS}) [-–—] (?=as )",
        r"\g<lead>\g<label>: ",
    ),
    (  # "ROW 2 (WS) Sl 1, purl to end.", "NEXT RND Knit.", as magazines set it
        rf"{_LEAD}(?P<label>(?-i:(?:[A-Z][A-Z-]+ ){{0,2}}(?:ROUND|RND|ROW)S?(?: \d+(?:(?:{_ON}| (?:AND|TO) )\d+)*)?(?: \((?:RS|WS)\))?)) (?=(?-i:[*\[(]?[A-Z][a-z0-9 ]|[*\[(]))",
        r"\g<lead>\g<label>: ",
    ),
    (
        rf"^(?P<lead>\s*(?:[A-Z][A-Za-z',-]{{2,20}}(?: [A-Za-z',-]{{2,16}}){{0,2}}\. )?)(?P<label>(?:next|following) {_CRS})\. (?=[*(\[A-Za-z])",
        r"\g<lead>\g<label>: ",
    ),
    (
        rf"{_LEAD}(?P<label>{_SHORT_LABEL}) ?[-–—] ?(?P<what>(?:dec|inc)(?:rease)?(?: {_CRS})?|plain|set-?up)\s*[:.]\s+",
        r"\g<lead>\g<label> (\g<what>): ",
    ),
    (
        r"^(?P<lead>(?:\S+ ){3,}\S+): (?=(?:rnd|round|row|r) ?1\b(?: ?[(\[][^()\[\]]*[)\]])?: )",
        r"\g<lead>. ",
    ),
    (
        r"^\s*abbreviations (?:used|employed)(?: in (?:this|the|these) [a-z]+)?\s*:?\s*$",
        "Abbreviations",
    ),
    # numbers by size
    (  # "SIZE A | B | C: 7 | 8 | 9 in", "Sizes: S | M | L"
        rf"^(?P<lead>\s*sizes? ?:? ?)(?P<names>{_SIZE_NAME}(?: ?\| ?{_SIZE_NAME})+)(?=[ :.(]|$)",
        lambda match: match["lead"] + re.sub(r" ?\| ?", "/", match["names"]),
    ),
    (  # "8 | 9 | 10 times"
        rf"(?<![\w.|/])(?<!\| )(?<!ndl )(?<!needle )(?<!row )(?<!rnd )(?<!round )(?<!step ){_N}[\"”″]?(?: ?\| ?{_N}[\"”″]?)+",
        _barred,
    ),
    (  # "Rep R1 to 6 in above the heel"
        rf"\b(?P<rep>rep(?:eat)?|work) r(?P<n>\d)(?= (?:until|to) (?:it measures )?{_N}(?:[\"”″]?/{_N})*(?: ?[(\[][^()\[\]]*[)\]])? ?(?:cm|in(?:ch(?:es)?)?\b|[\"”″]))",
        r"\g<rep> row \g<n>",
    ),
    (rf"\b(?P<first>{_N}) ?(?P<more>\({_N}\)(?: ?\({_N}\))+)(?! ?\()", _listed),
    (rf"(?:\b|(?<=\b[kp]))(?P<first>{_N} ?)\{{ ?(?P<more>{_N}(?: ?[,:;/] ?{_N})*) ?\}}", _in_brackets),
    (rf"\b(?P<first>{_N} ?)[(\[](?P<more>{_N}(?: ?[/|] ?{_N})+)[)\]]", _slashed),
    (rf"\b(?P<first>{_N} ?)[(\[](?P<more>{_N}(?:; ?{_N})+)[)\]]", _in_brackets),
    # what is stated behind a row
    (
        rf"(?P<stop>[.)\]])? +(?P<marks>\*\*?|__?)\(?(?P<what>{_COUNTED} {_STS}(?: [a-z' ’]{{2,24}})?)\.?\)?(?P=marks)\.?\s*$",
        _changed,
    ),
    (
        rf"(?P<stop>\.)? *(?://|→|-*>>*|=+>|⇒|»|\|{{1,2}}|~) *(?P<what>{_COUNTED} {_STS}(?: [a-z' ’]{{2,24}})?)\.?\s*$",
        _changed,
    ),
    (
        rf"(?P<stop>(?<=[\w)]))(?: =|,) (?P<what>\d+ {_STS} (?:dec|inc)(?:'d|’d|reased|\.)?)\.?\s*$",
        _changed,
    ),
    (  # "Row 9: You write this one! ________ (33)": a blank, and what it leaves
        rf"^(?P<label>\s*{_SHORT_LABEL})(?: ?\([^()\d]*\))?: (?:(?![^_]*[*(])[^_.\d]*)?(?:_{{4,}}|\.{{6,}}|…{{2,}})[ .]*[(\[]?(?P<n>{_COUNTED})(?: {_STS})?[)\]]?\.?\s*$",
        r"\g<label>: Write this row yourself. (\g<n> sts)",
    ),
    (  # "[k1, ssk, k14 / 16 / 18, k2tog, k1] twice. 36 / 40 / 44 left"
        rf"(?P<stop>[\w)\]*]\.) (?P<n>\d+(?: ?/ ?\d+)*|{_COUNTED}) (?:are |is )?(?P<how>left|remain(?:ing)?|on the needles?)\.?\s*$",
        r"\g<stop> \g<n> sts \g<how>",
    ),
    # repeats
    (r"\b(?P<rep>rep(?:eat)?) (?:from (?:the )?(?:asterisk|star)\b|from the \*|\*(?= (?:to|around|across)\b))", r"\g<rep> from *"),
    (
        r"(?<!\*)\*(?P<x>[^*;]+?) ?\*[;,]? ?(?P<rep>rep(?:eat)?) (?:\*-\*|between (?:the )?\*(?:'?s)?(?: and \*)?)(?=\s|$)",
        r"*\g<x>; \g<rep> from *",
    ),
    (r"(?<!\*)\*\*(?P<x>[^*]+?[;,] rep(?:eat)? from )\*\*(?!\*)", r"*\g<x>*"),
    (r"(?<=[a-z\d)]) [-–—] (?=rep(?:eat)? from \*)", "; "),
    (r"(?P<x>\[(?:[kpct]|sl|yo|\d/)[^\[\]]+\]|\((?:[kp]|[ct]\d|sl|yo|\d/\d)[^()]+\)),? rep(?:eat(?:ed)?)? (?=to (?:the )?end|around|across)", r"\g<x> "),
    (
        rf"^(?P<lead>\s*(?:\d{{1,2}}[.)] )?)\((?P<side>{_SIDE})\):? (?=[A-Z*(\[])",
        r"\g<lead>Next row (\g<side>): ",
    ),
    (  # "K10, k2tog around": all of it is worked over and over
        rf"^(?P<lead>\s*(?:(?:{_LABEL}|\d(?:st|nd|rd|th) {_CRS})(?: ?[(\[][^()\[\]:]*[)\]])?[:.] |\d{{1,2}}[.)] ))(?=[^.]*(?:tog|ss[kp]|sk|s2k|cdd|yo|kfb|m1))(?P<x>(?:{_STITCH}(?:, ?| and ))+{_STITCH}),? (?:all )?around(?=\.| ?[(\[—–=]| -|$)",
        r"\g<lead>*\g<x>; rep from * around",
    ),
    (r"(?P<x>sl ?1) ?[-–] ?(?P<y>k ?(?:2 ?tog|1)) ?[-–] ?psso", lambda match: "skp" if match["y"][-1] == "1" else "sk2p"),
    (r"\{(?P<x>(?:k|p|sl|yo|ssk|m1)[^{}*]*)\}", r"[\g<x>]"),
    (  # "*Knit to …, turn. Purl to …, turn.* Repeat between asterisks until"
        r"(?<=[a-z][.;,])\*[.;,]? ?(?P<rep>rep(?:eat)?) (?:between (?:the )?(?:asterisks|stars)|from \* to \*|\*(?: to |-)\*)(?= )",
        r" \g<rep> from *",
    ),
    (  # "*WS row:* Sl 1, p to end": a label in slanting letters
        rf"^(?P<lead>\s*)\*(?P<label>(?:{_SIDE}|knit|purl|next|set-?up|dec|inc|{_LABEL})(?: (?:row|rnd|round)s?)?):?\*:? (?=[A-Z*(\[])",
        r"\g<lead>\g<label>: ",
    ),
)  # fmt: skip
_TABLE = Rewordings((*_ROWS, *LISTED))
_MOST = 4000  # characters of a line; a longer one is left as it stands
_Piece = tuple[int, int, tuple[int, ...]]  # where it begins in a line, its own line, its columns


@attrs.frozen
class OneHand:
    """A text in one hand: ``text``, and of each line the pieces that it was made of."""

    text: str
    _lines: tuple[tuple[_Piece, ...], ...] = ()
    row_names: Mapping[int, str] = {}

    def place(self, line: int, column: int) -> tuple[int, int]:
        """Return the line and column of the text as it was given, for those of :attr:`text`."""
        if not 0 < line <= len(self._lines):
            return line, column
        pieces = self._lines[line - 1]
        if column <= 1:
            return pieces[0][1], column  # what is said of a line stands at its beginning
        start, own, columns = max(one for one in pieces if one[0] < column or one is pieces[0])
        return own, columns[min(column - 1 - start, len(columns) - 1)] + 1

    def last_line(self, line: int) -> int:
        """Return the last line of the text as it was given that a line of :attr:`text` holds."""
        return self._lines[line - 1][-1][1] if 0 < line <= len(self._lines) else line


def in_one_hand(text: str) -> OneHand:
    r"""Return a text as one hand writes it.

    Examples
    --------
    >>> found = in_one_hand("Cast on 48 (54) (60) sts.\n**Row 1, RS:** K2, p2. *60 sts*")
    >>> print(found.text)
    Cast on 48 (54, 60) sts.
    Row 1 (RS): K2, p2. (60 sts)
    >>> found.place(2, found.text.split("\n")[1].index("K2") + 1)
    (2, 16)
    """
    given = text.split("\n")
    numbered, names = with_rows_numbered(with_column(given))
    said = [
        MappedText(one.text, tuple(line.at[place] for place in one.at))
        for line in numbered
        for one in [_TABLE.of(line.text) if len(line.text) <= _MOST else MappedText.of(line.text)]
    ]
    said = _with_brackets(with_cast_on_first(with_sizes_by_name(with_first_outside(said))))
    said = [with_rounds_by_colour(one) for one in _with_first_apart(said)]
    if _SHADOWS.search(text):
        said = [
            _SHADOW_TABLE.put_in(one) if _SHADOWS.search(one.text) is None else one for one in said
        ]
    if _DOUBLE.search(text):
        said = _with_doubles(said)
    said = with_heads_on_rows(with_own_words(said))
    if "from **" not in text:
        said = [one.cut(0, 0) if _STARS.match(one.text) else one for one in said]
    width = _width(given)
    columns = [one.text for one in numbered]
    for number in (n for n, line in enumerate(columns) if line[:1].isspace()):
        if stands_alone(columns, number):
            said[number] = said[number].piece(0, len(said[number].text))
            if number and (at := title_of_part(said[number - 1].text)):
                said[number - 1] = said[number - 1].sub(re.compile(rf"^.{{{at}}}"), "## ")
    if not width and all(one.text == line for one, line in zip(said, given, strict=True)):
        return OneHand(text)
    lines: list[str] = []
    pieces: list[tuple[_Piece, ...]] = []
    for number, one in enumerate(said, start=1):
        if width and number > 1 and _goes_on(given[number - 2], one.text, width):
            behind = one.piece(0, len(one.text))
            before = lines[-1].rstrip()
            before += "" if before.endswith("-") and before[-2:-1].isalpha() else " "
            pieces[-1] += ((len(before), number, behind.at),)
            lines[-1] = before + behind.text
        else:
            pieces.append(((0, number, one.at),))
            lines.append(one.text)
    return OneHand("\n".join(lines), tuple(pieces), names)


_ALL_INSIDE = WordForm(  # "(51, 58, 65 sts)"
    rf"(?<=[(\[])(?P<first>\d+)(?P<more>(?:[,:/] ?\d+)+)(?= {_STS}(?: [a-z ]+)?[)\]])", re.NOFLAG
)
_SIZED = WordForm(r"\d ?[(\[]\d+(?P<more>(?:[,:/] ?\d+)*)[)\]]", re.NOFLAG)


def _with_first_apart(lines: list[MappedText]) -> list[MappedText]:
    """Return lines with "(51 (58, 65) sts)" for "(51, 58, 65 sts)", where there are as many sizes."""
    entries = {
        2 + len(re.findall(r"\d+", one["more"]))
        for line in lines
        for one in _SIZED.finditer(line.text)
    }

    def apart(match: re.Match[str]) -> str:
        numbers = [int(one) for one in re.findall(r"\d+", match[0])]
        if {len(numbers)} != entries or numbers != sorted(numbers):
            return match[0]
        return f"{numbers[0]} ({', '.join(map(str, numbers[1:]))})"

    return [one.sub(_ALL_INSIDE, apart) for one in lines]


_SHADOWS = WordForm(  # "SW (shadow wrap): …", which counts as a wrap does
    r"\bSW\b[^\n]{0,4}(?:shadow|twin)|\b(?:shadow wrap|twin stitch)[^\n]{0,6}\bSW\b"
)
_WITH_IT = r"(?:as (?:1|one) st(?:itch)?|with (?:its|their) (?:shadow|twin|st|stitche?)s?)"
_SHADOW_TABLE = Rewordings(
    (
        (r"\bSW(?: (?:it|the next(?: st)?))?,? (?:and )?turn\b|(?<=, )SW(?=\.|$)", "w&t"),
        (r"\b(?P<where>last|first|next|to|to the) (?:SW|shadowed st(?:itch)?)\b", r"\g<where> wrapped st"),
        (rf"\b(?:k|p|work|knit|purl) it {_WITH_IT}", "work it with its wrap"),
        (rf"\b(?:remaining )?(?:SWs|shadows|shadowed sts) worked {_WITH_IT}", "working the wraps with their sts"),
        (rf"\bworking (?:both |the |remaining )*(?:SWs|shadows|shadowed sts) {_WITH_IT}", "working the wraps with their sts"),
        (r"\bclosing (?:the |any |all |other |remaining )*shadows\b", "working the wraps with their sts"),
        (r"\b(?:SWs|shadowed sts)\b", "wrapped sts"),
        (r"\b(?P<be>is|are) shadowed\b", r"\g<be> wrapped"),
    )
)  # fmt: skip
_DOUBLE = WordForm(r"\b(?:double|german|turning st)")
_DOUBLED = Rewordings(
    (
        (r"\b(?:german short[- ]row|turning|GSR) (?P<st>st|stitch)\b", r"double \g<st>"),
        (r"\bsl(?:ip)? [^,.;:]*\b(?:to make|making|for) (?:a|the) double st(?:itch)?\b(?=,)", "DS"),
        (
            r"(?:(?<=: )|(?<=[,;(] )|(?<=[(]))double st(?:itch)?(?=, (?:(?:k|p|knit|purl|then)\b|[kp]\d))",
            "DS",
        ),
        (r"\bGSRS?\b(?=,? (?:and )?(?:k|p|knit|purl)\b)", "DS"),
    )
)
_NAMES_DOUBLE = WordForm(  # "TS: with yarn in front sl 1 …, so that it becomes double", "…; mdst = …"
    r"^\W*(?P<name>[A-Z]{2,4}) ?[:=–-] (?=[^;]*\bsl(?:ip)?\b)[^;]*\bdoubled?\b(?![- ](?:pointed|needle))|\bdouble st(?:itch)? \((?P<name2>[A-Z]{2,4})\)"
    r"|(?:^|[;:.,] )(?P<name3>(?!sl\b|sts?\b|w&t|turn)[A-Za-z]{2,5}) ?= ?(?=[^;]*\bsl(?:ip)?\b)(?=[^;]*\b(?:pull|tug|draw)\w*\b)[^;]*\b(?:doubled|double (?:st|stitch|loop)|(?:two|both|2) (?:legs|strands)\b[^;]*\b(?:shows?|appears?|lie|stand|seen|visible))\b",
    re.NOFLAG,
)


def _with_doubles(lines: list[MappedText]) -> list[MappedText]:
    """Return lines in which what they call a double stitch is called DS."""
    lines = [_DOUBLED.put_in(one) for one in lines]
    found = (_NAMES_DOUBLE.search(one.text) for one in lines)
    names = {match["name"] or match["name2"] or match["name3"] for match in found if match}
    for name in sorted(names - {"DS", "MDS", "ds", "mds"}):
        any_case = re.NOFLAG if name.isupper() else re.IGNORECASE
        lines = [one.sub(re.compile(rf"\b{name}\b", any_case), "DS") for one in lines]
    return [one.sub(_SPELT, "DS") for one in lines]


_SPELT = WordForm(r"\bdouble st(?:itch)? \(DS\)(?=,)")
_STARS = WordForm(r"\s*(?:\*\s*){3,}$", re.NOFLAG)  # a line between two parts
_CAST_ON = WordForm(  # "cast on 48/56/64 sts"
    r"\b(?:cast(?:ing)? on|co)\b(?: [a-z]+){0,2}? (?P<list>\d+(?P<sign>, | ?[/–-] ?)\d+(?:(?P=sign)\d+)*) (?:[a-z]+ )?(?:sts|stitches)\b",
)


def _with_brackets(lines: list[MappedText]) -> list[MappedText]:
    """Return lines with "48/56/64 sts" as "48 (56, 64) sts", where sizes are cast on so."""
    cast_on = next((found for one in lines if (found := _CAST_ON.search(one.text))), None)
    if cast_on is None:
        return _as_cast_on(lines)
    sign = cast_on["sign"].strip().replace("–", "-")
    many = len(re.findall(r"\d+", cast_on["list"]))
    if many < (2 if sign == "/" else 3):
        return lines
    if sign != ",":
        return [by_sign(one, many, sign) for one in lines]
    form = re.compile(
        rf"(?:(?<![\d.,(\[-])|(?<=[^\d ][ (]\()|(?<=[^\d] \()){_N}(?:, {_N}){{{many - 1}}}(?!\d|\.\d|, ?\d| ?[(\[])"
    )
    return [one.sub(form, _by_comma) for one in lines]


_IN_BRACKETS = WordForm(  # "cast on 48 (56, 64) sts"
    r"\b(?:cast(?:ing)? on|co)\b(?: [a-z]+){0,2}? \d+ ?[(\[](?P<more>\d+(?:[,:/] ?\d+)+)[)\]]",
)


def _as_cast_on(lines: list[MappedText]) -> list[MappedText]:
    """Return lines with "k13/14/16" as "k13 (14, 16)", where three sizes or more are cast on in brackets.

    Numbers that fall are those of needles: "14-28-14".
    """
    cast_on = next((found for one in lines if (found := _IN_BRACKETS.search(one.text))), None)
    if cast_on is None:
        return lines
    many = 1 + len(re.findall(r"\d+", cast_on["more"]))

    return [by_sign(by_sign(one, many, "/", rising=True), many, "-", rising=True) for one in lines]


def _by_comma(match: re.Match[str]) -> str:
    first, *more = match[0].split(", ")
    worked = _WORKED.search(match.string, 0, match.start())
    counted = worked or _COUNTS.match(match.string, match.end())
    return f"{first} ({', '.join(more)})" if counted else match[0]


_WORKED = re.compile(
    r"\b(?:[kp] ?|knit |purl |(?:slip|sl) |(?:the )(?:first |last |next |other |remaining ))$",
    re.IGNORECASE,
)
_COUNTS = WordForm(
    r" ?(?:(?:remain|(?:are |have been )?left)\b|(?:[a-z-]+ ){0,2}(?:sts|stitches|rnds|rounds|rows|times|cm|mm|in|inches|ridges|repeats)\b|[\"”])",
)


# lines that were wrapped --------------------------------------------------------------------------

_STOPS = WordForm(r"[.!?:][)\]\"'*]*$|[)\]]$", re.NOFLAG)
_BEGINS = WordForm(  # a line of its own, however long the one before it is
    rf"\s*(?:#|\*\*|\d{{1,2}}[.)]\s|[-•–]\s|step \d|(?:{_LABEL}|needles? \d|n\d|[a-z][a-z ]{{2,24}})(?: ?[(\[][^()\[\]]*[)\]])?\s*:)",
)
_SOME = 4  # lines that break in their midst, before a text is taken to be wrapped


def _width(lines: list[str]) -> int:
    """Return the column at which the lines of a text were wrapped; 0 for a text that was not.

    Where a line breaks in its midst, the next word would not have had room on it.
    """
    lengths = sorted(len(line.rstrip()) for line in lines if line.strip() and "|" not in line)
    if len(lengths) < 2 * _SOME:
        return 0
    width = lengths[-1 - len(lengths) // 50]
    broken = [
        len(line.rstrip()) + 1 + len(behind.split()[0])
        for line, behind in pairwise(lines)
        if 2 * len(line) > width and behind.strip() and not _STOPS.search(line.rstrip())
    ]
    full = sum(reached > width for reached in broken)
    return width if 30 <= width <= 110 and full >= _SOME and 3 * full >= 2 * len(broken) else 0


def _goes_on(before: str, line: str, width: int) -> bool:
    """Tell whether a line goes on with the one before it, which had no room for its first word."""
    before, line = before.rstrip(), line.strip()
    if not before.strip() or not line or "|" in before + line or before[0] == "#":
        return False
    if len(before) + 1 + len(line.split()[0]) <= width:
        return False
    if _OPEN.search(before):
        return True
    if before[-1] in ".!?":
        return _REST.match(line) is not None
    if _BEGINS.match(line):
        return False
    return before[-1] not in ")]" or line[0].islower()


_OPEN = WordForm(  # a bracket, a list or a name that goes on
    r"[,(\[]$|[(\[][^()\[\]]*$|\b(?:needles?|rnds?|rounds?|rows?|steps?|sizes?|markers?|and|or|to|of|the|with|from|until|\*)$",
)
_REST = WordForm(  # what stands behind a full stop and begins no line
    rf"{_COUNTED} {_STS}\b|\({_COUNTED} {_STS}\b|[Tt]urn\b|[a-z](?!\))", re.NOFLAG
)
