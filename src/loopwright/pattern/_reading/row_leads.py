# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What stands before and beside a row in a sentence: which row it is, how many, what they leave."""

from __future__ import annotations

from loopwright.pattern._reading.stated import numbers_of_sizes
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern.values import Count, sized

__all__ = ["MANY", "NUMBER_WORDED", "STATED_BESIDE", "count_beside", "lead_of", "names_row"]

_WORD_NUMBER = r"one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|once|twice"
NUMBER_WORDED = rf"(?:{COUNT}|(?:{_WORD_NUMBER})\b)"


def count_beside(text: str, sizes: int) -> Count | None:
    """Return the stitches that a sentence states which states nothing else."""
    found = STATED_BESIDE.match(text)
    numbers = numbers_of_sizes(found["n"], sizes) if found else None
    return sized(numbers) if numbers else None


STATED_BESIDE = WordForm(  # "You now have 40 stitches."
    rf"(?:[(\[=]|(?:now |so )?(?:you|there)(?:'ll| will| should| are)*(?: now)?(?: have| be| left| with)*|(?:this|that|which) (?:leaves|makes|gives)(?: you)?(?: with)?|leaving|now)? ?(?P<n>{COUNT}) (?:sts|stitches)(?: (?:now|left|remain\w*|in all|on (?:the|your) needles?|altogether))*[.)\]!]*$",
)
_WHICH = r"(?:(?:very |next |following |first |second |third |fourth |fifth |sixth |last |\d+(?:st|nd|rd|th) |right[- ]side |wrong[- ]side |rs |ws |dec(?:rease)? |inc(?:rease)? |set-?up |cable |lace |plain )*)"
_ROW_FIRST = WordForm(  # "On the next row, the right side, ", "Set up the cables like this: "
    rf"(?:(?:now )?for the [a-z]+[!:,] )?(?:(?:now|then|and|so|next|finally)(?: we| you)?,? )*(?:work an? (?:dec|inc)\w* (?:row|round|rnd) )?(?:(?:on|in|for|work|(?:begin|start)(?:ing)? with) (?:the |an? |your |this |your )?{_WHICH}(?:row|round|rnd)(?:,? \(?(?:the )?(?:right|wrong)[- ]side\)?)?(?: of|,? as follows)?[,:]? |on the way back,? |back,? |again,? )?(?:(?![^:]*\b(?:k|knit|p|purl|ssk|yo|slip|sl|dec\w*|inc\w*|needles?|times|rep\w*|until|turn|rounds|rows|rnds)\b)[^:;.\d*()\[\]]{{3,70}}: )?",
)
MANY = WordForm(  # "4 more rounds of k6, p4", "Knit 3 rounds in pattern: k6, p4"
    rf"(?:work |do |knit |make )?(?:another )?(?P<n>{NUMBER_WORDED}) (?:more )?(?:rounds|rnds|rows) (?:of|in|as)(?: before| (?:this |the )?patt\w*)?:? ",
)


def names_row(text: str) -> bool:
    """Tell whether a sentence begins by saying which row it tells: "On the way back"."""
    return _ROW.search(text[: lead_of(text)]) is not None


_ROW = WordForm(r"\b(?:row|round|rnd|back)\b")


def lead_of(text: str) -> int:
    """Return how much of a row tells only which one it is."""
    found = _ROW_FIRST.match(text)
    return found.end() if found else 0
