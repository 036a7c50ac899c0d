"""A cabled sock beside a plain one: time to make and to check it, as a ratio in one run.

Run by hand: ``PYTHONPATH=tests python -m benchmarks.bench_cables``. Both are planned, knitted and
put through all checks, taking turns. The aim: a cabled sock within three times a plain one.
"""

from __future__ import annotations

from benchmarks.bench_fabric import best
from loopwright import Gauge
from loopwright.fabric import Fabric, check
from loopwright.sock import Foot, Panel, Sock, StitchPattern

AIM = 3.0
ROPES = ("p2, *C4B, C4F, p2; rep from *", *("p2, *k8, p2; rep from *",) * 3)
CLOSE = ("*C4B, C4F; rep from *", "*k8; rep from *")  # crossed every other round


def made_and_checked(rounds: tuple[str, ...] = (), length: str = "24.6 cm") -> Fabric:
    """A sock with a flap, with a panel of these rounds; sound, or it raises."""
    panel = Panel(pattern=StitchPattern.of(rounds)) if rounds else None
    sock = Sock(foot=Foot.of(length=length), gauge=Gauge(3.2, 4.4), heel="flap", panel=panel)
    fabric = sock.fabric()
    check(fabric, openings=1).require_ok()
    return fabric


def ratios(runs: int, length: str = "24.6 cm") -> dict[str, float]:
    """How many times longer each cabled sock takes than the plain one."""
    plain, ropes, close = best(
        runs,
        lambda: made_and_checked((), length),
        lambda: made_and_checked(ROPES, length),
        lambda: made_and_checked(CLOSE, length),
    )
    return {"ropes every fourth round": ropes / plain, "every other round": close / plain}


def main() -> None:
    for what, ratio in ratios(7).items():
        print(f"{what:30} {ratio:5.2f} (aim: at most {AIM:g})")


if __name__ == "__main__":
    main()
