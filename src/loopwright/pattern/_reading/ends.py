# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""How texts name the end of a repeat: a count that is reached, or stitches that are all worked."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["ALL_WORKED", "COUNT_REACHED"]

COUNT_REACHED = re.compile(
    rf"(?:(?:there (?:are|is)|you have|only|a total of|the count is|it has|you are|back|at|to|down) )*(?:only )?(?:the )?(?P<n>{COUNT}) (?:\w+ )?{STS}(?P<rest>.*)$"
)
ALL_WORKED = re.compile(
    rf"(?:there (?:are|is) )?no (?:more |further )?(?:[a-z]+ )?{STS} (?:(?:are|is) )?(?:left |remain\w* )?(?:outside|beyond|past|unworked|to (?:be )?work)[^,;]*$|"
    rf"(?:the )?(?:whole )?(?:heel|flap|turn|thumb|toe) (?:has been|is|was) (?:all )?worked (?:out )?(?:to|over|across)[^,;]*$|"
    rf"(?:you (?:have|are) (?:back )?)?(?:worked )?(?:on )?(?:all|every)(?: of)?(?: the)?(?: {COUNT})?(?: [a-z]+)?(?: {STS})?(?: (?:are|is) )?(?:back )?in (?:use|work|play)(?: again| once more)?$|"
    rf"(?:the )?(?:remaining |waiting |unworked )?{STS} (?:at|on) (?:both|each|either|the two) (?:sides?|ends?)(?: of [a-z ]+)? (?:are|is|have been|has been) (?:all )?(?:used(?: up)?|worked|gone|taken (?:in|up)|joined)[^;]*$|"
    rf"(?:all|every|each|no|the (?:last|outermost|side|end|outer|first)|both sides)\b(?: of)?(?: the)?(?: {COUNT})?(?: [a-z]+){{0,3}}?(?: {STS})?(?: (?:on|at) [^,;]*?)? ?(?:have|has|are|is)?(?: now)?(?: been)? ?(?:worked|used(?: up)?|left|decreased|consumed|in work|gone|remain|have been|joined)[^;]*$"
)
