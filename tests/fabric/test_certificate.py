"""A certificate is checked by a program that knows networkx and nothing of this package."""

from __future__ import annotations

import ast
import copy
import json
import random
import subprocess
import sys
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from certified import problems
from fabric.pieces import PIECES, tube
from loopwright import certificate, check, read
from loopwright.errors import UnsoundFabricError
from loopwright.fabric import Fabric
from loopwright.making import Hand
from strategies import fabrics

CHECKER = Path(__file__).parents[1] / "certified.py"
SOUND = [
    name for name in PIECES if check(PIECES[name](Hand.RIGHT).fabric()).ok
]  # waste yarn left in, or loops that hang, are mistakes


def test_the_checker_is_small_and_independent() -> None:
    text = CHECKER.read_text(encoding="utf-8")
    assert len(text.splitlines()) < 100
    taken = {
        (node.module or "").split(".")[0] if isinstance(node, ast.ImportFrom) else name.name
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.Import | ast.ImportFrom)
        for name in node.names
    }
    assert taken - set(sys.stdlib_module_names) == {"networkx"}


@pytest.mark.parametrize("hand", Hand)
@pytest.mark.parametrize("name", SOUND)
def test_the_checker_finds_what_the_certificate_states(name: str, hand: Hand) -> None:
    paper = certificate(PIECES[name](hand).fabric())
    assert problems(json.loads(paper.to_json())) == []


@given(fabrics())
@settings(deadline=None)
def test_drawn_fabrics_are_certified_or_have_mistakes(fabric: Fabric) -> None:
    if not check(fabric).ok:
        with pytest.raises(UnsoundFabricError):
            certificate(fabric)
        return
    paper = certificate(fabric)
    assert paper.key == fabric.canonical_key
    assert problems(json.loads(paper.to_json())) == []


def test_it_runs_as_a_program(tmp_path: Path) -> None:
    text = "Cast on 8 sts. Join in the round. Rnds 1-3: Knit. Bind off all sts."
    paper = certificate(read(text), openings=2)
    assert "Rnds 1-3: Knit." in paper.document["instructions"]
    place = tmp_path / "tube.json"
    place.write_text(paper.to_json(), encoding="utf-8")
    run = [sys.executable, "-P", str(CHECKER), str(place)]
    done = subprocess.run(run, capture_output=True, text=True, check=False, env={})
    assert (done.returncode, done.stdout) == (0, "everything stated holds\n"), done.stderr
    forged = json.loads(paper.to_json())
    forged["found"]["openings"] = [9, 9, 9]
    place.write_text(json.dumps(forged), encoding="utf-8")
    done = subprocess.run(run, capture_output=True, text=True, check=False, env={})
    assert done.returncode == 1
    assert "wrong: openings that are no cells" in done.stdout


def test_a_fabric_with_mistakes_gets_none() -> None:
    with pytest.raises(UnsoundFabricError, match="2 openings"):
        certificate(tube(8, 3).fabric(), openings=1)


def forge(document: dict[str, Any], rng: random.Random) -> str:
    """Change one thing that a certificate states."""
    what = rng.choice(("edge", "ring", "strand", "loops", "found", "key", "start", "swap"))
    if what == "edge":
        dart = rng.choice(document["edges"])
        dart[rng.randrange(3)] += rng.choice((-1, 1, 2, 16))
    elif what == "ring":
        ring = rng.choice([ring for ring in document["rings"] if len(ring) > 2])
        a, b = rng.sample(range(len(ring)), 2)
        ring[a], ring[b] = ring[b], ring[a]
    elif what == "strand":
        path = document["strands"][0]
        a, b = rng.sample(range(len(path)), 2)
        path[a], path[b] = path[b], path[a]
    elif what == "loops":
        at = rng.randrange(len(document["loops"]))
        old = document["loops"]
        document["loops"] = old[:at] + ("l" if old[at] != "l" else ".") + old[at + 1 :]
    elif what == "found":
        name = rng.choice(("loops", "edges", "cells", "euler", "pieces", "live"))
        document["found"][name] += rng.choice((-1, 1))
    elif what == "key":
        document["key"] = document["key"][:-1] + ("0" if document["key"][-1] != "0" else "1")
    elif what == "start":
        document["starts"][0][0] = (document["starts"][0][0] + 1) % len(document["edges"])
    else:
        a, b = rng.sample(range(len(document["edges"])), 2)
        edges = document["edges"]
        edges[a], edges[b] = edges[b], edges[a]
    return what


@cache
def stated(name: str) -> dict[str, Any]:
    """The certificate of a piece, read as a program would read it."""
    found: dict[str, Any] = json.loads(certificate(PIECES[name](Hand.RIGHT).fabric()).to_json())
    return found


@given(st.sampled_from(("closed tube", "star toe", "tube with wraps", "slip stitches",
                        "crossings")),
       st.integers(0, 2**32))  # fmt: skip
@settings(deadline=None, max_examples=60)
@example("closed tube", 66806)  # a twin beyond the last dart
def test_whatever_is_forged_is_found(name: str, seed: int) -> None:
    document = stated(name)
    forged = copy.deepcopy(document)
    what = forge(forged, random.Random(seed))
    if forged == document:
        return
    assert problems(forged), (name, seed, what)


def test_papers_on_one_fabric_are_one_and_their_document_is_not_shown() -> None:
    one, other = (certificate(tube(8, 3).fabric()) for _ in range(2))
    assert {one, other} == {one}
    assert repr(one) == f"Certificate(key={one.key!r})"
