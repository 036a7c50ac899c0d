# ruff: noqa: E501 - a phrase of the table stands on one line, long as it may be
"""The trade's words: from a sentence to tokens, in American and British terms.

The lexer lower-cases, drops articles, joins fixed phrases ("do not turn", "in all") into single
tokens and splits counts off stitches (``k3`` is ``k`` and 3). Abbreviations are common practice:
the trade's master list of abbreviations and the usual British ones, from memory.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache, lru_cache
from typing import TYPE_CHECKING

from loopwright._late import LatePackage
from loopwright.errors import PatternSyntaxError
from loopwright.fabric.stitches import StitchTable
from loopwright.pattern.values import NOT_LABELS

__all__ = [
    "ALIASES",
    "HUMAN",
    "MANY",
    "MAX_NUMBER",
    "NUMBER_WORDS",
    "crossing_named",
    "figure",
    "lower",
    "phrases_by_head",
    "scanned",
    "spelt",
    "stitch_word",
    "tokens",
    "whole_number",
]

if TYPE_CHECKING:
    import lark
else:
    lark = LatePackage("lark")

MAX_NUMBER = 1_000_000  # a count beyond this is a slip of the pen: the largest blankets stay below
MAX_BRACKETS = 12  # people lose count at three

# What stands for a stitch of the table. The British yarn-over is named by its neighbours.
ALIASES = {
    "knit": "k", "purl": "p", "slip": "sl", "s": "sl",
    "yfwd": "yo", "yfd": "yo", "yrn": "yo", "yon": "yo",
    "skpo": "skp", "sl1-k1-psso": "skp", "s1-k1-psso": "skp",
    "s2kp": "cdd", "s2kpo": "cdd", "sk2po": "sk2p", "sl1-k2tog-psso": "sk2p",
    "m1": "m1l", "inc": "kfb", "kf&b": "kfb", "pf&b": "pfb", "mds": "ds",
}  # fmt: skip
NUMBER_WORDS = (
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
    "twenty",
)  # fmt: skip
MANY = (
    rf"(?:\d{{1,3}}(?: ?[(\[][\d ,:;/]+[)\]])?|{'|'.join(NUMBER_WORDS)})"  # "4", "4 (6, 8)", "four"
)
DROPPED = frozenset(("the", "a", "an", "then", "now"))

_NUM = r"\d+(?:\.\d+)?"
_SIZES = rf"[(\[]\s*(?:{_NUM}|[-–—])(?:\s*[,:;]\s*(?:{_NUM}|[-–—]))*\s*[)\]]"
_STS = r"(?:stitches|stitch|sts|st)"
_OFF = r"(?:bind|cast)[ -]off"
_NAME = r"([a-z0-9][a-z0-9 -]*)"
_RND = r"(?:rnds|rnd|rounds|round|rows|row)"
_LABEL = rf"(?!(?:{'|'.join(NOT_LABELS)})(?![a-z0-9]))[a-z0-9]+"
_HOW = r"(?:long[ -]tail|knitted|crochet[ -]chain|stretchy)"

# Kind of token, the words a phrase can begin with, the phrase; its first group, where it has one,
# is the token's value. The first that matches wins, so that longer phrases stand first.
_PHRASES = (
    ("RND", "rnd rnds round rounds", r"(?:rnds|rnd|rounds|round)"),
    ("BEGIN", "rnd round", r"(?:rnd|round) (?:now )?begins here"),
    ("ROW", "row rows", r"(?:rows|row)"),
    ("STS", "st sts stitch stitches", _STS),
    ("REP", "rep repeat", r"(?:repeat|rep)"),
    ("FROM_STAR", "from", r"from \*"),
    ("EACH", "on each", r"(?:on )?each (?:needle|half)(?=\s*:)"),
    ("", "on", r"on(?=\s+(?:the\s+)?(?:needles?\s+\d|[a-z]+\s*:))"),
    ("NEEDLE", "needle needles", r"(?:needles|needle)"),
    ("TURN", "turn", "turn"),
    ("STAY", "do don without", r"(?:do not turn|don't turn|without turning)"),
    ("WRAP_TURN", "w&t wrap wt", r"(?:w&t|wt|wrap (?:next st )?(?:and|&) turn)"),
    (
        "MARK",
        "pm sm rm place slip remove",
        rf"(?:pm|sm|rm|(?:place|slip|remove) marker)(?: {_LABEL})?",
    ),
    ("LAST_MARK", "marker m", rf"(?:marker|m)(?: ({_LABEL}))?"),
    ("GAP", "gap", "gap"),
    ("PICK_UP", "pick pu", r"(?:pick up (?:and|&) k(?:nit)?|pu)"),
    ("ALONG", "along", r"along (?:the )?([a-z0-9](?:(?! (?:and )?\d+ sts?\b| (?:and|then) (?:then )?(?:k|p|knit|purl|work) ?(?:\d|the\b|to\b|across\b|all\b))[a-z0-9 -])*)"),
    ("LIFT", "lift", r"lift (?:the )?strand (across|beside)(?: (?:the )?(?:corner|st))? and"),
    ("WITH_NEXT", "with", r"with (?:the )?next st"),
    ("WITH_LAST", "with", r"with (?:the )?last st"),
    ("WRAPS", "with picking", r"(?:with (?:its |their )?wraps?|picking up (?:the )?wraps?)"),
    ("TBL", "tbl through", r"(?:tbl|through (?:the )?back loops?)"),
    ("KWISE", "kwise knitwise", r"(?:kwise|knitwise)"),
    ("PWISE", "pwise purlwise", r"(?:pwise|purlwise)"),
    ("WYIB", "wyib wyb with", r"(?:wyib|wyb|with yarn (?:in|at) (?:the )?back)"),
    ("WYIF", "wyif wyf with", r"(?:wyif|wyf|with yarn (?:in|at) (?:the )?front)"),
    ("LAST", "last", "last"),
    ("END", "end", r"end(?: of (?:the )?(?:rnd|round|row|needle|half))?"),
    ("ALL_STS", "all", rf"all(?: heel)? {_STS}"),
    ("ALL", "across around", r"(?:across|around)"),
    ("WORKED", "all", rf"all(?: heel)? {_STS} (?:have been |are )?worked"),
    ("TO", "to", "to"),
    ("BEFORE", "before", "before"),
    ("TWICE", "once twice", r"(once|twice)"),
    ("IN_ALL", "in altogether", r"(?:in all|in total|altogether)"),
    ("TIMES", "times time", r"(?:times|time)"),
    ("MORE", "more", "more"),
    ("ANOTHER", "another further", r"(?:another|further)"),
    ("EVERY_ONE", "every", r"every (?:rnd|round|row)"),
    ("EVERY", "every", r"every (?:foll(?:owing)? )?(other|alt|alternate|\d+(?:nd|rd|th))"),
    ("ENDING", "ending", rf"ending (?:with|on|after) (?:a )?{_RND} (\d+)"),
    ("MEASURES", "piece section work it leg foot sock", r"(?:piece|section|work|it|leg|foot|sock) measures"),
    ("WANTED", "piece", r"piece is as long as wanted"),
    ("PIECE_IS", "piece", r"piece is(?= \d)"),
    ("SHORT_OF", "short", r"short of (?:the )?length wanted"),
    ("FROM_CAST_ON", "from", r"from (?:the )?(?:cast[ -]on(?: edge)?|beginning|beg)"),
    ("UNTIL", "until", "until"),
    ("THERE_ARE", "there you", r"(?:there are|you have)"),
    ("REMAIN", "remain rem remaining are left", r"(?:remaining|remain|rem|are left|left)"),
    ("FOR", "for", "for"),
    ("WORK", "work", "work"),
    ("NEXT", "next set", rf"(?:next|set[ -]up(?= {_RND}))"),
    ("SIDE", "rs ws", r"(rs|ws)"),
    ("UNIT", "cm centimetre centimetres centimeter centimeters", r"(?:cm|centimet(?:re|er)s?)"),
    ("UNIT", "mm millimetres millimeters", r"(?:mm|millimet(?:re|er)s?)"),
    ("UNIT", "in ins inch inches", r"(?:inches|inch|ins|in)"),
    ("CLOSED", "with", r"with (?:a )?closed(?: toe)? cast[ -]on"),
    ("METHOD", "long knitted crochet stretchy using by in", rf"(?:(?:by|using|in) (?:the |a )?)?{_HOW}(?: (?:method|way|cast[ -]on))?"),
    ("PROVISIONAL", "provisionally", "provisionally"),
    ("CAST_ON", "cast co", r"(?:cast on|co)"),
    ("OVER_WASTE", "over", "over waste yarn"),
    ("NAMED", "called as", rf"(?:called|as) {_NAME}"),
    ("JOIN", "join", r"join(?: (?:to|for) (?:work|knit|working|knitting))? in(?:to)? (?:the |a )?(?:rnd|round)(?:,? (?:being careful|taking care) not to twist)?"),
    ("DIVIDE", "divide arrange", rf"(?:divide|arrange) (?:the )?{_STS}"),
    ("EACH_HALF", "on", r"on each of (?:the )?(?:two|2) needles"),
    ("OVER", "over on", r"(?:over|on)"),
    ("PLACE", "place put leave slip move", r"(?:place|put|leave|slip|move) (?:the )?next(?= [^;.]* on)"),
    ("ON_HOLDER", "on onto", r"on(?:to)? (?:a )?(holder|waste yarn)"),
    ("RETURN", "return", rf"return to (?:the )?needle (?:the )?{_STS}(?: held)?"),
    ("WORKED_NEXT", "to", r"to be worked next"),
    ("IN_ROWS", "work", r"work back and forth(?: in rows)?(?: from here)?"),
    ("SLIP_BACK", "slip", r"slip them back(?: to be worked again)?"),
    ("WITH_WASTE", "with", "with waste yarn"),
    ("TAKE_OUT", "take", r"take out (?:the )?waste yarn"),
    ("RECAPTURE", "recapture", rf"recapture (?:the )?{_STS} (?:from|of) (?:the )?waste yarn"),
    ("CORNER", "taking", r"taking (?:the )?strand at (?:the )?(first|last) corner"),
    ("GRAFT_HOW", "stitch front", r"(stitch by stitch|front and back in one pass)"),
    ("GRAFT", "graft", rf"graft(?: (?:the )?{_STS})?(?: of (?:the )?two (?:needles|halves))?(?: together)?"),
    ("THREE_NEEDLE", "work three", rf"(?:work (?:a )?)?three-needle {_OFF}(?: (?:over )?all {_STS})?"),
    ("BIND_OFF", "bind cast bo", r"(?:bind off|cast off|bo)"),
    ("STRETCHY", "with loosely", rf"(?:with (?:a )?stretchy {_OFF}|loosely)"),
    ("DRAW_UP", "cut break draw", rf"(?:(?:cut|break) (?:the )?yarn,? (?:and )?)?draw (?:it|yarn) through (?:the )?(?:all )?(?:remaining |rem )?{_STS},?(?: and)? pull tight"),
    ("USE_YARN", "change use", rf"(?:change to|use) yarn {_NAME}"),
    ("USE_YARN", "change", r"change to ([a-z]\d?)"),
    ("GO_ON_IN", "go", rf"go on in yarn {_NAME}"),
    ("GO_ON_IN", "go", r"go on in ([a-z]\d?)(?=\s*(?:[,;.]|$))"),
    ("WITH_YARN", "with", rf"with yarn {_NAME}"),
    ("WITH_YARN", "with", r"with ([a-z]\d?)(?=\s*(?:[,;.]|$))"),
    ("IN_YARN", "in with", rf"(?:in|with) yarn {_NAME}"),
    ("IN_YARN", "in", r"in ([a-z]\d?)(?=\s*(?:[,;.)\]]|$))"),
    ("PANEL_RND", "panel", rf"panel {_RND} (\d+)"),
    ("PANEL", "work", r"work (?:the )?(?:next rnd of (?:the )?)?panel"),
    ("STRIPES", "work", r"work in stripes(?: from here)?"),
    ("BEGIN_WITH", "beginning", rf"beginning with {_RND} (\d+)"),
    ("KEEP_PLACE", "keep", r"keep (?:your |the )?place in (?:the )?stripes"),
    ("RESUME", "resume", r"resume (?:the )?stripes(?: at that place)?"),
    ("WITH_ROUND", "with", rf"with (?:the )?{_RND} that begins here"),
    ("JOIN_YARN", "join rejoin", rf"(?:join|rejoin) (?:in )?(?:the )?yarn {_NAME}"),
    ("REJOIN", "join rejoin", r"(?:join|rejoin) (?:in )?(?:the )?yarn"),
    ("CUT_YARN", "cut break", rf"(?:cut|break) (?:the )?yarn(?: {_NAME})?"),
    ("WEAVE_IN", "weave", r"weave in (?:all )?(?:the )?ends"),
)  # fmt: skip


@cache
def phrases_by_head() -> dict[str, tuple[tuple[str, re.Pattern[str]], ...]]:
    """Return, by its first word, what each phrase means and its expression."""
    table: dict[str, list[tuple[str, re.Pattern[str]]]] = {}
    for kind, heads, phrase in _PHRASES:
        spaced = re.sub(r"(?<!\[) (?!-\])", r"\\s+", phrase)
        for head in heads.split():
            table.setdefault(head, []).append((kind, re.compile(spaced + r"(?![a-z0-9&])")))
    return {head: tuple(found) for head, found in table.items()}


_COUNT_WORDS = r"(?:remaining|remain|rem|in all|in total|total|altogether)?"
# "2/2 RC", "3/1 LPC": so many over so many, to the right or left, over a purl ground.
_CROSSING = r"\d{1,2}/\d{1,2}(?:/\d{1,2})?[\s-]*[lr]p?c(?![a-z0-9])"
_TOKEN = re.compile(
    rf"""\s*(?:
    (?P<CROSSING>{_CROSSING})
    |(?P<WORD>(?P<head>[a-z]+(?:&[a-z]+)?)[a-z0-9]*(?:[-&'][a-z0-9]+)*)
    |(?P<COUNT>[(\[]\s*=?\s*(?P<many>\d+)\s*(?P<by_size>{_SIZES})?\s*{_STS}\.?\s*{_COUNT_WORDS}\.?\s*[)\]]
      |[-–—=]\s*(?P<many2>\d+)\s*(?P<by_size2>{_SIZES})?\s*{_STS}\b)
    |(?P<TOTAL>[(\[]\s*(?P<total>\d+)\s*(?P<total_by_size>{_SIZES})?\s*times\s+(?:in\s+all|in\s+total|altogether)\s*[)\]])
    |(?P<SIDE>\(\s*(?P<side>rs|ws|right\s+side|wrong\s+side)\s*\))
    |(?P<SIZES>{_SIZES})
    |(?P<NUM>\d+(?:\.\d+)?)
    |(?P<PUNCT>[.,;:*()\[\]–—-])
    |(?P<INCH>["″])
    )""",
    re.VERBOSE,
)
_OTHER_UNIT = re.compile(
    rf"\s*[(\[/]\s*(?P<n>{_NUM})\s*(?P<s>{_SIZES})?\s*(?P<u>cm|mm|inches|inch|ins|in|[\"″])\s*[)\]]?"
)
_PUNCT = {
    ".": "DOT", ",": "COMMA", ";": "SEMI", ":": "COLON", "*": "STAR", "(": "LSQB", "[": "LSQB",
    ")": "RSQB", "]": "RSQB", "-": "DASH", "–": "DASH", "—": "DASH",
}  # fmt: skip
_LOWER = str.maketrans("ABCDEFGHIJKLMNOPQRSTUVWXYZ", "abcdefghijklmnopqrstuvwxyz")


def figure(digits: str) -> int:
    """Return the number that digits tell; of more than anybody counts to, the first six.

    Examples
    --------
    >>> figure("24"), figure("1234567")
    (24, 123456)
    """
    return int(digits[:6])


def whole_number(said: str) -> int:
    """Return the number that digits or a word of `NUMBER_WORDS` stand for.

    Examples
    --------
    >>> whole_number("24"), whole_number("Seven")
    (24, 7)
    """
    return figure(said) if said.isdigit() else 1 + NUMBER_WORDS.index(said.lower())


def lower(text: str) -> str:
    """Return `text` with plain letters in lower case; the length stays, unlike `str.lower`."""
    return text.translate(_LOWER)


@lru_cache(maxsize=4096)
def stitch_word(word: str, table: StitchTable) -> tuple[str, int | None] | None:
    """Return the key and the count that a word such as ``k3`` holds, None if it is no stitch.

    Names of crossings that are common practice stand for their numbers: see `crossing_named`.

    Examples
    --------
    >>> from loopwright.fabric.stitches import STITCHES
    >>> stitch_word("k3", STITCHES), stitch_word("k2tog", STITCHES), stitch_word("heel", STITCHES)
    (('k', 3), ('k2tog', None), None)
    """
    key = ALIASES.get(word, word)
    if key not in table:
        key = crossing_named(word) or key
    if key in table and not _is_origin(key, table):
        return key, None
    stem = word.rstrip("0123456789")
    key = ALIASES.get(stem, stem)
    if stem != word and key in table and not _is_origin(key, table):
        digits = word[len(stem) :]
        return key, int(digits) if len(digits) < 9 else MAX_NUMBER + 1
    return None


_CROSSED = re.compile(r"(\d+(?:/\d+)+)[\s-]*([lr]p?c)")
_SHORT_CROSSED = re.compile(r"([ct])(\d{1,2})([fb])")


def crossing_named(word: str) -> str:
    """Return the key of a crossing that is called by its numbers or by a short name, else "".

    Held in front (``F``) the stitches cross to the left, held in back (``B``) to the right. Of an
    even number half lie over half; ``c3f`` is one over two; ``t3b`` is two over one purl, and an
    even ``t`` half over half, purled.

    Examples
    --------
    >>> [crossing_named(word) for word in ("2/1 rpc", "c6f", "c3b", "t3b", "t4f", "c5f")]
    ['2/1rpc', '3/3lc', '1/2rc', '2/1rpc', '2/2lpc', '']
    """
    if found := _CROSSED.fullmatch(word):
        return found[1] + found[2]
    found = _SHORT_CROSSED.fullmatch(word)
    if found is None or (int(found[2]) % 2 and found[2] != "3"):
        return ""
    many, ground = int(found[2]), "p" if found[1] == "t" else ""
    over = 1 if many == 3 and not ground else -(-many // 2)
    return f"{over}/{many - over}{'l' if found[3] == 'f' else 'r'}{ground}c"


def spelt(key: str) -> str:
    """Return a stitch as patterns write it: crossings in capitals, their letters apart.

    Examples
    --------
    >>> spelt("2/1rpc"), spelt("lt"), spelt("k2tog")
    ('2/1 RPC', 'LT', 'k2tog')
    """
    if found := _CROSSED.fullmatch(key):
        return f"{found[1]} {found[2].upper()}"
    return key.upper() if key in ("rt", "lt") else key


def _is_origin(key: str, table: StitchTable) -> bool:
    """Tell whether a row only stands for loops that cast-ons and closings make; `ds` is worked."""
    return key in ("co", "lift", "wrap", "pu", "bo", "graft")


# "K1 A, k3 B; rep from *": a capital by itself, behind a stitch and its number or a number of rounds.
_BEFORE_YARN = ("STITCH", "NUM", "SIZES", "STS", "RND", "END", "PWISE", "WYIB", "WYIF", "TBL")
_LETTER = re.compile(r"[A-Z]\d?")
_ENDS = re.compile(r"\s*(?:[,;.)\]]|$)")


def _numbers(first: str, by_size: str | None) -> tuple[float, ...]:
    entries = [first, *re.findall(rf"{_NUM}|[-–—]", by_size or "")]
    return tuple(
        0 if entry in "-–—" else float(entry) if "." in entry else int(entry) for entry in entries
    )


def _refuse(text: str, start: int, found: str, *expected: str) -> PatternSyntaxError:
    return PatternSyntaxError(1, start + 1, found, expected, text)


def tokens(text: str, table: StitchTable) -> Iterator[lark.Token]:
    """Yield the tokens of a sentence, as the grammar takes them; see `scanned`."""
    for kind, value, start in scanned(text, table):
        yield lark.Token(kind, value, start)


def scanned(text: str, table: StitchTable) -> Iterator[tuple[str, str, int]]:
    """Yield kind, value and place of each token; a word that means nothing becomes a ``WORD``.

    Raises
    ------
    PatternSyntaxError
        A character that instructions don't use, a number too large, brackets nested too deep.
    """
    low = lower(text)
    at, depth, last = 0, 0, ""
    end = len(low.rstrip())
    while at < end:
        match = _TOKEN.match(low, at)
        if match is None:
            start = at + len(low[at:]) - len(low[at:].lstrip())
            raise _refuse(text, start, f"{text[start]!r} has no meaning in instructions")
        kind = match.lastgroup or ""
        start, at = match.start(kind), match.end()
        if kind == "WORD":
            head = match["head"]
            best, best_end, value = None, -1, ""
            for name, phrase in phrases_by_head().get(head, ()):
                found = phrase.match(low, start)
                if found is not None and found.end() > best_end:
                    best, best_end = name, found.end()
                    group = next((g for g in range(1, phrase.groups + 1) if found[g]), 0)
                    value = text[found.start(group) : found.end(group)].strip()
            if best is not None:
                at = best_end
                kind = best
            else:
                value = text[start:at]
                kind = _single_word(match["WORD"], low, at, table)
                if last in _BEFORE_YARN and _LETTER.fullmatch(value) and _ENDS.match(low, at):
                    kind = "IN_YARN"
                if kind == "NUM":
                    value = str(1 + NUMBER_WORDS.index(match["WORD"]))
        elif kind == "PUNCT":
            kind, value = _PUNCT[low[start]], low[start]
        elif kind == "INCH":
            kind, value = "UNIT", "in"
        else:
            value = text[start:at]
        kind = _crossing(value, table) if kind == "CROSSING" else kind
        if kind == "" or (kind == "AND" and last in ("COMMA", "SEMI", "COLON")):
            continue
        kind = "COMMA" if kind == "AND" else kind
        depth += (kind == "LSQB") - (kind == "RSQB")
        if depth > MAX_BRACKETS:
            raise _refuse(text, start, f"brackets nested more than {MAX_BRACKETS} deep")
        last = kind
        if kind == "STITCH":
            yield from _stitch(value, start, table)
            continue
        yield kind, value, start
        if kind == "UNIT":
            other = _OTHER_UNIT.match(low, at)
            at = other.end() if other else at


def _crossing(word: str, table: StitchTable) -> str:
    return "STITCH" if stitch_word(lower(word), table) else "WORD"


def _stitch(word: str, start: int, table: StitchTable) -> Iterator[tuple[str, str, int]]:
    """Yield a stitch and, where it holds one, its count: ``k3``."""
    yield "STITCH", word, start
    found = stitch_word(lower(word), table)
    if found is not None and found[1] is not None:
        digits = word[len(word.rstrip("0123456789")) :]
        yield "NUM", digits, start


def _single_word(word: str, low: str, at: int, table: StitchTable) -> str:
    if word in DROPPED:
        return ""
    if word == "and":
        return "AND"
    if word in NUMBER_WORDS:
        return "NUM"
    following = low[at:].lstrip()[:1]
    if following == ":" and word.isalpha():
        return "PART"
    if stitch_word(word, table):
        return "STITCH"
    if word.isalpha() and following.isdigit():
        return "PART"  # "instep 24": parts among which stitches are divided
    return "WORD"


# What a token is called in a message; tokens of one name are listed once.
HUMAN = {
    "STITCH": "a stitch such as k3, p2, ssk", "NUM": "a number", "STS": "'sts'", "COMMA": "a comma",
    "SEMI": "';'", "COLON": "a colon", "DOT": "a full stop", "$END": "the end of the sentence",
    "COUNT": "a count such as (60 sts)", "STAR": "*", "LSQB": "[", "RSQB": "]", "TO": "'to'",
    "END": "'end'", "LAST": "'last'", "LAST_MARK": "'marker'", "GAP": "'gap'", "BEFORE": "'before'",
    "TIMES": "'times'", "TWICE": "'twice'", "MORE": "'more'", "IN_ALL": "'in all'",
    "ANOTHER": "'another'", "REP": "'rep'", "FROM_STAR": "'from *'", "RND": "'rnd'",
    "ROW": "'row'", "NEXT": "'next'", "TURN": "'turn'", "STAY": "'do not turn'",
    "WRAP_TURN": "'w&t'", "MARK": "'place marker'", "PICK_UP": "'pick up and knit'",
    "ALONG": "'along' and an edge", "LIFT": "'lift strand across corner and'",
    "WITH_NEXT": "'with next st'", "WITH_LAST": "'with last st'", "TBL": "'tbl'", "KWISE": "'kwise'", "PWISE": "'pwise'",
    "WYIB": "'wyib'", "WYIF": "'wyif'", "WRAPS": "'with wraps'", "SIDE": "(RS) or (WS)",
    "SIZES": "numbers of the other sizes in brackets", "DASH": "a dash", "UNTIL": "'until'",
    "MEASURES": "'piece measures'", "FROM_CAST_ON": "'from cast-on'", "WANTED": "'piece is as long as wanted'",
    "PIECE_IS": "'piece is'", "SHORT_OF": "'short of the length wanted'", "FOR": "'for'",
    "EVERY": "'every other rnd'", "EVERY_ONE": "'every rnd'", "ENDING": "'ending with rnd 1'",
    "REMAIN": "'remain'", "WORKED": "'all sts have been worked'", "TOTAL": "(8 times in all)",
    "ALL": "'across'", "ALL_STS": "'all sts'", "PART": "a part and a colon, such as instep:",
    "NEEDLE": "'needle'", "EACH": "'on each needle:'", "UNIT": "cm, mm or in",
    "CAST_ON": "'cast on'", "METHOD": "'using the long-tail method'", "CLOSED": "'with a closed cast-on'",
    "EACH_HALF": "'on each of 2 needles'", "PROVISIONAL": "'provisionally'",
    "OVER_WASTE": "'over waste yarn'", "NAMED": "'called' and a name", "JOIN": "'join in the round'",
    "BEGIN": "'rnd begins here'", "DIVIDE": "'divide sts'", "OVER": "'over'", "PLACE": "'place next'",
    "ON_HOLDER": "'on a holder'", "RETURN": "'return to needle the sts held'",
    "SLIP_BACK": "'slip them back'", "WITH_WASTE": "'with waste yarn'",
    "TAKE_OUT": "'take out waste yarn'", "RECAPTURE": "'recapture sts from waste yarn'",
    "CORNER": "'taking the strand at the last corner'", "GRAFT": "'graft'",
    "GRAFT_HOW": "'stitch by stitch'", "WORKED_NEXT": "'to be worked next'",
    "IN_ROWS": "'work back and forth'", "THREE_NEEDLE": "'work a three-needle bind-off'",
    "BIND_OFF": "'bind off' ('cast off')", "STRETCHY": "'with a stretchy bind-off'",
    "DRAW_UP": "'draw yarn through remaining sts and pull tight'", "USE_YARN": "'change to yarn B'",
    "GO_ON_IN": "'go on in yarn B'", "WITH_YARN": "'with B'", "IN_YARN": "a yarn, such as B",
    "PANEL_RND": "'panel rnd 1:'", "PANEL": "'work panel'",
    "STRIPES": "'work in stripes from here'", "BEGIN_WITH": "'beginning with rnd 3'",
    "KEEP_PLACE": "'keep your place in the stripes'", "RESUME": "'resume the stripes'",
    "WITH_ROUND": "'with the rnd that begins here'", "JOIN_YARN": "'join yarn B'", "REJOIN": "'rejoin yarn'",
    "CUT_YARN": "'cut yarn'", "WEAVE_IN": "'weave in all ends'", "WORK": "'work'", "THERE_ARE": "'there are'",
}  # fmt: skip
