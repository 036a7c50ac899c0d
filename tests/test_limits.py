"""What comes in from outside: too large, or with characters that no text may hold.

Memory is measured in a process of its own, as the system tells it: at most 512 MB more than the
package itself takes, and 2 s of its time.
"""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
import zipfile
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pyarrow as pa
import pyarrow.parquet as pq
import pytest
from PIL import Image

from loopwright import files, units
from loopwright.cli import main
from loopwright.design import read_design
from loopwright.errors import (
    CannotWorkError,
    DesignError,
    FabricFileError,
    FileError,
    GaugeError,
    LoopwrightError,
    RecordError,
    StepError,
    StoreError,
    UnitError,
    YarnError,
)
from loopwright.fabric.files import (
    from_bytes,
    from_graphml,
    from_json,
    from_node_link,
    load,
    to_bytes,
    to_json,
)
from loopwright.gauge import Gauge
from loopwright.making import Work, cast_on
from loopwright.pattern import Stripes
from loopwright.picture import read_chart
from loopwright.report.photo import load_photo
from loopwright.studies import read_feet
from loopwright.studies._store import Store
from loopwright.yarn import Yarn
from small import SMALL
from together import together

MEASURED = """
import os, resource, sys, time
from pathlib import Path
from loopwright.design import read_design
from loopwright.errors import LoopwrightError
from loopwright.fabric.files import load
from loopwright.scanning import read_scan
import trimesh

def measured(path):
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    start = time.process_time()
    try:
        if path.suffix in (".stl", ".obj"):
            read_scan(path)
        elif path.suffix == ".toml":
            read_design(path.read_text())
        else:
            load(path)
    except LoopwrightError:
        refused = "refused"
    else:
        refused = "taken"
    used = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before
    print(path.name, refused, used // 1024, time.process_time() - start, sep="\\t", flush=True)

for name in sys.argv[1:]:
    if not os.fork():  # what one file takes is not counted for the next
        measured(Path(name))
        os._exit(0)
    os.wait()
"""


def packed(**sizes: int) -> bytes:
    """A compact file whose columns unpack to so many rows of zeros."""
    work = Work()
    cast_on(work, 4)
    buffer = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(to_bytes(work.fabric()))) as small,
        zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as large,
    ):
        for name in small.namelist():
            size = sizes.get(name.rpartition("/")[2])
            large.writestr(name, small.read(name) if size is None else bytes(size))
    return buffer.getvalue()


def designs() -> dict[str, str]:
    flap = SMALL + '\n[heel]\nkind = "flap"\n'
    return {
        "a key of many parts": "a" + ".a" * 20_000 + " = 1\n",
        "a head of many parts": "[a" + ".a" * 20_000 + "]\n",
        "much text": "# none\n" * 200_000,
        "a gusset": flap.replace('kind = "flap"', 'kind = "flap"\ngusset = 999999999'),
        "digits": "stitches = 0x" + "f" * 100_000,
    }


def soup() -> bytes:
    """As many triangles as are read, and no two of them joined."""
    many = 300_000
    told = np.zeros(many, dtype=[("corners", "<f4", 12), ("unused", "<u2")])
    told["corners"] = np.random.default_rng(5).normal(0, 50, (many, 12))
    return bytes(80) + many.to_bytes(4, "little") + told.tobytes()


FILES: dict[str, Callable[[], bytes]] = {  # made where they are wanted: they are large
    "flags.fabric": lambda: packed(flags=600_000_000),
    "all.fabric": lambda: packed(next=250_000_000, parent=250_000_000, flags=100_000_000),
    "listing.fabric": lambda: packed() + b"x" * 40_000_000,
    "soup.stl": soup,
    "corners.obj": lambda: b"v 0 0 0\nv 1 0 0\nv 0 1 0\nf" + b" 1 2 3" * 3_000_000,
    "lists.json": lambda: b"[" + b"[]," * 6_000_000 + b"1]",
    "within.json": lambda: b'{"a":[' + b"{}," * 5_000_000 + b"1]}",
    **{f"{name}.toml": text.encode for name, text in designs().items()},
}


@pytest.fixture(scope="module")
def measured(tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[str]]:
    """Whether each file was refused, and the MB and seconds that took."""
    folder = tmp_path_factory.mktemp("large")
    for name, made in FILES.items():
        (folder / name).write_bytes(made())
    done = subprocess.run(
        [sys.executable, "-c", MEASURED, *(str(folder / name) for name in FILES)],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    lines = [line.split("\t") for line in done.stdout.splitlines()]
    return {name: told for name, *told in lines}


@pytest.mark.once
@pytest.mark.skipif(not hasattr(os, "fork"), reason="memory is measured in copies of a process")
@pytest.mark.parametrize("name", FILES)
def test_what_is_too_large_is_refused_before_it_is_read(
    name: str, measured: dict[str, list[str]]
) -> None:
    refused, used_mb, seconds = measured[name]
    assert refused == "refused"
    assert float(used_mb) < 512
    assert float(seconds) < 4  # 2 s, on a machine that is shared


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("stitches = 32", "stitches = 1" + "0" * 400, "at most 9999"),
        ("stitches = 32", "stitches = -3", "more than 0"),
        ("rounds = 44", "rounds = inf", "at most 9999"),
    ],
)
def test_numbers_of_a_design_have_their_range(old: str, new: str, words: str) -> None:
    text = '\ngauge = {stitches = 32, rounds = 44, over = "10 cm"}\n[foot]\nlength = "24 cm"\n'
    with pytest.raises(DesignError, match=words) as refusal:
        read_design(text.replace(old, new))
    assert refusal.value.line == 2


def listed(entry: str, times: int) -> str:
    return "[" + ", ".join([entry] * times) + "]"


@together(
    ("key", "found"),
    [
        ("gauge.rounds = 0x" + "f" * 20_000, "thousands of digits"),
        ("gauge.rounds = 0b" + "1" * 20_000, "thousands of digits"),
        (f"gauge.rounds = {listed('0o' + '7' * 9_000, 2)}", "thousands of digits"),
        (f"gauge.rounds = '{'1' * 5000}'", "11..."),
        ("yarns = " + listed("{name = 'A'}", 1001), "1001 entries"),
        ("sizes = " + listed("{name = 'A'}", 5000), "5000 entries"),
        ("panel.rounds = " + listed("'k'", 2000), "2000 entries"),
        ("document.notes = " + listed(listed("'a'", 2), 1001), "1001 entries"),
    ],
)
def test_what_no_design_has_so_many_of_is_refused_first(key: str, found: str) -> None:
    text = 'gauge.stitches = 32\ngauge.over = "10 cm"\nfoot.length = "24 cm"\n' + key
    with pytest.raises(DesignError) as refusal:
        read_design(text)
    assert found in refusal.value.found
    assert refusal.value.line == 4
    assert len(str(refusal.value)) < 400


@together("character", ["\x1b", "\x07", "\x9b", "\ufffe", "\U0001ffff", "\ufdd0"])
def test_controls_and_what_is_no_character_are_refused(character: str) -> None:
    code = f"U+{ord(character):04X}"
    written = f"\\U{ord(character):08x}"
    with pytest.raises(DesignError) as refusal:
        read_design(f'title = "Pier{written}"\n')
    assert code in refusal.value.found
    assert refusal.value.line == 1
    work = Work()
    with pytest.raises(CannotWorkError) as refused:
        work.join_yarn(f"sea{character}green")
    assert code in refused.value.problem
    assert work.strands == []
    with pytest.raises(YarnError, match="letters") as of_yarn:
        Yarn.of(f"sea{character}", "420 m / 100 g")
    assert code in of_yarn.value.found
    cast_on(work, 4)
    text = to_json(work.fabric()).replace('"main"', json.dumps(f"ma{character}in"))
    with pytest.raises(FabricFileError) as of_file:
        from_json(text)
    assert (of_file.value.place, code in of_file.value.problem) == ("strands[0].name", True)


LISTS = "[" + "[]," * 6_000_000 + "1]"
DEEP = '{"a":' * 20_000
READERS: dict[str, tuple[Callable[[str], object], str]] = {
    "fabric": (from_json, LISTS[:12_000_000]),
    "results": (files.from_json, LISTS),
    "node-link": (from_node_link, LISTS),
    "GraphML": (from_graphml, "<graphml><graph>" + '<node id="1"/>' * 100_000),
    "deep GraphML": (from_graphml, "<a>" * 50_000),
    "GraphML of data": (from_graphml, "<graphml><graph>" + "<data>" * 50_000),
    "chart": (read_chart, ",,,\n" * 100_000),
    "long chart": (read_chart, "k" * 5_000_000),
}


@pytest.mark.parametrize("name", READERS)
def test_a_text_that_would_take_much_memory_is_refused_by_its_looks(name: str) -> None:
    read, text = READERS[name]
    with pytest.raises(LoopwrightError, match="larger than any that is read"):
        read(text)


@pytest.mark.parametrize("read", [from_json, files.from_json, from_node_link])
def test_brackets_without_end_are_no_json(read: Callable[[str], object]) -> None:
    with pytest.raises(LoopwrightError, match="brackets inside brackets"):
        read(DEEP)


def test_a_table_of_feet_has_its_size(tmp_path: Path) -> None:
    wide, long, flat = (tmp_path / name for name in ("wide.csv", "long.csv", "flat.parquet"))
    wide.write_text(",".join(f"a{number}" for number in range(2000)) + "\n1\n")
    with long.open("wb") as stream:
        stream.truncate(2**30)
    pq.write_table(pa.table({"length_mm": pa.array(np.zeros(4_000_000))}), flat)
    assert flat.stat().st_size < 100_000
    for path in (wide, long, flat):
        with pytest.raises(FileError, match="larger than any that is read"):
            read_feet(path)


def test_a_file_beyond_all_bounds_is_not_read_whole(tmp_path: Path) -> None:
    with (tmp_path / "study.json").open("wb") as stream:
        stream.truncate(2**30)
    with pytest.raises(RecordError, match="larger than any that is read"):
        files.load(tmp_path / "study.json")
    with Store(tmp_path) as store, pytest.raises(StoreError, match="larger than any that is read"):
        store.claim({"feet": 3})


def test_half_a_pair_in_a_fabric_is_refused() -> None:
    work = Work()
    cast_on(work, 4)
    with pytest.raises(FabricFileError, match=r"U\+D800"):
        from_json(to_json(work.fabric()).replace('"main"', '"\\ud800"'))


def test_a_terminal_is_shown_no_controls(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "a.toml"
    path.write_text('"sea\\u001b[31m" = 1\n' + SMALL)
    assert main(["sock", str(path), "--out", str(tmp_path / "out")]) == 2
    path.write_text("Cast on 8 sts.\nRnd 1: \x1b[31mk8.\n")
    assert main(["check", str(path)]) == 0  # a sentence that means nothing is a note
    shown = capsys.readouterr()
    assert r"'\x1b' has no meaning" in shown.out
    assert "\x1b" not in shown.out + shown.err


def test_no_unit_is_called_nan() -> None:
    for text in ("3 nan", "3 inf", "420 m / 100 nan"):
        with pytest.raises(UnitError):
            units.to_mm(text)
    with pytest.raises(UnitError):
        Gauge.of(32, 44, over="10 nan")


@together("rounds", [0, -1, 10_000, 10**9, 10**400])
def test_a_stripe_has_its_range(rounds: int) -> None:
    with pytest.raises(StepError, match="1 to 9999 rounds"):
        Stripes([("A", 2), ("B", rounds)])


def test_integers_of_400_digits_are_no_counts() -> None:
    with pytest.raises(GaugeError, match="positive numbers"):
        Gauge.of(10**400, 44, over="10 cm")


def test_a_large_fabric_is_read_from_a_compact_file(tmp_path: Path) -> None:
    """The limits leave room for a million loops."""
    work = Work()
    cast_on(work, 100)
    work.join_round()
    work.plain_rounds(9_999)
    fabric = work.fabric()
    assert from_bytes(to_bytes(fabric)) == fabric
    (tmp_path / "damaged.fabric").write_bytes(to_bytes(fabric)[:-40])
    with pytest.raises(FabricFileError):
        load(tmp_path / "damaged.fabric")
    assert np.count_nonzero(fabric.present) == 1_000_000


def test_a_table_of_more_feet_than_there_are_is_refused_first(tmp_path: Path) -> None:
    (tmp_path / "feet.csv").write_text("length_cm\n" + "24\n" * 300_001)
    with pytest.raises(FileError, match="larger than any"):
        read_feet(tmp_path / "feet.csv")
    rows = pa.table({"length_cm": pa.array(np.full(300_001, 24.0))})
    pq.write_table(rows, tmp_path / "feet.parquet")
    with pytest.raises(FileError, match="larger than any"):
        read_feet(tmp_path / "feet.parquet")


def test_a_number_of_many_digits_is_not_repeated_whole(tmp_path: Path) -> None:
    (tmp_path / "feet.csv").write_text("length_cm\n" + "9" * 100_000 + "\n")
    with pytest.raises(LoopwrightError) as refusal:
        read_feet(tmp_path / "feet.csv")
    assert len(str(refusal.value)) < 300


def test_a_picture_that_would_fill_the_memory_is_refused(tmp_path: Path) -> None:
    """Of 64 million pixels, in a file of 8 kB."""
    Image.new("1", (8000, 8000)).save(tmp_path / "sock.png")
    with pytest.raises(FileError, match="8000 × 8000 pixels"):
        load_photo(tmp_path / "sock.png")
