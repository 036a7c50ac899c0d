# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Ways of saying the same: changes of a written pattern that keep its meaning, kind by kind.

A kind holds ways; a way looks for something in the lines that are worked (or in all lines, or in
headings) and puts it in other words. Only what is surely the same is here: a way that could mean
something else somewhere looks more closely or stays away. All of it is common practice in print.
"""

from __future__ import annotations

import random
import re
import textwrap
from collections.abc import Callable, Sequence
from typing import Final

import attrs

Find = re.Match[str]
Put = str | Callable[[Find], str | None]

WORKED, HEADING, ALL = "worked", "heading", "all"


@attrs.frozen
class Line:
    """A line, the lines of the first text that it holds, and whether it is worked."""

    text: str
    at: tuple[int, ...]
    kind: str  # as the reader of the right text has it: "instruction", "heading", "text", "head"…

    @property
    def is_worked(self) -> bool:
        return self.kind in ("instruction", "count", "definition") and not self.is_table

    @property
    def is_table(self) -> bool:
        return "|" in self.text


@attrs.frozen
class Way:
    """One way to put something in other words, in a line."""

    find: re.Pattern[str]
    put: Put
    where: str = WORKED

    def fits(self, line: Line) -> bool:
        if self.where == ALL:
            return bool(line.text.strip())
        return line.is_worked if self.where == WORKED else line.kind == HEADING

    def changed(self, text: str, rng: random.Random, share: float) -> str:
        def one(match: Find) -> str:
            if share < 1 and rng.random() > share:
                return match[0]
            put = self.put if callable(self.put) else match.expand(self.put)
            said = put(match) if callable(put) else put
            return match[0] if said is None else said

        return self.find.sub(one, text)


def way(find: str, put: Put, where: str = WORKED, flags: int = 0) -> Way:
    return Way(re.compile(find, flags), put, where)


# words ----------------------------------------------------------------------------------------


def like(found: str, said: str) -> str:
    """Return a word with a capital where the one that was found has it."""
    return said[:1].upper() + said[1:] if found[:1].isupper() else said


def words(*pairs: tuple[str, str], where: str = WORKED) -> list[Way]:
    """Return ways that put whole words in others, capitals kept."""
    return [
        way(rf"(?<![\w-])(?:{this})(?![\w'’])", _put(that), where, re.I) for this, that in pairs
    ]


def _put(that: str) -> Callable[[Find], str]:
    return lambda match: like(match[0], match.expand(that))


_NOT_ST_ST = r"(?<![Ss]t )st(?!\.| st\b)"
NUMBER = r"\d+(?:\.\d+)?"
LIST = r"(?:\s?[(\[]\d[\d.,:; ]*[)\]])"
COUNT = rf"\d+{LIST}?"
_SMALL: Final = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"]  # fmt: skip
_SAID: Final = "|".join(_SMALL[1:])


def _as_word(match: Find) -> str | None:
    number = int(match[1])
    return _SMALL[number] if 0 < number < len(_SMALL) else None


def _as_number(match: Find) -> str:
    return str(_SMALL.index(match[1].lower()))


# lists of sizes -------------------------------------------------------------------------------

_LISTED = re.compile(
    rf"(?<![\w.½¼¾/-])({NUMBER}) ?([(\[])({NUMBER}(?: ?[,:;] ?{NUMBER})*)[)\]](?!\w)"
)


def listed(form: Callable[[list[str]], str | None], after: str = "") -> Way:
    """Return a way to write lists of sizes otherwise."""

    def put(match: Find) -> str | None:
        values = [match[1], *re.findall(NUMBER, match[3])]
        return form(values)

    return Way(re.compile(_LISTED.pattern + after), put, ALL)


def _three(form: str) -> Callable[[list[str]], str | None]:
    return lambda values: form.join(values) if len(values) > 2 else None


def _inner(start: str, divider: str, end: str) -> Callable[[list[str]], str | None]:
    return lambda values: values[0] + start + divider.join(values[1:]) + end


# stated counts --------------------------------------------------------------------------------

_TAIL = rf"(?P<sep>(?:\.| =|:|;|,| [-–—])? *)(?P<open>[(\[]?)(?P<count>{COUNT}) (?:sts|stitches)(?P<rem> (?:remain|rem|left|are left))?(?P<close>\.?[)\]]?)\.?$"


def counted(form: str, *, fewer: bool = False) -> Way:
    """Return a way to state a count at the end of a row; `fewer` only where it says remain."""

    def put(match: Find) -> str | None:
        sep = match["sep"].strip()
        if match["open"] in ("(", "[") and not match["close"].strip("."):
            return None
        if not match["open"] and not sep and match.start():
            return None
        if not match["open"] and sep in (",", ";", ":", "-", "–", "—"):
            return None
        if fewer and not match["rem"]:
            return None
        count = match["count"]
        if "{c} " not in form and re.search(r"[(\[]", count):
            return None
        if form.lstrip(". ")[:1] in "[(" and "[" in count + form and "[" in count:
            return None
        return form.replace("{c}", count)

    return way(_TAIL, put)


_DECS = r"(?P<sep>\.? *)(?P<open>[(\[]?)(?P<n>\d+) (?P<sts>sts?|stitch(?:es)?) (?P<what>dec|inc)(?:'d|’d|reased)?\.?(?P<close>[)\]]?)\.?$"


def changing(form: str) -> Way:
    def put(match: Find) -> str | None:
        sign = "-" if match["what"] == "dec" else "+"
        full = match["what"] + "reased"
        return form.format(n=match["n"], sts=match["sts"], w=match["what"], full=full, sign=sign)

    return way(_DECS, put)


# labels ---------------------------------------------------------------------------------------

_LABEL = r"^(?P<word>Rnd|Round|Row|R|rnd|round|row|r)s? ?(?P<n>\d+)(?P<side> \((?:RS|WS)\))?(?: ?: | [-–—] | (?=[a-z]+\d))"
_SPAN = r"(?<![\w])(?P<word>[Rr](?:nd|ound|ow)s) (?P<a>\d+)(?: ?[-–—] ?| to )(?P<b>\d+)(?![\w-])"
_PAIR = r"(?<![\w])(?P<word>[Rr](?:nd|ound|ow)s) (?P<a>\d+)(?: and | & )(?P<b>\d+)(?![\w-])"
_SIDES: Final = {" (RS)": ("RS", "right side"), " (WS)": ("WS", "wrong side"), None: ("", "")}


def _ordinal(number: int) -> str:
    end = "th" if 10 <= number % 100 <= 20 else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{end}"


def labelled(form: str, word: str = "") -> Way:
    """Return a way to write the label of a row or round.

    In the form, `w` is the word, `n` the number, `o` the ordinal, `s` the side in brackets.
    """

    def put(match: Find) -> str | None:
        short, long = _SIDES[match["side"]]
        if ("{short}" in form or "{long}" in form) and not short:
            return None
        said = match["word"]
        if len(said) == 1 and "{o}" in form:
            return None
        if word == "long":
            said = {"rnd": "Round", "r": "R"}.get(said.lower(), said)
        return form.format(
            w=said, l=said.lower(), U=said.upper(), n=match["n"], o=_ordinal(int(match["n"])),
            s=match["side"] or "", short=short, long=long,
        )  # fmt: skip

    return way(_LABEL, put)


# repeats --------------------------------------------------------------------------------------

_TO_END = r"(?P<end>to end(?: of (?:the )?(?:rnd|round|row))?|around|across)"
_STARRED = rf"\*(?P<x>[^*;()\[\]]+)[;,] rep(?:eat)? from \* {_TO_END}(?=[.,;]|$)"
_STARRED_LAST = (
    r"\*(?P<x>[^*;()\[\]]+)[;,] rep(?:eat)? from \* to last (?P<n>\d+) (?P<sts>sts?|stitch(?:es)?)"
)
_STARRED_MORE = r"\*(?P<x>[^*;()\[\]]+)[;,] rep(?:eat)? from \* (?P<more>once|twice|(?:\d+|[a-z]+) times) more(?! from)"
_BRACKETED = r"[(\[](?P<x>[kp][^()\[\]*]*?)[)\]] (?P<n>\d+) times"
_BRACKETED_END = rf"[(\[](?P<x>[kp][^()\[\]*]*?)[)\]] {_TO_END}"
_RIB_ROW = r"(?P<label>^(?:Rnd|Round|R|Row) ?1: )\*(?P<x>[Kk](?:\d+|nit \d+)(?: tbl)?, p(?:\d+|url \d+)(?: tbl)?)[;,] rep(?:eat)? from \* (?:to end(?: of (?:the )?(?:rnd|round))?|around)\.?$"


def _more(match: Find) -> int | None:
    word = match["more"].removesuffix(" times")
    if word in ("once", "twice"):
        return {"once": 2, "twice": 3}[word]
    if word.isdigit():
        return int(word) + 1
    return _SMALL.index(word) + 1 if word in _SMALL else None


def _times(form: str) -> Callable[[Find], str | None]:
    def put(match: Find) -> str | None:
        often = _more(match)
        if often is None:
            return None
        return form.format(x=match["x"], n=often, m=often - 1)

    return put


def _bracketed(form: str) -> Callable[[Find], str | None]:
    def put(match: Find) -> str | None:
        often = int(match["n"])
        return None if often < 2 else form.format(x=match["x"], n=often, m=often - 1)

    return put


# letters --------------------------------------------------------------------------------------

_HALVES: Final = {"½": "1/2", "¼": "1/4", "¾": "3/4"}


def _spelled(match: Find) -> str:
    return f"{match[1]} {_HALVES[match[2]]}" if match[1] else _HALVES[match[2]]


def _heading(form: Callable[[str], str]) -> Way:
    def put(match: Find) -> str | None:
        plain = match[0].rstrip(":")
        return form(plain) if re.fullmatch(r"[\w][\w ,'’-]*", plain) else None

    return way(r"^.+$", put, HEADING)


KINDS: Final[dict[str, list[Way]]] = {
    "stitches": words(
        (r"sts", "stitches"), (r"stitches", "sts"), (rf"{_NOT_ST_ST}(?=[\s,;:.)]|$)", "stitch"), (r"stitch(?!\w|es| pattern)", "st"),
    ),
    "rounds": words(
        (r"rnds", "rounds"), (r"rnd", "round"), (r"rounds", "rnds"),
    ),
    "R for a row or round": [way(r"^(?:Rnd|Round|Row) (?=\d+(?:[:.]| \())", "R"), way(r"^(?:Rnd|Round|Row) (?=\d+(?:[:.]| \())", "R ")],
    "repeat": words((r"rep", "repeat"), (r"repeat", "rep")),
    "knit and purl in full": [
        *words((r"k(\d+)(?! ?tog)", r"knit \1"), (r"p(\d+)(?! ?tog)", r"purl \1")),
        *words((r"k(?= (?:to|across|around|until|the|next|rem|even|all)\b)", "knit"), (r"p(?= (?:to|across|around|until|the|next|rem)\b)", "purl")),
    ],
    "knit and purl abbreviated": words(
        (r"knit (\d+)(?= ?(?:$|[,;.)*\]]))", r"k\1"), (r"purl (\d+)(?= ?(?:$|[,;.)*\]]))", r"p\1"),
        (r"knit(?= (?:to|across|around|until)\b)", "k"), (r"purl(?= (?:to|across|around|until)\b)", "p"),
    ),
    "k2tog in full": words(
        (r"k2tog(?! tbl)", "knit 2 together"), (r"k2tog(?! tbl)", "knit two together"), (r"k2tog", "k2 tog"), (r"k2tog", "k 2 tog"), (r"k2tog(?! tbl)", "knit 2 tog"),
        (r"p2tog(?! tbl)", "purl 2 together"), (r"p2tog(?! tbl)", "purl two together"), (r"p2tog", "p2 tog"), (r"k3tog", "knit 3 together"), (r"k2tog(?! tbl)", "knit two stitches together"), (r"k2tog(?! tbl)", "k2 together"),
    ),
    "k2tog abbreviated": words((r"knit (?:2|two) together", "k2tog"), (r"purl (?:2|two) together", "p2tog"), (r"knit 3 together", "k3tog")),
    "ssk": [
        way(r"\bssk\b", "SSK"), way(r"\b[sS]sk\b", "S.S.K."), way(r"\bssk\b", "slip, slip, knit"), way(r"\bssk\b", "Ssk"), way(r"\bssk\b", "sl, sl, k"), way(r"\bssk\b", "slip slip knit"), way(r"\bssk\b", "s-s-k"),
    ],
    "slip": [*words((r"sl 1", "slip 1"), (r"sl 1", "sl1"), (r"slip 1", "sl 1"), (r"sl 1", "slip one"), (r"sl 1", "slip 1 st"), (r"sl 1", "sl 1 st")), way(r"\bSl 1\b(?=, [kp])", "S1")],
    "markers": words(
        (r"pm", "place marker"), (r"pm", "place a marker"), (r"place marker(?= [ABf])", "pm"), (r"place (?:a )?marker", "place a stitch marker"), (r"place (?:a )?marker", "PM"), (r"pm", "put in a marker"), (r"place (?:a )?marker", "pl m"),
        (r"sm", "slip marker"), (r"sm", "slip the marker"), (r"slip marker", "sm"), (r"sm", "sl m"), (r"sm", "SM"), (r"sm", "slm"), (r"sm", "slip m"), (r"sm", "sl marker"), (r"slip marker", "slip the marker"), (r"sm", "move marker"),
    ),
    "to the marker": words((r"to (?:the )?marker(?! [A-Z])", "to m"), (r"to m(?= |,|$)(?! [A-Z])", "to marker"), (r"before (?:the )?marker(?! [A-Z])", "before m"), (r"before m", "before the marker"), (r"to (?:the )?marker(?! [A-Z])", "up to the marker"), (r"to m(?=,)", "until marker")),
    "small words": words(
        (r"(?<=sts )remain", "rem"), (r"(?<=stitches )remain", "are left"), (r"(?<=sts )remain", "are left"), (r"(?<=sts )are left", "remain"), (r"(?<=sts )left", "remaining"), (r"remaining", "rem"), (r"rem(?= (?:\d|sts|heel|st\b))", "remaining"), (r"(?<=sts )rem", "remain"), (r"beg", "beginning"), (r"beginning", "beg"),
        (r"patt", "pattern"), (r"pattern(?! as| [A-Z])", "patt"), (r"between", "btwn"), (r"following", "foll"), (r"continue", "cont"), (r"cont", "continue"), (r"alternate", "alt"), (r"alternate", "other"), (r"every other", "every second"), (r"as established", "as est"), (r"as set", "as established"), (r"as established", "as set"),
    ),
    "decreased": [*words((r"dec'd", "decreased"), (r"inc'd", "increased"), (r"decreased", "dec'd"), (r"increased", "inc'd"), (r"dec'd", "dec"), (r"increased", "inc"), (r"inc'd", "inc’d")), way(r"dec'd\b", "dec’d")],
    "needles": words(
        (r"needle (\d)(?! ?(?:mm|cm|[-.]))", r"N\1"), (r"needle (\d)(?! ?mm)", r"Ndl \1"), (r"needle (\d)(?! ?mm)", r"ndl \1"), (r"N(\d)", r"Needle \1"), (r"N(\d)", r"needle \1"), (r"Ndl (\d)", r"Needle \1"), (r"needles (\d) and (\d)", r"Needles \1 & \2"), (r"N(\d)", r"N \1"),
    ),
    "double-pointed needles": words((r"dpns", "double-pointed needles", ), (r"double-pointed needles", "dpns"), (r"double-pointed needles", "DPNs"), (r"double-pointed needles", "double pointed needles"), (r"dpns", "DPN's"), where=ALL),
    "cast on": [*words((r"CO(?= \d)", "cast on"), (r"cast on(?= \d)", "CO")), way(r"^(?:Cast on|CO)(?= \d)", "Loosely cast on"), way(r"^(?:Cast on|CO)(?= \d)", "Using your favourite method, cast on"), way(r"^(?:Cast on|CO)(?= \d)", "Begin by casting on"), way(r"^(?:Cast on|CO)(?= \d)", "Using the long-tail cast-on, CO")],
    "bind off": words((r"bind off", "cast off"), (r"cast off", "bind off"), (r"bind off(?! (?:in|all|loosely|very|with))", "BO"), (r"cast off(?= (?:in|all|loosely))", "BO"), (r"BO(?= (?:all|in|\d|loosely))", "bind off"), (r"BO(?= (?:all|in|\d|loosely))", "cast off")),
    "British and American": words(
        (r"stockinette(?: stitch)?", "stocking stitch", ), (r"stocking stitch", "stockinette"), (r"stocking stitch", "St st"), (r"stocking stitch", "st st"), (r"stockinette(?: stitch)?", "stockinette st"), (r"St st", "stockinette stitch"), (r"St st", "stocking stitch"), (r"St st", "SS"),
        (r"gauge", "tension"), (r"tension", "gauge"), (r"colour", "color"), (r"color", "colour"), (r"center", "centre"), (r"centre", "center"), (r"weave in", "darn in"), (r"darn in", "weave in"), (r"weave in", "sew in"), where=ALL,
    ),
    "work even": words((r"work even", "work straight"), (r"work even", "continue straight"), (r"continue straight", "work even"), (r"work even", "work without shaping")),
    "sides": words((r"RS", "right side"), (r"WS", "wrong side"), (r"right side(?! [a-z])", "RS"), (r"wrong side(?! [a-z])", "WS")),
    "wrap and turn": words((r"w&t", "wrap and turn"), (r"w&t", "W&T"), (r"w&t", "w & t"), (r"w&t", "wt"), (r"w&t", "w+t"), (r"w&t", "wrap & turn"), (r"w&t", "wrap next st and turn"), (r"w&t", "wrap the next stitch, turn")),
    "turn": [way(r", turn\.?$", ". Turn."), way(r"\. Turn\.?$", ", turn."), way(r", turn\.?$", "; turn."), way(r", turn\.?$", ", turn work."), way(r", turn\.?$", ", then turn."), way(r", turn\.?$", ", TURN."), way(r", turn\.?$", ", turn the work."), way(r", turn\.?$", " (turn)."), way(r", turn\.?$", ", and turn."), way(r", turn\.?$", " turn.")],
    "increases": words((r"M1", "m1"), (r"M1", "make 1"), (r"M1", "make one"), (r"yo", "yarn over"), (r"M1L", "m1l"), (r"M1R", "m1r"), (r"M1L", "make 1 left"), (r"M1R", "make one right"), (r"M1L", "M1-L"), (r"M1R", "M1-R"), (r"yo", "y.o."), (r"yo", "YO"), (r"M1", "M1 (make 1)"), (r"kfb", "KFB"), (r"kfb", "k1fb")),
    "pick up": words((r"pick up and knit", "pick up & knit"), (r"pick up and knit", "PU and K"), (r"pick up and knit", "pick up and k"), (r"pick up and knit", "pick up"), (r"pick up and knit", "PUK"), (r"pick up and knit", "knit up"), (r"pick up and knit", "pick up knitwise")),
    "number words": [
        way(r"\b(\d+)(?= (?:more times|times|times more|more|rounds|rnds|rows)\b)", _as_word), way(rf"\b({_SAID})(?= (?:more times|times|times more|more|rounds|rnds|rows)\b)", _as_number, WORKED, re.I), way(r"(?<=last )(\d+)(?= (?:sts|stitches|rnds|rounds|rows)\b)", _as_word),
        way(r"\bonce more\b", "1 more time"), way(r"\btwice more\b", "2 more times"), way(r"\btwice more\b", "two times more"), way(r"\bonce more\b", "one more time"), way(r"\b(\d+) more times\b", r"\1 times more"), way(r"\b(\w+) times more\b", r"\1 more times"), way(r"\b(\d+) more times\b", r"another \1 times"), way(r"\bthese (?:2|two)\b", "the last 2"), way(r"\b(\d+) more times\b", r"a further \1 times"), way(r"\banother (\w+) times\b", r"\1 more times"), way(r"\b(\d+) more times\b", r"\1x more"), way(r"\b(\d+) more times\b", r"\1 additional times"),
        way(r"\btwice(?! more)\b", "2 times"), way(r"\btwice(?! more)\b", "two times"), way(r"\b(\d+) times\b(?! more)", r"\1x"), way(r"\b(\d+) times\b(?! more)", r"\1 ×"), way(r"\b1 st before\b", "one st before"), way(r"\bone stitch before\b", "1 st before"),
    ],
    "to end": words(
        (r"k(?:nit)? to end(?! of)", "knit to the end"), (r"knit to end(?! of)", "k to end"), (r"k to end(?! of)", "k across to end"), (r"k(?:nit)? to end(?! of)", "knit the remaining sts"), (r"k(?:nit)? to end(?! of)", "k rem sts"), (r"p(?:url)? to end(?! of)", "purl to the end"), (r"p(?:url)? to end(?! of)", "purl rem sts"), (r"p(?:url)? to end(?! of)", "p the rest"), (r"k(?:nit)? to end(?! of)", "k the rest"), (r"k(?:nit)? to end(?! of)", "knit till end"), (r"k(?:nit)? to end(?! of)", "knit until the end"),
    ),
    "to last": words(
        (r"(k|knit|p|purl) to (?:the )?last (\d+) (sts|stitches)(?! (?:of|on))", r"\1 until \2 \3 remain"), (r"(k|knit|p|purl) to (?:the )?last (\d+) (sts|stitches)(?! (?:of|on))", r"\1 to the last \2 \3"), (r"(k|knit|p|purl) to (?:the )?last (\d+) (sts|stitches)(?! (?:of|on))", r"\1 until \2 \3 rem"), (r"(k|knit|p|purl) to (?:the )?last (\d+) (sts|stitches)(?! (?:of|on))", r"\1 to \2 \3 before end"), (r"(k|knit|p|purl) to (?:the )?last (\d+) (sts|stitches)(?! (?:of|on))", r"\1 until the last \2 \3"), (r"(k|knit|p|purl) to (?:the )?last (\d+) (sts|stitches)(?! (?:of|on))", r"\1 to within \2 \3 of end"), (r"(k|knit|p|purl) to (?:the )?last (\d+) (sts|stitches)(?! (?:of|on))", r"\1 across to last \2 \3"), (r"(k|knit|p|purl) to (?:the )?last (\d+) (sts|stitches)(?! (?:of|on))", r"\1 until there are \2 \3 left"), (r"(k|knit|p|purl) to (?:the )?last (\d+) (sts|stitches)(?! (?:of|on))", r"\1 till last \2 \3"),
    ),
    "to the gap": words((r"(k|knit|p|purl) to 1 st before (?:the )?gap", r"\1 until 1 st before the gap"), (r"(k|knit|p|purl) to 1 st before (?:the )?gap", r"\1 to one stitch before gap"), (r"(k|knit|p|purl) to 1 st before (?:the )?gap", r"\1 to within 1 st of the gap"), (r"(k|knit|p|purl) to 1 st before (?:the )?gap", r"\1 to 1 stitch before the turning gap"), (r"(k|knit|p|purl) to 1 st before (?:the )?gap", r"\1 to 1 st from gap"), (r"(k|knit|p|purl) to 1 st before (?:the )?gap", r"\1 up to 1 st before gap")),
    "until all are worked": words((r"until all (?:the )?(?:heel |side )?sts (?:have been|are) worked", "until all sts are worked"), (r"until all (?:the )?(?:heel )?sts (?:have been|are) worked", "until you have worked all the stitches"), (r"until all (?:the )?(?:heel )?sts (?:have been|are) worked", "until all heel sts have been used"), (r"until all (?:the )?(?:heel )?sts (?:have been|are) worked", "until no sts remain unworked"), (r"until all (?:the )?(?:heel )?sts (?:have been|are) worked", "until you have worked to the end of the heel sts"), (r"until all (?:the )?(?:heel )?sts (?:have been|are) worked", "until you run out of sts at both sides"), (r"until all (?:the )?(?:heel )?sts (?:have been|are) worked", "until every stitch has been worked")),
    "until some remain": words(*[
        (rf"until ({COUNT}) (?:sts|stitches) (?:remain|rem|are left)(?=[.,]|$)", rf"{said}")
        for said in (r"until you have \1 sts", r"until there are \1 sts", r"until \1 sts are left", r"to \1 sts", r"until \1 sts rem", r"until there are \1 sts left", r"until you have \1 stitches left", r"until only \1 sts remain", r"until a total of \1 sts remains", r"until there are \1 sts in total", r"till \1 sts remain", r"until \1 total sts remain", r"until you have \1 sts remaining", r"until you are down to \1 sts")
    ]),
    "rows named": [
        way(_PAIR, r"\g<word> \g<a>-\g<b>"), way(_PAIR, r"\g<word> \g<a> & \g<b>"), way(_PAIR, r"\g<word> \g<a>+\g<b>"), way(_SPAN, r"\g<word> \g<a> to \g<b>"), way(_SPAN, r"\g<word> \g<a>–\g<b>"), way(_SPAN, r"\g<word> \g<a> through \g<b>"), way(_SPAN, r"\g<word> \g<a>—\g<b>"), way(_SPAN, r"\g<word> \g<a> - \g<b>"),
        way(r"(?<=[Rr]ep )Rnds(?= \d)", "rnds"), way(r"(?<=[Rr]epeat )Rounds(?= \d)", "rounds"), way(r"(?<=[Rr]epeat )rows(?= \d)", "Rows"), way(r"\b[Rr]ep(?:eat)? (?=(?:[Rr]nds|[Rr]ounds|[Rr]ows) \d)", "Work "),
    ],
    "size lists in brackets": [listed(_inner(" [", ", ", "]")), listed(_inner(" [", ": ", "]")), listed(_inner(" (", ", ", ")")), listed(_inner(" (", ": ", ")")), listed(_inner(" [", ":", "]")), listed(_inner(" (", ":", ")")), listed(_inner("(", ",", ")")), listed(_inner(" (", ",", ")")), listed(_inner(" (", "; ", ")")), listed(_inner(" {", ", ", "}")), listed(_inner(" [", " : ", "]"))],
    "size lists without brackets": [listed(_inner(" (", ") (", ")")), listed(_three("/")), listed(_three(" / ")), listed(_three("-")), listed(_three(", "), "(?= (?:sts|stitches|rnds|rounds)\\b(?!,))"), listed(_inner(" (", "/", ")"))],
    "stated counts": [
        *(counted(form) for form in (" ({c} sts)", " - {c} sts", " — {c} sts.", " – {c} sts", " [{c} sts]", " = {c} sts.", " ={c} sts", ". {c} sts.", ". {c} sts", ". You now have {c} sts.", ". You have {c} stitches.", ". {c} sts on needles.", ". ({c} sts)", ". ({c} sts.)", ". There are {c} sts.", ". There are now {c} stitches on the needles.", ". Total: {c} sts.", ". {c} sts total.", ". {c} sts in total.", ". You should have {c} sts.", ". You should now have {c} sts in all.", ". Stitch count: {c}.", ". Stitches: {c}", ". Sts: {c}", ", {c} sts.", ": {c} sts.", "; {c} sts.", " ... {c} sts", " → {c} sts", " => {c} sts", " // {c} sts", ". [{c} stitches]", " ({c} stitches total)", ". *{c} sts*", ". **{c} sts**", " ({c})", " [{c}]", ". {c} st.", " ({c} sts on needle)", ". This gives {c} sts.", ". That makes {c} sts.", ". {c} sts now on needle.")),
        *(counted(form, fewer=True) for form in (". {c} stitches remain.", " ({c} sts rem)", " ({c} sts remain)", " - {c} sts rem.", ". {c} sts left.", " ({c} sts left)", ". {c} remaining sts.", ". {c} sts are left on the needle.", " [{c} sts remaining]", ". This leaves {c} sts.", ", {c} sts rem")),
    ],
    "stated changes": [changing(form) for form in (" ({n} {sts} {w}'d)", " - {n} {sts} {full}.", ". [{n} {sts} {full}]", ". {n} {sts} {full}.", " ({n} {sts} {w})", " ({sign}{n} {sts})", ". ({n} {sts} {full}.)", " ({n} {full})", ", {n} {sts} {full}.", " = {n} {sts} {w}'d.", " ({n} {w}’d)", " [{sign}{n}]")],
    "labels": [labelled(form) for form in ("{w} {n}{s}: ", "{w} {n}{s}. ", "{w} {n}{s} - ", "{w} {n}{s} – ", "{w} {n}{s} — ", "{o} {l}{s}: ", "{o} {w}{s}. ", "{o} {l}{s} - ", "**{w} {n}{s}:** ", "**{w} {n}**{s}: ", "*{w} {n}{s}:* ", "{U} {n}{s}: ", "{l} {n}{s}: ", "{w} {n} [{short}]: ", "{w} {n}, {short}: ", "{w} {n} {short}: ", "{w} {n} ({long}): ", "{short} {w} {n}: ", "{w} {n} - {short}: ", "{w} #{n}{s}: ", "{w}{n}{s}: ", "{w} {n}{s}:", "{w} {n}{s} : ", "{w} {n}{s}) ", "{w} {n}{s}:  ", "{w}. {n}{s}: ", "{w} {n}.{s} ", "__{w} {n}{s}__: ", "{w} {n}/{short}: ")],
    "label with what it does": [way(r"^(Rnd|Round) (\d+): (?=.*(?:k2tog|K2tog).*)(?!.*(?:yo|Yo|M1))", r"\1 \2 (dec): "), way(r"^(Rnd|Round|Row) (\d+): (?=.*\b(?:M1|kfb))(?!.*(?:k2tog|ssk))", r"\1 \2 (inc): "), way(r"^(Rnd|Round) (\d+): (?=.*(?:k2tog|K2tog).*)(?!.*(?:yo|Yo|M1))", r"\1 \2 (decrease round): "), way(r"^(Rnd|Round) (\d+): (?=.*(?:k2tog|K2tog).*)(?!.*(?:yo|Yo|M1))", r"\1 \2 - decrease: "), way(r"^(Rnd|Round) (\d+): (?=.*(?:k2tog|K2tog).*)(?!.*(?:yo|Yo|M1))", r"\1 \2 [Dec]: "), way(r"^(Rnd|Round) (\d+): (?=.*(?:k2tog|K2tog).*)(?!.*(?:yo|Yo|M1))", r"Dec \1 \2: "), way(r"^(Rnd|Round) (\d+): (?=Knit\.?$)", r"\1 \2 (plain): ")],
    "next round": [*words((r"^Next (?:rnd|round)(?= ?:)", "Next rnd"), (r"^Next (?:rnd|round)(?= ?:)", "NEXT ROUND"), (r"^Next (?:rnd|round) ?:", "On the next round,"), (r"^Next (?:rnd|round) ?:", "Following round:"), (r"^Next (rnd|round|row)(?= ?:)", r"**Next \1**"), (r"^Next (?:rnd|round) ?:", "In the next round:"), (r"^Next (?:rnd|round) ?:", "Next rnd -"), (r"^Next (?:rnd|round) ?:", "Next rnd."), (r"^Next (?:rnd|round) ?:", "Then,"), (r"^Set-?up (?:rnd|round)(?= ?:)", "Set-up"), (r"^Set-?up (?:rnd|round)(?= ?:)", "Setup Round"), (r"^Set-?up (?:rnd|round)(?= ?:)", "Foundation rnd"))],
    "plain rounds": [way(r"(?<=: )Knit\.?$", said) for said in ("K.", "K all sts.", "Knit all stitches.", "Knit around.", "Knit to end.", "Knit every st.", "Knit the round.", "k", "Knit even.", "Knit plain.", "knit", "Knit across.", "Knit all sts to end.", "Knit all the way round.", "K to end of rnd.", "Knit all.", "Knit one round.", "Plain.", "Work even.", "K across all sts.", "k around", "Knit 1 round.")],
    "rounds without numbers": [way(r"^Knit (\d+) (rounds|rnds|rows)\.$", r"K \1 \2."), way(r"^Knit (\d+) (rounds|rnds|rows)\.$", r"\1 \2 knit."), way(r"^Knit (\d+) (rounds|rnds)\.$", r"Work \1 \2 plain."), way(r"^Knit (\d+) (rounds|rnds)\.$", r"Work \1 \2 in stockinette."), way(r"^Knit (\d+) (rounds|rnds)\.$", r"Work \1 plain \2."), way(r"^Knit (\d+) (rounds|rnds)\.$", r"K\1 \2."), way(r"^Knit (\d+) (rounds|rnds)\.$", r"Next \1 \2: Knit."), way(r"^Knit every (?:rnd|round)\b", "Knit each round"), way(r"^Knit every (?:rnd|round)\b", "Knit all rounds"), way(r"^Knit every (?:rnd|round)\b", "Knit round and round"), way(r"^Knit every (?:rnd|round)\b", "Work in St st (knit every rnd)"), way(r"^Knit (\d+) (rounds|rnds)\.$", r"Knit for \1 \2.")],
    "repeats to the end": [way(_STARRED, said) for said in (r"*\g<x>, rep from * to end", r"*\g<x>; repeat from * \g<end>", r"*\g<x>* repeat to end", r"*\g<x>*, repeat between *s \g<end>", r"*\g<x>*; rep from * to * \g<end>", r"(\g<x>) \g<end>", r"[\g<x>] \g<end>", r"[\g<x>] rep to end", r"*\g<x>* \g<end>", r"*\g<x>, rep from *", r"*\g<x>; rep from * \g<end> ", r"(\g<x>), rep to end", r"*\g<x>, repeat from the * to end", r"*\g<x>; repeat from asterisk to end", r"*\g<x> *, rep from * to * to end", r"(\g<x>) repeat to end", r"*\g<x>. Repeat from * to end", r"* \g<x>; rep from * \g<end>", r"**\g<x>; rep from ** \g<end>", r"\*\g<x>; rep from \* \g<end>".replace("\\*", r"\\*"), r"{\g<x>} \g<end>", r"(\g<x>) across all sts", r"*\g<x>, rep * to end", r"*\g<x>*; repeat *-* to end", r"*\g<x> - rep from * to end", r"*\g<x>; rep from * until end")],
    "repeats to the last": [way(_STARRED_LAST, said) for said in (r"(\g<x>) to last \g<n> \g<sts>", r"[\g<x>] to last \g<n> \g<sts>", r"*\g<x>* to last \g<n> \g<sts>", r"*\g<x>; rep from * until \g<n> sts rem", r"*\g<x>, rep from * to the last \g<n> \g<sts>", r"[\g<x>] rep to last \g<n> \g<sts>", r"*\g<x>; repeat from * until last \g<n> \g<sts>", r"*\g<x>*, rep from * to * to last \g<n> \g<sts>")],
    "repeats some times": [*(way(_STARRED_MORE, _times(said)) for said in ("[{x}] {n} times", "({x}) {n} times", "*{x}* {n} times", "({x}) x {n}", "[{x}] x{n}", "*{x}; rep from * {m} more times", "*{x}; rep from * {n} times in all", "*{x}; rep from * {n} times total", "*{x}, rep from * for a total of {n} times", "[{x}] {n}x", "({x}) × {n}")), *(way(_BRACKETED, _bracketed(said)) for said in ("[{x}] {n} times", "({x}) {n} times", "*{x}* {n} times", "({x}) x {n}", "[{x}] x{n}", "({x}) {n}x", "[{x}] × {n}", "*{x}; rep from * {m} more times", "*{x}, repeat from * {m} times more", "{n} x ({x})", "({x}) repeat {n} times", "({x}), rep {n} times in all", "({x}) for {n} times", "({x}) {n}X"))],
    "brackets to the end": [way(_BRACKETED_END, said) for said in (r"*\g<x>; rep from * to end", r"*\g<x>, rep from * to end", r"[\g<x>] \g<end>", r"(\g<x>) \g<end>", r"*\g<x>* to end", r"(\g<x>) rep to end", r"(\g<x>) repeated to end", r"[\g<x>] to the end")],
    "rib": [way(_RIB_ROW, rf"\g<label>{said}") for said in (r"\g<x> rib.", r"\g<x> rib around.", r"\g<x> around.", r"\g<x> ribbing.", r"(\g<x>) all round.", r"Work in \g<x> rib.", r"\g<x> to end.", r"[\g<x>] all the way around.", r"\g<x>, repeat to end.", r"*\g<x>* across.", r"\g<x> rib to end.", r"\g<x>, and so on to the end.")],
    "letters of stitches": [way(r"(?<![\w*])([kp])(\d+)(?!\w)", lambda m: m[0].upper()), way(r"\b([KP])(\d+)\b", lambda m: m[0].lower()), way(r"\bk2tog\b", "K2tog"), way(r"\bk2tog\b", "K2TOG"), way(r"\b([kp])(\d+)\b", r"\1 \2"), way(r"\bp2tog\b", "P2TOG"), way(r"\b([kp])(\d+), (?=[kp]\d+\b)", r"\1\2 "), way(r"\b([kp]\d+), (?=[kp]\d)", r"\1,"), way(r"\b([kp]\d+), (?=[kp]\d)", r"\1,  ")],
    "case of a line": [way(r"^(?!.*\b(?:MC|CC|[A-Z] |[A-Z]$|[A-Z],|DS|MDS)\b)(?!.*\b[A-Z]\b).+$", lambda m: m[0].lower()), way(r"^(?!.*(?:\b[a-z]?[A-Z]\b|#)).+$", lambda m: m[0].upper()), way(r"^[A-Z][a-z]", lambda m: m[0].lower()), way(r"(?<=[a-z\d]: )[A-Za-z]", lambda m: m[0].swapcase()), way(r"(?<=\. )[A-Z](?=[a-z]+ )", lambda m: m[0].lower())],
    "headings": [_heading(str.upper), _heading(str.title), _heading(str.lower), _heading(str.capitalize), _heading(lambda s: f"## {s}"), _heading(lambda s: f"**{s}**"), _heading(lambda s: f"{s}:"), _heading(lambda s: f"# {s.upper()}"), _heading(lambda s: f"__{s}__"), _heading(lambda s: f"--- {s} ---"), _heading(lambda s: f"*** {s} ***"), _heading(lambda s: f"== {s} =="), _heading(lambda s: f"{s}."), _heading(lambda s: f"### {s}:"), _heading(lambda s: f"*{s}*"), _heading(lambda s: f"~ {s} ~"), _heading(lambda s: f"{s} -"), _heading(lambda s: f"[{s}]"), _heading(lambda s: f"Section: {s}"), _heading(lambda s: f"{s}\n{'-' * len(s)}"), _heading(lambda s: f"{s}\n{'=' * len(s)}"), _heading(lambda s: f"• {s}"), _heading(lambda s: f"THE {s.upper()}"), _heading(lambda s: " ".join(s.upper())), _heading(lambda s: f"<b>{s}</b>")],
    "dashes": [way(r"(?<=\d)-(?=\d)", "–", ALL), way(r"(?<=\d)-(?=\d)", "−", ALL), way(r"(?<=[a-z])-(?=[a-z])", "‑", ALL), way(r" - ", " – ", ALL), way(r" - ", " — ", ALL), way(r"–", "-", ALL), way(r"(?<=\d)-(?=\d)", " - ", ALL), way(r"\b(cast|bind|set|double)-(?=on|off|up|pointed)", r"\1 ", ALL)],
    "quotes and apostrophes": [way(r"'", "’", ALL), way(r"’", "'", ALL), way(r'(?<=[\d½¼¾])"', "”", ALL), way(r'(?<=[\d½¼¾])"', "″", ALL), way(r'(?<=[\d½¼¾])"', " in", ALL), way(r'(?<=[\d½¼¾])"', " inches", ALL), way(r'(?<=[\d½¼¾)])"', "''", ALL), way(r'(?<=[\d½¼¾]) in\.?(?= |$|,|;)(?! (?:a|the|each|St|st|k|p|all|every|pattern|rib|rounds|rnds|rows|MC|CC|stock|total))', '"', ALL), way(r"(?<=[\d½¼¾)]) inch(?:es)?\b", " in", ALL), way(r"(?<=[\d½¼¾)]) inch(?:es)?\b", '"', ALL), way(r"(?<=\d) cm\b", "cm", ALL), way(r"(?<=\d) cm\b", " cms", ALL), way(r"(?<=\d) cm\b", " centimetres", ALL), way(r"(?<=\d) mm\b", "mm", ALL), way(r"(?<=\d)mm\b", " mm", ALL)],
    "fractions": [way(r"(\d*)([½¼¾])", _spelled, ALL), way(r"(\d)([½¼¾])", r"\1 \2", ALL), way(r"(?<=\d)\.5(?= ?(?:cm|in\b|inches|\"))", "½", ALL), way(r"(\d)([½¼¾])", lambda m: f"{m[1]}-{_HALVES[m[2]]}", ALL), way(r"(\d+)([½¼¾])", lambda m: m[1] + {"½": ".5", "¼": ".25", "¾": ".75"}[m[2]], ALL), way(r"(\d)([½¼¾])", lambda m: f"{m[1]} " + _HALVES[m[2]].replace("/", "⁄"), ALL)],
    "spaces": [way(r"(?<=\d) (?=sts?\b|rnds?\b|rows?\b|mm\b|cm\b|more\b)", "\xa0", ALL), way(r"(?<=\.) (?=[A-Z])", "  ", ALL), way(r"$", "  ", ALL), way(r"(?<=:) ", "\t", ALL), way(r"(?<=,) (?=[kp]\d)", "  ", ALL), way(r"(?<=[kp]\d), (?=[kp]\d)", ",", WORKED), way(r" (?=\()", "", WORKED), way(r"(?<=\d) (?=sts\b)", "", WORKED), way(r"(?<=\d) (?=sts?\b|cm\b|mm\b)", "\u2009", ALL), way(r"^(?=\S)", "  ", WORKED), way(r"$", "\r", ALL), way(r"(?<=,) ", "\u2002", WORKED), way(r"^(?=\S)", "\t", WORKED), way(r"(?<=[a-z]) (?=[a-z])", "  ", ALL)],
    "signs": [way(r"\*", "∗", ALL), way(r"\*", r"\\*", ALL), way(r"\*", "✱", ALL), way(r" x (?=\d)", " × ", ALL), way(r" & ", " and ", WORKED), way(r" and (?=[A-Z]?[a-z]* ?\d)", " & ", WORKED), way(r"\.$", "", WORKED), way(r"(?<=[\w)])$", ".", WORKED), way(r";(?= rep)", ",", WORKED), way(r"\*", "★", ALL), way(r"; rep", " ; rep", WORKED), way(r", (?=ssk|k2tog|k1\b)", " , ", WORKED), way(r"fi|fl", lambda m: {"fi": "ﬁ", "fl": "ﬂ"}[m[0]], ALL), way(r"&", "&amp;", ALL), way(r"\.$", " .", WORKED)],
    "bullets": [way(r"^(?=\S)", said) for said in ("- ", "• ", "– ", "· ", "> ", "[ ] ", "☐ ", "→ ", "o ", "◦ ", "▪ ", "— ", "+ ", "- [ ] ", "■ ", "• \t")],
    "join in the round": [way(r"\bjoin (?:for working |to work |for knitting )?in the (?:round|rnd)\b", _put(said), WORKED, re.I) for said in ("join in the round", "join for working in the rnd", "join to work in the round", "join to knit in the round", "join into a round", "join into a ring", "join in a circle", "join the round", "join sts in the round", "join work into a round", "join to form a ring", "connect in the round", "join, ready to work in the round", "join your knitting in the round", "close into a round", "begin working in the round", "join and work in the round", "join for circular knitting", "join to beginning of round", "join in rnd", "join the ends to work in the round", "carefully join in the round")] + [way(r"\bbeing careful not to twist(?: the)?(?: sts| stitches)?", said, WORKED) for said in ("taking care not to twist", "without twisting", "making sure the stitches are not twisted", "being careful not to twist the cast-on", "taking care that the sts are not twisted", "making sure your stitches aren't twisted", "do not twist")],
    "cut the yarn": [way(r"\b(?:break|cut)(?: off)?(?: the)? yarn\b", _put(said), WORKED, re.I) for said in ("break yarn", "cut the yarn", "break off yarn", "cut yarn", "snip yarn", "break the working yarn", "cut the yarn leaving a long tail", "cut off the yarn", "cut working yarn", "clip yarn", "fasten off yarn")] + [way(r"\b(through|thread (?:the )?(?:yarn|tail) through|draw (?:it|yarn) through)(?: the)? (?:rem(?:aining)? )?sts\b", r"\1 remaining sts"), way(r"\bpull tight(?:ly)?\b", "pull up tightly")],
    "where it starts": [way(r"\bpm for beg(?:inning)? of (?:rnd|round)\b", said) for said in ("place marker for beginning of round", "pm to mark beg of rnd", "place marker to indicate start of round", "pm for BOR", "place BOR marker", "place a marker at the beginning of the round", "pm at start of rnd")],
    "slips said longer": [way(r"(?<=last )(\d+)(?= (?:sts|stitches)\b)", _as_word), way(r"\b(k|p)(\d+)\b(?=,)", r"\1\2 sts"), way(r"\b[kK](\d+)(?=,)", r"knit \1 sts"), way(r"\b[pP](\d+)(?=[,.])", r"purl \1 stitches"), way(r"(?<=, )k1(?=[,.])", "knit one"), way(r"(?<=, )p1(?=[,.])", "purl one"), way(r"(?<=, )k1(?=[,.])", "k one"), way(r"(?<=, )k1(?=[,.])", "k 1 st"), way(r"(?<=, )(?=(?:k|p|ssk|k2tog|p2tog)\d?(?:tog)?[.]?$)", "then "), way(r", (?=(?:k1|p1|k2|p2)\.?$)", " and ")],
}  # fmt: skip


# layouts --------------------------------------------------------------------------------------

Layout = Callable[[Sequence[Line], random.Random], list[Line]]
CHATTY: Final = (
    "Take a break here, you've earned it.", "Nearly there!", "Time for a cup of tea.", "Don't worry if it looks odd at first.", "Your sock is starting to look like one.", "(This is the fiddly bit.)", "Hooray!", "Well done so far.", "This part goes quickly.", "I like to do this bit in front of the television.", "Tip: check your work as you go.", "NOTE: take your time here.", "Phew.", "It will all make sense in a minute.", "Have a look at the picture if you are unsure.", "If you have any questions, write to me.", "Not too tight!", "So far, so good.", "Remember to breathe.", "Admire your work.",
)  # fmt: skip
FURNITURE: Final = ("Page 2 of 4", "2", "- 3 -", "© 2019. All rights reserved.", "www.example.org", "Continued on next page", "For personal use only.", "page 3", "[photo]", "***", "---", "* * *", "~~~", "Sock pattern, page 2", "(Photo: the finished heel)")  # fmt: skip


def wrapped(width: int, indent: str = "") -> Layout:
    def change(lines: Sequence[Line], rng: random.Random) -> list[Line]:
        found = []
        for line in lines:
            if len(line.text) <= width or line.is_table or line.text.startswith(" "):
                found.append(line)
                continue
            parts = textwrap.wrap(
                line.text,
                width,
                subsequent_indent=indent,
                break_on_hyphens=False,
                break_long_words=False,
            )
            found += [attrs.evolve(line, text=part, at=()) for part in parts[:-1]]
            found.append(attrs.evolve(line, text=parts[-1]))
        return found

    return change


def run_together(joint: str = " ", most: int = 99) -> Layout:
    """Return a layout that makes the rows of a section, which no blank line divides, a paragraph."""

    def change(lines: Sequence[Line], rng: random.Random) -> list[Line]:
        found: list[Line] = []
        held = 0
        for line in lines:
            last = found[-1] if found else None
            if (
                last
                and last.is_worked
                and line.is_worked
                and held < most
                and not re.match(r"\s|\d+[.)]|[A-Z]\d? ?\|", line.text)
                and not line.text.startswith("**")
                and re.search(r"[.:!?)]$", last.text)
            ):
                found[-1] = attrs.evolve(
                    last, text=last.text.rstrip() + joint + line.text, at=last.at + line.at
                )
                held += 1
            else:
                found.append(line)
                held = 1
        return found

    return change


def _blank() -> Line:
    return Line("", (), "blank")


def doubled(lines: Sequence[Line], rng: random.Random) -> list[Line]:
    return [one for line in lines for one in ([line, _blank()] if not line.text else [line])]


def spaced(lines: Sequence[Line], rng: random.Random) -> list[Line]:
    """Put a blank line behind each line that is worked."""
    return [
        one
        for line in lines
        for one in (
            [line, _blank()]
            if line.is_worked and not re.match(r"\s|\d+[.)]", line.text)
            else [line]
        )
    ]


def closed(lines: Sequence[Line], rng: random.Random) -> list[Line]:
    """Take out the blank lines before and behind headings of the work."""
    found: list[Line] = []
    for at, line in enumerate(lines):
        after = lines[at + 1 :]
        if (
            not line.text
            and after
            and after[0].kind == HEADING
            and any(one.is_worked for one in lines[:at])
        ):
            continue
        found.append(line)
    return found


def chatted(lines: Sequence[Line], rng: random.Random) -> list[Line]:
    """Put a chatty sentence between two rows, as a line of its own."""
    places = _between(lines)
    chosen = set(rng.sample(places, min(2, len(places))))
    return [
        one
        for at, line in enumerate(lines)
        for one in ([line, Line(rng.choice(CHATTY), (), "text")] if at in chosen else [line])
    ]


def chatted_behind(lines: Sequence[Line], rng: random.Random) -> list[Line]:
    places = [at for at in _between(lines) if re.search(r"[.!]$", lines[at].text)]
    chosen = set(rng.sample(places, min(2, len(places))))
    return [
        attrs.evolve(line, text=f"{line.text} {rng.choice(CHATTY)}") if at in chosen else line
        for at, line in enumerate(lines)
    ]


def paged(lines: Sequence[Line], rng: random.Random) -> list[Line]:
    """Put what stands at the foot of a page between two rows."""
    places = _between(lines)
    chosen = set(rng.sample(places, min(1, len(places))))
    return [
        one
        for at, line in enumerate(lines)
        for one in (
            [line, _blank(), Line(rng.choice(FURNITURE), (), "text"), _blank()]
            if at in chosen
            else [line]
        )
    ]


def stepped(form: str) -> Layout:
    """Return a layout that numbers what is worked, from 1, section by section or through."""

    def change(lines: Sequence[Line], rng: random.Random) -> list[Line]:
        if any(
            re.match(r"\s*(?:\d+[.)]|[a-z][.)]|Step)|(?:[kp]\d)", line.text)
            for line in lines
            if line.is_worked
        ):
            return list(lines)
        found, number = [], 0
        for line in lines:
            if line.is_worked and not line.text.startswith(" "):
                number += 1
                line = attrs.evolve(
                    line, text=form.format(n=number, a=chr(96 + min(number, 26))) + line.text
                )
            found.append(line)
        return found

    return change


def _between(lines: Sequence[Line]) -> list[int]:
    return [
        at
        for at in range(len(lines) - 1)
        if lines[at].is_worked
        and lines[at + 1].is_worked
        and not re.match(r"\s|\d+[.)]", lines[at + 1].text)
        and not lines[at].text.endswith(":")
    ]


LAYOUTS: Final[dict[str, list[Layout]]] = {
    "wrapped": [wrapped(60), wrapped(72), wrapped(40), wrapped(66, "    "), wrapped(50, "  ")],
    "run together": [run_together(), run_together(most=2), run_together(most=3)],
    "blank lines": [doubled, spaced, closed],
    "chat between": [chatted],
    "chat behind": [chatted_behind],
    "foot of a page": [paged],
    "steps numbered": [
        stepped("{n}. "),
        stepped("{n}) "),
        stepped("Step {n}: "),
        stepped("({n}) "),
        stepped("Step {n}. "),
    ],
}
