from crankpin.problems.check import check_files

from .conftest import DRUM


def told(tmp_path, calculators, *texts, variants=30):
    files = [tmp_path / f"{number:02}-some.md" for number in range(1, len(texts) + 1)]
    for file, text in zip(files, texts, strict=True):
        file.write_text(text, encoding="utf-8")
    return check_files(files, calculators, {}, variants)


def test_a_sound_file_has_advice_alone(tmp_path, calculators):
    found = told(tmp_path, calculators, DRUM)
    assert all(finding.is_advice for finding in found)
    said = "\n".join(map(str, found))
    assert "fewer than 12" in said
    assert "no problem has the tag safety" in said


def test_faults_of_all_files_are_told_with_the_variant(tmp_path, calculators):
    odd = DRUM.replace("~~~problem drum", "~~~problem odd").replace("d/2 in cm", "(d - 0.42)**0.5 in cm")
    broken = DRUM.replace('"standard"', '"hard"')
    said = [str(finding) for finding in told(tmp_path, calculators, odd, broken) if not finding.is_advice]
    assert any("impossible" in text and "variant" in text for text in said)
    assert any("level is “hard”" in text for text in said)


def test_an_id_is_taken_once_in_all_files(tmp_path, calculators):
    said = [str(finding) for finding in told(tmp_path, calculators, DRUM, DRUM, variants=1)]
    assert any("already taken in" in text for text in said)


def test_a_file_that_is_not_there_is_told(tmp_path, calculators):
    [finding] = check_files([tmp_path / "none.md"], calculators, {})
    assert "cannot be read" in str(finding)


def test_an_answer_that_is_easily_guessed_is_looked_at(tmp_path, calculators):
    easy = DRUM.replace('d = "30 to 60 cm step 2"', 'd = "42 cm"').replace("20 to 75 rpm step 5", "20 to 30 rpm step 5")
    found = told(tmp_path, calculators, easy, variants=200)
    assert any(finding.is_advice and "easy to guess" in str(finding) for finding in found)
