"""Nothing to print with: one clear message, and the site is built all the same."""

import pytest

from crankpin.build import BuildFailedError, build_site, print_site
from crankpin.paper import edition
from crankpin.site import fonts

from .conftest import write_course


def test_without_a_browser_the_site_is_built_and_one_message_says_what_to_do(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(edition, "find_browser", lambda: None)
    folder = write_course(tmp_path)
    site = build_site(folder)
    said = capsys.readouterr().out
    assert said.count("nothing was printed") == 1
    assert "install one, or set CRANKPIN_BROWSER" in said
    page = (site / "chapters/01-turning/index.html").read_text("utf-8")
    assert "on-paper" not in page
    assert not (site / "print").exists()
    with pytest.raises(BuildFailedError, match="nothing was printed: this machine has no Chromium"):
        print_site(folder)


def test_a_browser_that_does_not_exist_is_named(tmp_path, monkeypatch):
    monkeypatch.setenv("CRANKPIN_BROWSER", str(tmp_path / "nowhere"))
    with pytest.raises(edition.CannotPrintError, match="nowhere"):
        edition._browser()


def test_a_lost_font_is_named(tmp_path, monkeypatch):
    monkeypatch.setattr(fonts, "FOLDER", tmp_path)
    with pytest.raises(edition.CannotPrintError, match=r"the font file .*woff2 is missing"):
        edition._typefaces(tmp_path / "fonts")


def test_printing_before_building_says_so(tmp_path):
    folder = write_course(tmp_path)
    with pytest.raises(BuildFailedError, match="run 'crankpin site' first"):
        print_site(folder)
