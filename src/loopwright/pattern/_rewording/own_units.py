# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What a text counts by that is its own: steps with two numbers, blocks of rounds with a name.

"1.2 Inc rnd: …" and "Work 1.2 and 1.3 another 8 times" are put as steps 102 and 103; "These 8 rounds
make one stripe" lets "knit 6 stripes" be put as those rounds, so many times.
"""

from __future__ import annotations

import re
from functools import partial

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._words import NUMBER_WORDS

__all__ = ["blocks_of", "has_points", "with_blocks", "with_step_numbers"]

_POINT = r"(\d{1,2})\.(\d{1,2})\.?"
_AHEAD = re.compile(rf"^{_POINT}:? +(?=[A-Za-z*(\[])", re.MULTILINE)
_POINTS = WordForm(
    rf"\b(?P<verb>(?:work|rep(?:eat)?|do|knit|follow|as(?: in| for)?|of)\b\.?(?: (?:from|steps?))*) (?P<points>{_POINT}(?: ?(?:and|&|to|through|-|–) ?{_POINT})?)(?!\d| ?(?:cm|mm|in\b|\"|g\b|m\b))",
)
_LETTERED = re.compile(r"^(?P<part>[A-H])(?P<step>\d{1,2})[.:)] +(?=[A-Z*(\[])", re.MULTILINE)
_LETTERS = WordForm(  # "Repeat B2 and B3 until", "Do A3 twice", "As B2."
    r"\b(?P<verb>(?i:rep(?:eat)?|do|work|as(?: in| for)?)\b\.?) (?:(?i:steps?) )?(?P<part>[A-H])(?P<step>\d{1,2})(?:(?P<to> ?(?:and|&|to|through|-|–) ?)(?P<part2>[A-H])(?P<step2>\d{1,2})\b|(?= ?(?:[.,;]|$| (?:once|twice|thrice|again|alone|only|until|another|a (?:total|further)|(?:\d+|two|three|four|five|six|seven|eight|nine|ten) (?:more )?times)\b)))",
    re.NOFLAG,
)
_SUBLETTERED = re.compile(r"^(?P<part>\d{1,2})(?P<step>[a-n])[.:)] +(?=[A-Za-z*(\[])", re.MULTILINE)
_SUBLETTERS = WordForm(  # "Repeat steps 4a to 4f"
    r"\b(?P<verb>(?:rep(?:eat)?|do|work|follow|as(?: in| for)?)\b\.?)(?: again)?(?: steps?)? (?P<part>\d{1,2})(?P<step>[a-n])(?:(?P<to> ?(?:and|&|to|through|-|–) ?)(?P<part2>\d{1,2})(?P<step2>[a-n]))?\b",
)
LEAST = 3  # steps with two numbers that make them this text's way of counting


def has_points(text: str) -> bool:
    """Tell whether a text counts its steps by two numbers: "1.1", "2.1", or "A1", "B2", or "1a"."""
    return any(len(form.findall(text)) >= LEAST for form in (_AHEAD, _LETTERED, _SUBLETTERED))


def with_step_numbers(said: MappedText) -> MappedText:
    """Return a line with one number for each step that has two.

    Examples
    --------
    >>> with_step_numbers(MappedText.of("1.4 Work 1.2 and 1.3 another 8 times.")).text
    'Step 104. Work steps 102 and 103 another 8 times.'
    """
    said = said.sub(_AHEAD, lambda match: f"Step {_number(match[1], match[2])}. ")
    for labels in (_LETTERED, _SUBLETTERED):
        said = said.sub(labels, lambda match: f"Step {_number(match[1], match[2])}. ")
    return said.sub(_POINTS, _steps).sub(_LETTERS, _lettered).sub(_SUBLETTERS, _lettered)


def _steps(match: re.Match[str]) -> str:
    points = re.sub(_POINT, lambda point: str(_number(point[1], point[2])), match["points"])
    verb = re.sub(r" steps?$", "", match["verb"])
    return f"{verb} step{'s' * (' ' in points or '-' in points)} {points}"


def _lettered(match: re.Match[str]) -> str:
    first = _number(match["part"], match["step"])
    verb = "Work" if match["verb"].startswith("As") else match["verb"]
    if not match["part2"]:
        return f"{verb} step {first}"
    return f"{verb} steps {first}{match['to']}{_number(match['part2'], match['step2'])}"


def _number(part: str, step: str) -> int:
    """Return one number for a step of two, of which one may be a letter."""
    first, second = (int(one) if one.isdigit() else ord(one.upper()) - 64 for one in (part, step))
    return first * 100 + second


_MAKES = WordForm(
    rf"\b(?:these|the last) (?P<n>\d{{1,2}}|{'|'.join(NUMBER_WORDS)}) (?P<crs>rounds|rnds|rows) (?:make|form|are|count as|give)(?: up)? (?:one|1|a|the) (?:full |whole |complete )?(?P<name>stripe|repeat|block|band|ridge|wave|pattern)\b(?! (?:rep|stitch|st\b|sequence))",
)


def blocks_of(text: str) -> dict[str, str]:
    """Return the names that a text gives to so many rounds, with these in words.

    Examples
    --------
    >>> blocks_of("Knit 6 rounds in MC and 2 in CC. These 8 rounds make one stripe.")
    {'stripe': '8 rounds'}
    """
    return {
        match["name"].lower(): f"{match['n'].lower()} {match['crs'].lower()}"
        for match in _MAKES.finditer(text)
    }


def with_blocks(said: MappedText, blocks: dict[str, str]) -> MappedText:
    """Return a line with rounds in place of blocks of them.

    Examples
    --------
    >>> with_blocks(MappedText.of("Knit 6 (7, 8) stripes."), {"stripe": "8 rounds"}).text
    'Work the last 8 rounds a total of 6 (7, 8) times.'
    >>> with_blocks(MappedText.of("Work 5 more stripes."), {"stripe": "8 rounds"}).text
    'Repeat the last 8 rounds 5 more times.'
    """
    for name, rounds in blocks.items():
        again = re.compile(
            rf"^(?:work|knit|do|make|repeat) (?P<more>(?:another|a further) )?(?P<n>{COUNT}|{'|'.join(NUMBER_WORDS)}) (?P<more2>(?:more|further) )?(?:such |full |whole )?{name}s?(?P<more3> more)?(?: in all| in total| altogether)?(?=[.;]|$)",
            re.IGNORECASE,
        )
        said = said.sub(again, partial(_in_rounds, rounds))
    return said


def _in_rounds(rounds: str, match: re.Match[str]) -> str:
    if match["more"] or match["more2"] or match["more3"]:
        return f"Repeat the last {rounds} {match['n']} more times"
    return f"Work the last {rounds} a total of {match['n']} times"
