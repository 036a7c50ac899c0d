"""Characters that no name or text may hold: controls, halves of pairs, and what is no character.

They make pictures and pages malformed, and a terminal obeys some of them.
"""

from __future__ import annotations

import re
from typing import Final

__all__ = ["escaped", "find_strange"]

# C0 and C1 controls but for tab and line ends, surrogates, and the non-characters of Unicode
# (The Unicode Standard, section 23.7: U+FDD0 to U+FDEF, and the last two of each plane).
_LAST: Final = (chr(plane * 0x10000 + last) for plane in range(17) for last in (0xFFFE, 0xFFFF))
_NONE: Final = f"\ud800-\udfff\ufdd0-\ufdef{''.join(_LAST)}"
_STRANGE: Final = re.compile(f"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f{_NONE}]")
# A terminal obeys a carriage return and signs of direction, too.
_OBEYED: Final = re.compile(f"[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069{_NONE}]")


def find_strange(text: str) -> str:
    r"""Return the first character that no text may hold, as its code; nothing if there is none.

    Examples
    --------
    >>> find_strange("sea\x1bgreen"), find_strange("two\nlines, größer"), find_strange("\ufffe")
    ('U+001B', '', 'U+FFFE')
    """
    found = _STRANGE.search(text)
    return f"U+{ord(found[0]):04X}" if found else ""


def escaped(text: str) -> str:
    r"""Return a text as a terminal may show it: what it would obey is written as its code.

    Examples
    --------
    >>> print(escaped("sea\x1b[31mgreen"))
    sea\x1b[31mgreen
    """
    return _OBEYED.sub(lambda found: found[0].encode("unicode_escape").decode(), text)
