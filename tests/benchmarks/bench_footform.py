"""The form of every foot of a survey, measured with a tape: the worst error of each measure.

Run by hand: ``PYTHONPATH=tests python tests/benchmarks/bench_footform.py FEET.csv``, with the
columns that `fit.test_footform.surveyed` reads. The tests try every tenth.
"""

from __future__ import annotations

import csv
import sys
import time
from pathlib import Path

from fitting.test_footform import errors_of, surveyed
from loopwright.fitting._footform import foot_form


def main(path: Path) -> None:
    """Print one line for each measure, and how long it took."""
    with path.open(encoding="utf-8") as rows:
        feet = [surveyed(row) for row in csv.DictReader(rows)]
    cpu = time.process_time()
    errors = [errors_of(foot, foot_form(foot, rings=80, columns=48)) for foot in feet]
    cpu = time.process_time() - cpu
    for name in errors[0]:
        found = sorted(one[name] for one in errors)
        middle, worst = found[len(found) // 2], found[-1]
        print(f"{name:14} median {100 * middle:.3f} %   worst {100 * worst:.3f} %")
    print(f"{len(feet)} feet, {cpu:.0f} s of processor time")


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    main(Path(sys.argv[1]))
