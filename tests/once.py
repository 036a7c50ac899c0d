"""The files whose tests run once: neither a Python nor the version of a package fails them alone.

These go by our own words, counts, drawings and sums: what a Python or a package could fail in them,
it fails in the tests beside them or in the examples of the modules, too. They are marked as if each
had ``pytestmark = pytest.mark.once``.
"""

from __future__ import annotations

ONCE = {
    *("explore/test_bench.py", "fabric/test_certificate.py", "fabric/test_key.py"),
    *(
        f"fitting/test_{name}.py"
        for name in ("compare", "girths", "hands", "heel_parts", "remedies")
    ),
    *("geometry/test_near.py", "report/test_one_number.py", "report/test_pictures.py"),
    *(
        f"pattern/test_{name}.py"
        for name in (
            *("derive", "edges_of_words", "editors_eye", "heel_turns", "historical", "measures"),
            *("language_page", "limits", "meaning", "ordinary", "phrases", "right_texts", "slips"),
            *("text_slips", "triggers"),
        )
    ),
    *(
        f"picture/test_{name}.py"
        for name in ("chart", "crossings", "opening", "schematic", "stages", "symbols")
    ),
    *(
        f"sock/test_{name}.py"
        for name in (
            *(
                "all_round",
                "at_rest",
                "cabled",
                "choices",
                "constructions",
                "grading",
                "heel_numbers",
                "legs",
                "own_parts",
            ),
            *("own_stitches", "panels", "remarks", "same_heel", "sock_yarns", "wedge", "wording"),
        )
    ),
    *("test_cli_compare.py", "test_cli_mend.py", "test_documentation.py", "yarn/test_path.py"),
}
