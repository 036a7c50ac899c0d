"""Modules whose examples are run are imported as a program would import them.

pytest imports the file of a module under its name after the packages above it, and these may have
imported it already: then it is there twice, and what one calls a heel turn the other does not.
"""

from __future__ import annotations

from importlib import import_module
from pathlib import Path

SOURCE = Path(__file__).parent


def pytest_collect_file(file_path: Path) -> None:
    """Import the module first; pytest then takes what is there."""
    inside = file_path.relative_to(SOURCE).with_suffix("").parts
    if file_path.suffix == ".py" and len(inside) > 1 and inside[-1] != "__main__":
        import_module(".".join(inside).removesuffix(".__init__"))
