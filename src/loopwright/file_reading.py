"""Read what comes from outside: so much of it, and no more, before it is known what it is."""

from __future__ import annotations

import errno
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final

from loopwright.border import guard

__all__ = ["parse_json", "read_at_most"]

_TOO_LARGE: Final = "it is larger than any that is read"
_MOST_BYTES: Final = 400 * 10**6  # of memory for all that a JSON text holds
# What each character stands for in memory, at most: measured on texts of nothing but that.
_BYTES: Final[Mapping[str, int]] = {",": 46, "[": 64, "{": 64, ":": 110, '"': 20}


def read_at_most(path: Path, most: int) -> bytes:
    """Return the bytes of a file, which may have at most a stated number.

    Raises
    ------
    OSError
        It can't be read, or is larger.

    Examples
    --------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     page = Path(folder) / "pattern.txt"
    ...     _ = page.write_text("Cast on 64 sts.")
    ...     print(len(read_at_most(page, 1000)))
    ...     read_at_most(page, 10)
    Traceback (most recent call last):
    ...
    OSError: [Errno 27] it is larger than any that is read: ...
    """
    with path.open("rb") as stream:
        data = stream.read(most + 1)
    if len(data) > most:
        raise OSError(errno.EFBIG, _TOO_LARGE, str(path))
    return data


def parse_json(text: str | bytes) -> Any:
    """Return what a JSON text holds, if it is one and there is room for it.

    Raises
    ------
    ValueError
        It is no JSON, or would take too much memory: a list of a million empty lists is a short
        text.

    Examples
    --------
    >>> parse_json('{"sts": [64, 32]}')
    {'sts': [64, 32]}
    >>> parse_json("[" + "[]," * 6_000_000 + "1]")
    Traceback (most recent call last):
    ...
    ValueError: it is larger than any that is read
    """
    told = text if isinstance(text, str) else text.decode()
    if sum(each * told.count(character) for character, each in _BYTES.items()) > _MOST_BYTES:
        raise ValueError(_TOO_LARGE)
    try:
        return json.loads(told)
    except RecursionError:
        raise ValueError("no JSON: brackets inside brackets without end") from None


guard(globals())
