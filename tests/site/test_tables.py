"""Content before it goes into its frame."""

from crankpin.site.tables import boxed_tables


def test_a_table_is_boxed_named_and_its_headings_scoped() -> None:
    made = boxed_tables(
        '<table>\n<thead>\n<tr><th>period</th><th align="right">f &amp; <b>T</b></th></tr></thead></table>'
    )
    assert made.startswith(
        '<div class="table-box" role="group" aria-label="Table: period, f &amp; T"><table class="ruled">'
    )
    assert '<th scope="col">period</th><th scope="col" align="right">' in made


def test_a_table_with_a_class_is_left_alone() -> None:
    assert boxed_tables('<table class="own"></table>') == '<table class="own"></table>'
