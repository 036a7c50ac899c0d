# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What stands before and around the instructions: heads, headings, sizes, gauge, definitions."""

from __future__ import annotations

import re
from functools import lru_cache

from loopwright.errors import SizeError, StepError
from loopwright.pattern._cables import explained
from loopwright.pattern._reading.labels import label_of
from loopwright.pattern._reading.lines import Line
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import whole_number
from loopwright.pattern.program import MATERIAL_HEADS, GaugeLine
from loopwright.pattern.values import SizedLength

__all__ = [
    "HEADS",
    "TEXT_SECTIONS",
    "definition",
    "fitted_in",
    "gauge_by_the_way",
    "gauge_in",
    "gauge_of_stitches",
    "head_in",
    "heading_in",
    "is_abbreviation_list",
    "is_row",
    "sign_between",
    "sizes_in",
    "sizes_told",
]

# Heads whose line is about the pattern, not part of it; common practice.
HEADS = (
    *MATERIAL_HEADS,
    "needle", "notion", "supplies", "equipment", "tools", "you will need", "what you need", "what you will need", "you'll need",
    "measurements", "measurement", "finished measurement", "finished dimensions", "dimensions", "to fit", "fits", "finished length",
    "foot circumference", "leg circumference", "head circumference", "hand circumference", "finished circumference", "circumference", "length", "height", "width", "depth",
    "gauge", "tension", "hand", "tension/gauge", "gauge/tension", "size", "sizes", "sizing", "skill", "difficulty", "level", "about", "about this pattern", "description", "introduction", "notes", "pattern notes",
    "note", "tips", "tip", "bring", "colour", "colours", "color", "colors", "wool", "yarns", "ease", "construction", "extras", "other materials", "you need", "hook", "techniques", "caution",
    "title", "yardage", "answers", "answer", "finished foot circumference", "knitted measurements", "special techniques", "design notes", "working method", "explanation", "mounting", "knitting firmness", "material", "before you begin", "before you start",
)  # fmt: skip
TEXT_SECTIONS = (
    "notes", "note", "pattern notes", "materials", "measurements", "finished measurements", "finished size", "finished sizes", "sizes", "size", "gauge", "tension", "yarn", "needles", "notions",
    "supplies", "equipment", "you will need", "what you need", "what you will need", "about", "about this pattern", "introduction", "abbreviations", "abbreviations used", "special abbreviations", "special stitches",
    "stitches used", "stitch guide", "stitch glossary", "glossary", "techniques", "special techniques", "tips", "construction", "colours", "colors", "key", "terms", "description", "before you begin", "before you start", "sizing",
    "abbreviations and terms", "tools", "skills", "schematic", "questions", "questions to talk over", "answers", "to think about", "to think about at home", "think about", "homework", "pattern information", "information", "dimensions",
)  # fmt: skip
_HEAD = re.compile(r"(?P<head>[A-Za-z][A-Za-z '/&-]{1,34}?)\s*(?::|\s[-–—](?=\s))\s*(?P<rest>.*)$")
_BARE_HEAD = re.compile(
    r"(?P<head>gauge|tension|sizes?|needles?|yarn)\s+(?:is|are|:)\s+(?P<rest>.*)$", re.IGNORECASE
)
_DOTTED_HEAD = re.compile(  # "SIZES. Small (Medium, Large)."
    r"(?P<head>SIZES?|Sizes?|TENSION|Tension|GAUGE|Gauge)\. +"
    r"(?P<rest>(?![^(]*\b(?:is|are|can|will|may|has|fits?)\b)[A-Z\d].*)$"
)


@lru_cache(maxsize=8192)
def head_in(text: str) -> tuple[str, str, int] | None:
    """Return the head of a line, what follows, and where; None if it has no known head.

    Examples
    --------
    >>> head_in("Needles: US 1, or size to obtain gauge")
    ('needles', 'US 1, or size to obtain gauge', 9)
    """
    for form in (_HEAD, _BARE_HEAD, _DOTTED_HEAD):
        match = form.match(text)
        if match is not None:
            head = " ".join(match["head"].lower().split())
            if head in HEADS or head.removeprefix("finished ") in HEADS:
                return head, " ".join(match["rest"].split()), match.start("rest")
    return None


_PARTED = WordForm(r"(?:part|section|step|stage|lesson|chapter)\s+(?:\w+)\s*[:.–—-]*\s*")
_NUMBERED_TITLE = WordForm(  # "4. Heel turn", "[4] heel turn"
    r"\d{1,2}[.)]\s+(?=[A-Z])|\[(?:\d{1,2}|[A-H])\]\s+(?=[A-Za-z])", re.NOFLAG
)
_LETTERED = WordForm(r"[A-Z][.)]\s+(?=[A-Z])", re.NOFLAG)
_ASIDE = WordForm(r"\s*[(\[][^)\]]*[)\]]\s*$", re.NOFLAG)
_VERB_FIRST = WordForm(
    r"(?:knit|purl|k\d*|p\d*|cast on|co|bind off|cast off|bo|work|rep|repeat|join|slip|sl|pick up|graft|weave|break|cut|place|put|pm|continue|cont|fasten|block|darn|return|decrease|increase|divide|distribute|change|switch|remove|take|thread|draw|row|rnd|round|rows|rnds|rounds|next|size|sizes|to fit|using|with|turn the work|turn work|make a|sew|press|unpick)\b",
)


_PART_TO_WORK = WordForm(  # "Work thumb", "Decrease for top", and no stop behind it
    r"(?:work|knit|decrease|increase|dec|inc)(?: (?:the|for|on|at|first|second|left|right))* (?:heel (?:flap|turn)|thumb (?:gusset|hole)|top of (?:the )?(?:hand|hat|mitten|thumb)|heel|flap|toe|thumb|hand|palm|top|tip|crown|cuff|ribbing|brim|body|leg|foot|instep|sole|gusset)",
)
_PARTS_OF_WORK = frozenset(
    [
        "section",
        "half",
        "part",
        "shaping",
        "band",
        "border",
        "edging",
        "edge",
        "decreases",
        "increases",
        "decrease",
        "increase",
        "panel",
        "rounds",
        "rows",
        "brim",
        "instructions",
        "begins",
    ]
)


LONGEST_TITLE = 160

_BAND = WordForm(  # "First band: the Fish chart"
    r"[A-Z][A-Za-z -]{2,20}: (?:the |a )?[A-Za-z'-]+(?: [A-Za-z'-]+){0,2} (?:chart|pattern|panel|section|lace|cable|border)",
    re.NOFLAG,
)
_WAY = WordForm(  # "Way one: k2tog (leans to the right)"
    r"(?:[A-Z][a-z]+ (?:one|two|three|four|five|six|seven|eight|nine|ten|[A-Z]|\d{1,2})|(?:First|Second|Third|Fourth|Fifth|Sixth|Last|Next) [a-z]+)(?<!Needle \d)(?<!needle)"
    r"\s*[:–—-]\s*(?i:the )?(?i:[sk]sk|skp|skpo|k[23]tog|p[23]tog|sk2p|s2kp2?|cdd|sssk|ssp|kfb|pfb|yo|yfwd|m1[lrp]?|make one|yarn over)(?: tbl)?(?: (?:decrease|increase)s?)?(?:,? (?:and|or) [a-z0-9]+|,? (?:which|leaning|leans) [^.;,\d]+)?(?: \([^()]*\))?",
    re.NOFLAG,
)
_PANEL = WordForm(  # "Rope Panel (10 sts, 8 rnds)"
    r"[A-Z][A-Za-z' -]{2,30}(?: \d)? \((?:(?:a |worked over (?:a )?)?(?:multiple of |panel of )?\d+(?: ?\+ ?\d+)? ?(?:sts|stitches)[^)]*)\)(?:,? (?:in words|written out))?\s*:?",
    re.NOFLAG,
)
_OF_A_HAND = WordForm(  # "Thumb gusset, right mitten"
    r"[A-Z][a-z]+(?: [a-z]+){0,2}, (?:for (?:the )?)?(?:right|left) (?:mitten|mitt|hand|glove|sock|slipper)(?: only)?:?",
    re.NOFLAG,
)
_HALF_OF_PART = WordForm(  # "HEEL, first half (N2 only, 28 (32) sts)"
    r"[A-Z][A-Za-z]+(?: [A-Za-z]+){0,2}[,:]? (?:(?i:first|second|1st|2nd|last) (?i:half|part|stage)|(?i:part|half|stage) (?i:[1-3]|[ab]|one|two|three))(?: \((?:[^()]|\([^()]*\))*\))?:?",
    re.NOFLAG,
)
_NUMBERED_PART = WordForm(  # "Eyelet band 1:"
    r"[A-Z][a-z]+ (?:[a-z]+ )?(?:band|tier|edge|block|panel|wedge|motif|stripe|border|section|segment) \d{1,2}:",
    re.NOFLAG,
)


def heading_in(line: Line) -> str | None:
    """Return the title that a line is, None if it is none: short, no sentence, standing apart.

    Examples
    --------
    >>> heading_in(Line("Turn Heel", ((0, 1, 1),))), heading_in(Line("Knit 3 rounds.", ((0, 1, 1),)))
    ('Turn Heel', None)
    """
    return _title(line.text.strip(), line.after_blank)


@lru_cache(maxsize=8192)
def _title(text: str, after_blank: bool) -> str | None:
    if len(text) > LONGEST_TITLE:
        return None
    if _NUMBERED_PART.fullmatch(text) or (
        after_blank and (_OF_A_HAND.fullmatch(text) or _HALF_OF_PART.fullmatch(text))
    ):
        return text.rstrip(":")
    if _PANEL.fullmatch(text) or (after_blank and (_BAND.fullmatch(text) or _way(text))):
        return text
    if after_blank and (number := _NUMBERED_TITLE.match(text)) is not None:
        named = text[number.end() :]
        named = named[0].upper() + named[1:]
        return text.rstrip(":") if _title(named, after_blank=True) else None
    if after_blank and text[0].isupper() and _STOPPED.fullmatch(text):
        return text.rstrip(".")
    if _TOLD_OF.fullmatch(text):
        return text.rstrip(":")
    plain = _OVER_SO_MANY.sub("", text)  # "Heel (over first 16 (18, 20) sts)"
    bare = _ASIDE.sub("", plain) if not text.startswith(("(", "[")) else text
    colon = bare.endswith(":")
    bare = bare.rstrip(":").strip()
    if not bare or len(text) > 64 or not bare[0].isalpha():
        return None
    parted = _PARTED.match(bare) or _LETTERED.match(bare)
    inner = bare[parted.end() :] if parted else bare
    words = inner.split()
    if len(re.findall(r"[A-Za-z]", bare)) < 3 or sizes_in(plain, sure=False):
        return None
    is_loud = bare.isupper() and not re.search(r"[\d;,.*\[=]", inner)
    if len(words) < 9 and (is_loud or (parted and not re.search(r"[.;*=]$|\d", inner))):
        return text.rstrip(":").strip()
    if len(words) > 7 or re.search(r"[.;,!?*=\[\]]|\d", inner) or (":" in inner):
        return None
    plain_heading = re.match(
        r"(?:turn(?:ing)? (?:the )?heel|pick(?:ing)? up|shape|work(?:ing)? the|make two|bind[- ]off|cast[- ]on|cast[- ]off|join(?:ing)?|place the heel|finishing|weav)",
        inner,
        re.IGNORECASE,
    )
    if (
        colon
        and len(words) <= 5
        and not re.search(r"\b(?:rnd|round|row)\b", inner, re.IGNORECASE)
        and not re.match(r"(?:now|size|next|rep)", inner, re.IGNORECASE)
    ):
        return bare
    if not after_blank or colon:
        return None
    is_part = len(words) <= 5 and words[-1].lower() in _PARTS_OF_WORK
    if _PART_TO_WORK.fullmatch(inner):
        return bare
    if _VERB_FIRST.match(inner) and not (is_part or (plain_heading and len(words) <= 5)):
        return None
    return bare if _ASIDE.sub("", text) == bare else text.rstrip(":")


_OVER_SO_MANY = WordForm(
    r"(?<=[a-z]) [(\[][a-z ,-]*\b(?:over|on|across)(?: [a-z]+){0,3} \d+ ?[(\[][\d, :/]+[)\]] ?(?:sts|stitches)(?: [a-z]+){0,2}[)\]]",
)
_STOPPED = WordForm(  # "Toe.", "Waste yarn."
    r"(?:the )?(?:(?:left|right|first|second|short[- ]row|rib(?:bed)?|heel|toe|thumb|afterthought|upper|lower) )?"
    r"(?:toe|heel|flap|heel turn|gusset|foot|leg|cuff|ribbing|thumb|hand|palm|body|brim|crown|band|edging|instep|(?:waste|scrap) yarn)\.",
)


_TOLD_OF = WordForm(  # "The toe is all in dark:"
    r"(?:now |next )?(?:the )(?:top|cuff|leg|foot|heel|heel flap|heel turn|flap|instep|gusset|toe|thumb|brim|band|crown|hand|wrist)(?: is| are) (?!knit|purl|work\w* (?:over|on|across)\b)(?:(?!over|on|of|then|sts|stitches)[a-z-]+ ?){1,6}:"
)


def _way(text: str) -> bool:
    """Tell whether a line only names a stitch that the part below it shows."""
    said = _WAY.fullmatch(text)
    return said is not None and not re.match(r"(?:\w+ )?(?:row|rnd|round|needle)\b", text, re.I)


# --- sizes ------------------------------------------------------------------------------------------

_SIZES = WordForm(r"(?P<first>[A-Za-z0-9][\w' /.+-]*?)\s*[(\[](?P<more>[^()\[\]]+)[)\]]", re.NOFLAG)
_NAME = WordForm(
    r"(?:\d+(?:\s*(?:-|–|to|/)\s*\d+)?(?:cm|in)?|x{0,4}s|x{0,4}l|\dx?l?|m|small|medium|large|extra (?:small|large)|x-?(?:small|large)|child\w*|kids?|adult|wom[ae]n'?s?|m[ae]n'?s?|lad(?:y|ies)'?s?|gent(?:leman|lemen)?'?s?|boys?|girls?|bab(?:y|ies)|infants?|newborn|toddlers?|youth|teens?|preemie|\d+(?:\s*(?:-|–|to)\s*\d+)? (?:months?|mos?|years?|yrs?)|one|two|three|four|(?-i:[A-H])|(?:eur?|uk|us)[ -]?\d+(?:\s*(?:-|–|to|/)\s*\d+)?(?:cm|in)?)(?:[ /-].*)?",
)


def sizes_in(text: str, *, sure: bool = True) -> tuple[str, ...]:
    """Return the names of sizes, smallest first; none where the text names none.

    Examples
    --------
    >>> sizes_in("1 [2: 3: 4]"), sizes_in("2-3 (4-5, 6-7) years"), sizes_in("Women's M")
    (('1', '2', '3', '4'), ('2-3', '4-5', '6-7'), ("Women's M",))
    >>> sizes_in("21cm (22cm)"), sizes_in("5mm (US 8)"), sizes_in("US 6 (4 mm)")  # of needles
    (('21cm', '22cm'), (), ())
    >>> sizes_in("Unisex/adult", sure=True)  # one size
    ('Unisex/adult',)
    """
    if listed := _by_sign(text)[0] or _with_measures(text):
        return listed
    match = _SIZES.match(text.strip())
    if match is None:
        names = [name.strip() for name in re.split(r"[,/;]|\band\b", text.strip(" ."))]
        if len(names) > 1 and all(_NAME.fullmatch(name) and len(name) < 16 for name in names):
            return _sound(names)
        parted = [name.strip() for name in text.strip(" .").split("/")]
        if sure and len(parted) > 2 and all(re.fullmatch("[A-Za-z]{2,12}", one) for one in parted):
            return _sound(parted)
        return (
            _sound([text.strip(" .")])
            if sure and re.fullmatch(r"[A-Za-z0-9][\w /.'’-]*", text.strip(" .")) and len(text) < 24
            else ()
        )
    names = [match["first"], *re.split(r"\s*[,;:]\s*", match["more"])]
    names = [" ".join(name.split()) for name in names if name.strip()]
    if len(names) < 2 or not (sure or all(_NAME.fullmatch(name) for name in names)):
        return ()
    if sure and not all(_NAME.fullmatch(name) or name.replace(" ", "").isalpha() for name in names):
        return ()
    return _sound(names)


_FITTED = WordForm(  # "child (woman: man)", "a small (medium, large) adult hand"
    r"(?:an? |ages? |aged |(?:child(?:ren)?|bab(?:y|ies)) (?:of|aged?) |(?:shoe )?sizes? |(?:the )?feet of )*(?P<names>[A-Za-z0-9][\w' /–-]*?\s*[(\[][^()\[\]]+[)\]])(?P<rest>.*)$",
)
_BARE_NAME = re.compile(
    r"(?:(?:small|large|older|younger) )?(?:x{0,4}s|x{0,4}l|\dxl|m|small|medium|large|extra (?:small|large)|child(?:ren)?|kids?|adult|women|men|woman|man|baby|newborn|toddler|youth|teen|preemie|(?-i:[A-H]))",
    re.IGNORECASE,
)


def fitted_in(text: str) -> tuple[str, ...]:
    """Return the sizes that "to fit" is followed by; none where it names a measurement.

    Examples
    --------
    >>> fitted_in("child (woman: man)"), fitted_in("17 (20) cm around")
    (('child', 'woman', 'man'), ())
    """
    if listed := _by_sign(text)[0] or _with_measures(text):
        return listed
    match = _FITTED.match(text.strip())
    if match is None or re.match(r"\s*(?:cm|mm|in\b|inch|\"|″|')", match["rest"]):
        return ()
    return sizes_in(match["names"], sure=False)


_MEASURE = r"\d[\d.½¼¾]*(?: ?(?:-|–|to) ?\d[\d.½¼¾]*)?(?: ?(?:cm|mm|ins?\b\.?|inch(?:es)?|[\"”″]))?"
_NAMED_ALONE = WordForm(rf"\s*(?P<name>{_BARE_NAME.pattern})(?::| ?=)? {_MEASURE}\s*")  # fmt: skip


def _with_measures(text: str) -> tuple[str, ...]:
    """Return names that each stand before a measure: "A 44-46 cm (B 48-50 cm, C 52-54 cm)"."""
    listed = re.match(
        r"([^()\[\],;]+)(?:[(\[]([^()\[\]]+)[)\]]|[,;]([^()\[\]]+$))", text.strip(" .")
    )
    if listed is None:
        return ()
    parts = [listed[1], *re.split("[,;]", listed[2] or listed[3])]
    named = [_NAMED_ALONE.fullmatch(part) for part in parts]
    return _sound([one["name"] for one in named if one]) if all(named) else ()


def _by_sign(text: str) -> tuple[tuple[str, ...], str]:
    """Return names with one sign between them, and the sign: "S-M-L", "Child: Woman: Man"."""
    listed = text.strip().split(",")[0].strip(" .")
    for sign in "/:-":
        names = [name.strip() for name in listed.split(sign)]
        least = 2 if sign == ":" else 3
        if len(names) >= least and all(_BARE_NAME.fullmatch(name) for name in names):
            return _sound(names), sign
    return (), ""


def sign_between(text: str, sizes: int) -> str:
    """Return the sign that stands between the names of sizes, and so between their numbers.

    Examples
    --------
    >>> sign_between("S-M-L, to fit a hand of 18-20-22 cm", 3), sign_between("S (M, L)", 3)
    ('-', '')
    """
    return _by_sign(text)[1] or ("/" if "/" in text and sizes > 2 else "")


_ONE_NAME = rf"(?:{_BARE_NAME.pattern}|(?-i:[A-Z])[a-z]+(?: (?-i:[A-Z])[a-z]+)?|lad(?:y|ies)|gentlem[ae]n)(?:['’]s)?"
_TOLD = WordForm(  # "There are two sizes: Little (ages 3 to 5) and Big (ages 6 to 9)."
    rf"\b(?P<many>two|three|four|five|[2-5]) sizes\b(?: (?:are|is) [a-z]+)?[:,(–—]? ?(?:(?:for|namely|called|the|a) )*(?P<names>{_ONE_NAME}(?: \([^()]*\))?(?:, {_ONE_NAME}(?: \([^()]*\))?)*,? (?:and|or|&) (?:an? |the )?{_ONE_NAME})(?![\w-])",
)
_BEFORE_MEASURES = WordForm(rf"sizes?:? (?P<names>{_ONE_NAME}(?: ?/ ?{_ONE_NAME})+) ?[:—–]")  # fmt: skip


def sizes_told(text: str) -> tuple[str, ...]:
    """Return the names of sizes that a sentence counts and lists; none where it does not.

    Examples
    --------
    >>> sizes_told("There are two sizes: Little (ages 3 to 5) and Big (ages 6 to 9).")
    ('Little', 'Big')
    >>> sizes_told("Sizes A / B / C: finished foot 6.75 / 8 / 9.25 in"), sizes_told("Two sizes.")
    (('A', 'B', 'C'), ())
    """
    if (head := _BEFORE_MEASURES.match(text)) is not None:
        return _sound([name.strip() for name in head["names"].split("/")])
    if (told := _TOLD.search(text)) is None:
        return ()
    bare = re.sub(r" \([^()]*\)", "", told["names"])
    names = [one.strip() for one in re.split(r",? (?:and|or|&) (?:an? |the )?|, ", bare)]
    return _sound(names) if len(names) == whole_number(told["many"]) else ()


_MEASURED = WordForm(
    r"\b(?:wide|long|tall|high|deep|around|circumference|across|square|length|width|by)\b",
)


_BOUGHT = WordForm(
    r"\b(?:balls?|skeins?|hanks?|g|grams?|oz|ounces?|yards?|yds|needles?|markers?|pair|set)\b",
)


_OF_NEEDLE = re.compile(r"\d+(?:\.\d+)? ?mm", re.IGNORECASE)


def _sound(names: list[str]) -> tuple[str, ...]:
    if any(_MEASURED.search(name) or _BOUGHT.search(name) for name in names):
        return ()
    if any(_OF_NEEDLE.fullmatch(name.strip()) for name in names):
        return ()
    clean = [name.replace("–", "-").replace("’", "'").rstrip(".") for name in names]
    good = all(
        name and all(ch.isalnum() or ch in " -/.'" for ch in name) and " and " not in name.lower()
        for name in clean
    )
    return tuple(clean) if good and len(set(clean)) == len(clean) else ()


# --- gauge ------------------------------------------------------------------------------------------

_N = r"\d+(?:\.\d+)?"
_OVER = rf"(?P<over>{_N})?(?: ?(?:[x×]|by) ?{_N})?\s*(?P<unit>cm|mm|inches|inch|in\b|\")"  # "10 x 10 cm"
_GAUGE = WordForm(
    rf"(?P<sts>{_N})\s*(?:sts?|stitches)\s*(?:and|x|×|,|&|/|by)\s*(?P<rnds>{_N})\s*(?:rnds?|rounds?|rows?)\s*"
    rf"(?P<mid>[^\d=]*?)\s*(?:=|to|over|in|per|make|measure)\s*(?:(?:an?|the|each) )?{_OVER}(?P<rest>.*)$",
)
_STITCHES_ONLY = WordForm(
    rf"(?P<sts>{_N})\s*(?:sts?|stitches)\s*(?:=|to|over|in|per|make|measure)\s*(?:(?:an?|the|each) )?{_OVER}(?P<rest>.*)$",
)
_ROWS = WordForm(r"\d\s*(?:rnds?|rounds?|rows?)\b")
_OTHER = WordForm(
    rf"^\.?\s*(?:[x×]\s*{_N}\s*(?:cm|mm|in\w*|\"))?\s*(?:[/(]\s*{_N}\s*(?:cm|mm|inches|inch|in\b|\")\.?\s*\)?)?\s*",
    re.NOFLAG,
)


def gauge_in(text: str) -> GaugeLine | None:
    """Return the gauge that a text states, None if it states none over stitches and rounds.

    Examples
    --------
    >>> gauge_in('30 sts and 42 rounds to 4 inches').over.mm()
    101.6
    >>> gauge_in('8 sts and 11 rnds per inch').over.mm()
    25.4
    """
    match = _GAUGE.search(text)
    return None if match is None else _gauge(match, _plain(match["rnds"]))


ROWS_TO_STITCHES = 4 / 3
"""Of plain fabric, counted over one length, where a pattern does not state the rows.

The loop-length constants of relaxed plain fabric (5.5 and 4.2, a knitting handbook) make it 1.31;
blocked hand gauges have 1.25 to 1.45, and 4 to 3 is common practice between them.
"""


def gauge_of_stitches(text: str) -> GaugeLine | None:
    """Return the gauge of a text that states stitches only, its rows as plain fabric has them.

    Examples
    --------
    >>> gauge_of_stitches("21 sts to 10 cm over stocking stitch").courses
    28
    >>> gauge_of_stitches("21 sts = 10 cm, 30 rows = 10 cm")  # they are stated
    """
    match = _STITCHES_ONLY.search(text)
    if match is None or _ROWS.search(text):
        return None
    rows = round(_plain(match["sts"]) * ROWS_TO_STITCHES, 1)
    return _gauge(match, int(rows) if rows.is_integer() else rows)


_TOLD_BY_THE_WAY = WordForm(
    r"\b(?:gauge|tension|gives?|giving|get|obtain)\b|\bto the inch\b|\bper inch\b"
)


def gauge_by_the_way(text: str) -> GaugeLine | None:
    """Return the gauge of stitches that a sentence about needles or yarn tells.

    Examples
    --------
    >>> gauge_by_the_way("Four No. 12 needles. Knit to 6 stitches to the inch.").courses
    8
    >>> gauge_by_the_way("The panel of 12 sts to 5 cm is worked on the instep.")  # none
    """
    return gauge_of_stitches(text) if _TOLD_BY_THE_WAY.search(text) else None


def _gauge(match: re.Match[str], rows: float) -> GaugeLine | None:
    unit = match["unit"].lower()
    rest = _OTHER.sub("", match["rest"]).strip(" .,;")
    rest = re.sub(r"^(?:sq(?:uare|uared)?\b|measured)\s*", "", rest)
    fabric = re.sub(r"^(?:in|over|on)\s+", "", rest).strip()
    if not re.fullmatch(r"[\w ,&/-]{0,60}", fabric) or re.search(r"\d", fabric):
        fabric = ""
    try:
        over = SizedLength(_plain(match["over"] or "1"), "in" if unit[0] in 'i"' else unit)
        return GaugeLine(_plain(match["sts"]), rows, over, " ".join(fabric.split()))
    except (StepError, SizeError):
        return None


def _plain(text: str) -> int | float:
    value = float(text[:12])
    return int(value) if value.is_integer() else value


# --- definitions --------------------------------------------------------------------------------------

_DEFINED = WordForm(
    r"(?P<short>[A-Za-z0-9][A-Za-z0-9/&.-]*(?:\([a-z]+\))?(?: ?[A-Za-z]{2,6}|(?: [a-z]+){1,2})?)(?: \([a-z0-9 ,-]{3,50}\))?\s*(?:=|:|\s[-–—]\s)\s*(?P<long>[A-Za-z\[].*)$",
    re.NOFLAG,
)


@lru_cache(maxsize=8192)
def definition(text: str) -> tuple[str, str] | None:
    """Return what a line explains, and how: ``C4F: slip 2 sts to cable needle …``.

    Examples
    --------
    >>> definition("cn = cable needle")
    ('cn', 'cable needle')
    """
    match = _DEFINED.match(text.strip(" •-"))
    if match is None or len(match["short"]) > 24:
        return None
    return match["short"].strip(), match["long"].strip().rstrip(".")


_SHORTS = WordForm(
    r"(?:k|p|sts?|st\(s\)|rep|rnds?|rnd\(s\)|co|bo|k2tog|ssk|m1[lr]?|yo|p2tog|tog|sl|dpns?|dpn\(s\)|pm|sm|rs|ws|m|"
    r"inc|dec|beg|cont|foll|rem|cm|psso|kfb|skpo|tbl|patt|alt|yfwd)\.?$",
)
_MEANING = WordForm(
    r"(?P<short>[A-Za-z0-9()/&.]{1,8}(?:,? (?:and |or )?[A-Za-z0-9()/&.]{1,8})?)\s*(?:=|,|:|\s[-–—])\s*"
    r"(?![^,]* to (?:end|m|the|last|marker)\b)[a-z][a-z-]{2,}[^*]*$",
    re.NOFLAG,
)

_MEANT = WordForm(
    r"(?!(?:knit|purl|slip|work)\b)(?P<short>[A-Za-z0-9()/&.]{1,8}) "
    r"(?!(?:to|un?til|each|every|all|the|on|in|over|around|across|from|for)\b)[a-z][a-z/()-]{2,}(?![^*]*\b(?:end|last)\b)[^*:=]*$",
    re.NOFLAG,
)


def signed(text: str) -> str:
    """Put a sign into each entry of a list of abbreviations that has none.

    Examples
    --------
    >>> signed("k knit; p purl; st(s) stitch(es); rnd round.")
    'k = knit; p = purl; st(s) = stitch(es); rnd = round'
    """
    entries = re.split(r"\s*;\s*", text.strip(" .")) if text.count(";") > 2 else []
    found = [match for entry in entries if (match := _MEANT.match(entry))]
    shorts = {match["short"].lower() for match in found}
    known = sum(_SHORTS.match(short) is not None for short in shorts)
    if not entries or len(shorts) < len(entries) or 2 * known < len(entries):
        return text
    return "; ".join(f"{one['short']} = {one[0][len(one['short']) + 1 :]}" for one in found)


def is_abbreviation_list(text: str) -> bool:
    """Tell whether a line without a heading lists abbreviations, with what they mean.

    Examples
    --------
    >>> is_abbreviation_list("CO, cast on; k, knit; rnd(s), round(s); st(s), stitch(es).")
    True
    >>> is_abbreviation_list("M1, knit to marker; m1, knit to end; k2tog, knit.")
    False
    >>> is_abbreviation_list("k knit; p purl; st(s) stitch(es); rnd round; RS/WS right/wrong side.")
    True
    >>> is_abbreviation_list("BO bind off; CO cast on; DS double stitch; k knit; p purl; rep repeat")
    True
    """
    entries = re.split(r"\s*;\s*", text.strip(" ."))
    found = [_MEANING.match(entry) for entry in entries]
    if "=" not in text and signed(text) != text:
        return True
    shorts = {match["short"].split(",")[0].lower() for match in found if match}
    known = sum(_SHORTS.match(short) is not None for short in shorts)
    return len(entries) > 2 and all(found) and 2 * known >= max(4, len(entries))


def casts_on(text: str) -> bool:
    """Tell whether stitches are cast on somewhere in a text."""
    return bool(re.search(r"\b(?:cast(?:ing)? on|co)\b", text[:200_000], re.IGNORECASE))


def is_row(text: str) -> bool:
    """Tell whether a line is a row with its label, and not the meaning of an abbreviation."""
    label, told = label_of(text), definition(text)
    return label is not None and not (
        label.course == "R" and not label.numbers and told is not None and explained(*told)
    )
