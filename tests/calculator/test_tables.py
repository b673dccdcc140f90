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


ONE = Table(key="t", meaning="times", columns=(Column(key="t", symbol="t", meaning="time", unit="s"),), default="1")


@pytest.mark.parametrize(
    ("text", "rows"),
    [
        ("t (µs);x\n250;1\n500;2", ((0.00025, 1.0, None), (0.0005, 2.0, None))),
        ("No;t;x\n1;0,5;3\n2;0,6;4", ((0.5, 3.0, None), (0.6, 4.0, None))),
        ("x;t\n5;0\n6;1", ((0.0, 5.0, None), (1.0, 6.0, None))),
        ("columns: 1, 3\ntime (s);ax;ay;az\n0;1;2;3\n1;2;3;4", ((0.0, 2.0, None), (1.0, 3.0, None))),
        ("t;x;u\n0;1;0.1\n1;2;0.1", ((0.0, 1.0, 0.1), (1.0, 2.0, 0.1))),
        ("t;x;y\n0;1;2\n1;2;3", ((0.0, 1.0, None), (1.0, 2.0, None))),
        ("12:03:04.500;1\n12:03:05.000;2", ((43384.5, 1.0, None), (43385.0, 2.0, None))),
        ("0:07.86;1\n0:08.2;2", ((7.86, 1.0, None), (8.2, 2.0, None))),
        ('"1,5","2,5"\n"1,6","2,7"', ((1.5, 2.5, None), (1.6, 2.7, None))),
        ("0;1\n1;#N/A\n2;3\n#N/A;9", ((0.0, 1.0, None), (2.0, 3.0, None))),
        ("1'234,500;1\n1'235,5;2", ((1234.5, 1.0, None), (1235.5, 2.0, None))),
        ("Zeit\tOrt\n0,0\t1,234\n0,5\t1,3", ((0.0, 1.234, None), (0.5, 1.3, None))),
        ("time in us\nraw\n835\n978", ((0.000835,), (0.000978,))),
        ("7.86 7.95 7.91", ((7.86,), (7.95,), (7.91,))),
    ],
)
def test_headings_and_spellings_decide(text, rows):
    found = read_table(text, ONE if len(rows[0]) == 1 else READINGS)
    assert found.rows == rows, found.trouble


@pytest.mark.parametrize(
    ("text", "trouble"),
    [
        (
            "t [ft];x\n250;1\n500;2",
            "the heading “t [ft]” names the unit “ft”, which is not known here for time; use s, ms.",
        ),
        ("time_raw;x\n1;1\n2;2", "the heading “time_raw” names the unit “raw”"),
        ("1 0.5 3\n2 0.6 4\n3 0.7 5", "can be a running number or time"),
        ("time;ax;ay\n0;1;2\n1;2;3", "3 columns: 1 “time”, 2 “ax”, 3 “ay”; 2 to 3 are needed"),
        ("1;a\n0;1\n1;2", "line 1, “1;a”: “a” is not a number; if the line is no row, put a # before it."),
        ("1,234;540.3\n1,235;541", "“1,234” can be 1234 or 1.234"),
        ("0,5;1.234\n0,6;1.3", "“1.234” stands beside decimal commas"),
        ("12:03;1\n12:04;2", "“12:03” can be hours and minutes or minutes and seconds; type 0:12:03 or 12:03:00"),
        ("23:59:59;1\n00:00:01;2", "in row 2 the clock begins anew after midnight; go on with 24:00:00."),
        ("time ms  x\n250 1\n500 2", "3 headings over 2 columns"),
        ("0 1 0.1\n3 2\n2 3 0.2", "2 columns, where other rows have 3"),
        ("columns: 1, 7\n0;1;2\n1;2;3", "column 7 was chosen, but there are 3."),
        ("0;1\n1;2.0(1)", "“2.0(1)” brings an uncertainty along"),
    ],
)
def test_what_can_be_taken_in_two_ways_is_asked_back(text, trouble):
    found = read_table(text, READINGS)
    assert found.rows == ()
    assert trouble in found.trouble


def test_a_comma_behind_running_numbers_is_asked_back():
    assert "running number" in read_table("1,10\n2,09\n3,05", ONE).trouble


def test_a_hundred_thousand_rows_are_read():
    long = Table(key="data", meaning="readings", columns=READINGS.columns, default="0 1", most_rows=100_000)
    text = "\n".join(f"{i / 8};{i % 7}.5" for i in range(100_000))
    assert len(read_table(text, long).rows) == 100_000
