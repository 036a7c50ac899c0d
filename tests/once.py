"""The files whose tests run once: neither a Python nor the version of a package fails them alone.

These go by our own words, counts, drawings and sums: what a Python or a package could fail in them,
it fails in the tests beside them or in the examples of the modules, too. They are marked as if each
had ``pytestmark = pytest.mark.once``. Beside them there is always

- for words, which need attrs, lark and pint: to read, to write and read back, to review, to knit;
- for counts of stitches and for heels, which are whole numbers: whole socks, their size, the foot;
- for columns, graphs and sums of floats, which numpy, networkx and scipy take part in: checks,
  files, queries, cells, fabrics from graphs, known surfaces, geodesics, a draped sock, its fit;
- for what each other package brings: its reader, its server, its engine, its document.
"""

from __future__ import annotations

_ONCE = {
    "": "test_cli_compare test_cli_mend test_documentation test_extras",
    "explore": "test_bench",
    "fabric": """test_certificate test_crossings test_damages test_floats_two_ways test_key
        test_not_told test_worked_counts""",
    "fitting": """test_compare test_girths test_hands test_heel_parts test_limits test_remedies
        test_survey_fit""",
    "geometry": "test_cloths test_crossed_shapes test_near test_socks_shape",
    "making": "test_by_count test_edges test_found test_places test_small_cases",
    "pattern": """test_alone test_bounds test_by_count test_by_numbers test_cables test_columns
        test_counted test_counts_and_times test_derive test_drawn_charts test_edges_of_words
        test_editors_eye test_free_words test_heel_turns test_historical test_language_page
        test_left_unsaid test_limits test_meaning test_measures test_names_of_needles
        test_needles_by_numbers test_one_by_one test_ordinary test_pairs_and_sizes test_phrases
        test_prose_counts test_reworded test_right_texts test_row_in_short test_rows_by_others
        test_rows_told_before test_said_out test_shadow_wraps test_slips test_steps
        test_text_slips test_told_sums test_triggers test_unread test_where_said
        test_wholes_and_parts test_yarns""",
    "picture": """test_chart test_colours test_crossings test_opening test_schematic test_stages
        test_symbols test_worn_drawing""",
    "report": "test_one_number test_pictures",
    "sock": """test_all_round test_at_rest test_cabled test_choices test_constructions test_grading
        test_heel_counts test_heel_numbers test_legs test_own_parts test_own_stitches test_panels
        test_published test_ranges test_remarks test_same_heel test_shoes test_sizes test_sock_yarns
        test_survey test_wedge test_wording""",
    "studies": "test_cover test_feet test_share",
    "yarn": "test_loop test_path",
}  # fmt: skip
ONCE = {
    f"{folder}/{name}.py".lstrip("/") for folder, names in _ONCE.items() for name in names.split()
}
