"""The lowest versions that pyproject.toml allows, as constraints for pip."""

from __future__ import annotations

import re
import sys
import tomllib
from pathlib import Path
from typing import Any


def lowest(project: dict[str, Any]) -> list[str]:
    """Return ``name==version`` for each requirement that states a lower bound.

    Examples
    --------
    >>> lowest({"dependencies": ["numpy>=1.26", "dask[distributed]>=2024.8"],
    ...         "optional-dependencies": {"all": ["loopwright[pdf]"]}})
    ['numpy==1.26', 'dask==2024.8']
    """
    extras = project["optional-dependencies"]
    lines = [*project["dependencies"], *(line for lines in extras.values() for line in lines)]
    bounds = [re.match(r"([A-Za-z0-9._-]+)(?:\[[^]]*\])?>=([0-9.]+)$", line) for line in lines]
    stated = [bound for bound in bounds if bound]
    unbound = {line for line, bound in zip(lines, bounds, strict=True) if not bound}
    loose = {line for line in unbound if not line.startswith("loopwright[")}
    if loose:
        raise SystemExit(f"no lower bound: {', '.join(sorted(loose))}")
    return [f"{bound[1]}=={bound[2]}" for bound in stated]


if __name__ == "__main__":
    file = Path(__file__).resolve().parents[1] / "pyproject.toml"
    sys.stdout.write("\n".join([*lowest(tomllib.loads(file.read_text("utf-8"))["project"]), ""]))
