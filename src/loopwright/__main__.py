"""``python -m loopwright``: the command line."""

from __future__ import annotations

import sys

from loopwright.cli import main

__all__: list[str] = []

if __name__ == "__main__":
    sys.exit(main())
