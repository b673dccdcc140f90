import pytest

from crankpin.problems.faults import ProblemFaultsError
from crankpin.problems.parsing import read_problems
from crankpin.problems.trial import try_problem

from .conftest import DRUM


def faults(text, calculators):
    with pytest.raises(ProblemFaultsError) as raised:
        read_problems(text, "drum.md", calculators)
    return str(raised.value)


def test_a_problem_is_read_whole(drum):
    assert (drum.id, drum.level, drum.needs, drum.marks) == ("drum", "standard", ("01-turning",), 4)
    assert [(question.name, question.kind, question.marks) for question in drum.questions] == [
        ("a", "number", 2),
        ("b", "number", 2),
    ]
    assert drum.question("b").goes_on_from == ("a",)
    assert drum.line == 2


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('title = "The drum"\n', "", "drum.md:2: title is missing"),
        ('"standard"', '"hard"', "drum.md:4: level is “hard”"),
        ('answer = "v"', 'answer = "w"', "drum.md:22: part b: answer is “w”"),
        ('answer = "v"', 'answer = "v"\ntolerance = "0 %"', "above zero"),
        ("(M1 A1)", "", "part a: the solution has no marks"),
        ("1. a\n2. b", "1. a", "there are 2 hints"),
        ("step 2", "step 7", "drum.md:9: the range"),
        ('"d/2 in cm"', '"d/2"', "drum.md:13: r: say the unit"),
        ("diameter_for_radius", "bad_luck", "drum.md:25: bad_luck is not a slip"),
        ("# Part b", "# Part c", "part c has no table"),
        ("## Solution", "## Answer", "there is no section “answer”"),
        ("~~~\n", "", "never closed"),
        ('level = "standard"', 'level = "standard"\nkind = "riddle"', "“riddle” is not a kind|belongs to a part"),
        ("[draw]", "[draw", "the declaration is not TOML"),
    ],
)
def test_each_fault_is_told_with_its_line(calculators, old, new, told):
    assert old in DRUM
    said = faults(DRUM.replace(old, new, 1), calculators)
    assert any(one in said for one in told.split("|")), said


def test_all_faults_come_at_once(calculators):
    said = faults(DRUM.replace('"standard"', '"hard"').replace("step 2", "step 7"), calculators)
    assert "level is “hard”" in said
    assert "the range" in said


def test_an_id_stands_once(calculators):
    assert "already taken in line 2" in faults(DRUM + DRUM, calculators)


def test_a_problem_shown_inside_another_fence_is_none(calculators):
    assert read_problems(f"````\n{DRUM}\n````\n", "guide.md", calculators) == ()


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("{= d =}", "{= dd =}", "there is no quantity dd"),
        ('two_pi_forgotten = "n"', 'two_pi_forgotten = "2*pi*n"', "cannot be told from the right answer"),
        ('centimetres_left_in = "r"', 'half_forgotten = "2*v"', "give the same number"),
        ('centimetres_left_in = "r"', 'half_forgotten = "ln(-v)"', "leads to no number"),
        ("d/2 in cm", "ln(-d) in cm", "impossible"),
    ],
)
def test_the_trial_finds(calculators, old, new, told):
    assert old in DRUM
    [problem] = read_problems(DRUM.replace(old, new, 1), "drum.md", calculators)
    said = "\n".join(map(str, try_problem(problem, calculators, 30).told()))
    assert told in said


def test_the_trial_passes_a_sound_problem(drum, calculators):
    assert not try_problem(drum, calculators, 200).faults
