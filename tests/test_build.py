import http.client
import io
import re
import subprocess
import sys
import threading

import numpy as np
import pytest
import zxingcpp
from click.testing import CliRunner

from crankpin import cli, server
from crankpin.build import BuildFailedError, build_site, built_site


@pytest.fixture
def course(tmp_path):
    (tmp_path / "mkdocs.yml").write_text(
        "site_name: Pier\nsite_url: https://harbour.example/course/\nplugins: []\n", encoding="utf-8"
    )
    (tmp_path / "docs").mkdir()
    (tmp_path / "docs" / "index.md").write_text("# The pier wheel\n", encoding="utf-8")
    return tmp_path


def test_a_course_is_built_into_its_folder_site(course, capsys):
    folder = build_site(course)
    assert folder == course / "site"
    assert "The pier wheel" in (folder / "index.html").read_text(encoding="utf-8")
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) >= 2
    assert all(re.match(r" *\d+\.\d s  \S", line) for line in lines)


def test_the_address_given_replaces_the_course_s_own(course):
    folder = build_site(course, address="https://school.example/physics")
    assert "https://school.example/physics/" in (folder / "sitemap.xml").read_text(encoding="utf-8")


def test_a_warning_stops_a_strict_build_alone(course, capsys):
    (course / "docs" / "index.md").write_text("[gone](gone.md)\n", encoding="utf-8")
    assert build_site(course) == course / "site"
    assert "warning: Doc file 'index.md' contains a link 'gone.md'" in capsys.readouterr().out
    with pytest.raises(BuildFailedError, match="The site was not built: Aborted with 1 warnings"):
        build_site(course, strict=True)


def test_what_is_wrong_with_the_settings_is_said(course, capsys):
    with pytest.raises(BuildFailedError):
        build_site(course, address="school")
    assert "error: Config value 'site_url': The URL isn't valid" in capsys.readouterr().out


def test_a_folder_without_a_course_is_named(tmp_path):
    answer = CliRunner().invoke(cli.main, ["site", "--course", str(tmp_path)])
    assert answer.exit_code == 1
    assert answer.stderr == (
        f"Error: There is no mkdocs.yml in {tmp_path}; go to the course's folder, or name it with --course\n"
    )


def test_serving_waits_for_a_built_site(course):
    with pytest.raises(BuildFailedError) as caught:
        built_site(course)
    assert str(caught.value) == f"There is no built site in {course / 'site'}; run 'crankpin site' first"


def test_a_built_site_is_found_with_the_path_it_lives_under(course):
    build_site(course)
    assert built_site(course) == (course / "site", "/course/")


def test_the_served_site_tells_its_addresses_and_answers(course):
    build_site(course)
    program = [sys.executable, "-c", "from crankpin.cli import main; main()"]
    served = subprocess.Popen(
        [*program, "serve", "--here-only", "--course", str(course)], stdout=subprocess.PIPE, text=True
    )
    deadline = threading.Timer(30, served.kill)
    deadline.start()
    try:
        first = served.stdout.readline()
        port = int(re.fullmatch(r"On this machine:  http://localhost:(\d+)/course/\n", first)[1])
        assert served.stdout.readline() == "Ctrl+C ends it.\n"
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
        connection.request("GET", "/course/")
        assert b"The pier wheel" in connection.getresponse().read()
        connection.close()
    finally:
        deadline.cancel()
        served.terminate()
        served.wait()
        served.stdout.close()


def test_without_a_terminal_no_code_is_drawn(capsys):
    cli.show_code("http://192.0.2.1:8000/")
    assert capsys.readouterr().out == ""


class Terminal(io.StringIO):
    encoding = "utf-8"

    def isatty(self):
        return True


def test_the_code_on_a_terminal_reads_back(monkeypatch):
    screen = Terminal()
    monkeypatch.setattr(sys, "stdout", screen)
    cli.show_code("http://192.0.2.1:8000/course/")
    monkeypatch.undo()
    lines = [re.fullmatch("\x1b\\[38;5;231;48;5;16m(.*)\x1b\\[0m", line)[1] for line in screen.getvalue().splitlines()]
    white = {" ": (0, 0), "█": (255, 255), "▀": (255, 0), "▄": (0, 255)}
    rows = [[white[sign][half] for sign in line] for line in lines for half in (0, 1)]
    picture = np.kron(np.array(rows, dtype=np.uint8), np.ones((4, 4), dtype=np.uint8))
    assert [found.text for found in zxingcpp.read_barcodes(picture, try_invert=False)] == [
        "http://192.0.2.1:8000/course/"
    ]


def test_a_machine_off_every_network_has_no_network_address(monkeypatch):
    class Unplugged:
        def __init__(self, *kind):
            pass

        def __enter__(self):
            return self

        def __exit__(self, *error):
            pass

        def connect(self, address):
            raise OSError("Network is unreachable")

    monkeypatch.setattr(server.socket, "socket", Unplugged)
    assert server.network_address() is None
