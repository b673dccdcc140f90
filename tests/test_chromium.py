import os
import sys
from pathlib import Path

import pytest

from crankpin import chromium


@pytest.fixture
def nothing_installed(monkeypatch, tmp_path):
    monkeypatch.delenv("CRANKPIN_BROWSER", raising=False)
    monkeypatch.setenv("PATH", str(tmp_path / "no-programs"))
    monkeypatch.setenv("PLAYWRIGHT_BROWSERS_PATH", str(tmp_path / "downloaded"))
    monkeypatch.setattr(sys, "platform", "linux")
    return tmp_path


def program(path):
    path.parent.mkdir(parents=True, exist_ok=True)
    path.touch(mode=0o755)
    return path


def test_a_machine_without_a_browser_has_none(nothing_installed):
    assert chromium.find_browser() is None


def test_the_variable_goes_before_all_else(nothing_installed, monkeypatch):
    program(nothing_installed / "no-programs" / "chromium")
    mine = program(nothing_installed / "mine")
    monkeypatch.setenv("CRANKPIN_BROWSER", str(mine))
    assert chromium.find_browser() == mine


def test_a_variable_that_names_no_file_is_refused(nothing_installed, monkeypatch):
    monkeypatch.setenv("CRANKPIN_BROWSER", "nowhere/chrome")
    with pytest.raises(FileNotFoundError) as caught:
        chromium.find_browser()
    assert str(caught.value) == (
        "CRANKPIN_BROWSER is set to 'nowhere/chrome', and no such file exists; "
        "give the full path of a Chromium, Chrome or Edge, or unset it"
    )


@pytest.mark.parametrize("name", ["chromium", "google-chrome", "microsoft-edge"])
def test_a_browser_of_the_system_is_found(nothing_installed, name):
    mine = program(nothing_installed / "no-programs" / name)
    program(nothing_installed / "downloaded" / "chromium-1200" / "chrome-linux" / "chrome")
    assert chromium.find_browser() == mine


@pytest.mark.parametrize(
    "place",
    [
        "chromium-1200/chrome-linux/chrome",
        "chromium-1200/chrome-linux64/chrome",
        "chromium_headless_shell-1200/chrome-linux/headless_shell",
        "chromium_headless_shell-1200/chrome-headless-shell-linux64/chrome-headless-shell",
        "chromium-1200/chrome-mac/Chromium.app/Contents/MacOS/Chromium",
        "chromium-1200/chrome-win64/chrome.exe",
    ],
)
def test_a_browser_that_playwright_downloaded_is_found(nothing_installed, place):
    mine = program(nothing_installed / "downloaded" / place)
    assert chromium.find_browser() == mine


def test_chrome_and_edge_are_found_on_windows(nothing_installed, monkeypatch):
    monkeypatch.setattr(sys, "platform", "win32")
    monkeypatch.setattr(chromium, "_COMMANDS", ())
    monkeypatch.setenv("PROGRAMFILES", str(nothing_installed / "Program Files"))
    mine = program(nothing_installed / "Program Files" / "Microsoft/Edge/Application/msedge.exe")
    assert chromium.find_browser() == mine


def test_chrome_is_found_on_a_mac(nothing_installed, monkeypatch):
    monkeypatch.setattr(sys, "platform", "darwin")
    monkeypatch.setattr(Path, "home", lambda: nothing_installed)
    mine = program(nothing_installed / "Applications/Google Chrome.app/Contents/MacOS/Google Chrome")
    assert chromium.find_browser() == mine


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such user")
@pytest.mark.parametrize(("user", "options"), [(0, ["--no-sandbox"]), (1000, [])])
def test_only_the_administrator_goes_without_the_sandbox(monkeypatch, user, options):
    monkeypatch.setattr(os, "geteuid", lambda: user)
    assert chromium.start_options() == options
