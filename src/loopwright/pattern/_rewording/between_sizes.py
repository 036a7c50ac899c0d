# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Numbers by size with a sign of the writer's own between them: "80/88/96 sts"."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["by_sign", "with_first_outside"]

_ONE = r"(?:\d+(?:\.\d+)?[¼½¾⅓⅔⅛]?|[¼½¾])"
_BY_SIGN = {  # "80/88/96 sts", "34: 42: 46 sts", "40-44-48 sts"
    "/": re.compile(
        rf"(?<![\d/.]){_ONE}[\"″”]?(?: ?/ ?{_ONE}[\"″”]?)+(?![\d/]|\s?(?:RC|LC|RPC|LPC|rib))"
    ),
    ":": re.compile(rf"(?<![\d:.]){_ONE}(?: ?: ?{_ONE})+(?![\d:])"),
    "-": re.compile(rf"(?<![\d.–-]){_ONE}(?: ?[-–] ?{_ONE})+(?![\d–-])"),
}
_SIGNS = {"/": re.compile(" ?/ ?"), ":": re.compile(" ?: ?"), "-": re.compile(" ?[-–] ?")}
_VERB_AGAIN = WordForm(  # "k13 / k15"
    r"\b(?P<verb>[kp](?:nit|url)?) ?\d+(?: ?/ ?(?P=verb) ?\d+)+\b"
)
_LABELS = re.compile(r"\b(?:rows?|rnds?|rounds?|r|steps?|needles?|n|size) ?$", re.IGNORECASE)
_UP_TO_ONE = re.compile(  # "until you have worked round 19 / 21 / 23": one for each size
    r"\b(?:worked|until|till|through|to|after|reach(?:ed)?|finished|done|completed|end(?:ing)? (?:with|on|after)|end of) (?:row|rnd|round) ?$",
    re.IGNORECASE,
)
_HOW_MANY = WordForm(r" ?(?:times?\b|more\b|sts\b|stitches\b|rows\b|rnds\b|rounds\b)")


def by_sign(said: MappedText, sizes: int, sign: str, *, rising: bool = False) -> MappedText:
    """Return "80/88/96 sts" as "80 (88, 96) sts", where the sizes were named so.

    Where they were not, only `rising` numbers are those of sizes: "14-28-14" are needles.
    """
    if sizes < 2 or not sign or sign not in said.text.replace("–", "-"):
        return said

    if sign == "/":
        said = said.sub(_VERB_AGAIN, lambda m: m["verb"] + "/".join(re.findall(r"\d+", m[0])))

    def bracketed(match: re.Match[str]) -> str:
        first, *more = _SIGNS[sign].split(match[0])
        if len(more) + 1 != sizes:
            return match[0]
        numbers = [float(one) for one in re.findall(r"\d+(?:\.\d+)?", match[0])]
        if rising and (numbers != sorted(numbers) or numbers[0] == numbers[-1]):
            return match[0]
        labelled = _LABELS.search(said.text, 0, match.start())
        apart = labelled and not _UP_TO_ONE.search(said.text, 0, match.start())
        if apart and not _HOW_MANY.match(said.text, match.end()):
            return match[0]
        unit = match[0][-1] if match[0][-1] in '"″”' else ""
        rest = ", ".join(one.rstrip('"″”') for one in more)
        return f"{first.rstrip(chr(34) + '″”')} ({rest}){unit}"

    return said.sub(_BY_SIGN[sign], bracketed)


_INSIDE = r"[(\[{](?P<list>\d+(?P<sign>, ?| ?[/:–-] ?|; ?)\d+(?:(?P=sign)\d+)*)[)\]}]"
_CAST_ON_INSIDE = WordForm(
    rf"\b(?:cast(?:ing)? on|co)(?: [a-z]+){{0,2}}? {_INSIDE}(?= )"
)  # "cast on (48, 56, 64) sts"


def with_first_outside(lines: list[MappedText]) -> list[MappedText]:
    """Return lines with "48 (56, 64)" for "[48, 56, 64]", where that is how sizes are cast on.

    Numbers that fall are those of needles: "[14, 28, 14]".
    """
    cast_on = next((found for one in lines if (found := _CAST_ON_INSIDE.search(one.text))), None)
    if cast_on is None:
        return lines
    sign = re.escape(cast_on["sign"].strip())
    more = len(re.findall(r"\d+", cast_on["list"])) - 1
    number = r"\d+(?:\.\d+)?[½¼¾]?"
    form = re.compile(
        rf"(?<![\d)½¼¾\"”″])(?<!\d )[(\[{{]{number}(?: ?{sign} ?{number}){{{more}}}[)\]}}]"
    )

    def outside(match: re.Match[str]) -> str:
        values = re.findall(number, match[0])
        whole = [int(one) for one in values if one.isdigit()]
        return match[0] if whole != sorted(whole) else f"{values[0]} ({', '.join(values[1:])})"

    return [one.sub(form, outside) for one in lines]
