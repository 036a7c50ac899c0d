# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What people call yarns, MC and CC, main and contrast colour, as the language has it.

MC is the yarn called main: the one in hand where nothing else was said.
"""

from __future__ import annotations

import re
from functools import lru_cache

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COLOUR

__all__ = ["with_yarns", "yarn_first"]

_CALLED = rf"(?P<yarn>{COLOUR.replace('(?:yarn|colou?r) [A-E]', 'colou?r [A-E]')})\b"
_WORK = r"(?=(?:k|p|knit|purl|work|cast|co|rep|repeat|cont|continue|rib|bind|graft|dec|decrease|inc|increase|as (?:rnd|round|row)|follow)\b|k\d|p\d|\*|\[|\()"
_DYED = WordForm(r"(?:the )?(?!mc|cc|c\d|colou?r|yarn)([a-z]{3,})(?: (?:yarn|wool|colou?r))?")
_FIRST = WordForm(
    r"\s*(?:with|using) (?:yarn (?P<word>[\w -]{1,30}?)|(?P<letter>[A-EM]\d?))(?: only)?(?:, ?"
    + _WORK
    + r"|[,.:;]?\s*$)",
)
_CAST_ON = WordForm(
    r"^(?P<on>\s*(?:cast on|co) [^;.]*?),? (?:with|using|in) "
    rf"(?:{_CALLED}|(?:yarn )?(?P<word>[A-E]\d?))(?=[,.;]|$)",
)
_AMID = WordForm(rf"\b(?:with|using|in) {_CALLED}(?: only)?,? (?:and )?{_WORK}")
_ROUND = WordForm(
    rf"\b(?P<stitch>knit|purl|k|p)(?: to end)? (?:in|with|using) {_CALLED}(?: only)?(?=[,.;]|$)",
)
_BEHIND = WordForm(
    rf"\b(?P<run>(?:[kpKP]|[Kk]nit|[Pp]url) ?\d+)(?: (?:in|with|using))? "
    rf"(?:(?i:{_CALLED})|(?P<word>[A-EM])(?=[,;.\])]|$))",
    re.NOFLAG,
)
_NAMED = rf"(?:(?:yarn )?(?:{_CALLED}|(?P<word>(?-i:[A-E]\d?)\b)))(?: only| alone)?"
_LABEL = r"(?:(?:next|following|foll|last|every|each|plain|set-?up|dec\w*\.?|inc\w*\.?|[a-z]+) )?(?:rounds?|rnds?|rows?)(?: \d[\d ,&–-]*(?:(?:and|to) \d+)?)?(?: \([RW]S\))?:"
_LED = WordForm(rf"^\s*(?:with|using|in) {_NAMED},? (?P<label>{_LABEL}) ?(?=\S)")
_ALONE = WordForm(rf"^\s*(?:with|using|in) {_NAMED}(?=\s*[.,:;]?\s*$)")
_AT_END = WordForm(  # "knit 2 rounds in CC", "round 3: *k2, p2; rep from * to end in CC"
    rf"^(?P<label>\s*{_LABEL} ?)?(?P<on>\s*(?:(?:then|now),? )?(?:(?:k|p|knit|purl|work|rib|continue|cont|bind off|cast off|bo|dec|inc|decrease|increase)\b|[*(\[])(?:[^:]*?[^:\d])?)"
    rf" (?:in|with|using) {_NAMED}(?=\s*[.;]?\s*$)",
)
_ROUNDS_OF = WordForm(  # "knit 1 round MC"
    rf"^(?P<on>\s*(?:k|p|knit|purl|work|rib) (?:\d+|[a-z]+) (?:rounds?|rnds?|rows?)) {_CALLED}(?=\s*[.;]?\s*$)",
)
_YARN = WordForm(rf"\b(?:{COLOUR}\b|(?:in|with|using) (?:yarn )?(?-i:[A-E]\d?)\b|yarn\b)")
_TAKEN = WordForm(
    rf"\b(?:(?P<join>join|rejoin)|change to|use|switch to)(?: in)?(?: the)? {_CALLED}",
)
_JOINED_AT = WordForm(  # where a yarn begins is where the work goes on: nothing is asked by it
    rf"\b(?P<join>(?:(?:re)?join|attach|tie)(?: in| on)?)(?: the)? (?:{_CALLED}|(?P<word>(?-i:[A-E]\d?|CC\d?|MC)))"
    r" (?:at|in|by|on|to|beside) (?:the |one |a |an |this |that |either )?(?:(?:first|right|left|lower|upper|nearest|outer|inner|other|side|heel|thumb|right-hand|left-hand) )*"
    r"(?:corner|side|edge|end|start|beginning|gap|middle|centre|center|seam)(?: of (?:the )?(?:(?:first|right|left|sole|waiting|held|live|heel|thumb) )*(?:heel|opening|sole|thumb|round|rnd|needle|instep|gap|row|flap|work|sts|stitches|loops))?(?=[,.;]|$| and\b)",
)


def with_yarns(said: MappedText) -> MappedText:
    """Put "With MC, k2" as "with yarn main, k2", and the like.

    Examples
    --------
    >>> for text in ("Rnd 1: With MC, k2", "Rnd 2: *K3 MC, k1 CC; rep from *", "Change to color b"):
    ...     print(with_yarns(MappedText.of(text)).text)
    Rnd 1: with yarn main, k2
    Rnd 2: *K3 in yarn main, k1 in yarn CC; rep from *
    change to yarn b
    """
    known = _with_yarns(said.text)
    if known.text == said.text:
        return said
    return MappedText(known.text, tuple(said.at[place] for place in known.at))


@lru_cache(maxsize=8192)
def _with_yarns(text: str) -> MappedText:
    said = MappedText.of(text)
    said = said.sub(_CAST_ON, lambda m: f"with {_yarn(m)}, {m['on'].strip().lower()}")
    said = said.sub(_LED, lambda m: f"{m['label']} with {_yarn(m)}, ")
    said = said.sub(_ALONE, lambda m: f"with {_yarn(m)}")
    for form in (_AT_END, _ROUNDS_OF):
        said = said.sub(form, _of_all)
    said = said.sub(_BEHIND, lambda m: f"{m['run']} in {_yarn(m)}")
    said = said.sub(_JOINED_AT, lambda m: f"join {_yarn(m)}")
    said = said.sub(_TAKEN, lambda m: f"{m['join'] or 'change to'} {_yarn(m)}")
    said = said.sub(_ROUND, lambda m: f"with {_yarn(m)}, {m['stitch']} to end")
    return said.sub(_AMID, lambda m: f"with {_yarn(m)}, ")


def _of_all(match: re.Match[str]) -> str:
    """Put a yarn that is told behind a sentence before what is worked in it, if it tells no other."""
    if _YARN.search(match["on"]):
        return match[0]
    label = match.groupdict().get("label") or ""
    return f"{label}with {_yarn(match)}, {match['on'].strip()}"


def _yarn(match: re.Match[str]) -> str:
    """Return the name that the language gives it."""
    named = match.groupdict()
    called = " ".join((named["yarn"] or named["word"]).split())
    lower = called.lower()
    if lower == "mc" or lower.startswith(("main", "the main")):
        return "yarn main"
    if lower.startswith(("contrast", "the contrast")):
        return "yarn CC"
    if bare := _DYED.fullmatch(called):
        return f"yarn {bare[1].lower()}"
    return f"yarn {called.split()[-1] if lower.startswith(('colo', 'yarn')) else called.upper()}"


def yarn_first(said: MappedText) -> tuple[str, MappedText] | None:
    """Return the yarn that a sentence begins with, and the rest of it.

    Examples
    --------
    >>> name, rest = yarn_first(MappedText.of("With B, knit 2 rnds."))
    >>> name, rest.text
    ('B', 'knit 2 rnds.')
    """
    match = _FIRST.match(said.text)
    if match is None:
        return None
    return match["word"] or match["letter"], said.piece(match.end(), len(said.text))
