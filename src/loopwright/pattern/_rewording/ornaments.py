# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Headings between ornaments: "~ Hand ~", "=== Heel (24 sts) ===", "// leg //"."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.tables import Means

__all__ = ["ORNAMENTED"]

_SIGNS = r"[~/=•·—–<>+^°#-]{1,12}|[:.]{2,12}|\*{3,8}|[~=—–<>-]{1,3}\*[~=—–<>-]{1,3}"
_WORKS = re.compile(r"(?:k|p|knit|purl|work|rep(?:eat)?|cast|bind|turn|join|rows?|rounds?|rnds?|next)\b", re.IGNORECASE)  # fmt: skip


def _titled(match: re.Match[str]) -> str:
    """Put a title between ornaments as a heading, where it asks for no work."""
    title = match["title"]
    return match[0] if _WORKS.match(title) else f"## {title[0].upper()}{title[1:]}"


ORNAMENTED: tuple[str, Means] = (
    rf"^\s*(?P<a>{_SIGNS}|\*\*(?=\s))\s*(?P<title>[A-Za-z][A-Za-z ,'’&/-]{{1,48}}[A-Za-z](?: ?\([^()]{{1,40}}\))?)\s*(?P<z>{_SIGNS}|\*\*)\s*$",
    _titled,
)
