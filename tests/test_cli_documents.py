"""`loopwright new` and `loopwright publish`, as a designer would call them."""

from __future__ import annotations

import io
import json
import re
import shlex
import tomllib
from pathlib import Path
from zlib import crc32

import pytest
from PIL import Image

from certified import problems
from loopwright.cli import main
from loopwright.errors import FileError
from loopwright.report import publish
from loopwright.report.photo import load_photo

MITTEN = """+++
author = "Ione Skerry"
needle = "2.5 mm"
+++
# Ferry mitten
Cast on 24 sts. Join in the round.
Rnds 1-4: *K1, p1; rep from * to end.
Rnds 5-9: Knit.
Rnd 10: *K1, k2tog; rep from * to end. (16 sts)
Cut yarn, draw it through the remaining sts and pull tight.
Weave in all ends.
"""


def test_any_pattern_becomes_documents(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    source = tmp_path / "mitten.txt"
    source.write_text(MITTEN, encoding="utf-8")
    out = tmp_path / "out"
    assert main(["publish", str(source), "--out", str(out)]) == 0
    page = (out / "pattern.html").read_text("utf-8")
    for told in ("Ferry mitten", "by Ione Skerry", "2.5 mm (US 1.5)", "Draw up the last stitches"):
        assert told in page
    assert (out / "pattern.pdf").read_bytes().startswith(b"%PDF-")
    assert "error" not in (out / "review.txt").read_text("utf-8")
    assert main(["publish", str(source), "--out", str(out)]) == 2
    assert main(["publish", str(source), "--out", str(out), "--force"]) == 0


COWL = """# Slack water cowl
Sizes: S (L)
Gauge: 20 sts and 28 rnds to 10 cm
## Edge
Cast on 60 (72) sts, long-tail.
Join to work in the round.
Rnds 1-3: *K1, p1; rep from * to end.
## Lace
Rnd 1: *Yo, k2tog, k1; rep from * to end.
Rnd 2: Knit.
Rep rnds 1 and 2 another 4 times.
## Upper edge
Rnds 1-3: *K1, p1; rep from * to end.
BO all sts.
"""


BAND = """Harbour band

MATERIALS
Some quay wool
A button

GAUGE
20 sts and 28 rows to 10 cm

BAND
Cast on 9 sts.
Rows 1-6: Knit.
Bind off all sts.

MAKING UP
Sew the button on. Make a second one to match.
"""


def test_a_texts_own_words_are_kept_and_no_heading_stands_empty() -> None:
    """A finisher needs the words on seams; what hands can't count is still to be done."""
    told = str(publish(BAND)["pattern.txt"])
    assert "Materials: Some quay wool; A button" in told
    assert "Note: Sew the button on. Make a second one to match." in told
    headings = [line for line in told.splitlines() if line.startswith("## ")]
    assert headings == ["## BAND", "## MAKING UP"]
    page = str(publish(BAND)["pattern.html"])
    assert "20 stitches and 28 rows to 10 cm" in page


def test_what_is_not_plain_is_charted_and_the_yarn_is_told() -> None:
    page = str(publish(COWL)["pattern.html"])
    assert re.findall(r"[A-Z][a-z ]+, stitch by stitch(?=<)", page) == ["Lace, stitch by stitch"]
    assert "Drawn for size S." in page
    told = re.search(r"<dt>Yarn used</dt><dd>about (\d+) \((\d+)\) m for one</dd>", page)
    assert told is not None
    small, large = map(int, told.groups())
    # Common practice: a stitch takes three to four times its width, and each edge two rounds' yarn;
    # what is told is enough for a loose hand, a sixth more.
    width_m, rounds = 0.1 / 20, 16 + 2 * 2
    assert 3 < small / (60 * rounds * width_m) < 4 * 7 / 6
    assert large / small == pytest.approx(72 / 60, rel=0.03)
    assert "Yarn used" not in str(publish(COWL.replace("Gauge: ", "Note: "))["pattern.html"])


def test_a_page_carries_a_certificate_that_others_can_check(tmp_path: Path) -> None:
    source = tmp_path / "mitten.txt"
    source.write_text(MITTEN, encoding="utf-8")
    out = tmp_path / "out"
    assert main(["publish", str(source), "--out", str(out), "--certificate"]) == 0
    page = (out / "pattern.html").read_text("utf-8")
    found = re.search(r'<script type="application/json" id="certificate">(.*?)</script>', page)
    assert found is not None
    paper = json.loads(found[1])
    assert paper == json.loads((out / "certificate.json").read_text("utf-8"))
    assert problems(paper) == []
    assert paper["key"] in page.replace(found[0], "")


def test_each_size_has_a_certificate_and_its_key_is_stated() -> None:
    text = "Sizes: S (M).\nCast on 8 (10) sts. Join in the round. Rnds 1-3: Knit. Bind off all sts."
    files = publish(text, certified=True)
    keys = [json.loads(files[f"certificate-{n}.json"])["key"] for n in (1, 2)]
    assert len(set(keys)) == 2
    assert all(f"{key}: " in str(files["pattern.html"]) for key in keys)


def test_what_can_not_be_knitted_is_not_certified(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = tmp_path / "wrong.txt"
    source.write_text("Cast on 8 sts. Join in the round. Rnd 1: K9.\n", encoding="utf-8")
    out = tmp_path / "out"
    assert main(["publish", str(source), "--out", str(out), "--certificate"]) == 2
    assert "8 are left" in capsys.readouterr().err
    assert not out.exists()


SIZED = """+++
author = "Ione Skerry"
picture = "mitten.png"
rounds = "round"
[before]
thumb = "For sizes {sizes}."
[[wording]]
instead_of = "Rnds 1-4: Knit."
says = "Knit until the ferry is in."
+++
# Ferry mitten
Sizes: S (L)
## Hand
Cast on 24 (32) sts. Join in the round.
Rnds 1-4: Knit.
## Thumb
Rnds 1-9: Purl. (24 (32) sts)
Bind off all sts.
"""


def test_a_pattern_in_sizes_is_published_in_all_or_in_one(tmp_path: Path) -> None:
    source = tmp_path / "mitten.txt"
    source.write_text(SIZED, encoding="utf-8")
    assert main(["publish", str(source), "--out", str(tmp_path / "out")]) == 2  # no picture there
    assert not (tmp_path / "out").exists()
    Image.new("RGB", (300, 150), "navy").save(tmp_path / "mitten.png")
    assert main(["publish", str(source), "--out", str(tmp_path / "out")]) == 0
    page = (tmp_path / "out" / "pattern.html").read_text("utf-8")
    told = ("S (L)", "24 (32) sts", "For sizes S, L.", "ferry is in", "Rounds 1-9", "image/jpeg",
            "Step by step")  # fmt: skip
    for words in told:
        assert words in page, words
    one = ["publish", str(source), "--out", str(tmp_path / "one"), "--size"]
    assert main([*one, "M"]) == 2
    assert main([*one, "L"]) == 0
    page = (tmp_path / "one" / "pattern.html").read_text("utf-8")
    assert "Ferry mitten, size L" in page
    assert "24" not in (tmp_path / "one" / "pattern.txt").read_text("utf-8")


def test_a_pattern_with_a_mistake_is_published_and_its_review_says_where(tmp_path: Path) -> None:
    source = tmp_path / "mitten.txt"
    source.write_text(MITTEN.replace("Rnds 5-9: Knit.", "Rnds 5-9: K30."), encoding="utf-8")
    assert main(["publish", str(source), "--out", str(tmp_path / "out")]) == 0
    assert "error" in (tmp_path / "out" / "review.txt").read_text("utf-8")
    assert "K30" in (tmp_path / "out" / "pattern.html").read_text("utf-8")


def test_a_wrong_key_in_its_head_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = tmp_path / "mitten.txt"
    source.write_text(MITTEN.replace("needle", "needel"), encoding="utf-8")
    assert main(["publish", str(source), "--out", str(tmp_path / "out")]) == 2
    assert "needel" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


@pytest.mark.once
@pytest.mark.parametrize("inches", [False, True])
def test_a_new_design_can_be_knitted_at_once_and_is_never_written_over(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], inches: bool
) -> None:
    file = tmp_path / "mine.toml"
    words = ["new", str(file), "--title", 'My "own"', "--heel", "short-row"]
    if inches:
        words += ["--inches", "--length", "9.5", "--ball", "8 3/4 in"]
    assert main(words) == 0
    text = file.read_text("utf-8")
    assert text.count("#") > 5
    assert ('over = "4 in"' in text) is inches
    out = tmp_path / "out"
    assert main(["sock", str(file), "--out", str(out), "--quiet", "--document", "pattern"]) == 0
    assert (out / "pattern.html").exists()
    assert main(words) == 2
    assert "there already" in capsys.readouterr().err
    assert file.read_text("utf-8") == text


def test_a_new_design_that_could_not_be_used_is_not_written(tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    assert main(["new", str(file), "--length", "3 km"]) == 2
    assert not file.exists()


TUTORIAL = Path(__file__).parents[1] / "docs/tutorials/first-folder.md"


@pytest.mark.once
def test_the_first_tutorial_says_what_its_commands_print(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    blocks = re.findall(r"```(\w+)\n(.*?)```", TUTORIAL.read_text("utf-8"), re.DOTALL)
    run, slow = 0, ("loopwright mend", "loopwright sock breakwater.toml --out breakwater\n")
    for (kind, text), (_, printed) in zip(blocks, [*blocks[1:], ("", "")], strict=True):
        if kind == "toml":  # what is changed in the design by hand
            file, key = Path("breakwater.toml"), text.split()[0]
            changed, times = re.subn(
                rf"(?m)^(?:# )?{key} = \"[^\"]*\"", text.strip(), file.read_text("utf-8"), count=1
            )
            assert times == 1
            file.write_text(changed, encoding="utf-8")
        elif text.startswith("loopwright ") and not text.startswith(slow):
            assert main(shlex.split(text)[1:]) == 0
            assert capsys.readouterr().out == printed
            run += 1
    assert run == 4


class _Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_a_terminal_is_asked_again_until_an_answer_can_be_used(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    answers = ["Pier", "in", "long", "3 km", "9 1/2", '8 7/8"', "x", "-3", "28", "38", "toe", ""]
    monkeypatch.setattr("sys.stdin", _Terminal("\n".join([*answers, ""])))
    assert main(["new", str(tmp_path / "mine.toml")]) == 0
    asked = capsys.readouterr()
    assert (asked.out + asked.err).count("Error: ") == 5
    found = tomllib.loads((tmp_path / "mine.toml").read_text("utf-8"))
    assert found["foot"] == {"length": "9 1/2 in", "ball_girth": '8 7/8"'}
    assert found["gauge"] == {"stitches": 28, "rounds": 38, "over": "4 in"}
    assert found["heel"]["kind"] == "flap"


def test_a_picture_is_made_small_and_upright(tmp_path: Path) -> None:
    path = tmp_path / "sock.png"
    Image.new("RGBA", (3000, 1500), "navy").save(path)
    data, kind = load_photo(path)
    assert kind == "jpeg"
    path.write_bytes(data)
    with Image.open(path) as small:
        assert small.size == (1400, 700)


def png_of(side: int) -> bytes:
    """A square picture without its dots: signature, IHDR, IDAT (PNG, W3C 2003, 5.2 and 11.2)."""
    head = b"IHDR" + side.to_bytes(4, "big") * 2 + bytes([8, 0, 0, 0, 0])
    chunks = [
        len(one[4:]).to_bytes(4, "big") + one + crc32(one).to_bytes(4, "big")
        for one in (head, b"IDAT")
    ]
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunks)


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (None, "no such file"),
        (b"GIF89a", "no picture"),
        (bytes(21 << 20), "is larger than 20 MB"),
        (png_of(10_001), "has 10001 × 10001 pixels"),
        (png_of(60_000), "no picture"),
    ],
    ids=["none", "no picture", "large", "many dots", "too many dots"],
)
def test_what_is_no_picture_is_refused_before_anything_is_written(
    tmp_path: Path, data: bytes | None, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "sock.png"
    if data is not None:
        path.write_bytes(data)
    with pytest.raises(FileError):
        load_photo(path)
    design = tmp_path / "d.toml"
    design.write_text(
        'gauge = {stitches = 20, rounds = 28, over = "10 cm"}\nfoot = {length = "24 cm"}\n'
        '[document]\npicture = "sock.png"\n',
        encoding="utf-8",
    )
    assert main(["sock", str(design), "--out", str(tmp_path / "out")]) == 2
    assert told in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


def test_a_piece_that_is_no_sock_is_not_called_one() -> None:
    """The right side of a scarf was "the outside of a sock"."""
    scarf = "Cast on 10 sts. Row 1 (RS): Knit. Row 2 (WS): Purl. Bind off all sts. Weave in ends."
    page = str(publish(scarf)["pattern.html"])
    assert "right side: the outside of the finished piece" in page
    assert "sock" not in re.sub(r"<script.*?</script>|<style.*?</style>", "", page, flags=re.DOTALL)
