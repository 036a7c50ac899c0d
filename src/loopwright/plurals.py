"""Numbers with their noun and verb: "1 loop is", "2 loops are", and their ordinals: "2nd"."""

from __future__ import annotations

__all__ = ["nth", "plural"]


def plural(number: object, noun: str = "", *, be: bool = False) -> str:
    """Return a number and its noun, in the plural unless the number is 1.

    Parameters
    ----------
    number : int or anything that prints as numbers
    noun : str
        In the singular.
    be : bool
        Whether "is" or "are" follows.

    Examples
    --------
    >>> plural(1, "stitch"), plural(0, "stitch"), plural(2, "st", be=True), plural(1, be=True)
    ('1 stitch', '0 stitches', '2 sts are', '1 is')
    """
    one = number == 1
    ending = "" if one or not noun else "es" if noun.endswith("ch") else "s"
    verb = (" is" if one else " are") if be else ""
    return f"{number}{noun and ' '}{noun}{ending}{verb}"


def nth(number: int) -> str:
    """Return an ordinal in figures.

    Examples
    --------
    >>> nth(1), nth(2), nth(13), nth(23)
    ('1st', '2nd', '13th', '23rd')
    """
    last = 0 if number % 100 in (11, 12, 13) else number % 10
    return str(number) + {1: "st", 2: "nd", 3: "rd"}.get(last, "th")
