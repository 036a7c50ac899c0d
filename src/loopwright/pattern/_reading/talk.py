"""Talk behind an instruction: what it is for, how it looks, how it feels."""

from __future__ import annotations

from collections.abc import Iterator

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["without_talk"]

_AT = WordForm(  # where talk begins
    r"[\s,;:!—–(-]+(?=(?:(?:in order )?to (?:make|form|create|get|give|keep|help|avoid|prevent|"
    r"hide|show|stop|allow|tidy|define)|so|which|because|since|while|as|like|if)\b \w)",
)
_WORKS = WordForm(  # words that may ask for something, or say where, how often, how far
    r"\d|\*|[\[\]]|\b(?:one|two|three|four|five|six|seven|eight|nine|ten|twice|once|times?|again|half|"
    r"k|p|knit\w*|purl\w*|sts?|stitch\w*|loops?|work\w*|sl|slip\w*|pick\w*|lift\w*|wraps?|wrapp\w*|ds|doubles?|"
    r"tog|together|ssk|skpo?|m1\w?|yo|kfb|dec\w*|inc\w*|turn\w*|rep\w*|cont\w*|cast\w*|bind\w*|bound|graft\w*|"
    r"join\w*|hold\w*|waste|scrap|place|put|move|leave|let|cut|break|change|"
    r"each|every|all|both|other|next|last|first|second|third|rest|remain\w*|"
    r"until|till|to (?:the )?end|before|after|between|from|into|onto|over|along|"
    r"m|markers?|side|edge|gap|corner|cent(?:er|re)|middle|needles?|dpns?|yarn|wool|mc|cc|rows?|rounds?|rnds?|rs|ws|right|wrong|"
    r"flap|gusset|thumb|toe|instep|sole|rib\w*|garter|stockinette|pattern|patt|est\w*|set|even|not?|never|"
    r"don't|only|without|except|but|instead|same|opposite|in rounds|flat)\b",
)


def without_talk(said: MappedText) -> Iterator[MappedText]:
    """Yield a sentence without the talk at its end: less of it first.

    What is left out holds no word that could ask for anything.

    Examples
    --------
    >>> [one.text for one in without_talk(MappedText.of("Purl 1 round to make a little ridge."))]
    ['Purl 1 round']
    >>> list(without_talk(MappedText.of("Knit to side m.")))
    []
    """
    text = said.text
    for match in reversed(list(_AT.finditer(text))):
        if _WORKS.search(text[match.end() :]):
            break
        if match.start():
            yield said.piece(0, match.start())
