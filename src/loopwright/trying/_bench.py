"""Socks tried by hand: choices come in, what is shown goes out, and none waits for the slow parts.

One model for every form of the page. A run answers in stages, each as soon as it is there: counts
and estimates, the heel's chart, the measured shape, the sock on the foot. Of each side of the page
only the last run goes on: a newer one stops it by its `progress=`. What was shown once is kept, so
that to go back takes no time.
"""

from __future__ import annotations

import json
import re
import threading
from collections import OrderedDict
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any, Final, TypeAlias

import attrs

from loopwright.design import write_design
from loopwright.errors import ArgumentError, DesignError, FileError, LoopwrightError
from loopwright.file_writing import write_own
from loopwright.fitting import Sample, fit
from loopwright.progress import watched
from loopwright.sock import Design, Sock
from loopwright.trying._choices import (
    Choices,
    changed_words,
    choices_of,
    place_of,
    refusal_words,
    sock_of,
)
from loopwright.trying._controls import controls
from loopwright.trying._shown import at_rest, drawn, measured, reckoned, worn

__all__ = ["Bench", "Trial", "Tried"]

Answer: TypeAlias = dict[str, Any]
Tell: TypeAlias = Callable[[Answer | None], object]

_PAUSE_S: Final = 0.06  # before the slow parts: while a slider is dragged, none begins
_IN_INCHES: Final = re.compile(r'\d ?in(?:ch|ches)?"')  # a length of a design file
_KEPT: Final = 16  # answers that are kept whole; each holds about 2 MB of pictures
_SAMPLES: Final = 12  # socks that were measured, to estimate others from
_MOST_TRIED: Final = 200
_SIDES: Final = (0, 1)
_WARMING: Final = -1
_NAME: Final = re.compile(r"[A-Za-z0-9][A-Za-z0-9 _.-]{0,79}\.toml")
_MOST_CHOICES: Final = 120
_STAGES: Final = (("drawn", drawn), ("measured", measured), ("rest", at_rest), ("worn", worn))


class _SupersededError(Exception):
    """A newer run took this one's place."""


@attrs.frozen
class Tried:
    """A sock that was tried and measured.

    Parameters
    ----------
    number : int
    size : str
    sock : Sock
    words : str
        What differs from the sock begun with.
    verdict : str
    heel_mm : float, mm
        Its girth over the heel.
    """

    number: int
    size: str
    sock: Sock
    words: str
    verdict: str
    heel_mm: float


@attrs.define(eq=False)
class Trial:
    """The answers to one set of choices, as they are worked out; `stop` ends it."""

    stopped: threading.Event = attrs.field(factory=threading.Event)

    def stop(self) -> None:
        """Let it end at the next chance; what is half done is thrown away."""
        self.stopped.set()

    def _look(self, *_: object) -> None:
        """Be its `progress=`."""
        if self.stopped.is_set():
            raise _SupersededError

    def _pause(self) -> None:
        """Wait a little for a newer one."""
        self.stopped.wait(_PAUSE_S)
        self._look()


@attrs.define(eq=False)
class Bench:
    """The socks of a design, to be tried by hand.

    Parameters
    ----------
    socks : mapping of str to Sock
        By size; one size without a name has the empty one.
    title : str
    as_text : callable
        Returns the design file's text with this sock in this size; else one of this sock alone.
    folder : path
        Where a sock that is taken is written.
    offered : str
        The file's name that is offered.
    replace : bool
        Whether a file that is there may be replaced.

    Attributes
    ----------
    tried : list of Tried
    now : Sock
        As it was moved last.
    shown : dict
        What was shown of it.

    Raises
    ------
    ArgumentError
        There is no sock.

    Examples
    --------
    >>> from loopwright import Foot, Gauge
    >>> sock = Sock(foot=Foot.of(length="16 cm", ball_girth="15.5 cm"), gauge=Gauge.of(14, 20))
    >>> bench = Bench({"": sock})
    >>> stages = [*bench.stages("", {"heel.kind": "flap", "heel.longer": 2})]
    >>> [stage["stage"] for stage in stages]
    ['reckoned', 'drawn', 'measured', 'rest', 'worn']
    >>> stages[0]["counts"][0], stages[2]["is_estimated"], stages[0]["text"].splitlines()[0]
    (['round the foot', '20 stitches'], False, 'Heel')
    >>> bench.tried[-1].words, bench.tried[-1].sock.heel.longer
    ('flap heel; rows more 2', 2)
    >>> refused, = bench.stages("", {"heel.kind": "flap", "heel.longer": 3})
    >>> refused["key"], refused["words"]
    ('heel', 'flap: found 3 rows more, 1 corner stitch; expected an even number of rows, none ...')
    """

    socks: Mapping[str, Sock]
    title: str = ""
    as_text: Callable[[Sock, str], str] = lambda sock, size: write_design(
        Design(sock.title, {"": sock})
    )
    folder: Path = attrs.field(factory=Path, converter=Path)
    offered: str = "sock-taken.toml"
    replace: bool = False
    tried: list[Tried] = attrs.field(factory=list, init=False)
    now: Sock = attrs.field(init=False)
    shown: Answer = attrs.field(factory=dict, init=False)
    _kept: OrderedDict[str, list[Answer]] = attrs.field(factory=OrderedDict, init=False)
    _samples: list[Sample] = attrs.field(factory=list, init=False)
    _begun_on: OrderedDict[str, Sample] = attrs.field(factory=OrderedDict, init=False)
    _runs: dict[int, Trial] = attrs.field(factory=dict, init=False)
    _lock: threading.RLock = attrs.field(factory=threading.RLock, init=False)

    def __attrs_post_init__(self) -> None:
        if not self.socks:
            raise ArgumentError("explore", "socks", "none", "expected one or more")
        self.now = next(iter(self.socks.values()))

    # What a page asks

    def begin(self, size: str | None = None) -> Answer:
        """Return what a page needs to begin: sizes, controls, choices, what was tried."""
        name = next(iter(self.socks)) if size is None else size
        sock = self._begun(name)
        return {
            "stage": "begun", "title": self.title or sock.title, "sizes": list(self.socks),
            "size": name, "offered": self.offered, **_moved(sock), "tried": self._told_tried(),
            "in_inches": bool(_IN_INCHES.search(self.as_text(sock, name))),
        }  # fmt: skip

    def start(self, side: int, size: str, choices: Choices, tell: Tell) -> Trial:
        """Work out the answers in a thread of their own; `tell` gets each, and None at the end.

        A run of the same side that is still going on is stopped.
        """
        if side not in _SIDES:
            raise ArgumentError("explore", "side", repr(side)[:40], "expected 0 or 1")
        run = Trial()
        with self._lock:
            if side in self._runs:
                self._runs[side].stop()
            self._runs[side] = run

        def work() -> None:
            try:
                for answer in self.stages(size, choices, run):
                    if run.stopped.is_set():
                        return
                    tell(answer)
            finally:
                tell(None)

        threading.Thread(target=work, name="loopwright-trying", daemon=True).start()
        return run

    def warm(self) -> None:
        """Measure the sock that a page begins with, before one asks."""
        run = Trial()
        with self._lock:
            self._runs.setdefault(_WARMING, run)
        for _ in self.stages(next(iter(self.socks)), {}, run):
            pass

    def stop(self) -> None:
        """Stop all runs."""
        with self._lock:
            for run in self._runs.values():
                run.stop()

    def stages(self, size: str, choices: Choices, run: Trial | None = None) -> Iterator[Answer]:
        """Yield the answers to some choices; a refusal is an answer, too."""
        try:
            for answer in self._stages(size, choices, run or Trial()):
                self.shown = answer if answer["stage"] == "reckoned" else self.shown | answer
                yield answer
        except LoopwrightError as error:
            refused = {"stage": "refused", "key": place_of(error), "words": refusal_words(error)}
            self.shown = self.shown or refused
            yield refused
        except _SupersededError:
            return

    def sock(self, size: str, choices: Choices) -> Sock:
        """Return the sock of some choices.

        Raises
        ------
        LoopwrightError
            There is no such size, or the choices can't be met.
        """
        if len(choices) > _MOST_CHOICES:
            raise DesignError("", 1, f"{len(choices)} choices", f"at most {_MOST_CHOICES}")
        return sock_of(choices, self._begun(size))

    def take(self, size: str, choices: Choices, name: str) -> Path:
        """Write the design file with the sock of some choices, and return where it is.

        Parameters
        ----------
        name : str
            The file's name alone; it goes into the bench's folder.

        Raises
        ------
        FileError
            The name isn't one, or such a file is there already; with `replace`, one that was
            changed since it was taken, or that somebody else wrote.
        LoopwrightError
            The choices can't be met, or no key of a design tells them.
        """
        if not _NAME.fullmatch(name):
            found = f"{name[:60]!r}"
            advice = "letters, digits, spaces, - and _, and .toml at the end"
            raise FileError(found, "isn't the name of a design file", advice)
        sock = self.sock(size, choices)
        sock.plan()
        text = self.as_text(attrs.evolve(sock, hands=None), size)
        path = self.folder / name
        if not self.folder.is_dir():
            raise FileError(name, "has no folder to go to", "name a folder you may write to")
        with self._lock:
            try:
                write_own(path, text, replace=self.replace)
            except FileError as error:
                raise FileError(name, error.problem, "choose another name") from error
        return path

    # How it is answered

    def _begun(self, size: str) -> Sock:
        if size not in self.socks:
            names = ", ".join(name for name in self.socks if name) or "one size without a name"
            raise DesignError("size", 1, repr(size)[:60], f"the design has {names}")
        return self.socks[size]

    def _stages(self, size: str, choices: Choices, run: Trial) -> Iterator[Answer]:
        sock = self.sock(size, choices)
        sock.plan()
        self.now = sock
        key = _key(size, choices_of(sock))
        with self._lock:
            kept = self._kept.get(key)
        if kept is not None:
            self._kept.move_to_end(key)
            yield from kept
            return
        told = [{"stage": "reckoned", **_moved(sock), **reckoned(sock, self._near(sock))}]
        yield told[0]
        run._pause()
        made = self._sample(key, sock)
        for stage, show in _STAGES:
            run._look()
            with watched(run._look):
                answer = {"stage": stage, **show(made)}
            if stage == "measured":
                answer |= self._keep_measured(made, size)
            told.append(answer)
            yield answer
        with self._lock:
            self._kept[key] = told
            while len(self._kept) > _KEPT:
                self._kept.popitem(last=False)

    def _sample(self, key: str, sock: Sock) -> Sample:
        """Return a sock's sample; one that was stopped half done goes on where it was."""
        with self._lock:
            made = self._begun_on.pop(key, None) or Sample(sock)
            self._begun_on[key] = made
            while len(self._begun_on) > _SAMPLES:
                self._begun_on.popitem(last=False)
            return made

    def _keep_measured(self, made: Sample, size: str) -> Answer:
        """Remember a measured sock: to estimate others from, and in the list of what was tried."""
        with self._lock:
            # The last of each kind of heel: another would be a poor guess of this girth.
            kind = (made.sock.heel.name, made.sock.direction)
            others = [one for one in self._samples
                      if (one.sock.heel.name, one.sock.direction) != kind]  # fmt: skip
            self._samples = [*others[1 - _SAMPLES :], made]
            if made.sock not in (one.sock for one in self.tried if one.size == size):
                number = self.tried[-1].number + 1 if self.tried else 1
                words = changed_words(made.sock, self.socks[size])
                heel_mm = made.girths["heel"].mm
                verdict = fit(made).verdict.short
                one = Tried(number, size, made.sock, words, verdict, heel_mm)
                self.tried = [*self.tried[1 - _MOST_TRIED :], one]
            return {"tried": self._told_tried()}

    def _near(self, sock: Sock) -> Sample | None:
        """Return the measured sock that is most like another: its heel and direction first."""

        def likeness(made: Sample) -> tuple[bool, bool, bool]:
            other = made.sock
            return (other.heel.name == sock.heel.name, other.direction is sock.direction,
                    other.heel == sock.heel)  # fmt: skip

        with self._lock:
            return max(reversed(self._samples), key=likeness, default=None)

    def _told_tried(self) -> list[Answer]:
        return [
            {"number": one.number, "size": one.size, "words": one.words, "verdict": one.verdict,
             "heel_mm": round(one.heel_mm), "choices": choices_of(one.sock)}
            for one in self.tried
        ]  # fmt: skip


def _moved(sock: Sock) -> Answer:
    known = controls(sock)
    return {"choices": {one.key: one.value for one in known},
            "controls": [attrs.asdict(one) for one in known]}  # fmt: skip


def _key(size: str, choices: Choices) -> str:
    return json.dumps([size, choices], sort_keys=True)
