# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Words that tell somebody to knit, and words that do not."""

from __future__ import annotations

import re
from pathlib import Path

from loopwright.pattern._rewording.triggers import WordForm

__all__ = [
    "harmless",
    "is_aside",
    "is_doubtful",
    "is_instruction",
    "tells_how",
    "tells_of_shaping",
]

# --- words that ask for nothing to be counted ----------------------------------------------------

_HARMLESS = WordForm(
    r"\s*(?:(?:and|then|but|now|while)\s+)?(?:(?:being|be) (?:very )?careful|tak(?:e|ing) care|without twisting|mak(?:e|ing) sure|check(?:ing)?|"
    r"ensur\w+|leav(?:e|ing) (?:a|an|about|at least|enough|plenty|\d+)\b(?! (?:\w+ )?(?:sts?|stitch\w*)\b)[^;,]*(?:tail|(?<!to )(?<!to the )end|yarn|length)|as you (?:come|go|get|reach)|as before|"
    r"(?:change|switch|swap)(?:ing)? (?:back )?(?:to|onto|the)\b|(?:re)?join(?:ing)? (?:in )?(?:the )?(?:yarn|mc|cc|main|contrast|wool|new|a new|another|colou?r)|"
    r"(?:with|using|in) (?:mc|cc|the |a |an |smaller|larger|main|contrast|us |\d|size|your|both|one|magic)|slipping(?! (?:(?:the|every|each) )*(?:first|1st|edge)\b)|keeping (?!on\b|repeat|rep\b)|carrying|strand|carry|twist|drop|"
    r"rotate|flip|set aside|do not (?:break|cut|turn|twist|trim|block|press)|don't|repeat for|making|(?:cut|break)\b(?! (?:off )?(?:and|yarn and))|begin(?:ning)? (?:with|at|from)|"
    r"starting|end(?:ing)? (?:with|on|after)|turn (?:right side|inside|the sock|the mitten|the hat|right)|removing|count|try|see|read|note|for (?:the )?(?:rest|a )|on (?:the )?(?:rs|ws)\b)",
)
_VERBS = re.compile(
    r"(?:^|[,;:.(]\s*|\b(?:and|then|now|next|finally|lastly|also|first)\s+|^(?:with|using|in) (?:mc|cc(?: ?\d)?|yarn \w+|[a-e]),? )(?:(?:loosely|carefully)\s+)?(?:knit|purl|k|p|cast|co|bind|bo|work|rep(?:eat)?(?=\s+(?:short|to\b|across|around|until|all|from|(?:heel |toe |short )?(?:rnds?|rows?|rounds?)|steps? \d|r\d|last|these|this|the|those|both|\*|dec|inc|sections?|\d|it (?:[\w ]+ times|once|twice)\b|[^.;]*\b(?:\d+|two|three|four|five|six|seven|eight|nine|ten|twelve) (?:more )?times\b))|dec(?:rease)?|inc(?:rease)?|ssk|k2tog|p2tog|m1\w?|"
    r"resume(?= (?:working|knitting|in\b))|begin(?= (?:working|knitting) in\b)|sl|slip\b(?!\s+(?:all )?markers?)|continue|cont|graft|yo|skp\w*|[*\[]|[kp]\d+)\b|\*|\b[kp]\d+\b"
    r"|^(?:finish|end) by (?:knitt|purl|work)ing\b"
    r"|^(?:(?:and|then|now) )*(?:shape|complete|finish)(?: (?:the |your )?(?:toe|heel|top|crown|tip|thumb))? (?:exactly |just )?(?:as|like) (?:(?:for|on|at|in) )?(?:the |your )?(?:toe|heel|top|crown|tip|thumb)\b"
    r"|^(?:(?:and|then|now) )*do (?:(?:it|this|that|so) (?=.*\b(?:more|another)\b)|the same )(?:(?:another |a further )?[\w-]+ (?:more )?times(?: more)?|(?:once|twice) (?:more|again))(?:\W*$|, [a-z]+ing\b)",
    re.IGNORECASE,
)
_MOVED = re.compile(
    r"\b(?:place|put|slip|transfer|thread|leave|return)\b[^.;]*\b(?:sts|stitches|st)\b[^.;]*\b(?:on|onto|to|back|aside)\b|\bpick up\b[^.;]*\b(?:sts|stitches|st)\b"
    r"|\b(?:take|lift)(?: up)? (?:the |these |those |all )*\d[^.;]*\b(?:sts|stitches)\b",
    re.IGNORECASE,
)


_ANYWHERE = re.compile(
    r"\b(?:cast on|co|bind off|cast off|bo|pick up(?: and knit)?) (?:all |the )?\d", re.IGNORECASE
)
_STRONG = WordForm(
    r"\b[kp]\d+\b|\*|k2tog|ssk|\bm1|\b(?:slip|sl|knit|purl) ?(?:\d|one\b)|\b(?:cast on|co|bind off|cast off|bo|pick up(?: and k(?:nit)?)?|graft) (?:all|\d|the|loosely|sts)|"
    r"(?:^|,|;|\band\b|\bthen\b)\s*(?:knit|purl|work|rep|repeat|cont|continue|dec|inc)\b",
)


_SLIPPED_IN = WordForm(  # "slip a dinner plate into the beret", "to lengthen a sock later, …"
    r"slip an? (?!st\b|stitch|marker)[a-z ]+ (?:in|into|inside|under|behind) |(?:wet|soak|wash|rinse|dampen|steam) (?:it|them|both|the|your|this)\b(?!.*(?:\b(?:[kp] ?\d|knit|purl|pick up|cast|bind|sew|graft|sts|stitches|rows?|rnds?|rounds?)\b|\*))|(?:[\w ]{1,30}: )?to (?:lengthen|shorten|adjust|resize|enlarge|mend|repair|wash)\b[^.;]*,",
)
_TO_MATCH = WordForm(
    r"(?:(?!left|right|thumb|cuff|hand|toe|heel|foot|leg)[a-z][a-z ]{2,24}: )?(?:(?:now |then )?(?:repeat|do|work|knit|make) (?:the whole (?:thing|lot)|everything|(?:all (?:of )?)?(?:this|that|it)(?: all)?|the same)(?: again| once more)? (?:for|on) (?:the |your )?(?:other|second|left|right)\b[^;\d]*$|(?:now |then )?(?:knit|work|make) (?:another|the other|a second|the second|one more|a matching) (?:one|mitt\w*|sock|glove|stocking|slipper|boot\w*|shoe|wrist\w*|cuff|leg ?warmer)\b[^;\d,]*$|(?:(?:work|make|knit|complete|finish) (?:the [a-z]+ )?)?(?:exactly )?(?:the same )?as (?:for )?(?:the )?(?:right|left|first|other) (?:mitt|mitten|sock|glove|stocking|one|slipper|hand)\b[^;]*$|(?:work|make|knit|do)(?: it)? (?:exactly |just )?(?:the )?(?:same(?: way)? as|like) (?:for )?the first(?: one)?\W*$|(?:(?:now|then) )?(?:knit|work|make) (?:another|an? second|the (?:second|other)|(?:its|the|a) (?:mate|twin|fellow|partner|pair)|one more)(?: (?:like (?:it|this)|the same(?: way)?|to match|alike))?\W*$|(?:now )?(?:knit|work|make|repeat) (?:the whole(?: thing)?|all of it|everything|it all) (?:again )?for (?:a|the) (?:second|other) \w+\W*$|(?:now )?(?:knit|work|make|cast on (?:for )?(?:and (?:knit|work|make) )?)(?: (?:the|a|your|one))? (?:second|other|left|right|2nd|matching|another)(?: one| sock| mitten| mitt| stocking| glove| bootee?| slipper| wrist\w*(?: ?warmer)?| hand ?warmer| leg ?warmer| cuff| piece| arm ?(?:band|hole)(?: border| edging| band)?)?[ ,]+(?:in )?(?:(?:exactly )?(?:the same|as (?:for )?the first|like the first)|alike|to match|likewise|just like|like the first|similarly)[^;]*(?:; (?:they|both|these) (?:fit|are|suit|look)\b[^;\d]*)?$)",
)


_SHAPES = WordForm(  # "…, decreasing thus on the 5th and 7th rows"
    r"(?:and )?(?:de|in)creasing (?:thus|so|likewise|in|on|at|every|as|\d|the \w+ (?:new|extra|added|cast[- ]on) (?:sts|stitches) to)\b"
)


_AT_ENDS = WordForm(  # "at the same time inc 1 st at each end of every 4th row"
    r"\b(?:inc|dec)(?:reas(?:e|ing))? (?:(?:\d+|one|a) )?(?:(?:sts?|stitch(?:es)?) )?(?:at |on )?(?:each|both|either) (?:ends?|sides?|edges?)\b.*\brows?\b(?! as follows)"
)


_REACHES = re.compile(  # "… until 12 stitches are left", "till you're at 10"
    r"\b(?:(?:un)?til+|down to|up to) (?:(?:there (?:are|is) |you (?:have|are left with) |only |just |[\w'’]+ ){0,3}\d+(?: ?[(\[][^)\]]*[)\]])? (?:\w+ )?(?:sts?|stitch(?:es)?)\b"
    r"|(?:(?:there|there's|you|you're|you’re|are|is|have|at|down|to|only|just|left|with) ){0,4}\d+(?: ?[(\[][^)\]]*[)\]])?(?: (?:remain|are left|left))?\W*$)",
    re.IGNORECASE,
)


_GOES_ON = re.compile(  # "go on like this until you have increased 6 times", "keep going, 4 more inc rounds"
    r"^(?:(?:and|then|now) )*(?:go(?:ing)? on|carry(?:ing)? on|keep(?:ing)?(?: on)?|proceed)\b[^.;]*"
    r"(?:\b(?:un)?til+\b[^.;]*\b(?:(?:inc|dec)(?:rease[ds]?)?|times)\b"
    r"|\b(?:\d+|two|three|four|five|six|seven|eight|nine|ten|twelve) (?:more |further )?(?:inc|dec|shap)\w* (?:rounds?|rnds?|rows?)\b)",
    re.IGNORECASE,
)


_GROWS = re.compile(  # "2 fewer between the decreases": of rows that nobody may leave out
    r"\b(?:\d|one|two) (?:\w+ ){0,2}(?:fewer|less|more) (?:\w+ ){0,2}(?:before|between|after|ahead of) ",
    re.IGNORECASE,
)


_AND_DOES = WordForm(  # "make another, then weave in the ends"; "…, closing each DS, turn"
    r"\w(?:[,;:]|,? and|,? then)+ (?:(?:then|finally|also) )*(?:weave|darn|sew|work|tie|run) in (?:(?:all|any|the|your|both|loose|yarn) )*(?:ends?|tails?)\b"
    r"|\w[,;] (?:(?:and|then) )*turn$"
)


_AT_PLACE = WordForm(  # "across the flap k2tog": cut behind a stitch that is worked there
    r"^(?:(?:and|then|now) )*(?:across|over|along|on|for|from)\b[^,;.]* (?<!each )(?<!every )(?<!an )(?<!a )(?<!of )(?<!and )(?<!the )(?:[kp][23]tog|ss[kp]|skpo?|sk2po?|kfb|m1[lr]?|yo)$"
)


_LEANS = WordForm(  # "Remember: ssk leans to the left and comes first"
    r"(?:(?:remember|note|tip|hint|n\.?b\.?)[:,]? (?:that )?)?(?:an? |the |each |every )?(?:ssk|k2tog|skpo?|kfb|m1[lr]?|yo)\b,? (?:leans?|slants?|tilts?|looks?|comes?|makes?|means?)\b(?!.*\b(?:knit|purl|work|[kp]\d+\b))",
)


_SUPPOSED = WordForm(  # "what would the number be if you had cast on 32?"
    r"\b(?:would|could|might)\b[^.;]*\b(?:if you (?:had|were|used|made|cast|began|started)\b|had you\b)|\b(?:if you (?:had|were)|had you)\b[^.;]*, (?:you|there|it|what|how [a-z]+) (?:would|could|might)\b"
)
_BESIDE_KNITTING = WordForm(  # "slip those last 4 off needle 1 as you knit them"
    r"(?:slip|slide|take|move|drop|let) (?:those|these|them|each)\b[^.;*]*\b(?:as|while|when) (?:you (?:knit|work|go|do)|they are (?:being )?(?:knit|knitted|worked))\b[^.;*]*\.?(?: \([^()]*\))?$",
)


_ROW_AGAIN = WordForm(  # "the WS row once more": nobody may leave it out
    r"(?:(?:and|then|now|also) )*(?:the |an? |one )?(?:[\w-]+ ){0,2}(?:rows?|rnds?|rounds?)(?: \d+)? (?:once|twice|again|(?:\w+ )?more times?|\w+ times(?: more)?)\b",
)


_TURNS = WordForm(  # "with the right side facing, turn", not "turn the sock inside out"
    r"(?:^|[,;:] ?|\b(?:and|then) )turn(?: (?:the |your )?work)?(?=$|[,;] | (?:and|then|with|for|to form|as before|again)\b)"
)


_NUMBERED = re.compile(  # "take Steps 2 and 3 in turn until …"
    r"\b(?:steps|rows|rounds|rnds) \d+ ?(?:and|&|-|–|to|through) ?\d+\b[^.;]*\b(?:(?:un)?til+|times|twice|once more)\b",
    re.IGNORECASE,
)


_GO_TO = WordForm(  # "go to step 4", "begin at the line for your size and work every line after it"
    r"(?:[\w'’ ]{1,40}[:,] )?(?:(?:now|then|please) )?(?:(?:go|skip|jump|move|proceed)(?: (?:on|straight|directly|ahead|down))* to|(?:continue|pass) to(?= \*\*)) (?!(?:the )?(?:end|(?:last|next|other) \w+ (?:sts?|stitch))\b)"
    r"|(?:(?:now|then) )?(?:begin|start|join in) (?:at|with|from|on|where) (?:the )?(?:(?:line|round|rnd|row|place|point|step)s? [^.;*\d]*?)?your (?:own )?size\b[^.;*\d]*\.?$",
)


_KIND = r"(?:each|every|all|these|the)(?: of (?:the|these))? (?:dec|inc|shap)[a-z]* (?:rounds?|rnds?|rows?)"
_TELLS_OF_SHAPING = WordForm(  # "You take away 8 sts in each decrease round, and knit a plain round after it"
    rf"(?!.*\b(?:until|till|times|repeat|rep|twice)\b)(?:(?:you|we|there|this|it|that|which)\b[^.;:*]*?\b(?:in|on|with|at|by) {_KIND}|(?:in|on|with|at) {_KIND},? (?:you|there)(?: will| are| is)?|{_KIND} (?:takes?|removes?|adds?|makes?|gives?|loses?|has|have)\b)(?![^.;:]*(?:[*:]|\b[kp]\d|k2tog|ssk))",
)


_GOES_ON_BESIDE = WordForm(  # "These 8 rnds make the cable; repeat them over the first 16 sts as you go on"
    r"(?!.*\b(?:until|till|times|twice|once)\b)(?:these|those|the last)(?: \d+| [a-z]+)? (?:rounds|rnds|rows) (?:make|form|set|give|establish|are)(?: up)? (?:the|a|an|your|one)\b[^.;:*]*[;,] (?:and |so |which )?(?:(?:keep(?: on)?|go on|carry on|is|are) )?(?:repeat|work|continu)\w* (?:with )?(?:them|it|this|these|that)\b[^.;:*]*\b(?:throughout|from (?:here|now) on|(?:as|while) (?:you|the)\b[^.;:*]*|all the (?:way|time))\W*$",
)


def tells_of_shaping(text: str) -> bool:
    """Tell whether a sentence says beforehand what each shaping round does, and asks for none.

    Examples
    --------
    >>> tells_of_shaping("You lose 8 sts in each decrease round, and knit a plain round after it.")
    True
    >>> tells_of_shaping("Knit 1 round, and work the decrease round again.")
    False
    """
    text = text.strip()
    return any(form.match(text) is not None for form in (_TELLS_OF_SHAPING, _GOES_ON_BESIDE))


def harmless(text: str) -> bool:
    """Tell whether words ask for nothing that a count could show."""
    bare = text.strip(" .,;:!")
    if not bare:
        return True
    if re.search(r"\bpick(?:ing)? up$", bare, re.IGNORECASE):
        return False  # "pick up and knit 2", cut in its midst
    asks = (_REACHES, _GROWS, _GOES_ON, _AT_PLACE, _AND_DOES, _AT_ENDS)
    if _SHAPES.match(bare) or any(one.search(bare) for one in asks):
        return False
    if _ROW_AGAIN.match(bare) or _TURNS.search(bare):
        return False
    if _HARMLESS.match(bare) and not _STRONG.search(bare):
        return True
    if bare.lower() in ("then", "and", "now", "next", "again", "also"):
        return True
    return len(bare.split()) > 1 and not re.search(r"\d", bare[:12]) and not is_instruction(bare)


def is_aside(text: str) -> bool:
    """Tell whether words are an aside of a known kind: "drop the working yarn"."""
    bare = text.strip(" .,;:!")
    return not bare or bool(_HARMLESS.match(bare) and not _STRONG.search(bare))


_HOW = WordForm(  # "To wrap: yarn forward, slip a stitch …", "For a double stitch, turn, …"
    r"(?:and |here is )?(?:to|how to|how you|for)(?: (?:make|work|do|form|close|lift|knit|get))? (?:(?:a|an|the|each|every|this|your) )?"
    r"(?:wraps?|wrapping|double st(?:itch(?:e?s)?|s)?|dss?|wrapped st(?:itch)?|german short rows?|shadow wraps?|twin st(?:itch)?|cable|bobble|nupp|twist|make[- ](?:one|1)|m1[lr]?|yarn over|yo|kfb)"
    r"(?: (?:a )?(?:st(?:itch)?|and turn|it|left|right))?(?:: ?|, | [–—-] )|[\"“']?[a-z&]{1,10}[\"”']? (?:=|means:?) (?:slip|sl|bring|yarn|take|put|move|wrap)\b|(?:wrap|wrapping|ds|double stitch|bobble): (?:bring|take|put|turn|yarn|slip|with|move|lift|\()"
)


def tells_how(text: str) -> bool:
    """Tell whether a sentence only explains how a stitch is made: "To wrap: yarn forward, …".

    Examples
    --------
    >>> tells_how("To make a double stitch, turn and bring the yarn forward, slip 1.")
    True
    >>> tells_how("To close the toe: graft.")
    False
    """
    return _HOW.match(text.strip()) is not None


def is_instruction(text: str) -> bool:
    """Tell whether a text seems to tell somebody to knit."""
    if (
        _SLIPPED_IN.match(text.strip())
        or text.rstrip().endswith("?")
        or _TO_MATCH.match(text.strip())
    ):
        return False
    if _LEANS.match(text.strip()) or _SUPPOSED.search(text) or _BESIDE_KNITTING.match(text.strip()):
        return False
    if re.search(r"\bchart\b", text) and not re.search(r"\d|\*", text):
        return False
    if _GO_TO.match(text.strip()):
        return False
    return any(
        form.search(text)
        for form in (_VERBS, _ANYWHERE, _MOVED, _REACHES, _NUMBERED, _AT_ENDS, _GOES_ON)
    )


def _openings() -> tuple[frozenset[str], frozenset[str]]:
    text = Path(__file__).with_name("openings.txt").read_text(encoding="utf-8")
    _, orders, others = re.split(r"^\[\w+\]$", text, flags=re.MULTILINE)
    return frozenset(orders.split()), frozenset(others.split())


_ORDERS, _OTHERS = _openings()
_FIRST_WORD = WordForm(r"\W*([A-Za-z]+(?:['’][a-z]+)?)", re.NOFLAG)


def is_doubtful(text: str) -> bool:
    """Tell whether words that were taken to ask for nothing may be an order all the same.

    Examples
    --------
    >>> is_doubtful("Wuzzle the flims"), is_doubtful("This makes a neat edge")
    (True, False)
    """
    match = _FIRST_WORD.match(text)
    if match is None or re.match(r"\W*\d", text):
        return False
    word = match[1].lower().replace("’", "'")
    if word in _ORDERS or word in _OTHERS or len(word) == 1:
        return False
    if word.endswith("ing"):
        stem = word[:-3]
        return not {stem, stem + "e", stem[:-1]} & _ORDERS
    return not (match[1].isupper() and len(match[1]) < 4)  # MC, CC, BOR
