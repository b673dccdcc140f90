"""Tables as sensors, spreadsheets and students write them."""

import pytest

from crankpin.calculator.declaration import Column, Table
from crankpin.calculator.tables import read_table

READINGS = Table(
    key="data",
    meaning="readings",
    columns=(
        Column(key="t", symbol="t", meaning="time", unit="s", also=("ms",)),
        Column(key="x", symbol="x", meaning="reading", unit="1"),
        Column(key="u", symbol="u", meaning="uncertainty", unit="1", needed=False),
    ),
    default="0 1",
    least_rows=2,
    most_rows=10,
)
WANTED = ((0.0, 1.5, None), (0.25, -2.0, None))


@pytest.mark.parametrize(
    "text",
    [
        "0 1.5\n0.25 -2",
        "0,0 1,5\n0,25 -2,0",
        "0;1,5\n0,25;-2",
        "0\t1,5\n0,25\t−2,0",
        "0.0,1.5\n0.25,-2.0",
        "0.0, 1.5\n0.25, -2.0",
        "0,0, 1,5\n0,25, -2,0",
        "\ufefft;x\ns;1\n0;1,5\n0,25;-2",
        "# run 3, blue spring\nt / s  x\n\n0  1.5\n\n0.25  -2.0\n",
        "% made by a sensor\ntime (ms),position\n0,1.5\n250,-2\n",
        "Zeit in ms;Ort\n0;1,5\n250;-2",
        "t / ms   x\n0 1.5\n250 -2",
        "t [ms]   x [cm]\n0 1.5\n250 -2",
        "t in ms   x in cm\n0 1.5\n250 -2",
        "t;x\nms;mm\n0;1,5\n250;-2",
        '"t","x"\n"0","1.5"\n"0.25","-2"',
        "0 s; 1.5\n250 ms; -2",
        "start 0 1.5\nend 0.25 -2",
        "t;x\n0;1,5\n0,1;\n0,2;NaN\n0,25;-2\n",
        "0;1.5;\n0.25;-2;",
    ],
)
def test_the_ways_of_writing_a_table_agree(text):
    assert read_table(text, READINGS).rows == WANTED


def test_an_uncertainty_may_stand_in_some_rows():
    assert read_table("0;1;0.1\n3;2\n2;3;0.2", READINGS).rows == ((0.0, 1.0, 0.1), (3.0, 2.0, None), (2.0, 3.0, 0.2))


def test_whole_numbers_between_commas_are_two_cells():
    assert read_table("1,2\n3,4", READINGS).rows == ((1.0, 2.0, None), (3.0, 4.0, None))


def test_it_tells_what_was_understood():
    told = read_table("t/ms;x\n0;1,5\n;\n125;\n250;-2", READINGS).understood
    assert told == (
        "2 rows: time in ms, reading; columns apart by semicolons; decimal commas; "
        "1 line of headings passed over; 2 rows with a gap left out."
    )


@pytest.mark.parametrize(
    ("text", "trouble"),
    [
        (
            "0 1 2 3 4\n1 2 3 4 5",
            "line 1, “0 1 2 3 4”: 5 columns; 2 to 3 are needed: time in s; reading; uncertainty. "
            "To choose columns, put a line such as “columns: 1, 2” above the rows.",
        ),
        ("0 1\n1 abc", "line 2, “1 abc”: “abc” is not a number (column “reading”)."),
        ("0 1\nRun 2\n1 2", "line 2, “Run 2”: “Run” is not a number in s (column “time”)."),
        ("0 kg; 1\n1; 2", "line 1, “0 kg; 1”: “0 kg” is not a number in s (column “time”)."),
        ("0 1", "1 row of numbers given; at least 2 needed."),
        ("\n".join(f"{i} {i}" for i in range(11)), "11 rows were given; at most 10 can be read."),
        (
            "nothing here",
            "no row of numbers was found; give one row a line, with the columns: time in s; reading; uncertainty.",
        ),
        ("", "no row of numbers was found; give one row a line, with the columns: time in s; reading; uncertainty."),
    ],
)
def test_a_table_that_can_not_be_read_is_told_in_one_sentence(text, trouble):
    found = read_table(text, READINGS)
    assert (found.rows, found.trouble) == ((), trouble)


def test_a_long_line_is_quoted_in_part():
    line = "0 " + "x" * 200
    assert "…" in read_table(f"0 1\n{line}", READINGS).trouble
    assert len(read_table(f"0 1\n{line}", READINGS).trouble) < 350


def test_one_column_takes_a_number_a_line_with_either_decimal_sign():
    times = Table(
        key="t", meaning="times", columns=(Column(key="t", symbol="t", meaning="time", unit="s"),), default="1"
    )
    found = read_table("t / ms\n790,5\n800", times)
    assert found.rows == ((0.7905,), (0.8,))
    assert found.understood == "2 rows: time in ms; decimal commas; 1 line of headings passed over."


@pytest.mark.parametrize("text", ["1;10,2\n2;9,9", "1\t407,119\n2\t408,000"])
def test_two_columns_for_a_table_of_one_are_told_and_not_cut_at_the_comma(text):
    times = Table(
        key="t", meaning="times", columns=(Column(key="t", symbol="t", meaning="time", unit="s"),), default="1"
    )
    found = read_table(text, times)
    assert found.rows == ()
    assert "2 columns" in found.trouble
    assert "1 is needed: time in s." in found.trouble
