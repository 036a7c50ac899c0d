"""Heels side by side as files: a page with the pictures, and the table for other programs."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Mapping
from html import escape
from typing import Any

from loopwright.border import guard
from loopwright.file_writing import MARK, MARK_SAYS
from loopwright.fitting import Comparison, drape, foot_form
from loopwright.picture.shape_drawing import draw_shape
from loopwright.picture.worn_drawing import draw_worn

__all__ = ["comparison_files", "comparison_json"]

_STYLE = (
    ":root{color-scheme:light dark}"
    "body{font:1rem/1.5 sans-serif;margin:2rem auto;max-width:70rem;padding:0 1rem}"
    # The table takes the whole width: its caption is as wide as it is, and says whole sentences.
    ".wide{overflow-x:auto;margin-bottom:1rem}table{border-collapse:collapse;min-width:100%}"
    "caption{text-align:left;padding-bottom:.6rem}thead th{vertical-align:bottom}"
    "td,th{border-bottom:1px solid #999;padding:.2rem .6rem;text-align:right}"
    "th:first-child{text-align:left}figure{display:inline-block;margin:.5rem;max-width:22rem}"
    "svg{height:auto;max-width:100%}"
    "@media print{@page{margin:14mm}body{font-size:9.5pt;margin:0;padding:0}"
    "h2,caption{break-after:avoid}tr,figure{break-inside:avoid}figure{max-width:45%}}"
)
_FILES = {
    "comparison.html": "the table and the relaxed socks, to look at and to print",
    "comparison.md": "the table as text",
    "comparison.csv": "the numbers, a line for each heel, for a spreadsheet",
    "comparison.json": "the numbers and the words, for programs",
}


def comparison_json(title: str, sizes: Mapping[str, Comparison]) -> str:
    """Return comparisons by size as JSON."""
    told: list[dict[str, Any]] = [
        {"size": name, **comparison.to_dict()} for name, comparison in sizes.items()
    ]
    return json.dumps({"title": title, "sizes": told}, ensure_ascii=False, indent=2) + "\n"


def comparison_files(title: str, sizes: Mapping[str, Comparison]) -> dict[str, str | bytes]:
    """Return the content of each file by its name.

    Parameters
    ----------
    title : str
    sizes : mapping of str to Comparison
        By the size's name; a single one may have the empty name.

    Returns
    -------
    dict of str to str
        A page, the table as Markdown, CSV and JSON, a picture (SVG) of each relaxed sock, and
        ``README.txt``, which lists the others. Of a single size, the page and a picture each also
        show the socks on the foot, which takes a second or two a heel.
    """
    pictures = {
        (size, row.name): draw_shape(
            row.shape, by=None, size=320, colours=row.sample.sock.colours
        ).svg()
        for size, comparison in sizes.items()
        for row in comparison.rows
    }
    names = _picture_names(list(pictures))
    drawn = {names[key]: svg for key, svg in pictures.items()}
    about = {name: f"the relaxed sock: {heel}" for (_, heel), name in names.items()}
    worn = _worn(sizes)
    for key, (svg, words) in worn.items():
        name = f"{names[key].removesuffix('.svg')}-worn.svg"
        drawn[name], about[name] = svg, f"on the foot: {key[1]}. {words}"
    listed = {**_FILES, **about, MARK: MARK_SAYS}
    index = "\n".join(f"{name}  {words}" for name, words in listed.items())
    return {
        "comparison.html": _page(title, sizes, pictures, worn),
        "comparison.md": _markdown(title, sizes),
        "comparison.csv": _csv(sizes),
        "comparison.json": comparison_json(title, sizes),
        **drawn,
        "README.txt": f"{title}: heels side by side\n\n{index}\n\n{_cautions(sizes)}\n",
    }


def _worn(sizes: Mapping[str, Comparison]) -> dict[tuple[str, str], tuple[str, str]]:
    """Return the socks of a single size on the foot, as SVG and in words."""
    if len(sizes) > 1:
        return {}
    found = {}
    for size, comparison in sizes.items():
        form = foot_form(comparison.foot)
        for row in comparison.rows:
            worn = drape(row.shape, form, heel=row.sample.heel_tip)
            found[size, row.name] = draw_worn(worn, size=320).svg(), worn.words
    return found


def _picture_names(keys: list[tuple[str, str]]) -> dict[tuple[str, str], str]:
    """Return a file name for each size and heel; those that come out alike are numbered."""
    found: dict[tuple[str, str], str] = {}
    for key in keys:
        stem = "-".join(re.sub(r"\W+", "-", part).strip("-").lower() for part in key if part)
        name, number = f"{stem or 'heel'}.svg", 2
        while name in found.values():
            name, number = f"{stem or 'heel'}-{number}.svg", number + 1
        found[key] = name
    return found


def _cautions(sizes: Mapping[str, Comparison]) -> str:
    texts = [text for comparison in sizes.values() for text in comparison.cautions]
    return "\n".join([*(f"Caution: {text}" for text in dict.fromkeys(texts)), *_accuracy(sizes)])


def _heading(size: str) -> str:
    return f"Size {size}" if size else "The sock"


def _markdown(title: str, sizes: Mapping[str, Comparison]) -> str:
    parts = [f"# {title}: heels side by side"]
    parts += [f"## {_heading(size)}\n\n{comparison}" for size, comparison in sizes.items()]
    return "\n\n".join(parts) + "\n"


def _csv(sizes: Mapping[str, Comparison]) -> str:
    records = [
        {"size": size, **record}
        for size, comparison in sizes.items()
        for record in comparison.records()
    ]
    text = io.StringIO()
    writer = csv.DictWriter(text, records[0] if records else ["size", "heel"], lineterminator="\n")
    writer.writeheader()
    writer.writerows(records)
    return text.getvalue()


def _page(
    title: str,
    sizes: Mapping[str, Comparison],
    pictures: Mapping[tuple[str, str], str],
    worn: Mapping[tuple[str, str], tuple[str, str]],
) -> str:
    parts = [f"<h1>{escape(title)}: heels side by side</h1>"]
    for size, comparison in sizes.items():
        figures = "".join(
            f"<figure>{pictures[size, row.name]}"
            f"<figcaption>{escape(row.name)}</figcaption></figure>"
            for row in comparison.rows
        )
        figures += "".join(
            f"<figure>{svg}<figcaption>{escape(heel)} on the foot. {escape(words)}</figcaption>"
            "</figure>"
            for (of, heel), (svg, words) in worn.items()
            if of == size
        )
        table = f'<div class="wide" tabindex="0">{comparison.table_html()}</div>'
        parts.append(f"<h2>{escape(_heading(size))}</h2>{table}{figures}")
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{escape(title)}</title><style>{_STYLE}</style></head>"
        f"<body>{''.join(parts)}</body></html>\n"
    )


guard(globals())


def _accuracy(sizes: Mapping[str, Comparison]) -> list[str]:
    return list(dict.fromkeys(comparison.accuracy for comparison in sizes.values()))
